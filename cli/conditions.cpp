#include "cli/conditions.hpp"

#include "bothways/core/error.hpp"
#include "cli/command.hpp"

#include <boost/program_options/errors.hpp>
#include <boost/program_options/parsers.hpp>
#include <boost/program_options/value_semantic.hpp>

#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string_view>

namespace bothways::cli {

namespace fs = std::filesystem;
namespace po = boost::program_options;

namespace {

constexpr const char* option = "conditions";
constexpr const char* usual_name = "conditions.ini";
constexpr std::size_t most_bytes = 65'536;

std::string at_line(const std::string& path, std::size_t line) {
  return path + ", line " + std::to_string(line) + ": ";
}

/// All of a short text.
std::string short_text(std::istream& file, const std::string& path) {
  std::string text(most_bytes + 1, '\0');
  file.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(file.gcount()));
  if (text.size() > most_bytes) {
    throw UsageError(path + " is too long for conditions (64 KiB); is it the right file?");
  }
  if (text.starts_with("\xEF\xBB\xBF")) {
    text.erase(0, 3);
  }
  return text;
}

/// The keys and values of one line: one, or none for an empty line, a remark or a section.
po::parsed_options parse_line(const std::string& line) {
  static const po::options_description none;
  std::istringstream in(line);
  return po::parse_config_file(in, none, true);
}

void take_line(const std::string& line, Conditions& conditions, std::set<std::string>& seen) {
  for (const auto& item : parse_line(line).options) {
    if (!seen.insert(item.string_key).second) {
      throw std::invalid_argument("'" + item.string_key + "' stands there twice; leave one out");
    }
    set_condition(conditions, item.string_key, item.value.empty() ? "" : item.value.front());
  }
}

}  // namespace

void add_conditions_option(po::options_description& options) {
  options.add_options()(
      option, po::value<std::string>()->value_name("FILE"),
      "what was ridden, by whom, in which weather; default: conditions.ini beside each log");
}

std::string parse_conditions(const po::variables_map& values) {
  return values.count(option) > 0 ? values[option].as<std::string>() : "";
}

Conditions read_conditions(std::istream& file, const std::string& path) {
  Conditions conditions;
  conditions.file = path;
  std::istringstream text(short_text(file, path));
  std::set<std::string> seen;
  std::size_t number = 0;
  for (std::string line; std::getline(text, line);) {
    ++number;
    try {
      take_line(line, conditions, seen);
    } catch (const po::error&) {
      throw UsageError(at_line(path, number) + "this is not of the form 'key = value'");
    } catch (const std::invalid_argument& error) {
      throw UsageError(at_line(path, number) + error.what());
    }
  }
  return conditions;
}

Conditions read_conditions(const std::string& path) {
  std::error_code error;
  if (fs::is_directory(path, error)) {
    throw LogError(path, 0, "this is a folder; name the file with the conditions");
  }
  std::ifstream file(path, std::ios::binary);
  if (!file) {
    throw LogError(path, 0, "the conditions could not be read: " + std::string(std::strerror(errno)));
  }
  return read_conditions(file, path);
}

FoundConditions conditions_beside(const std::string& log) {
  FoundConditions found;
  if (log == "-") {
    return found;
  }
  const fs::path path = fs::path(log).parent_path() / usual_name;
  std::error_code error;
  if (!fs::is_regular_file(path, error)) {
    return found;
  }
  try {
    found.conditions = read_conditions(path.string());
  } catch (const std::runtime_error& wrong) {  // UsageError or LogError
    found.notes.push_back(
        {"bad-conditions", std::string(wrong.what()) + "; nothing of this file was used", 0});
  }
  return found;
}

}  // namespace bothways::cli
