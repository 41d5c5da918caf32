#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/core/note.hpp"
#include "cli/time_window.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace bothways::cli {

/// --conditions
void add_conditions_option(boost::program_options::options_description& options);

/// The file that --conditions names; empty: look beside the logs.
[[nodiscard]] std::string parse_conditions(const boost::program_options::variables_map& values);

/// What holds for a part of a ride: all that stands above the sections, and what its own lines change.
struct SectionConditions {
  TimeWindow window;
  Conditions conditions;
};

/// What a file with conditions says.
struct FoundConditions {
  std::optional<Conditions> conditions;     ///< of the lines above all sections; nothing where there are none
  std::vector<SectionConditions> sections;  ///< as they stand in the file
  std::vector<Note> notes;  ///< bad-conditions for each line that is not right, conditions-misnamed
};

/// Reads conditions: INI, a `key = value` a line, keys in any letters; `#` begins a remark, and a section
/// that is a time, `[10:30-11:10]`, what holds for that part of the ride. A section of another name is passed
/// over.
/// @param path  named in errors
/// @throws UsageError  one sentence with file, line and remedy.
[[nodiscard]] FoundConditions read_conditions(std::istream& file, const std::string& path);

/// The same from a file. @throws LogError  if it cannot be read: an input as the logs are.
[[nodiscard]] FoundConditions read_conditions(const std::string& path);

/// What a conditions.ini beside a log says. Never throws: what is wrong with it becomes a note.
/// @param log  path of the log; nothing is looked for beside standard input ("-")
[[nodiscard]] FoundConditions conditions_beside(const std::string& log);

}  // namespace bothways::cli
