#include "bothways/pair/share.hpp"

#include "bothways/core/rounding.hpp"
#include "bothways/core/units.hpp"
#include "bothways/pair/curve.hpp"
#include "bothways/pair/meet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr double least_share = 0.5;  // below, a slope that bends does not drop out wholly

/// Travel at which a run passes a mark; v^2 goes with travel where acceleration is constant.
double travel_at(const Course& course, const Mark& mark) {
  if (const auto* distance = std::get_if<Length>(&mark)) {
    return distance->m();
  }
  const double v_mps = std::get<Speed>(mark).mps();
  if (v_mps <= 0.0 || course.v_mps.size() < 2) {
    return 0.0;
  }
  const auto above = std::lower_bound(course.v_mps.begin() + 1, course.v_mps.end() - 1, v_mps);
  const auto k = static_cast<std::size_t>(above - course.v_mps.begin());
  const double lo = course.v_mps[k - 1] * course.v_mps[k - 1];
  const double hi = course.v_mps[k] * course.v_mps[k];
  return course.s_m[k - 1] + (course.s_m[k] - course.s_m[k - 1]) * (v_mps * v_mps - lo) / (hi - lo);
}

PartOfRun part_for(const Run& run, const SplitSpec& spec) {
  const Course course = course_of(run);
  const double from_m = spec.from_rest() ? 0.0 : travel_at(course, spec.from);
  const double to_m = travel_at(course, spec.to);
  return {from_m, to_m > from_m ? to_m : run.length_m};
}

/// Share of the time that one per cent of slope makes, where one of the two stretches is steeper by so much:
/// half of it is left in the mean of the accelerations. Mean acceleration from the marks and the time.
double share_by_slope(const TwoWay& split) {
  const SplitSpec& spec = split.spec;
  const double time_s = split.rollout.value;
  double mean_mps2 = 0.0;
  if (const auto* speed = std::get_if<Speed>(&spec.to)) {
    const double from_mps = spec.from_rest() ? 0.0 : std::get<Speed>(spec.from).mps();
    mean_mps2 = (speed->mps() - from_mps) / time_s;
  } else if (spec.from_rest()) {
    mean_mps2 = 2.0 * std::get<Length>(spec.to).m() / (time_s * time_s);
  }
  return mean_mps2 > 0.0 ? 0.01 * gravity_mps2 / 2.0 / mean_mps2 : 0.0;
}

}  // namespace

double split_overlap(const Run& one, const Run& other, const SplitSpec& spec) {
  return shared_part(one, part_for(one, spec), other, part_for(other, spec));
}

std::vector<Note> overlap_notes(const std::vector<TwoWay>& splits) {
  std::string which;
  std::string last;
  const TwoWay* first = nullptr;
  for (const TwoWay& split : splits) {
    if (split.overlap < least_share) {
      which += which.empty() || last.empty() ? last : ", " + last;
      last = split.spec.name;
      first = first == nullptr ? &split : first;
    }
  }
  if (first == nullptr) {
    return {};
  }
  std::string text =
      "at " + which + (which.empty() ? "" : " and ") + last +
      " out and back used different ends of the road, as is usual; a steady slope still cancels; ";
  const double share = share_by_slope(*first);
  if (share > 0.0 && std::isfinite(share)) {
    text += fmt::format("if one end were 1 % steeper, the time for {1} would change by {0} %",
                        fixed(100.0 * share, 1), first->spec.name);
  } else {
    text += "one that changes along the road cancels only in part";
  }
  return {{"part-overlap", text, 0}};
}

}  // namespace bothways
