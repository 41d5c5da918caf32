#pragma once

#include "cli/app.hpp"

#include <cstddef>
#include <functional>

namespace bothways::cli {

/// Calls work(0) ... work(count - 1), each once, from at most `jobs` threads that take the next number from a
/// shared counter. `work` writes to its own place only, so results do not depend on `jobs`; it must not
/// throw. If the error stream is a terminal and the work lasts over a second, a line there says how far it
/// is.
void for_each_log(std::size_t count, unsigned jobs, const Streams& streams,
                  const std::function<void(std::size_t)>& work);

}  // namespace bothways::cli
