#pragma once

#include <iosfwd>

namespace bothways::cli {

// What shells complete, made from the tables of commands and options when the program is built.

void write_bash_completion(std::ostream& out);
void write_zsh_completion(std::ostream& out);
void write_fish_completion(std::ostream& out);

}  // namespace bothways::cli
