#include "cli/help.hpp"

#include "bothways/log/log.hpp"
#include "bothways/report/words.hpp"

#include <boost/program_options/cmdline.hpp>
#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <ostream>
#include <string>

namespace bothways::cli {

namespace {

constexpr std::size_t name_width = 9;
constexpr std::size_t option_width = 30;

std::string page_of(const Command& command) {
  return *command.name == '\0' ? "bothways" : "bothways-" + std::string(command.name);
}

void write_commands(std::ostream& out, std::size_t screen_width) {
  out << "Commands:\n";
  for (const Command& command : commands()) {
    std::string name = *command.name == '\0' ? "(none)" : command.name;
    name.resize(std::max(name.size(), name_width), ' ');
    out << wrapped(command.summary, screen_width, "  " + name + ' ', std::string(name_width + 3, ' '))
        << '\n';
  }
}

/// What a command takes besides what the one without a name takes.
std::string own_options(const Command& command) {
  const auto shared = commands().front().options();
  const auto options = command.options();
  std::string names;
  for (const auto& option : options.options()) {
    if (shared.find_nothrow(option->long_name(), false) == nullptr) {
      names += (names.empty() ? "--" : ", --") + option->long_name();
    }
  }
  return names;
}

/// Where the options of the commands are told.
void write_commands_options(std::ostream& out, std::size_t screen_width) {
  out << wrapped(
             "'bothways COMMAND --help' lists what a command takes: some of the options below and these of "
             "its own:",
             screen_width)
      << '\n';
  for (const Command& command : commands()) {
    if (const std::string names = own_options(command); !names.empty()) {
      std::string name = command.name;
      name.resize(std::max(name.size(), name_width), ' ');
      out << wrapped(names, screen_width, "  " + name + ' ', std::string(name_width + 3, ' ')) << '\n';
    }
  }
}

/// "  -o, --output FILE   write to FILE, ..."
void write_option(std::ostream& out, const boost::program_options::option_description& option,
                  std::size_t screen_width) {
  using boost::program_options::command_line_style::allow_dash_for_short;
  using boost::program_options::command_line_style::allow_long;
  const std::string long_name = option.canonical_display_name(allow_long);
  const std::string short_name = option.canonical_display_name(allow_dash_for_short);
  std::string left = "  " + (short_name.starts_with('-') ? short_name + ", " : "    ") + long_name;
  if (option.semantic()->max_tokens() > 0) {
    left += " " + option.semantic()->name();
  }
  const std::string blanks(option_width, ' ');
  if (left.size() + 2 > option_width) {
    out << left << '\n';
    left.clear();
  }
  left.resize(option_width, ' ');
  out << wrapped(option.description(), screen_width, left, blanks) << '\n';
}

}  // namespace

void write_usage(std::ostream& out) {
  out << "Usage: bothways [COMMAND] [OPTIONS] LOG|FOLDER|- ...\n"
         "Finds the standing-start runs in the log of a ride, times them, and\n"
         "averages out and back, so that slope and wind drop out.\n";
  write_commands(out, 80);
  out << "'bothways --help' and 'bothways COMMAND --help' say more.\n";
}

void write_help(std::ostream& out, const Command& command, std::size_t screen_width) {
  const auto say = [&](const std::string& text) { out << wrapped(text, screen_width) << '\n'; };
  out << wrapped("Usage: " + called(command) + " [OPTIONS] " + command.usage, screen_width, "", "  ") << '\n';
  std::string summary = command.summary;
  summary.front() = static_cast<char>(summary.front() - 'a' + 'A');
  say(summary + ".");
  say("A log is " + format_names() +
      ", plain or gzipped; a folder is searched for logs; - is standard input.");
  out << '\n';
  if (*command.name == '\0') {
    write_commands(out, screen_width);
    write_commands_options(out, screen_width);
    say("A file named like a command is given as ./NAME.");
    out << '\n';
  }
  out << "Options:\n";
  auto options = command.options();
  options.add_options()("version", "print the version")("help,h", "print this");
  for (const auto& option : options.options()) {
    write_option(out, *option, screen_width);
  }
  out << '\n';
  say("Long options may also stand in $XDG_CONFIG_HOME/bothways/config.ini (~/.config if that is not set), "
      "one a line: units = kmh");
  out << '\n';
  say("Exit code: 0 fine, 1 an input could not be read or the output could not be written, 2 wrong usage, 3 "
      "nothing found. "
      "'man " +
      page_of(command) + "' says more.");
}

}  // namespace bothways::cli
