#include "bothways/speed/rest_noise.hpp"

#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinRel;

namespace {

std::vector<Correlation> correlations_for(double slow_time_s, double height, double pairs) {
  std::vector<Correlation> out;
  for (const double apart_s : {0.1, 0.5, 1.0, 2.0, 4.0}) {
    out.push_back({apart_s, height * std::exp(-2.0 * apart_s / slow_time_s), pairs});
  }
  return out;
}

}  // namespace

TEST_CASE("many readings at rest tell the time of the slow error", "[speed]") {
  for (const double slow_time_s : {1.0, 2.0, 5.0, 12.5}) {
    CHECK_THAT(correlation_time_s(correlations_for(slow_time_s, 0.25, 5000.0), 5.0),
               WithinRel(slow_time_s, 0.3));
  }
}

TEST_CASE("few readings at rest, or none that correlate, leave it as usual", "[speed]") {
  CHECK(correlation_time_s({}, 5.0) == 5.0);
  CHECK(correlation_time_s(correlations_for(1.0, 0.25, 5.0), 5.0) > 2.5);
  CHECK(correlation_time_s(correlations_for(1.0, 0.0, 5000.0), 5.0) == 5.0);
}

TEST_CASE("readings at rest are looked at in quiet stops only, without their ends", "[speed]") {
  Stretch s;
  for (int i = 0; i < 200; ++i) {
    s.t_s.push_back(0.1 * i);
    const bool shaken = i >= 100 && i < 140;  // a stop in which somebody wheels it about
    const bool moves = (i >= 60 && i < 100) || i >= 140;
    s.v_mps.push_back(moves ? 5.0 : (shaken ? 0.9 : (i % 2 == 0 ? 0.03 : 0.05)));
    s.validity.push_back(Validity::valid);
  }
  const RestNoise rest = noise_at_rest({s}, 1.0, 0.1);
  CHECK(rest.samples == 48);  // 6 s, half a second off either end
  CHECK_THAT(rest.mean, WithinRel(0.04, 1e-9));
  CHECK(rest.zeros == 0);
}

TEST_CASE("a slow error at rest is found in its size and its time", "[speed]") {
  for (const double slow_time_s : {1.0, 8.0}) {
    CAPTURE(slow_time_s);
    sim::Random random(17);
    sim::SlowNoise along(0.035, slow_time_s, random);
    sim::SlowNoise across(0.035, slow_time_s, random);
    Stretch s;
    for (int i = 0; i < 6000; ++i) {
      s.t_s.push_back(0.1 * i);
      const double a = along.step(0.1, random) + 0.035 * random.normal();
      const double b = across.step(0.1, random) + 0.035 * random.normal();
      s.v_mps.push_back(std::hypot(a, b));
      s.validity.push_back(Validity::valid);
    }
    const RestNoise rest = noise_at_rest({s}, 1.0, 0.1);
    // Half of the variance is slow: squares of neighbours correlate by a quarter.
    CHECK_THAT(rest.correlations.front().coefficient,
               Catch::Matchers::WithinAbs(0.25 * std::exp(-0.2 / slow_time_s), 0.12));
    const double found_s = correlation_time_s(rest.correlations, 5.0);
    CHECK(found_s > slow_time_s / 1.7);
    CHECK(found_s < slow_time_s * 1.7);
  }
}
