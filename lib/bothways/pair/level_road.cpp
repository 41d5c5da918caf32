// docs/method.md, eq. (6.11): wind_s, a = a_mps2, k_b = seconds_per_mps2.
#include "bothways/pair/level_road.hpp"

#include "bothways/pair/curve.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/sensitivity.hpp"
#include "bothways/pair/two_way.hpp"
#include "bothways/pair/wind.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace bothways {

namespace {

constexpr double longest_wind_share = 0.3;  // of a time, that the wind's square may be said to have made

/// Two runs of a pair, and their mean curve.
struct Courses {
  const Run* out = nullptr;
  const Run* back = nullptr;
  std::optional<MeanCourse> curve;
};

std::vector<Courses> courses_of(const std::vector<Ride>& rides, const std::vector<Pair>& pairs) {
  std::vector<Courses> courses;
  for (const Pair& pair : pairs) {
    const Run& out = run_of_pair(rides, pair, true);
    const Run& back = run_of_pair(rides, pair, false);
    courses.push_back({&out, &back, mean_course_of(out, back)});
  }
  return courses;
}

const std::optional<Conditions>& conditions_of(const std::vector<Ride>& rides, const Pair& pair) {
  return rides[pair.ride].conditions ? rides[pair.ride].conditions : rides[pair.other_ride].conditions;
}

/// Pairs by the day that they were ridden on.
std::map<int, std::vector<std::size_t>> by_day(const std::vector<int>& days) {
  std::map<int, std::vector<std::size_t>> pairs;
  for (std::size_t k = 0; k < days.size(); ++k) {
    pairs[days[k]].push_back(k);
  }
  return pairs;
}

DayWind wind_of_day(const std::vector<Ride>& rides, const std::vector<Pair>& pairs,
                    const std::vector<std::size_t>& of_day) {
  const Pair& first = pairs[of_day.front()];
  const double first_deg = run_of_pair(rides, first, true).heading_deg;
  std::vector<WindEvidence> evidence;
  for (const std::size_t k : of_day) {
    const Run& out = run_of_pair(rides, pairs[k], true);
    const bool same_way = !(angle_between_deg(out.heading_deg, first_deg) > 90.0);
    evidence.push_back({&out, &run_of_pair(rides, pairs[k], false), same_way});
  }
  const Wind wind = wind_of(fit_wind(evidence), conditions_of(rides, first), spare_power_w_kg(evidence));
  return {.first_pair = first.id,
          .pairs = static_cast<int>(of_day.size()),
          .heading_deg = first_deg,
          .along_mps = wind.along_mps,
          .told = is_told(wind),
          .square_mps2 = wind.acceleration_mps2,
          .square_sd_mps2 = wind.acceleration_sd_mps2,
          .drag_per_m = wind.drag_per_m,
          .gust_mps = wind.gust_mps};
}

void level_out(TwoWay& split, const Courses& course, const DayWind& wind) {
  double gust_s = 0.0;
  split.drive_s = split.as_ridden.value;
  if (course.curve) {
    constexpr double usual_resistance_mps2 = 0.35;  // rolling and drag of a scooter at 10 m/s
    double drive_s = 0.0;
    double per_mps2 = 0.0;
    split.bands = sensitivity_of(*course.curve, split.spec);
    for (const SensitiveBand& band : split.bands) {
      const double k = band.seconds_per_mps2;
      drive_s += k * (band.a_mps2 + usual_resistance_mps2);
      per_mps2 += k * band.a_mps2 / (band.a_mps2 + wind.square_mps2);
      gust_s += k * wind.drag_per_m * band.v_mps * wind.gust_mps * std::sqrt(2.0);
    }
    split.drive_s = drive_s > 0.0 ? drive_s : split.drive_s;
    const double most_s = longest_wind_share * split.as_ridden.value;
    split.wind_s = std::clamp(per_mps2 * wind.square_mps2, 0.0, most_s);
    split.wind_sd_s = std::clamp(per_mps2 * wind.square_sd_mps2, 0.0, most_s);
  }
  split.gust_s = gust_s;
  split.rollout.value = split.as_ridden.value - split.wind_s;
  split.movement.value = split.as_ridden_movement.value - split.wind_s;
}

}  // namespace

Pairs with_winds(const std::vector<Ride>& rides, Pairs pairs) {
  pairs.winds.clear();
  for (const auto& [day, of_day] : by_day(days_of_pairs(rides, pairs, day_pause_s))) {
    pairs.winds.push_back(wind_of_day(rides, pairs.made, of_day));
  }
  return pairs;
}

Pairs on_level_road(const std::vector<Ride>& rides, Pairs pairs) {
  const std::vector<Courses> courses = courses_of(rides, pairs.made);
  std::size_t day_index = 0;
  for (const auto& [day, of_day] : by_day(days_of_pairs(rides, pairs, day_pause_s))) {
    for (const std::size_t k : of_day) {
      for (TwoWay& split : pairs.made[k].splits) {
        level_out(split, courses[k], pairs.winds.at(day_index));
      }
    }
    ++day_index;
  }
  return pairs;
}

}  // namespace bothways
