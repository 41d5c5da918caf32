#pragma once

#include <string>

namespace bothways::cli {

/// What was likely meant by a first argument that is neither a command, nor an option, nor any file:
/// "bothways runs" for `run`. Empty if it looks like no command.
[[nodiscard]] std::string suggestion(const std::string& word);

}  // namespace bothways::cli
