#pragma once

#include <span>
#include <string>

namespace bothways::cli {

/// What was likely meant by a first argument that is neither a command, nor an option, nor any file:
/// "bothways runs" for `run`. Empty if it looks like no command.
[[nodiscard]] std::string suggestion(const std::string& word);

/// The one of some names that a mistyped word was likely meant to be; empty if none is near. Capitals count
/// for nothing; half a name is the name.
[[nodiscard]] std::string nearest(const std::string& word, std::span<const std::string> names);

struct Command;

/// What was likely meant by an option that a command does not have: "; did you mean --splits?", or which
/// command has it. Empty if nothing is near.
[[nodiscard]] std::string option_words(const std::string& option, const Command& command);

}  // namespace bothways::cli
