#include "cli/app.hpp"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>
#include <iostream>
#include <string>

namespace {

std::string from_environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

/// After the XDG Base Directory rules: a relative path there is no path.
/// @param variable  names the folder, else it is `usual` below the home
std::string own_path(const char* variable, const std::string& usual, const std::string& file) {
  std::string base = from_environment(variable);
  if (base.empty() || base.front() != '/') {
    const std::string home = from_environment("HOME");
    base = home.empty() ? "" : home + usual;
  }
  return base.empty() ? "" : base + "/bothways/" + file;
}

/// A pipe or socket of which the other end is closed.
bool reader_gone() {
  pollfd out{.fd = STDOUT_FILENO, .events = POLLOUT, .revents = 0};
  return poll(&out, 1, 0) == 1 && (out.revents & (POLLERR | POLLHUP)) != 0;
}

/// Lets the desktop show a file: its own program is called, without a shell, and not waited for.
bool open_file(const std::string& path) {
  posix_spawn_file_actions_t quiet;
  if (posix_spawn_file_actions_init(&quiet) != 0) {
    return false;
  }
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    (void)posix_spawn_file_actions_addopen(&quiet, stream, "/dev/null", O_RDWR, 0);
  }
  std::string program = "xdg-open";
  std::string file = path;
  std::array<char*, 3> arguments{program.data(), file.data(), nullptr};
  pid_t child = 0;
  const int error = posix_spawnp(&child, program.c_str(), &quiet, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&quiet);
  return error == 0;
}

/// Ends as a program that never cared about SIGPIPE ends, so that shells see what they know.
void end_by_sigpipe() {
  (void)std::signal(SIGPIPE, SIG_DFL);
  (void)std::raise(SIGPIPE);
}

/// The locale that says how things are measured, as setlocale() would choose it.
std::string measuring_locale() {
  for (const char* name : {"LC_ALL", "LC_MEASUREMENT", "LANG"}) {
    if (std::string value = from_environment(name); !value.empty()) {
      return value;
    }
  }
  return "";
}

/// Columns of a terminal; 0 where it is none or does not say.
std::size_t columns_of(int stream) {
  winsize size{};
  return isatty(stream) == 1 && ioctl(stream, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}

}  // namespace

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  // A closed pipe shall be a failed write first: a file of --output half written is then taken away.
  if (std::signal(SIGPIPE, SIG_IGN) == SIG_ERR) {
    return EXIT_FAILURE;
  }
  const bool out_is_terminal = isatty(STDOUT_FILENO) == 1;
  const bothways::cli::Streams streams{.in = std::cin,
                                       .out = std::cout,
                                       .err = std::cerr,
                                       .out_is_terminal = out_is_terminal,
                                       .err_is_terminal = isatty(STDERR_FILENO) == 1,
                                       .reader_gone = reader_gone,
                                       .colour = out_is_terminal && from_environment("NO_COLOR").empty(),
                                       .metric = bothways::cli::is_metric_locale(measuring_locale()),
                                       .width = bothways::cli::width_for(columns_of(STDOUT_FILENO)),
                                       .err_width = bothways::cli::width_for(columns_of(STDERR_FILENO)),
                                       .time_zone = from_environment("TZ"),
                                       .open_file = open_file,
                                       .config_path = own_path("XDG_CONFIG_HOME", "/.config", "config.ini"),
                                       .cache_path = own_path("XDG_CACHE_HOME", "/.cache", "rides.sqlite")};
  const auto code = bothways::cli::run({argv + 1, argv + argc}, streams);
  if (code == bothways::cli::Exit::reader_gone) {
    end_by_sigpipe();
  }
  return static_cast<int>(code);
}
