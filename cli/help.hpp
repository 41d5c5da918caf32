#pragma once

#include "cli/command.hpp"

#include <iosfwd>

namespace bothways::cli {

/// A few lines: how to call the program, and its commands.
void write_usage(std::ostream& out);

/// The same with the options of one command; for the command without a name also the list of commands.
void write_help(std::ostream& out, const Command& command);

}  // namespace bothways::cli
