#pragma once

#include "cli/command.hpp"

#include <cstddef>
#include <iosfwd>

namespace bothways::cli {

/// A few lines: how to call the program, and its commands.
void write_usage(std::ostream& out);

/// The same with the options of one command; for the command without a name also the list of commands.
/// @param screen_width  columns
void write_help(std::ostream& out, const Command& command, std::size_t screen_width);

}  // namespace bothways::cli
