#include "cli/ini.hpp"

#include "bothways/core/text.hpp"

#include <boost/program_options/errors.hpp>
#include <boost/program_options/options_description.hpp>
#include <boost/program_options/parsers.hpp>

#include <algorithm>
#include <istream>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <string_view>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

/// The keys and values of one line: one, or none for an empty line, a remark or a section.
po::parsed_options parse_line(const std::string& line) {
  static const po::options_description none;
  std::istringstream in(line);
  return po::parse_config_file(in, none, true);
}

/// What stands in the [] of a line; nothing if it is none of a section.
std::optional<std::string> section_of(std::string_view line) {
  const std::string_view text = trimmed(line.substr(0, line.find('#')));
  if (!text.starts_with('[') || !text.ends_with(']')) {
    return std::nullopt;
  }
  return std::string(trimmed(text.substr(1, text.size() - 2)));
}

}  // namespace

void read_ini(std::istream& file, const std::function<void(const IniLine&)>& take,
              const std::function<void(std::size_t, const std::string&)>& wrong) {
  std::size_t number = 0;
  std::string section;
  for (std::string line; std::getline(file, line);) {
    if (++number == 1 && line.starts_with("\xEF\xBB\xBF")) {
      line.erase(0, 3);
    }
    if (const auto begun = section_of(line)) {
      section = *begun;
      continue;
    }
    try {
      for (const auto& item : parse_line(line).options) {
        take({number, lowered(item.string_key), item.value.empty() ? "" : item.value.front(), section});
      }
    } catch (const po::error&) {
      wrong(number, "this is not of the form 'key = value'");
    } catch (const std::invalid_argument& error) {
      wrong(number, error.what());
    }
  }
}

std::string at_line(const std::string& path, std::size_t number) {
  return path + ", line " + std::to_string(number) + ": ";
}

}  // namespace bothways::cli
