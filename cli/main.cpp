#include "cli/app.hpp"

#include <unistd.h>

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
std::string config_path() {
  std::string base = from_environment("XDG_CONFIG_HOME");
  if (base.empty() || base.front() != '/') {
    const std::string home = from_environment("HOME");
    base = home.empty() ? "" : home + "/.config";
  }
  return base.empty() ? "" : base + "/bothways/config.ini";
}

}  // namespace

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  if (std::signal(SIGPIPE, SIG_IGN) == SIG_ERR) {  // a closed pipe shall be a failed write, not the end
    return EXIT_FAILURE;
  }
  const bool out_is_terminal = isatty(STDOUT_FILENO) == 1;
  const bothways::cli::Streams streams{.in = std::cin,
                                       .out = std::cout,
                                       .err = std::cerr,
                                       .out_is_terminal = out_is_terminal,
                                       .err_is_terminal = isatty(STDERR_FILENO) == 1,
                                       .colour = out_is_terminal && from_environment("NO_COLOR").empty(),
                                       .config_path = config_path()};
  return static_cast<int>(bothways::cli::run({argv + 1, argv + argc}, streams));
}
