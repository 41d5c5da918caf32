#include "bothways/pair/share.hpp"

#include "bothways/core/units.hpp"
#include "bothways/pair/match.hpp"
#include "lib/pair/made_up.hpp"
#include "support/simulate/ride.hpp"
#include "support/simulate/two_way.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;

namespace {

Run scooter_run() {
  return run_of(Start([](double, double v) { return scooter_mps2(v); }, 24.0),
                "0-30 mph, 0-50 mph, 30-50 mph", 0.01);
}

double two_way_s(const sim::Road& road, const std::string& name) {
  const double top_mps = Speed::from_mph(53.0).mps();
  const double stretch_m = sim::run_length_m(sim::scooter(), top_mps);
  sim::Script script = sim::one_way(top_mps, stretch_m, 8.0);
  sim::append(script, sim::one_way(top_mps, stretch_m, 8.0));
  const sim::Truth truth = sim::ride(sim::scooter(), road, script);
  return sim::two_way_truth_s(truth, truth.starts.at(0), truth, truth.starts.at(1),
                              parse_splits(name).front());
}

}  // namespace

TEST_CASE("runs from opposite ends share the road of the long splits and not of the short ones", "[pair]") {
  const Run run = scooter_run();
  const Pairs pairs = pair_runs(
      {ride_of({placed(run, 1, 0.0, 0.0, true), placed(run, 2, 200.0, 0.9 * run.length_m, false)})});
  REQUIRE(pairs.made.size() == 1);
  const auto& splits = pairs.made[0].splits;
  REQUIRE(splits.size() == 3);
  CHECK(pairs.made[0].overlap > 0.85);
  CHECK(splits[0].overlap == 0.0);
  CHECK(splits[1].overlap > 0.5);
  REQUIRE(pairs.made[0].notes.size() == 1);
  CHECK(pairs.made[0].notes[0].code == "part-overlap");
  CHECK(pairs.made[0].notes[0].text.starts_with("at 0-30 mph out and back used different ends of the road"));
  CHECK(pairs.made[0].notes[0].text.find("0-50") == std::string::npos);
}

TEST_CASE("a way back that begins where 30 mph was reached shares the road of 0-30", "[pair]") {
  const Run run = scooter_run();
  const auto share = [&](double from_m) {
    return split_overlap(placed(run, 1, 0.0, 0.0, true), placed(run, 2, 200.0, from_m, false),
                         parse_splits("0-30 mph").front());
  };
  CHECK(share(0.0) == 0.0);  // they go apart
  double best = 0.0;
  for (double from_m = 0.0; from_m < run.length_m; from_m += 1.0) {
    best = std::max(best, share(from_m));
  }
  CHECK(best > 0.95);
  CHECK(share(run.length_m * 3.0) == 0.0);
  // Whichever run is named first.
  const Run out = placed(run, 1, 0.0, 0.0, true);
  const Run back = placed(run, 2, 200.0, 30.0, false);
  const SplitSpec spec = parse_splits("0-30 mph").front();
  CHECK(split_overlap(out, back, spec) == split_overlap(back, out, spec));
}

TEST_CASE("a dip leaves in a split whose road is not shared what the note says", "[pair]") {
  // Slope changes by 1 % in 100 m. The starts of 0-30 lie about 150 m apart, so 1.4 % of slope lies between.
  const double length_m = sim::run_length_m(sim::scooter(), Speed::from_mph(53.0).mps());
  const sim::Road dip{.bend_per_m = 1e-4, .bend_x_m = length_m / 2.0, .bend_reach_m = 400.0};
  const auto left = [&](const std::string& name) {
    const double flat_s = two_way_s({}, name);
    return (two_way_s(dip, name) - flat_s) / flat_s;
  };
  CHECK_THAT(left("0-30 mph"), WithinAbs(-0.024, 0.002));
  CHECK_THAT(left("0-50 mph"), WithinAbs(-0.010, 0.002));
  CHECK_THAT(left("30-50 mph"), WithinAbs(0.001, 0.002));
  // On an even slope nothing is left, shared road or not.
  CHECK_THAT(two_way_s({.slope = 0.02}, "0-30 mph"), WithinAbs(two_way_s({}, "0-30 mph"), 0.008));
}
