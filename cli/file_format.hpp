#pragma once

#include "cli/command.hpp"

#include <boost/program_options/variables_map.hpp>

namespace bothways::cli {

/// The format of what a command writes into a file follows the ending of the file's name, unless --format is
/// given: .csv, .json and .jsonl become the value of --format, .html takes away what the config file says of
/// it. Other endings say nothing.
/// With --page the name says nothing.
/// @param told  --format stands on the command line
/// @return  true if it is no longer the value of the config file
bool follow_ending(const Command& command, bool told, boost::program_options::variables_map& values);

/// True if a page is to be written: the file's name ends in .html, and --format says nothing else.
[[nodiscard]] bool names_page(const boost::program_options::variables_map& values);

}  // namespace bothways::cli
