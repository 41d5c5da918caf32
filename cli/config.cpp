#include "cli/config.hpp"

#include "cli/command.hpp"

#include <boost/program_options/errors.hpp>
#include <boost/program_options/parsers.hpp>

#include <algorithm>
#include <istream>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

bool known_to_any_command(const std::string& key) {
  const auto all = commands();
  return std::any_of(all.begin(), all.end(),
                     [&](const Command& c) { return c.options().find_nothrow(key, false) != nullptr; });
}

}  // namespace

void store_config(std::istream& file, const std::string& path, const po::options_description& options,
                  po::variables_map& values) {
  po::parsed_options parsed(&options);
  try {
    parsed = po::parse_config_file(file, options, true);
  } catch (const po::error&) {
    throw UsageError(path +
                     ": a line is not of the form 'key = value', or a key stands twice or has no value");
  }
  po::parsed_options mine(&options);
  for (const auto& option : parsed.options) {
    if (!option.unregistered) {
      mine.options.push_back(option);
    } else if (!known_to_any_command(option.string_key)) {
      throw UsageError(path + ": there is no option '" + option.string_key +
                       "'; 'bothways --help' lists them");
    }
  }
  try {
    po::store(mine, values);
  } catch (const po::multiple_occurrences& error) {
    throw UsageError(path + ": '" + error.get_option_name() + "' stands there twice");
  } catch (const po::error& error) {
    throw UsageError(path + ": " + error.what());
  }
}

}  // namespace bothways::cli
