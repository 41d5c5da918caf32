// docs/method.md, eq. (3.1): sd_0 = standing_sd_mps, axes = standing_axes, d = resolution_mps, h =
// zero_hold_mps.
#include "bothways/speed/rest.hpp"

#include "bothways/speed/frozen.hpp"
#include "bothways/speed/limits.hpp"
#include "bothways/speed/smooth.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

double rest_threshold_mps(const Receiver& receiver, SpeedSource source) {
  using Limits = RestLimits;
  const double noise = receiver.standing_sd_mps * std::sqrt(static_cast<double>(receiver.standing_axes));
  if (source == SpeedSource::positions) {
    return std::clamp(Limits::sds * noise, Limits::least_of_positions_mps, Limits::most_of_positions_mps);
  }
  if (receiver.zero_hold_mps > 0.0) {
    return std::clamp(std::max(receiver.zero_hold_mps, Limits::held_sds * noise), Limits::least_held_mps,
                      Limits::most_mps);
  }
  return std::clamp(Limits::sds * noise + receiver.resolution_mps, Limits::least_mps, Limits::most_mps);
}

void mark_rest(SpeedSeries& series) {
  series.rest_mps = rest_threshold_mps(series.receiver, series.source);
  if (series.source == SpeedSource::positions) {
    mark_frozen(series);
  }
  for (Stretch& stretch : series.stretches) {
    const std::vector<double> middle = median_of_three(stretch);
    stretch.smooth_mps = smoothed(stretch, middle);
    stretch.at_rest.resize(middle.size());
    for (std::size_t i = 0; i < middle.size(); ++i) {
      const bool hidden = !is_valid(stretch, i) && stretch.smooth_mps[i] < series.rest_mps;
      stretch.at_rest[i] = middle[i] < series.rest_mps || hidden ? 1 : 0;
    }
  }
}

}  // namespace bothways
