#pragma once

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <iosfwd>
#include <string>

namespace bothways::cli {

/// Takes the options of a config file (INI: `units = kmh`) for those that the command line did not give. A
/// key that only other commands know is passed over.
/// @param path  named in errors
/// @throws UsageError  if a line is no `key = value` or no command knows a key.
void store_config(std::istream& file, const std::string& path,
                  const boost::program_options::options_description& options,
                  boost::program_options::variables_map& values);

}  // namespace bothways::cli
