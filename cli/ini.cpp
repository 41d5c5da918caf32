#include "cli/ini.hpp"

#include <boost/program_options/errors.hpp>
#include <boost/program_options/options_description.hpp>
#include <boost/program_options/parsers.hpp>

#include <algorithm>
#include <istream>
#include <sstream>
#include <stdexcept>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

std::string lowered(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return text;
}

/// The keys and values of one line: one, or none for an empty line, a remark or a section.
po::parsed_options parse_line(const std::string& line) {
  static const po::options_description none;
  std::istringstream in(line);
  return po::parse_config_file(in, none, true);
}

}  // namespace

void read_ini(std::istream& file, const std::function<void(const IniLine&)>& take,
              const std::function<void(std::size_t, const std::string&)>& wrong) {
  std::size_t number = 0;
  for (std::string line; std::getline(file, line);) {
    if (++number == 1 && line.starts_with("\xEF\xBB\xBF")) {
      line.erase(0, 3);
    }
    try {
      for (const auto& item : parse_line(line).options) {
        take({number, lowered(item.string_key), item.value.empty() ? "" : item.value.front()});
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
