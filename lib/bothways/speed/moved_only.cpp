#include "bothways/speed/moved_only.hpp"

#include "bothways/core/geodesy.hpp"
#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>

namespace bothways {

namespace {

// Common practice, no source, all of them.
constexpr double enough_steps = 60.0;
constexpr std::size_t enough_silences = 3;
constexpr double standing_share = 0.8;  // of the silences
constexpr double slowest_mps =
    3.0;                         // on average, with braking and setting off: ten metres either side of 8 s
constexpr double close_m = 0.7;  // a recorder by distance that writes five decimals seldom repeats a place
constexpr double close_share = 0.02;    // of the steps; by time, 12 s of standing in ten minutes are as many
constexpr std::size_t steps_after = 2;  // a silence, within which a log by time shows that it writes rests
constexpr double resting_share = 0.2;   // of the silences, at most, end at rest

double step_m(const Fix& from, const Fix& to) {
  const PlanePoint at = LocalPlane({from.lat_deg, from.lon_deg}).to_plane({to.lat_deg, to.lon_deg});
  return std::hypot(at.east_m, at.north_m);
}

bool reads_at_rest(const Fix& fix) {
  return fix.speed_mps < RestLimits::first_look_least_mps;
}

/// Whether a rest is written right after a silence that ends at a fix. What comes before it proves nothing: a
/// vehicle that brakes to a stop comes as close.
bool ends_at_rest(const std::vector<const Fix*>& placed, std::size_t first, double gap_s) {
  for (std::size_t i = first + 1; i < placed.size() && i <= first + steps_after; ++i) {
    if (seconds_between(placed[i - 1]->time, placed[i]->time) > gap_s) {
      return false;
    }
    if (step_m(*placed[i - 1], *placed[i]) < close_m ||
        (reads_at_rest(*placed[i - 1]) && reads_at_rest(*placed[i]))) {
      return true;
    }
  }
  return false;
}

}  // namespace

bool stood_or_crept(double way_m, double silence_s) {
  return way_m < slowest_mps * silence_s;
}

bool is_moved_only(const std::vector<const Fix*>& fixes, double gap_s) {
  std::vector<const Fix*> placed;
  std::copy_if(fixes.begin(), fixes.end(), std::back_inserter(placed),
               [](const Fix* fix) { return is_known(fix->lat_deg); });
  std::size_t close = 0;
  std::size_t silences = 0;
  std::size_t standing = 0;
  std::size_t resting = 0;
  for (std::size_t i = 1; i < placed.size(); ++i) {
    const double way_m = step_m(*placed[i - 1], *placed[i]);
    const double step_s = seconds_between(placed[i - 1]->time, placed[i]->time);
    close += way_m < close_m ? 1U : 0U;
    if (step_s > gap_s) {
      ++silences;
      standing += stood_or_crept(way_m, step_s) ? 1U : 0U;
      resting += ends_at_rest(placed, i, gap_s) ? 1U : 0U;
    }
  }
  const auto steps = static_cast<double>(placed.size()) - 1.0;
  return steps >= enough_steps && silences >= enough_silences &&
         static_cast<double>(close) <= close_share * steps &&
         static_cast<double>(resting) <= resting_share * static_cast<double>(silences) &&
         static_cast<double>(standing) >= standing_share * static_cast<double>(silences);
}

}  // namespace bothways
