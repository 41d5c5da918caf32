#include "cli/config.hpp"

#include "cli/command.hpp"
#include "cli/ini.hpp"
#include "cli/suggest.hpp"

#include <boost/program_options/errors.hpp>
#include <boost/program_options/parsers.hpp>
#include <boost/program_options/variables_map.hpp>

#include <algorithm>
#include <istream>
#include <set>
#include <stdexcept>
#include <vector>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

bool known_to_any_command(const std::string& key) {
  const auto all = commands();
  return std::any_of(all.begin(), all.end(),
                     [&](const Command& c) { return c.options().find_nothrow(key, false) != nullptr; });
}

std::string meant_words(const std::string& key) {
  std::vector<std::string> names;
  for (const Command& command : commands()) {
    const auto options = command.options();
    for (const auto& option : options.options()) {
      names.push_back(option->long_name());
    }
  }
  const std::string meant = nearest(key, names);
  return meant.empty() ? "; 'bothways --help' lists them" : "; did you mean '" + meant + "'?";
}

}  // namespace

ConfigLines store_config(std::istream& file, const std::string& path, const po::options_description& options,
                         po::variables_map& values) {
  ConfigLines lines;
  const auto wrong = [&](std::size_t number, const std::string& what) {
    throw UsageError(at_line(path, number) + what);
  };
  std::set<std::string> seen;
  const auto take = [&](const IniLine& line) {
    if (!seen.insert(line.key).second) {
      throw std::invalid_argument("'" + line.key + "' stands there twice; leave one out");
    }
    if (!known_to_any_command(line.key)) {
      throw std::invalid_argument("there is no option '" + line.key + "'" + meant_words(line.key));
    }
    if (options.find_nothrow(line.key, false) == nullptr ||
        (values.count(line.key) > 0 && !values[line.key].defaulted())) {
      return;  // of another command, or told on the command line, which is stronger
    }
    po::parsed_options one(&options);
    one.options.push_back({line.key, {line.value}});
    try {
      po::store(one, values);
    } catch (const po::error&) {
      throw std::invalid_argument(line.key + " takes yes or no, not '" + line.value + "'");
    }
    lines.emplace("--" + line.key, at_line(path, line.number));
  };
  read_ini(file, take, wrong);
  return lines;
}

std::string place_of(const ConfigLines& lines, const std::string& sentence) {
  for (const auto& [option, place] : lines) {
    const std::size_t at = sentence.find(option);
    if (at != std::string::npos &&
        (at + option.size() == sentence.size() ||
         std::string(" :").find(sentence[at + option.size()]) != std::string::npos)) {
      return place;
    }
  }
  return "";
}

}  // namespace bothways::cli
