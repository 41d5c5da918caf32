#include "cli/help.hpp"

#include <ostream>
#include <string>

namespace bothways::cli {

namespace {

constexpr std::size_t name_width = 9;

std::string called(const Command& command) {
  return *command.name == '\0' ? "bothways" : "bothways " + std::string(command.name);
}

void write_commands(std::ostream& out) {
  out << "Commands:\n";
  for (const Command& command : commands()) {
    std::string name = *command.name == '\0' ? "(none)" : command.name;
    name.resize(std::max(name.size(), name_width), ' ');
    out << "  " << name << ' ' << command.summary << '\n';
  }
}

}  // namespace

void write_usage(std::ostream& out) {
  out << "Usage: bothways [COMMAND] LOG|FOLDER|- ...\n"
         "Finds the standing-start runs in a ride log (GPX, NMEA, CSV), times them, and\n"
         "averages out and back, so that slope and wind drop out.\n";
  write_commands(out);
  out << "'bothways --help' and 'bothways COMMAND --help' tell more.\n";
}

void write_help(std::ostream& out, const Command& command) {
  out << "Usage: " << called(command) << " [OPTIONS] " << command.usage << '\n';
  std::string summary = command.summary;
  summary.front() = static_cast<char>(summary.front() - 'a' + 'A');
  out << summary << ".\n\n";
  if (*command.name == '\0') {
    write_commands(out);
    out << "A file named like a command is given as ./NAME.\n\n";
  }
  constexpr unsigned width = 80;
  boost::program_options::options_description options("Options", width, width / 2);
  options.add(command.options());
  options.add_options()("version", "print the version")("help,h", "print this");
  out << options
      << "\nLong options may also stand in $XDG_CONFIG_HOME/bothways/config.ini, one a line:\n"
         "units = kmh\n\n"
         "Exit code: 0 fine, 1 an input could not be read, 2 wrong use, 3 nothing found.\n";
}

}  // namespace bothways::cli
