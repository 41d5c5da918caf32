#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

namespace bothways_fuzz {

/// Stops the program if a promise is broken.
void demand(bool promise);

/// Reads the bytes as a log under small limits and stops the program if what comes out breaks a promise of
/// read_log: times increase, every figure is finite or unknown and in its range, limits hold, anything
/// unusable is a LogError.
/// @param prefix  put before the bytes, so that they count as the format under test
void check_reading(const char* prefix, std::span<const std::uint8_t> bytes);

}  // namespace bothways_fuzz
