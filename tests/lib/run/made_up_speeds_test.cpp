// Runs from receivers and recorders that make something else of the speed, against the truth.

#include "bothways/core/units.hpp"
#include "lib/run/rides.hpp"
#include "support/tally.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <numbers>
#include <vector>

using namespace bothways;

namespace {

constexpr double metres_per_degree = 111e3;  // near enough

using Change = std::function<void(std::vector<Fix>&)>;

/// 0-30 mph of two rides of six starts each, whose log was changed.
Tally thirty_of(const sim::ReceiverModel& model, const Change& change) {
  Tally out;
  const SplitSpec thirty = parse_splits("0-30 mph").front();
  for (const std::uint64_t seed : {901U, 902U}) {
    const sim::Truth truth = sim::ride(sim::scooter(), {}, starts(6, 53.0), seed, {0.01, 0.1, 0.1});
    Log log = sim::receive(truth, model, seed, ride_begin);
    change(log.fixes);
    for (const Run& run : runs_of(log, "0-30 mph").accepted) {
      const sim::TrueStart* start = true_start_of(truth, run);
      REQUIRE(start != nullptr);
      out.add(run.splits.front().rollout, sim::true_split_s(truth, *start, thirty, Clock::rollout).value());
    }
  }
  return out;
}

sim::ReceiverModel at_hz(double rate_hz) {
  sim::ReceiverModel model;
  model.rate_hz = rate_hz;
  return model;
}

}  // namespace

TEST_CASE("speeds that an app smooths by 0.6 s, as the places show, are timed without it", "[run]") {
  sim::ReceiverModel model = at_hz(10.0);
  model.lag_s = 0.6;
  const Tally tally = thirty_of(model, [](std::vector<Fix>&) {});
  CHECK(tally.n == 12);
  CHECK(tally.share() > 0.9);
  CHECK(std::abs(tally.bias()) < 0.1);  // taken for unsmoothed: 0.2 too long
}

TEST_CASE("speeds that a phone runs ahead of are timed as its places say", "[run]") {
  const Tally tally = thirty_of(at_hz(1.0), [](std::vector<Fix>& fixes) {
    for (std::size_t i = fixes.size(); i-- > 1;) {
      fixes[i].speed_mps =
          std::max(0.0, fixes[i].speed_mps + 0.5 * (fixes[i].speed_mps - fixes[i - 1].speed_mps));
    }
  });
  CHECK(tally.n == 12);
  CHECK(tally.share() > 0.9);
  CHECK(std::abs(tally.bias()) < 0.25);  // taken for unsmoothed: 0.4 too short
}

TEST_CASE("places that a logger holds at rest and lets go late are timed with that doubt", "[run]") {
  sim::ReceiverModel model = at_hz(5.0);
  model.with_speed = false;
  const Tally tally = thirty_of(model, [](std::vector<Fix>& fixes) {
    // Held while it moves by less than 0.16 m a fix, 0.8 m/s, for a second; let go, it slides back in 1.5 s.
    const std::vector<Fix> true_fixes = fixes;
    double off_lat = 0.0;
    double off_lon = 0.0;
    std::size_t held_from = 0;
    std::size_t slow = 0;
    for (std::size_t i = 1; i < fixes.size(); ++i) {
      const Fix& now = true_fixes[i];
      const Fix& before = true_fixes[i - 1];
      const double moved_m = std::hypot((now.lat_deg - before.lat_deg) * metres_per_degree,
                                        (now.lon_deg - before.lon_deg) * metres_per_degree *
                                            std::cos(now.lat_deg * std::numbers::pi / 180.0));
      slow = moved_m < 0.16 ? slow + 1 : 0;
      if (slow > 5) {
        held_from = slow == 6 ? i - 1 : held_from;
        fixes[i].lat_deg = fixes[held_from].lat_deg;
        fixes[i].lon_deg = fixes[held_from].lon_deg;
        off_lat = fixes[i].lat_deg - now.lat_deg;
        off_lon = fixes[i].lon_deg - now.lon_deg;
        continue;
      }
      off_lat *= 0.875;
      off_lon *= 0.875;
      fixes[i].lat_deg += off_lat;
      fixes[i].lon_deg += off_lon;
    }
  });
  CHECK(tally.n == 12);
  CHECK(tally.share() > 0.9);
}
