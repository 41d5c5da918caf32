#pragma once

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <iosfwd>
#include <map>
#include <string>

namespace bothways::cli {

/// Where options of the config file stand: "--units" to "config.ini, line 3: ".
using ConfigLines = std::map<std::string, std::string>;

/// Takes the options of a config file (INI: `units = kmh`) for those that the command line did not give. A
/// key that only other commands know is passed over.
/// @param path  named in errors
/// @return  those that were taken
/// @throws UsageError  naming file and line, if a line is no `key = value`, no command knows a key, or a
/// switch has no
///                     yes or no.
ConfigLines store_config(std::istream& file, const std::string& path,
                         const boost::program_options::options_description& options,
                         boost::program_options::variables_map& values);

/// The place of the option that a sentence about a wrong value speaks of; empty if it stands not in the file.
[[nodiscard]] std::string place_of(const ConfigLines& lines, const std::string& sentence);

}  // namespace bothways::cli
