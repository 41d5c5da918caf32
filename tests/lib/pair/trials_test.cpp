// Does the interval of a difference hold the truth, from logs to words? A scooter is ridden both ways on a
// sloping road in gusts, before and after a change of known size, and logged; the logs are read, their runs
// found, paired and compared.
#include "bothways/core/units.hpp"
#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "support/simulate/receiver.hpp"
#include "support/simulate/ride.hpp"
#include "support/simulate/two_way.hpp"
#include "support/simulate/write.hpp"
#include "support/tally.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <string>
#include <vector>

using namespace bothways;

namespace {

const std::vector<std::string> names{"0-30 mph", "0-40 mph", "0-50 mph", "30-50 mph"};
constexpr Instant morning{1'777'887'000'000'000};
constexpr std::size_t most_pairs = 5;

const sim::Road windy_hill{.slope = 0.01, .wind_mps = 2.0, .gust_sd_mps = 0.7};

sim::Script out_and_back(const sim::Vehicle& vehicle, std::size_t pairs) {
  const double top_mps = Speed::from_mph(53.0).mps();
  const double stretch_m = sim::run_length_m(vehicle, top_mps);
  sim::Script script;
  for (std::size_t i = 0; i < 2 * pairs; ++i) {
    sim::append(script, sim::one_way(top_mps, stretch_m, 8.0 + 1.3 * static_cast<double>(i)));
  }
  return script;
}

/// The change: 4 % more pull at low speed and 1.5 % more power.
sim::Vehicle changed() {
  sim::Vehicle vehicle = sim::scooter();
  vehicle.pull_N *= 1.04;
  vehicle.power_W *= 1.015;
  return vehicle;
}

/// Time of a level road in the mean wind, whose square no pairing takes out.
std::map<std::string, double> level_times(const sim::Vehicle& vehicle) {
  const sim::Truth truth = sim::ride(vehicle, {.wind_mps = windy_hill.wind_mps}, out_and_back(vehicle, 1));
  std::map<std::string, double> times;
  for (const std::string& name : names) {
    times[name] = sim::two_way_truth_s(truth, truth.starts.at(0), truth, truth.starts.at(1),
                                       parse_splits(name).front());
  }
  return times;
}

Side ridden(const std::string& name, const sim::Vehicle& vehicle, std::uint64_t seed, double later_s) {
  const sim::Truth truth = sim::ride(vehicle, windy_hill, out_and_back(vehicle, most_pairs), seed,
                                     {.force = 0.005, .launch = 0.05});
  const sim::ReceiverModel receiver;  // 10 Hz, 0.05 m/s, half of it slow
  const Log log = sim::receive(truth, receiver, seed + 1'000'000, shifted(morning, later_s));
  Side side{.name = name, .rides = {analyse(sim::read_back(sim::to_nmea(log, {.gga_every = 10})))}};
  int id = 0;
  for (Run& run : side.rides.front().runs.accepted) {
    run.id = ++id;
  }
  side.pairs = pair_runs(side.rides);
  return side;
}

Side first_pairs(Side side, std::size_t pairs) {
  side.pairs.made.resize(std::min(pairs, side.pairs.made.size()));
  return side;
}

/// Counts of one split, over trials.
struct Count {
  Tally change;                  ///< the difference found against the change
  Tally nothing;                 ///< and against zero, where nothing was changed
  std::size_t told = 0;          ///< the change was told, in its direction
  std::size_t told_wrongly = 0;  ///< a word was said where nothing was changed
};

using Counts = std::map<std::size_t, std::map<std::string, Count>>;  // pairs a side, split

void add(Count& count, const Difference& change, const Difference& nothing, double truth_s) {
  count.change.add(change.difference, truth_s);
  count.nothing.add(nothing.difference, 0.0);
  count.told += change.verdict == (truth_s < 0.0 ? Verdict::quicker : Verdict::slower) ? 1U : 0U;
  count.told_wrongly += nothing.verdict != Verdict::cannot_tell ? 1U : 0U;
}

Counts trials_of(std::size_t trials, const std::vector<std::size_t>& pairs) {
  const auto before_s = level_times(sim::scooter());
  const auto after_s = level_times(changed());
  Counts counts;
  for (std::size_t trial = 0; trial < trials; ++trial) {
    const auto seed = std::uint64_t{3 * trial + 1};
    const Side before = ridden("before", sim::scooter(), seed, 0.0);
    const Side after = ridden("after", changed(), seed + 1, 3000.0);
    const Side same = ridden("after", sim::scooter(), seed + 2, 3000.0);
    REQUIRE(before.pairs.made.size() == most_pairs);
    REQUIRE(after.pairs.made.size() == most_pairs);
    REQUIRE(same.pairs.made.size() == most_pairs);
    for (const std::size_t n : pairs) {
      const Side reference = first_pairs(before, n);
      const auto compared = compare(std::vector{reference, first_pairs(after, n)},
                                    parse_splits("0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph"))
                                .front();
      const auto unchanged = compare(std::vector{reference, first_pairs(same, n)},
                                     parse_splits("0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph"))
                                 .front();
      REQUIRE(compared.differences.size() == names.size());
      REQUIRE(unchanged.differences.size() == names.size());
      for (std::size_t k = 0; k < names.size(); ++k) {
        add(counts[n][names[k]], compared.differences[k], unchanged.differences[k],
            after_s.at(names[k]) - before_s.at(names[k]));
      }
    }
  }
  return counts;
}

}  // namespace

TEST_CASE("from logs to words the change is inside the interval", "[pair][trials]") {
  for (const auto& [pairs, splits] : trials_of(5, {1, 3})) {
    double sum = 0.0;
    for (const auto& [name, count] : splits) {
      CAPTURE(pairs, name);
      CHECK(count.change.held >= 4);
      CHECK(count.nothing.held >= 4);
      sum += count.change.mean_square_z() + count.nothing.mean_square_z();
    }
    // Measured 0.08 and 0.31: this rider's starts differ by 0.5 %, a third of what is usual, on a steady
    // slope.
    const double mean_square_z = sum / (2.0 * static_cast<double>(splits.size()));
    CAPTURE(pairs, mean_square_z);
    CHECK(mean_square_z > (pairs > 1 ? 0.15 : 0.03));
    CHECK(mean_square_z < (pairs > 1 ? 1.7 : 0.45));
  }
}

TEST_CASE("of a hundred comparisons from logs to words 92 or more hold the truth, and few words are false",
          "[pair][slow]") {
  // 400 trials of these seeds: docs/method.md, "Comparison"; there 93 of 100 or more hold. The sd of a
  // coverage of 0.95 in 200 trials is 0.015, so the splits beside the main one have some room for luck.
  constexpr std::size_t trials = 200;
  for (const auto& [pairs, splits] : trials_of(trials, {1, 2, 3, 5})) {
    for (const auto& [name, count] : splits) {
      CAPTURE(pairs, name, count.change.held, count.nothing.held, count.told, count.told_wrongly);
      const std::size_t least = name == "0-30 mph" ? 92 : 90;
      CHECK(count.change.held >= trials * least / 100);
      CHECK(count.nothing.held >= trials * least / 100);
      // This rider's starts differ by 0.5 %, a third of what is usual, on a steady slope: intervals hold more
      // than they say here. Measured 0.2 to 1.2, one pair 0.03 to 0.1.
      for (const Tally& tally : {count.change, count.nothing}) {
        CHECK(tally.median_square_z() > (pairs > 1 ? 0.15 : 0.02));
        CHECK(tally.median_square_z() < (pairs > 1 ? 2.0 : 0.6));
      }
      CHECK(count.told_wrongly <= trials * 7 / 100);
      if (name == "0-30 mph" && pairs >= 3) {
        CHECK(count.told >= trials * 95 / 100);
      }
    }
  }
}
