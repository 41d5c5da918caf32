#include "bothways/speed/moved_only.hpp"

#include "bothways/core/geodesy.hpp"

#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

// Common practice, no source, all of them.
constexpr std::size_t enough_steps = 60;
constexpr std::size_t enough_silences = 3;
constexpr double standing_share = 0.8;  // of the silences
constexpr double slowest_mps =
    3.0;                         // on average, with braking and setting off: ten metres either side of 8 s
constexpr double close_m = 0.7;  // a recorder by distance that writes five decimals seldom repeats a place
constexpr double close_share = 0.02;  // of the steps; by time, 12 s of standing in ten minutes are as many

}  // namespace

bool stood_or_crept(double way_m, double silence_s) {
  return way_m < slowest_mps * silence_s;
}

bool is_moved_only(const std::vector<const Fix*>& fixes, double gap_s) {
  std::size_t steps = 0;
  std::size_t close = 0;
  std::size_t silences = 0;
  std::size_t standing = 0;
  const Fix* before = nullptr;
  for (const Fix* fix : fixes) {
    if (!is_known(fix->lat_deg)) {
      continue;
    }
    if (before != nullptr) {
      const PlanePoint at =
          LocalPlane({before->lat_deg, before->lon_deg}).to_plane({fix->lat_deg, fix->lon_deg});
      const double way_m = std::hypot(at.east_m, at.north_m);
      const double step_s = seconds_between(before->time, fix->time);
      ++steps;
      close += way_m < close_m ? 1U : 0U;
      silences += step_s > gap_s ? 1U : 0U;
      standing += step_s > gap_s && stood_or_crept(way_m, step_s) ? 1U : 0U;
    }
    before = fix;
  }
  return steps >= enough_steps && silences >= enough_silences &&
         static_cast<double>(close) <= close_share * static_cast<double>(steps) &&
         static_cast<double>(standing) >= standing_share * static_cast<double>(silences);
}

}  // namespace bothways
