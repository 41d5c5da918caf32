#include "bothways/speed/burst_stamps.hpp"

#include "bothways/numeric/robust.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <utility>

namespace bothways {

namespace {

// Common practice, no source.
constexpr double longest_within_s = 0.1;
constexpr double silent_s = 0.4;
constexpr double silent_steps = 10.0;        // of those within bursts
constexpr double least_silent_share = 0.03;  // silences among the steps: in a log with gaps they are few
constexpr double most_time_within = 0.2;     // of the log: the bursts are short beside the silences
constexpr std::size_t least_bursts = 20;
constexpr double needing_mps = 3.0;  // slower, speeds and places are too uncertain to compare
// The time needed within a burst over that of a fix, silences included: two sources side by side have none.
constexpr double least_needed = 0.6;
constexpr double most_needed = 1.6;

/// Time that the vehicle needed from fix to fix within bursts, by places and speeds, s: the median in motion;
/// 0 where the log does not say.
double needed_s(const std::vector<const Fix*>& fixes, const LocalPlane& plane) {
  std::vector<double> needed;
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    const Fix& a = *fixes[i - 1];
    const Fix& b = *fixes[i];
    const double mean_mps = 0.5 * (a.speed_mps + b.speed_mps);
    if (seconds_between(a.time, b.time) <= longest_within_s && mean_mps > needing_mps &&
        is_known(a.lat_deg) && is_known(b.lat_deg)) {
      needed.push_back(plane.distance_m({a.lat_deg, a.lon_deg}, {b.lat_deg, b.lon_deg}) / mean_mps);
    }
  }
  return numeric::quantile(std::move(needed), 0.5);
}

}  // namespace

std::optional<Note> burst_stamps(const std::vector<const Fix*>& fixes, const LocalPlane& plane) {
  std::vector<double> within_s;
  std::vector<double> silences_s;
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    const double step_s = seconds_between(fixes[i - 1]->time, fixes[i]->time);
    if (step_s <= longest_within_s) {
      within_s.push_back(step_s);
    } else if (step_s >= silent_s) {
      silences_s.push_back(step_s);
    }
  }
  const auto steps = static_cast<double>(fixes.size());
  const double all_within_s = std::accumulate(within_s.begin(), within_s.end(), 0.0);
  const double all_silent_s = std::accumulate(silences_s.begin(), silences_s.end(), 0.0);
  const double step_s = numeric::quantile(within_s, 0.5);
  const double silence_s = numeric::quantile(silences_s, 0.5);
  const bool bursts = silences_s.size() >= least_bursts && within_s.size() >= silences_s.size() &&
                      static_cast<double>(silences_s.size()) >= least_silent_share * steps &&
                      static_cast<double>(within_s.size() + silences_s.size()) >= 0.9 * (steps - 1.0) &&
                      silence_s >= silent_steps * step_s &&
                      all_within_s <= most_time_within * (all_within_s + all_silent_s);
  if (!bursts) {
    return std::nullopt;
  }
  const double fix_s = (all_within_s + all_silent_s) / (steps - 1.0);
  const double needed = needed_s(fixes, plane);
  if (!(needed >= least_needed * fix_s && needed <= most_needed * fix_s)) {
    return std::nullopt;
  }
  return Note{
      "burst-stamps",
      fmt::format("Fixes come in bursts of about {:.0f}, and then none for {:.2g} s: their times are when "
                  "they arrived in the recorder and not when they were measured, so nothing can be timed. "
                  "Let it write the receiver's own time of each fix, or fixes as they come, without "
                  "batches or battery saving.",
                  1.0 + static_cast<double>(within_s.size()) / static_cast<double>(silences_s.size()),
                  silence_s)};
}

}  // namespace bothways
