#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/log/log.hpp"
#include "support/simulate/truth.hpp"

#include <optional>

namespace bothways::truth {

/// Speed against time as found without care: reported, or differences of successive positions.
struct PlainSpeed {
  std::vector<double> t_s;  ///< since the beginning of the ride
  std::vector<double> v_mps;
};

[[nodiscard]] PlainSpeed plain_speed(const Log& log, Instant begin);

/// Common practice, no source: the clock starts at the first sample above 0.5 m/s, a mark is met by straight
/// lines between samples. Nothing if the samples do not reach the mark.
[[nodiscard]] std::optional<double> naive_split_s(const PlainSpeed& speed, const sim::TrueStart& start,
                                                  const SplitSpec& spec);

}  // namespace bothways::truth
