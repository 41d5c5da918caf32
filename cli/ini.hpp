#pragma once

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <string>

namespace bothways::cli {

/// One `key = value` of a file.
struct IniLine {
  std::size_t number = 0;  ///< of the line, from 1
  std::string key;         ///< in small letters, blanks and hyphens inside it as they were
  std::string value;       ///< may be empty
  std::string section;     ///< what stands in the [] above it; empty: none
};

/// Reads INI line by line: `key = value`, `#` before a remark, `[a section]`; empty lines and a byte order
/// mark are passed over.
/// @param take   gets each line; what it throws as std::invalid_argument goes to `wrong`
/// @param wrong  gets the number of a line and what is wrong with it, without the name of the file
void read_ini(std::istream& file, const std::function<void(const IniLine&)>& take,
              const std::function<void(std::size_t, const std::string&)>& wrong);

/// "ride.ini, line 3: "
[[nodiscard]] std::string at_line(const std::string& path, std::size_t number);

}  // namespace bothways::cli
