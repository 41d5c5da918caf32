#include "bothways/numeric/track.hpp"

#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

namespace {

struct Drawn {
  std::vector<double> t_s;
  std::vector<double> v_mps;
  std::vector<double> x_m;
};

/// A track drawn from the very model: the acceleration a Wiener process, the drift first-order Gauss-Markov.
Drawn draw(const TrackNoise& noise, double dt_s, std::size_t n, std::uint64_t seed) {
  bothways::sim::Random random(seed);
  bothways::sim::SlowNoise drift(noise.drift_sd, noise.drift_time_s, random);
  constexpr std::size_t fine = 40;
  const double h = dt_s / static_cast<double>(fine);
  Drawn out;
  double x = 1e6;  // far from the origin: the start must not matter
  double v = 3.0 * random.normal();
  double a = random.normal();
  for (std::size_t k = 0; k < n; ++k) {
    out.t_s.push_back(static_cast<double>(k) * dt_s);
    out.v_mps.push_back(v);
    out.x_m.push_back(x + drift.step(k > 0 ? dt_s : 0.0, random) + noise.white_sd * random.normal());
    for (std::size_t i = 0; i < fine; ++i) {
      x += v * h + 0.5 * a * h * h;
      v += a * h;
      a += std::sqrt(noise.jerk_density * h) * random.normal();
    }
  }
  return out;
}

/// Share of velocities within 1.96 of the sd that is claimed, over many tracks.
double held(const TrackNoise& noise, double dt_s) {
  std::size_t inside = 0;
  std::size_t all = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Drawn track = draw(noise, dt_s, 80, seed);
    const Drawn other = draw(noise, dt_s, 80, seed + 1000);
    const TrackVelocity v = smooth_track(track.t_s, track.x_m, other.x_m, noise);
    for (std::size_t k = 0; k < track.t_s.size(); ++k) {
      inside += std::abs(v.east_mps[k] - track.v_mps[k]) < 1.96 * v.sd_mps[k] ? 1U : 0U;
      inside += std::abs(v.north_mps[k] - other.v_mps[k]) < 1.96 * v.sd_mps[k] ? 1U : 0U;
      all += 2;
    }
  }
  return static_cast<double>(inside) / static_cast<double>(all);
}

}  // namespace

TEST_CASE("95 of 100 smoothed velocities lie within 1.96 of their own sd", "[numeric]") {
  // Neighbours go together: 120 tracks are worth some 2000 independent values, whose share has sd 0.5 %.
  CHECK_THAT(held({1.0, 0.5, 1.5, 60.0}, 1.0), WithinAbs(0.95, 0.021));
  CHECK_THAT(held({4.0, 0.02, 1.5, 60.0}, 0.1), WithinAbs(0.95, 0.021));
  CHECK_THAT(held({4.0, 1.0, 0.0, 60.0}, 0.2), WithinAbs(0.95, 0.021));
}

TEST_CASE("a steady track without noise keeps its velocity whatever the steps", "[numeric]") {
  std::vector<double> t_s;
  std::vector<double> x_m;
  std::vector<double> back_m;
  double t = 0.0;
  for (int i = 0; i < 60; ++i) {
    t_s.push_back(t);
    x_m.push_back(-2000.0 + 7.5 * t);
    back_m.push_back(300.0 - 3.0 * t);
    t += i % 3 == 0 ? 0.1 : 0.27;
  }
  const TrackVelocity v = smooth_track(t_s, x_m, back_m, {4.0, 0.01, 0.0, 60.0});
  for (std::size_t k = 0; k < t_s.size(); ++k) {
    CHECK_THAT(v.east_mps[k], WithinAbs(7.5, 0.01));
    CHECK_THAT(v.north_mps[k], WithinAbs(-3.0, 0.01));
  }
}

TEST_CASE("two readings give a velocity with the doubt that they leave", "[numeric]") {
  const TrackVelocity v = smooth_track({0.0, 1.0}, {0.0, 10.0}, {5.0, 5.0}, {1e-6, 0.5, 0.0, 60.0});
  REQUIRE(v.east_mps.size() == 2);
  // Difference of two readings of 0.5 m: sd 0.71 m/s; the unknown acceleration (3 m/s^2 a priori) adds half
  // of it.
  CHECK_THAT(v.sd_mps.front(), WithinAbs(std::hypot(0.5 * std::sqrt(2.0), 1.5), 0.02));
  CHECK(std::abs(v.east_mps.front() - 10.0) < 0.1);
  CHECK(std::abs(v.north_mps.front()) < 0.1);
}
