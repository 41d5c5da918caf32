#include "bothways/core/split_spec.hpp"
#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "support/real_logs.hpp"
#include "support/simulate/profile.hpp"
#include "support/simulate/real_log.hpp"
#include "support/simulate/receiver.hpp"
#include "support/tally.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

// Real logs beside an independent reference (RTK/INS, 5 Hz).

using namespace bothways;

namespace {

const sim::TrueStart* nearest(const sim::Truth& truth, double foot_s) {
  const sim::TrueStart* found = nullptr;
  for (const sim::TrueStart& start : truth.starts) {
    if (std::abs(start.foot_s - foot_s) < (found == nullptr ? 3.0 : std::abs(found->foot_s - foot_s))) {
      found = &start;
    }
  }
  return found;
}

/// Every standing start, gentle ones too, timed from the log and from the reference.
Tally score(const std::filesystem::path& folder) {
  Tally out;
  for (const sim::RealFigure& figure : sim::real_figures(folder)) {
    out.add(figure.found, figure.true_s);
    INFO(figure.split << " at " << figure.foot_s << " s: " << figure.found.value << ", true "
                      << figure.true_s);
    CHECK(figure.found.sd > 0.0);
  }
  return out;
}

/// Every standing start of a profile that reaches 20 km/h, gentle ones too, timed through a receiver.
Tally score_profile(const sim::Truth& truth, sim::ReceiverModel model) {
  const auto splits = parse_splits("0-20 km/h, 0-30 km/h, 0-40 km/h, 20-40 km/h");
  constexpr Instant begin{1'777'887'000'000'000};
  constexpr int phases = 6;  // of the receiver: each place has a dozen starts only
  Tally out;
  for (std::uint64_t seed = 1; seed <= std::uint64_t{phases}; ++seed) {
    model.phase_s = (static_cast<double>(seed) - 0.6) / phases / model.rate_hz;
    const SpeedSeries series = speed_series(sim::receive(truth, model, seed, begin));
    for (const Run& run : find_runs(series, {.splits = splits, .include_gentle = true}).accepted) {
      const sim::TrueStart* start = nearest(truth, seconds_between(begin, run.clock_start));
      for (const Split& split : run.splits) {
        for (const SplitSpec& spec : splits) {
          const auto true_s =
              start != nullptr && start->kind == sim::StartKind::run && spec.name == split.spec.name
                  ? sim::true_split_s(truth, *start, spec, Clock::rollout)
                  : std::nullopt;
          if (true_s) {
            out.add(split.rollout, *true_s);
          }
        }
      }
    }
  }
  return out;
}

}  // namespace

TEST_CASE("87 of 100 times of real town starts hold, through every kind of receiver",
          "[run][slow][reallog]") {
  const auto profiles = real_logs("profiles");
  if (!profiles) {
    return;
  }
  const std::vector<std::pair<std::string, sim::ReceiverModel>> receivers{{"1 Hz phone", sim::phone(1.0)},
                                                                          {"1 Hz", sim::logger(1.0, 0.05)},
                                                                          {"5 Hz", sim::logger(5.0, 0.12)},
                                                                          {"10 Hz", sim::logger(10.0, 0.05)}};
  for (const char* place : {"kingston_ins5hz", "toronto_ins5hz"}) {
    const sim::Truth truth = sim::truth_of_profile(*profiles / place / "truth.csv", 20.0 / 3.6);
    for (const auto& [name, model] : receivers) {
      const Tally found = score_profile(truth, model);
      CAPTURE(place, name, found.held, found.n);
      CHECK(found.n >= 60);
      // Of the starts in Kingston one in a dozen creeps unseen for seconds: 88.5 to 96 % measured.
      CHECK(found.held * 100 >= found.n * 87);
      // The median, for one odd start of a dozen decides the mean (1 to 15). Measured 0.26 to 0.84 and 0.19
      // to 0.63: too wide for most starts, and four times as much or a quarter is outside.
      const bool is_kingston = std::string(place) == "kingston_ins5hz";
      CHECK(found.median_square_z() > (is_kingston ? 0.2 : 0.15));
      CHECK(found.median_square_z() < (is_kingston ? 1.8 : 1.0));
    }
  }
}

TEST_CASE("nine in ten times of real starts from positions hold the reference", "[run][reallog]") {
  const auto folder = real_logs("truth/nagoya2023_rtk5hz_posonly");
  if (!folder) {
    return;
  }
  const Tally found = score(*folder);
  CHECK(found.n >= 6);
  CHECK(found.held * 10 >= found.n * 9);
  // Measured 0.53, of seven times of which several are of one start.
  CHECK_THAT(found.mean_square_z(), Catch::Matchers::WithinAbs(0.9, 0.7));
}

// Single-point Doppler between tall buildings: readings off by 2 m/s that nothing in the log betrays. Here
// the intervals fail more often than they say (docs/method.md, section 11).
TEST_CASE("two in three times of real starts between tall buildings hold the reference", "[run][reallog]") {
  const auto folder = real_logs("truth/nagoya2023_spp1hz");
  if (!folder) {
    return;
  }
  const Tally found = score(*folder);
  CHECK(found.n >= 5);
  CHECK(found.held * 3 >= found.n * 2);
  // Measured 3.6, of six times: four times as much or a quarter is outside.
  CHECK_THAT(found.median_square_z(), Catch::Matchers::WithinAbs(4.0, 3.0));
}
