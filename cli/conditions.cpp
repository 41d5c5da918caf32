#include "cli/conditions.hpp"

#include "bothways/core/error.hpp"
#include "cli/command.hpp"
#include "cli/ini.hpp"
#include "cli/suggest.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <set>
#include <sstream>
#include <utility>

namespace bothways::cli {

namespace fs = std::filesystem;
namespace po = boost::program_options;

namespace {

constexpr const char* option = "conditions";
constexpr const char* usual_name = "conditions.ini";
constexpr std::size_t most_conditions_bytes = 65'536;

/// All of a short text.
std::string short_text(std::istream& file, const std::string& path) {
  std::string text(most_conditions_bytes + 1, '\0');
  file.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(file.gcount()));
  if (text.size() > most_conditions_bytes) {
    throw UsageError(path + " is too long for conditions (64 KiB); is it the right file?");
  }
  return text;
}

/// "Rider mass" is rider_mass.
std::string plain_key(std::string key) {
  std::replace_if(
      key.begin(), key.end(), [](char c) { return c == ' ' || c == '-'; }, '_');
  return key;
}

/// Sets one condition. @throws std::invalid_argument  with a sentence
void take_line(const IniLine& line, Conditions& conditions, std::set<std::string>& seen) {
  const std::string key = plain_key(line.key);
  if (!seen.insert(line.section + "]" + key).second) {
    throw std::invalid_argument("'" + key +
                                "' stands there twice; leave one out, or write above each when it held, "
                                "[10:30-11:10]");
  }
  const std::vector<std::string> keys(condition_keys().begin(), condition_keys().end());
  if (std::find(keys.begin(), keys.end(), key) == keys.end()) {
    if (const std::string meant = nearest(key, keys); !meant.empty()) {
      throw std::invalid_argument("there is no condition '" + key + "'; did you mean '" + meant + "'?");
    }
  }
  set_condition(conditions, key, line.value);
}

/// A section that says when, or tries to: `[10:30-11:10]`.
bool is_time(const std::string& section) {
  return section.find(':') != std::string::npos || section.find_first_of("0123456789") == 0;
}

/// Sorts the lines of a file to the sections they stand in.
class Sorter {
 public:
  explicit Sorter(const std::string& path) { general_.file = path; }

  /// @throws std::invalid_argument  with a sentence
  void take(const IniLine& line) {
    Conditions& target = is_time(line.section) ? of_section(line.section) : general_;
    take_line(line, target, seen_);
  }

  [[nodiscard]] FoundConditions found() && {
    FoundConditions all;
    if (!general_.empty()) {
      all.conditions = std::move(general_);
    }
    all.sections = std::move(sections_);
    return all;
  }

 private:
  Conditions& of_section(const std::string& section) {
    if (bad_ == section) {
      throw std::invalid_argument("it stands in a section, [" + section + "], of which the time is wrong");
    }
    if (here_ != section) {
      bad_ = section;  // until its time is read
      const TimeWindow window = parse_time_window(section);
      bad_.clear();
      here_ = section;
      sections_.push_back({window, general_});
      sections_.back().conditions.file +=
          ", section " + std::to_string(sections_.size());  // no time: a place
    }
    return sections_.back().conditions;
  }

  Conditions general_;
  std::vector<SectionConditions> sections_;
  std::set<std::string> seen_;
  std::string here_;
  std::string bad_;
};

/// All lines that are right; the others in `wrong`, a sentence each with file and line.
FoundConditions right_lines(std::istream& file, const std::string& path, std::vector<std::string>& wrong) {
  std::istringstream text(short_text(file, path));
  Sorter sorter(path);
  read_ini(
      text, [&](const IniLine& line) { sorter.take(line); },
      [&](std::size_t number, const std::string& what) { wrong.push_back(at_line(path, number) + what); });
  return std::move(sorter).found();
}

/// A file that can be read.
std::ifstream opened(const std::string& path) {
  std::error_code error;
  if (fs::is_directory(path, error)) {
    throw LogError(path, 0, "this is a folder; name the file with the conditions");
  }
  std::ifstream file(path, std::ios::binary);
  if (!file) {
    throw LogError(path, 0, "the conditions could not be read: " + std::string(std::strerror(errno)));
  }
  return file;
}

/// The first of these files in a folder; empty if there is none.
fs::path first_of(const fs::path& folder, std::initializer_list<const char*> names) {
  std::error_code error;
  for (const char* name : names) {
    if (fs::is_regular_file(folder / name, error)) {
      return folder / name;
    }
  }
  return {};
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

FoundConditions read_conditions(std::istream& file, const std::string& path) {
  std::vector<std::string> wrong;
  FoundConditions found = right_lines(file, path, wrong);
  if (!wrong.empty()) {
    throw UsageError(wrong.front());
  }
  return found;
}

FoundConditions read_conditions(const std::string& path) {
  std::ifstream file = opened(path);
  return read_conditions(file, path);
}

FoundConditions conditions_beside(const std::string& log) {
  FoundConditions found;
  if (log == "-") {
    return found;
  }
  const fs::path folder = fs::path(log).parent_path();
  const fs::path path = first_of(folder, {usual_name, "Conditions.ini", "CONDITIONS.INI"});
  if (path.empty()) {
    const fs::path other = first_of(folder, {"conditions.ini.txt", "Conditions.ini.txt", "conditions.txt",
                                             "Conditions.txt", "condition.ini", "Condition.ini"});
    if (!other.empty()) {
      found.notes.push_back(
          {"conditions-misnamed",
           other.string() + " was not read; if it holds the conditions, call it " + usual_name, 0});
    }
    return found;
  }
  try {
    std::vector<std::string> wrong;
    std::ifstream file = opened(path.string());
    found = right_lines(file, path.string(), wrong);
    for (const std::string& what : wrong) {
      found.notes.push_back(
          {"bad-conditions", what + (what.back() == '?' ? " This" : "; this") + " line was not used", 0});
    }
  } catch (const std::runtime_error& wrong) {  // UsageError or LogError
    found.notes.push_back(
        {"bad-conditions", std::string(wrong.what()) + "; nothing of this file was used", 0});
  }
  return found;
}

}  // namespace bothways::cli
