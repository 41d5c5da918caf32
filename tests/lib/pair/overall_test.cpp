#include "bothways/pair/match.hpp"
#include "lib/pair/made_up.hpp"

#include <catch2/catch.hpp>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

TwoWay result_of(const std::string& name, double value_s, double sd_s) {
  TwoWay split{.name = name};
  split.rollout = normal_estimate(value_s, sd_s);
  split.movement = normal_estimate(value_s + 0.5, sd_s);
  return split;
}

}  // namespace

TEST_CASE("the overall line is the mean of the pairs with Student's interval", "[pair]") {
  Pairs pairs;
  for (const double t : {5.0, 5.2, 5.1}) {
    Pair pair;
    pair.splits = {result_of("0-30 mph", t, 0.0)};
    pairs.made.push_back(pair);
  }
  pairs.made.back().splits.push_back(result_of("0-40 mph", 7.0, 0.03));
  Run run;
  run.splits = {split_of("0-30 mph", 4.9, 0.4, true, 0.0), split_of("0-40 mph", 7.1, 0.3, true, 0.0)};
  Run slower = run;
  slower.splits[0].rollout.value = 5.3;
  const auto rows = overall({ride_of({slower, run})}, pairs, {"0-40 mph", "0-50 mph", "0-30 mph"});
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].name == "0-40 mph");
  CHECK(rows[0].pairs == 1);
  CHECK(rows[0].scatter_s == 0.0);
  CHECK_THAT(rows[0].rollout.sd, WithinRel(0.03, 1e-12));
  CHECK(rows[1].name == "0-30 mph");
  CHECK(rows[1].pairs == 3);
  CHECK_THAT(rows[1].rollout.value, WithinRel(5.1, 1e-12));
  CHECK_THAT(rows[1].movement.value, WithinRel(5.6, 1e-12));
  CHECK_THAT(rows[1].scatter_s, WithinRel(0.1, 1e-9));
  // t(0.975, 2) = 4.30265
  CHECK_THAT(rows[1].rollout.hi95, WithinAbs(5.1 + 4.30265 * 0.1 / std::sqrt(3.0), 1e-5));
  CHECK(rows[1].best_one_way_s == 4.9);
  CHECK_THAT(rows[1].best_one_way_movement_s, WithinAbs(5.3, 1e-12));
}

TEST_CASE("without pairs there is no overall line", "[pair]") {
  CHECK(overall({}, {}, {"0-30 mph"}).empty());
}
