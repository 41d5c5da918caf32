#include "bothways/launch/estimate.hpp"

#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// 3 m/s^2 from 3 s on, with a sway of the acceleration: its amplitude and 2 Hz.
LaunchWindow swaying(double sway_mps2, double sd_mps, std::uint64_t seed) {
  return start_of(
      [=](double t_s) {
        const double tau = std::max(0.0, t_s - 3.0);
        const double w = 4.0 * std::acos(-1.0);
        return 3.0 * tau + sway_mps2 / w * (1.0 - std::cos(w * tau));
      },
      sd_mps, seed);
}

std::vector<LaunchWindow> starts_like(double sway_mps2, double sd_mps, std::size_t count) {
  std::vector<LaunchWindow> out;
  for (std::size_t i = 0; i < count; ++i) {
    out.push_back(swaying(sway_mps2, sd_mps, 21 + i));
  }
  return out;
}

}  // namespace

TEST_CASE("an even pull has a low jerk density, a swaying one a high one", "[launch]") {
  const auto density = [](double sway_mps2) {
    return estimate_launches(model_for(0.02), starts_like(sway_mps2, 0.02, 5), {{}}, true)
        .model.motion.jerk_density;
  };
  const double even = density(0.0);
  const double swaying = density(2.0);
  CHECK(even < 1.0);  // the prior is round 4, within a factor of four
  CHECK(swaying > 10.0);
}

TEST_CASE("the jerk density is estimated from more launches than the first look takes", "[launch]") {
  // Three even launches settle it first; a fourth that sways must be heard after them.
  std::vector<LaunchWindow> windows = starts_like(0.0, 0.02, 3);
  const double first = estimate_launches(model_for(0.02), windows, {{}}, true).model.motion.jerk_density;
  windows.push_back(swaying(3.0, 0.02, 30));
  const double all = estimate_launches(model_for(0.02), windows, {{}}, true).model.motion.jerk_density;
  CHECK(all > 4.0 * first);
}

TEST_CASE("white noise of twice the size that was told is found in the launches", "[launch]") {
  LaunchModel model = model_for(0.1);
  std::vector<LaunchWindow> windows = starts_like(0.0, 0.1, 5);
  const double as_told = estimate_launches(model, windows, {{}}, true).model.white_factor;
  CHECK(as_told > 0.75);
  CHECK(as_told < 1.33);
  for (LaunchWindow& window : windows) {
    for (Reading& reading : window.readings) {
      reading.variance /= 4.0;
    }
  }
  const double found = estimate_launches(model, windows, {{}}, true).model.white_factor;
  CHECK(found > 3.0);  // 4, drawn to 1 by its prior
  CHECK(found < 4.5);
}

TEST_CASE("the shapes that are tried have the full acceleration of the log's launches", "[launch]") {
  const auto hypotheses =
      estimate_launches(model_for(0.02), starts_like(0.0, 0.02, 4), {{}}, true).hypotheses;
  REQUIRE(hypotheses.size() == 4);
  for (const WeightedHypothesis& h : hypotheses.front()) {
    if (h.hypothesis.early_jerk_factor == 2.0) {  // with a shape
      CHECK_THAT(h.hypothesis.shape.a_mps2.back(), WithinAbs(3.0, 0.15));
    }
  }
}

TEST_CASE("pooled starts share their hypotheses, others have their own", "[launch]") {
  std::vector<LaunchWindow> windows = starts_like(0.0, 0.02, 2);
  windows.push_back(start_of([](double t_s) { return 1.2 * std::max(0.0, t_s - 2.9); }, 0.02, 5));
  const auto full = [](const std::vector<WeightedHypothesis>& all) {
    double most = 0.0;
    for (const WeightedHypothesis& h : all) {
      most = h.hypothesis.early_jerk_factor == 2.0 ? std::max(most, h.hypothesis.shape.a_mps2.back()) : most;
    }
    return most;
  };
  const auto pooled = estimate_launches(model_for(0.02), windows, {{}}, true).hypotheses;
  CHECK(full(pooled[0]) == full(pooled[2]));
  const auto own = estimate_launches(model_for(0.02), windows, {{}}, false).hypotheses;
  CHECK_THAT(full(own[0]), WithinRel(3.0, 0.1));
  CHECK_THAT(full(own[2]), WithinRel(1.2, 0.15));
}

TEST_CASE("the prior keeps the jerk density of a single even launch from its least", "[launch]") {
  for (const std::uint64_t seed : {21U, 31U, 41U}) {
    // By the readings alone the least that is tried, 0.05, is the likeliest: the pull is even.
    const double found =
        estimate_launches(model_for(0.1), {swaying(0.0, 0.1, seed)}, {{}}, true).model.motion.jerk_density;
    CAPTURE(seed);
    CHECK(found > 0.09);
    CHECK(found < 0.3);
  }
}
