#pragma once

#include "cli/app.hpp"

#include <string>

namespace bothways::cli {

/// One sentence for people on the error stream, at most 80 columns wide; a word too long for that, as the
/// path of a file, stays whole. Untrusted parts are escaped.
/// @param who  "bothways", or with its command
void say(const Streams& streams, const std::string& who, const std::string& text);

}  // namespace bothways::cli
