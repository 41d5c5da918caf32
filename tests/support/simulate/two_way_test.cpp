#include "support/simulate/two_way.hpp"

#include "bothways/core/units.hpp"
#include "support/simulate/ride.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>

using namespace bothways;
using namespace bothways::sim;
using Catch::Matchers::WithinAbs;

namespace {

Truth there_and_back(const Vehicle& vehicle, const Road& road) {
  const double top_mps = Speed::from_mph(52).mps();
  Script script = one_way(top_mps, 280.0, 5.0);
  append(script, one_way(top_mps, 280.0, 5.0));
  return ride(vehicle, road, script);
}

double level_s(const Vehicle& vehicle, const SplitSpec& spec) {
  const Truth truth = there_and_back(vehicle, {});
  return true_split_s(truth, truth.starts.at(0), spec, Clock::rollout).value();
}

}  // namespace

TEST_CASE("the mean of a run with itself is the run", "[simulate]") {
  const Truth truth = there_and_back(geared_motorcycle(), {});
  for (const SplitSpec& spec : default_splits(false)) {
    const double one_s = true_split_s(truth, truth.starts[0], spec, Clock::rollout).value();
    // bands of 0.02 m/s: the first foot is found within one of them
    CHECK_THAT(two_way_truth_s(truth, truth.starts[0], truth, truth.starts[0], spec), WithinAbs(one_s, 5e-4));
  }
}

TEST_CASE("the mean of the accelerations on a slope is that of the level road", "[simulate]") {
  for (const Vehicle& vehicle :
       {plain_scooter(), scooter(), electric(), slipping_car(), geared_motorcycle()}) {
    const Truth truth = there_and_back(vehicle, {.slope = 0.02});
    for (const SplitSpec& spec : default_splits(false)) {
      INFO(spec.name);
      const double both_s = two_way_truth_s(truth, truth.starts.at(0), truth, truth.starts.at(1), spec);
      // A launch that runs by the clock, not by speed, is not quite symmetric: a few milliseconds.
      CHECK_THAT(both_s, WithinAbs(level_s(vehicle, spec), 0.01));
    }
  }
}

TEST_CASE("distances and splits that are not reached have no two-way truth", "[simulate]") {
  const Truth truth = there_and_back(plain_scooter(), {});
  const auto ask = [&](const char* text) {
    return two_way_truth_s(truth, truth.starts[0], truth, truth.starts[1], parse_splits(text).front());
  };
  CHECK_THROWS_AS(ask("60 ft"), std::invalid_argument);
  CHECK_THROWS_AS(ask("0-70 mph"), std::invalid_argument);
}
