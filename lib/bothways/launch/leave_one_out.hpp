#pragma once

#include "bothways/launch/hypothesis.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/window.hpp"

#include <cstddef>

namespace bothways {

/// A window without its outliers, and how many were excluded.
struct ScreenedWindow {
  LaunchWindow window;
  std::size_t outliers = 0;
};

/// Excludes readings, the worst first, whose leave-one-out residual (what all other readings say of them) is
/// beyond so many standard deviations.
/// @param most  so many at most
[[nodiscard]] ScreenedWindow without_outliers(LaunchWindow window, const LaunchModel& model,
                                              const LaunchHypothesis& hypothesis, double sds,
                                              std::size_t most);

}  // namespace bothways
