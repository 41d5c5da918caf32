#include "bothways/pair/match.hpp"
#include "lib/pair/sides.hpp"

#include <catch2/catch.hpp>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

TwoWay result_of(const std::string& name, double value_s, double sd_s) {
  TwoWay split{.spec = parse_splits(name).front()};
  split.rollout = normal_estimate(value_s, sd_s);
  split.movement = normal_estimate(value_s + 0.5, sd_s);
  split.as_ridden = split.rollout;
  split.as_ridden_movement = split.movement;
  split.drive_s = value_s;
  return split;
}

}  // namespace

TEST_CASE("the overall line is the mean of the pairs, as wide as they differ and more", "[pair]") {
  Pairs pairs;
  for (const double t : {5.0, 5.2, 5.1}) {
    Pair pair{.first_run = 1, .second_run = 2};
    pair.splits = {result_of("0-30 mph", t, 0.0)};
    pairs.made.push_back(pair);
  }
  pairs.made.back().splits.push_back(result_of("0-40 mph", 7.0, 0.03));
  Run run;
  run.id = 1;
  run.splits = {split_of("0-30 mph", 4.9, 0.4, 0.0), split_of("0-40 mph", 7.1, 0.3, 0.0)};
  Run slower = run;
  slower.id = 2;
  slower.splits[0].rollout.value = 5.3;
  Run alone = run;  // from another road, down a hill
  alone.id = 3;
  alone.splits[0].rollout.value = 2.5;
  const auto rows =
      overall({ride_of({slower, run, alone})}, pairs, parse_splits("0-40 mph, 0-50 mph, 0-30 mph"));
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].spec.name == "0-40 mph");
  CHECK(rows[0].pairs == 1);
  CHECK(rows[0].scatter_s == 0.0);
  // One pair: measurement, and what is usual for all that it cannot show.
  CHECK(rows[0].budget.scatter > 0.011 * 7.0);
  CHECK(rows[0].rollout.sd > std::hypot(0.03, rows[0].budget.scatter));
  CHECK(rows[1].spec.name == "0-30 mph");
  CHECK(rows[1].pairs == 3);
  CHECK_THAT(rows[1].rollout.value, WithinRel(5.1, 1e-9));
  CHECK_THAT(rows[1].movement.value, WithinRel(5.6, 1e-9));
  CHECK_THAT(rows[1].scatter_s, WithinRel(0.1, 1e-9));
  CHECK(rows[1].rollout.hi95 > 5.1 + 1.96 * 0.1 / std::sqrt(3.0));
  CHECK(rows[1].rollout.hi95 < 5.1 + 4.30265 * 0.1 / std::sqrt(3.0));  // t(0.975, 2), which knows no prior
  CHECK(rows[1].best_one_way_s == 4.9);  // not that of the run without a partner
  CHECK_THAT(rows[1].best_one_way_movement_s, WithinAbs(5.3, 1e-12));
}

TEST_CASE("without pairs there is no overall line", "[pair]") {
  CHECK(overall({}, {}, parse_splits("0-30 mph")).empty());
}

TEST_CASE("the overall line takes the days as a comparison does, and says how many", "[pair]") {
  const std::vector<Given> given{
      {5.00, 0.01, 0.0}, {5.10, 0.01, 0.2}, {5.05, 0.01, 0.4}, {5.50, 0.01, 24.0}, {5.45, 0.01, 24.2}};
  const Side side = side_of("before", "0-30 mph", given);
  const Side other = side_of("after", "0-30 mph", {{5.0, 0.01, 0.0}, {5.1, 0.01, 0.2}});
  const Overall row = overall(side.rides, side.pairs, parse_splits("0-30 mph")).at(0);
  const Difference compared =
      compare(std::vector{side, other}, parse_splits("0-30 mph")).at(0).differences.at(0);
  CHECK(row.pairs == 5);
  CHECK(row.days == 2);
  CHECK(row.rollout.value == compared.before.value);
  CHECK(row.rollout.lo95 == compared.before.lo95);
  CHECK(row.rollout.hi95 == compared.before.hi95);
  CHECK_THAT(row.rollout.value, WithinAbs((5.05 + 5.475) / 2.0, 0.03));  // each day counts about once
  CHECK(row.rollout.hi95 - row.rollout.value > 0.2125);  // the days differ by more than the pairs of a day
  CHECK(row.budget.day > row.budget.scatter);
  CHECK_THAT(row.scatter_s, WithinAbs(std::sqrt((0.005 + 0.00125) / 3.0), 1e-12));  // within the days
}
