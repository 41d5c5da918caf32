#pragma once

#include <cstddef>
#include <functional>

namespace bothways {

/// Calls work(0) ... work(count - 1), each once, from at most `jobs` threads, the calling one among them,
/// that take the next number from a shared counter; fewer where the system gives no more. If each call writes
/// to a place of its own only, the result does not depend on `jobs`.
/// @throws what work throws, of the lowest number that did, when all threads have ended; no further number is
/// begun after it.
void for_each_index(std::size_t count, unsigned jobs, const std::function<void(std::size_t)>& work);

}  // namespace bothways
