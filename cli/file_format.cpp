#include "cli/file_format.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <map>
#include <string>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

/// "csv" of "Ride.CSV"; empty where there is no file, or no ending.
std::string ending_of_output(const po::variables_map& values) {
  if (values.count("output") == 0) {
    return "";
  }
  std::string ending = std::filesystem::path(values["output"].as<std::string>()).extension().string();
  ending.erase(0, 1);
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return ending;
}

}  // namespace

bool follow_ending(const Command& command, bool told, po::variables_map& values) {
  const bool asks_for_page = values.count("page") > 0 && values["page"].as<bool>();
  if (told || asks_for_page || command.options().find_nothrow("format", false) == nullptr) {
    return false;
  }
  const std::string ending = ending_of_output(values);
  std::map<std::string, po::variable_value>& plain = values;  // its own [] only reads
  constexpr std::array formats{"csv", "json", "jsonl"};
  if (std::find(formats.begin(), formats.end(), ending) != formats.end()) {
    plain["format"] = po::variable_value(ending, false);
    return true;
  }
  if (ending == "html") {
    return plain.erase("format") > 0;
  }
  return false;
}

bool names_page(const po::variables_map& values) {
  return values.count("format") == 0 && ending_of_output(values) == "html";
}

}  // namespace bothways::cli
