#pragma once

#include "bothways/core/estimate.hpp"

#include <algorithm>

namespace bothways {

/// An estimate of a time taken, which cannot be below zero: no interval begins there.
[[nodiscard]] constexpr Estimate as_duration(Estimate estimate) {
  estimate.lo95 = std::max(estimate.lo95, std::min(estimate.value, 0.0));
  return estimate;
}

}  // namespace bothways
