#include "cli/command.hpp"
#include "cli/support.hpp"

#include <boost/program_options/cmdline.hpp>
#include <catch2/catch.hpp>

#include <regex>
#include <set>
#include <sstream>
#include <string>

using namespace bothways::cli;
namespace po = boost::program_options;

namespace {

std::string man_page_of(const Command& command) {
  const std::string name = *command.name == '\0' ? "bothways" : "bothways-" + std::string(command.name);
  return bytes_of(std::string(BOTHWAYS_SOURCE_DIR) + "/docs/man/" + name + ".1");
}

/// "--output", "-o" of the items of an mdoc page.
std::set<std::string> options_in(const std::string& page) {
  static const std::regex option(R"(Fl (Fl )?([A-Za-z][A-Za-z-]*))");
  std::set<std::string> names;
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with(".It Fl ")) {
      continue;
    }
    for (std::sregex_iterator it(line.begin(), line.end(), option), end; it != end; ++it) {
      names.insert(((*it)[1].matched ? "--" : "-") + (*it)[2].str());
    }
  }
  return names;
}

std::set<std::string> options_of(const Command& command) {
  std::set<std::string> names{"--help", "-h", "--version"};
  const auto options = command.options();
  for (const auto& option : options.options()) {
    names.insert(option->canonical_display_name(po::command_line_style::allow_long));
    const std::string brief = option->canonical_display_name(po::command_line_style::allow_dash_for_short);
    if (brief.starts_with('-')) {
      names.insert(brief);
    }
  }
  return names;
}

}  // namespace

TEST_CASE("the man page of each command has its options, all of them and no others", "[cli]") {
  for (const Command& command : commands()) {
    CAPTURE(command.name);
    const std::string page = man_page_of(command);
    REQUIRE_FALSE(page.empty());
    CHECK(options_in(page) == options_of(command));
  }
}

TEST_CASE("the first man page names every command", "[cli]") {
  const std::string page = man_page_of(commands().front());
  for (const Command& command : commands().subspan(1)) {
    CHECK(page.find(".It Cm " + std::string(command.name) + "\n") != std::string::npos);
    CHECK(page.find(".Xr bothways-" + std::string(command.name) + " 1") != std::string::npos);
  }
}
