#pragma once

#include "bothways/pair/mixed_model.hpp"

#include <span>

namespace bothways {

/// What each level brings to a linear combination of the sides' figures at given scatters, sds in s.
struct UncertaintyComponents {
  double own = 0.0;
  double log = 0.0;
  double visit = 0.0;  ///< with what both sides of a day share
  double pair = 0.0;
  double block = 0.0;
  double day = 0.0;
};

/// @param sides  1 or 2
[[nodiscard]] UncertaintyComponents components_of(std::span<const Outcome> outcomes, const Scatters& scatter,
                                                  int sides, const Contrast& contrast);

}  // namespace bothways
