#include "bothways/run/coverage.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("the coverage factor is that of the guide's table of Student's t [GUM]", "[run]") {
  // Table G.2, 95 %: t = 2.31 for 8 and 2.57 for 5 degrees of freedom; G.3: a quarter is 8 of them.
  CHECK_THAT(1.96 * coverage_factor(0.25), WithinAbs(2.31, 0.005));
  CHECK_THAT(1.96 * coverage_factor(std::sqrt(0.1)), WithinAbs(2.57, 0.005));
  CHECK_THAT(coverage_factor(0.001), WithinAbs(1.0, 1e-5));
}

TEST_CASE("a run that is widened keeps its values and widens all that is said of their errors", "[run]") {
  Run run;
  run.clock_sd_s = 0.1;
  run.movement_sd_s = 0.2;
  run.splits.push_back({.rollout = {4.0, 0.1, 3.7, 4.2},
                        .movement = {4.5, 0.2, 4.0, 5.0},
                        .speed_mps = Estimate{10.0, 1.0, 8.0, 12.5},
                        .rollout_shared_s = {0.05, -0.01},
                        .movement_shared_s = {0.1},
                        .crossing_shared_s = {0.2, -0.1}});
  run.more_splits = run.splits;
  run.edges.push_back({5.0, 1.0, 0.03, 4.0});
  run.curve.sd_mps = {0.1};
  run.curve.sd_mps2 = {0.2};
  const Run wide = widened(run, 2.0);
  CHECK(wide.clock_sd_s == 0.2);
  CHECK(wide.movement_sd_s == 0.4);
  for (const std::vector<Split>* splits : {&wide.splits, &wide.more_splits}) {
    const Split& split = splits->front();
    CHECK(split.rollout.value == 4.0);
    CHECK(split.rollout.sd == 0.2);
    CHECK_THAT(split.rollout.lo95, WithinAbs(3.4, 1e-12));
    CHECK_THAT(split.rollout.hi95, WithinAbs(4.4, 1e-12));
    CHECK_THAT(split.movement.hi95, WithinAbs(5.5, 1e-12));
    CHECK_THAT(split.speed_mps->lo95, WithinAbs(6.0, 1e-12));
    CHECK(split.rollout_shared_s == std::vector<double>{0.1, -0.02});
    CHECK(split.movement_shared_s == std::vector<double>{0.2});
    CHECK(split.crossing_shared_s == std::vector<double>{0.4, -0.2});
  }
  CHECK(wide.edges.front().sd_s == 0.06);
  CHECK(wide.edges.front().t_s == 1.0);
  CHECK(wide.curve.sd_mps.front() == 0.2);
  CHECK(wide.curve.sd_mps2.front() == 0.4);
}

TEST_CASE("no time that is widened begins below zero", "[run]") {
  Run run;
  run.splits.push_back({.rollout = {0.2, 0.1, 0.05, 0.4}, .movement = {0.2, 0.1, 0.05, 0.4}});
  CHECK(widened(run, 3.0).splits.front().rollout.lo95 == 0.0);
}
