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

/// So many logs a thread are held at once by for_each_log_in_order().
inline constexpr unsigned logs_ahead = 4;

/// The same in blocks of a few logs a thread. After each block take(i) is called for its logs, in their
/// order, from the calling thread: what work(i) made can be written and let go, so memory does not grow with
/// `count`.
void for_each_log_in_order(std::size_t count, unsigned jobs, const Streams& streams,
                           const std::function<void(std::size_t)>& work,
                           const std::function<void(std::size_t)>& take);

}  // namespace bothways::cli
