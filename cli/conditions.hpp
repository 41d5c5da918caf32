#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/core/note.hpp"

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

/// Reads conditions: INI, a `key = value` a line, keys in any letters; `#` begins a remark, `[a section]` is
/// passed over.
/// @param path  named in errors
/// @throws UsageError  one sentence with file, line and remedy.
[[nodiscard]] Conditions read_conditions(std::istream& file, const std::string& path);

/// The same from a file. @throws LogError  if it cannot be read: an input as the logs are.
[[nodiscard]] Conditions read_conditions(const std::string& path);

/// What a conditions.ini beside a log says. Never throws: what is wrong with it becomes a note.
struct FoundConditions {
  std::optional<Conditions> conditions;  ///< the lines that are right; nothing where there are none
  std::vector<Note> notes;               ///< bad-conditions for each line that is not, conditions-misnamed
};

/// @param log  path of the log; nothing is looked for beside standard input ("-")
[[nodiscard]] FoundConditions conditions_beside(const std::string& log);

}  // namespace bothways::cli
