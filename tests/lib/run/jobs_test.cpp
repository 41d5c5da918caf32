#include "lib/run/rides.hpp"

#include <catch2/catch.hpp>

using namespace bothways;

TEST_CASE("runs timed on several threads are those of one, to the last bit", "[run]") {
  sim::Script script = starts(5, 53.0);
  sim::append(script, starts(1, 44.0));
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script);
  const SpeedSeries series = speed_series(sim::receive(truth, {}, 64, ride_begin));
  for (const bool gentle : {false, true}) {
    const Runs one = find_runs(series, {.include_gentle = gentle, .jobs = 1});
    const Runs many = find_runs(series, {.include_gentle = gentle, .jobs = 4});
    REQUIRE(one.accepted.size() == 6);
    REQUIRE(many.accepted.size() == one.accepted.size());
    REQUIRE(many.notes.size() == one.notes.size());
    for (std::size_t r = 0; r < one.accepted.size(); ++r) {
      const Run& a = one.accepted[r];
      const Run& b = many.accepted[r];
      CHECK(a.clock_start == b.clock_start);
      CHECK(a.curve.v_mps == b.curve.v_mps);
      CHECK(a.curve.sd_mps2 == b.curve.sd_mps2);
      REQUIRE(a.splits.size() == b.splits.size());
      for (std::size_t i = 0; i < a.splits.size(); ++i) {
        CHECK(a.splits[i].rollout.value == b.splits[i].rollout.value);
        CHECK(a.splits[i].rollout.sd == b.splits[i].rollout.sd);
        CHECK(a.splits[i].movement_shared_s == b.splits[i].movement_shared_s);
      }
    }
  }
}
