#include "bothways/speed/limits.hpp"

#include "bothways/speed/outliers.hpp"
#include "bothways/speed/position_jumps.hpp"
#include "lib/speed/stretches.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

using namespace bothways;

// Each limit of speed/limits.hpp at its edge, but for those of unreachable_test.cpp and rest_test.cpp: what
// is just inside is left, what is just outside is found. A hair is a thousandth.

namespace {

constexpr double hair = 1e-3;

/// Samples at 10 Hz, of which some in the middle are off by so much.
std::size_t spikes_of(std::size_t count, double off_mps, double dt_s = 0.1) {
  std::vector<double> v(40, 30.0);
  for (std::size_t i = 0; i < count; ++i) {
    v[20 + i] += off_mps;
  }
  Stretch s = stretch_of(v, dt_s);
  return mark_spikes(s);
}

/// Samples at 10 Hz: at rest, at a speed for so long, and then at another.
std::size_t excursion_of(double jump_mps, double lasts_s, double back_mps) {
  std::vector<double> v(20, 0.0);
  v.insert(v.end(), static_cast<std::size_t>(10.0 * lasts_s + 0.5), jump_mps);
  v.insert(v.end(), 20, back_mps);
  Stretch s = stretch_of(v);
  return mark_excursions(s);
}

/// Whether the fourth of these steps, one a usual step, is a jump of the position; the fourth lasts as told.
bool jumps(const std::vector<double>& steps_m, double usual_step_s, double lasts_s) {
  const LocalPlane plane({45.0, 0.0});
  std::vector<Fix> fixes(steps_m.size() + 1);
  double north_m = 0.0;
  double t_s = 0.0;
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    const LatLon at = plane.from_plane({0.0, north_m});
    fixes[i].time.unix_us = static_cast<std::int64_t>(std::lround(1e6 * t_s));
    fixes[i].lat_deg = at.lat_deg;
    fixes[i].lon_deg = at.lon_deg;
    if (i < steps_m.size()) {
      north_m += steps_m[i];
      t_s += i == 3 ? lasts_s : usual_step_s;
    }
  }
  std::vector<const Fix*> all;
  for (const Fix& fix : fixes) {
    all.push_back(&fix);
  }
  return take_out_jumps(all, plane, usual_step_s)[4];
}

/// Among steps of 10 m, one a second.
bool jumps(double step_m) {
  return jumps({10.0, 10.0, 10.0, step_m, 10.0, 10.0, 10.0}, 1.0, 1.0);
}

}  // namespace

TEST_CASE("one sample is a spike from 14 m/s^2 either way on", "[speed]") {
  const double limit_mps = 14.0 * 0.1;
  for (const double sign : {1.0, -1.0}) {
    CHECK(spikes_of(1, sign * (limit_mps - hair)) == 0);
    CHECK(spikes_of(1, sign * (limit_mps + hair)) == 1);
  }
}

TEST_CASE("two or three samples are a spike from 10 m/s^2 on, four are none", "[speed]") {
  const double limit_mps = 10.0 * 0.1;
  for (const std::size_t count : {std::size_t{2}, std::size_t{3}}) {
    CHECK(spikes_of(count, limit_mps - hair) == 0);
    CHECK(spikes_of(count, limit_mps + hair) == count);
  }
  CHECK(spikes_of(4, limit_mps + hair) == 0);
}

TEST_CASE("several samples are a spike within a second only", "[speed]") {
  // Two samples: from the one before them to the one after are three steps.
  CHECK(spikes_of(2, 5.0, 1.0 / 3.0 - hair) == 2);
  CHECK(spikes_of(2, 5.0, 1.0 / 3.0 + hair) == 0);
}

TEST_CASE("samples closer than a tenth of a second are judged as if a tenth apart", "[speed]") {
  const double limit_mps = 14.0 * 0.1;
  CHECK(spikes_of(1, limit_mps - hair, 0.02) == 0);
  CHECK(spikes_of(1, limit_mps + hair, 0.02) == 1);
}

TEST_CASE("an excursion begins with a jump of 6 m/s beyond 14 m/s^2", "[speed]") {
  const double limit_mps = 6.0 + 14.0 * 0.1;
  CHECK(excursion_of(limit_mps - hair, 3.0, 0.0) == 0);
  CHECK(excursion_of(limit_mps + hair, 3.0, 0.0) == 30);
}

TEST_CASE("an excursion lasts up to 12 s", "[speed]") {
  CHECK(excursion_of(60.0, 12.0 - 0.1, 0.0) == 119);
  CHECK(excursion_of(60.0, 12.0 + 0.2, 0.0) == 0);
}

TEST_CASE("an excursion ends where 8 m/s^2 may have taken the vehicle", "[speed]") {
  // From the last sample before it, 2.1 s, and half a jump.
  const double limit_mps = 6.0 / 2.0 + 8.0 * 2.1;
  CHECK(excursion_of(60.0, 2.0, limit_mps - hair) == 20);
  CHECK(excursion_of(60.0, 2.0, limit_mps + hair) == 0);
}

TEST_CASE("an excursion of more samples than any receiver writes is not looked for", "[speed]") {
  std::vector<double> v(20, 0.0);
  v.insert(v.end(), std::size_t{1000}, 60.0);
  v.insert(v.end(), 20, 0.0);
  Stretch many = stretch_of(v, 0.01);
  CHECK(mark_excursions(many) == 0);
  v.erase(v.begin() + 20);
  Stretch fewer = stretch_of(v, 0.01);
  CHECK(mark_excursions(fewer) == std::size_t{1000} - 1);
}

TEST_CASE("a position jumps from 5 m/s and half of 14 m/s^2 over the steps beside it on", "[speed]") {
  const double limit_m = 10.0 + 5.0 + 7.0 * 1.0;
  CHECK_FALSE(jumps(limit_m - 0.01));
  CHECK(jumps(limit_m + 0.01));
}

TEST_CASE("a stamp that comes early makes no jump of the position", "[speed]") {
  // 10 m/s, ten a second: 1 m in 0.04 s would be 25 m/s.
  CHECK_FALSE(jumps({1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0}, 0.1, 0.04));
  CHECK(jumps({1.0, 1.0, 1.0, 1.0 + 0.1 * (5.0 + 0.7) + 0.01, 1.0, 1.0, 1.0}, 0.1, 0.1));
}

TEST_CASE("where positions are noisy, a jump is 5 sd of what steps differ by", "[speed]") {
  // The steps differ from the mean of their neighbours by 0.4 m or 4 m/s, whose robust sd is 5.93 m/s.
  const std::vector<double> noisy_m{0.8, 1.2, 0.8, 1.2, 0.8, 1.2, 0.8};
  const double limit_m = 1.2 + 0.1 * 5.0 * 1.4826 * 4.0;
  std::vector<double> steps_m = noisy_m;
  for (int i = 0; i < 5; ++i) {
    steps_m.insert(steps_m.end(), noisy_m.begin() + 1, noisy_m.end());
  }
  steps_m[2] = 1.2;
  steps_m[4] = 1.2;
  steps_m[3] = limit_m - 0.05;
  CHECK_FALSE(jumps(steps_m, 0.1, 0.1));
  steps_m[3] = limit_m + 0.05;
  CHECK(jumps(steps_m, 0.1, 0.1));
}

TEST_CASE("a fix is called bad from half a metre of its own accuracy and 1.6 times the usual on", "[speed]") {
  const LocalPlane plane({45.0, 0.0});
  const auto taken_out = [&](double usual_m, double own_m) {
    std::vector<Fix> fixes(9);
    std::vector<const Fix*> all;
    for (std::size_t i = 0; i < fixes.size(); ++i) {
      fixes[i].time.unix_us = static_cast<std::int64_t>(i) * 1'000'000;
      fixes[i].lat_deg = 45.0;
      fixes[i].lon_deg = 0.0;
      fixes[i].position_sd_m = i == 4 ? own_m : usual_m;
      all.push_back(&fixes[i]);
    }
    const std::vector<bool> cuts = take_out_jumps(all, plane, 1.0);
    return all.size() == 8 && cuts[4];
  };
  CHECK_FALSE(taken_out(0.1, 0.5 - hair));
  CHECK(taken_out(0.1, 0.5 + hair));
  CHECK_FALSE(taken_out(1.0, 1.6 - hair));
  CHECK(taken_out(1.0, 1.6 + hair));
}
