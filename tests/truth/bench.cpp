#include "truth/bench.hpp"

#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "bothways/speed/rest.hpp"
#include "support/simulate/write.hpp"
#include "truth/naive.hpp"
#include "truth/pair_scorer.hpp"
#include "truth/scenario.hpp"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <optional>
#include <utility>

namespace bothways::truth {

namespace {

constexpr Instant begin_of_ride{1'777'887'000'000'000};

bool wanted(const Cell& cell, const BenchOptions& options) {
  if (options.short_version && !cell.in_short) {
    return false;
  }
  return options.filters.empty() ||
         std::any_of(options.filters.begin(), options.filters.end(),
                     [&](const std::string& part) { return cell.name.find(part) != std::string::npos; });
}

/// What an estimator could know at best of the receiver.
void tell(SpeedSeries& series, const sim::ReceiverModel& model) {
  if (!model.with_speed) {
    return;
  }
  Receiver& r = series.receiver;
  r.rate_hz = model.rate_hz;
  r.white_sd_mps = std::max(1e-3, model.white_sd_mps);
  r.slow_sd_mps = model.slow_sd_mps;
  r.slow_time_s = model.slow_time_s;
  r.resolution_mps = model.resolution_mps;
  r.zero_hold_mps = model.zero_hold_mps;
  r.lag_s = model.lag_s;
  r.lag_sd_s = 0.0;
  const double sd = total_noise_mps(r);
  for (Stretch& stretch : series.stretches) {
    std::fill(stretch.sd_mps.begin(), stretch.sd_mps.end(), sd);
  }
  mark_rest(series);
}

/// True start that a found run belongs to: the nearest in time, if near enough.
std::optional<std::size_t> start_of(const Run& run, const sim::Truth& truth, double tolerance_s) {
  std::optional<std::size_t> best;
  double least = tolerance_s;
  const double t_s = seconds_between(begin_of_ride, run.clock_start);
  for (std::size_t i = 0; i < truth.starts.size(); ++i) {
    const double apart = std::abs(truth.starts[i].foot_s - t_s);
    if (apart < least) {
      least = apart;
      best = i;
    }
  }
  return best;
}

class Scorer {
 public:
  Scorer(const Cell& cell, const Scenario& scenario, const std::optional<sim::Truth>& flat)
      : cell_(cell),
        splits_(parse_splits(scenario.splits)),
        include_gentle_(scenario.include_gentle),
        measured_(scenario.profile.has_value()) {
    result_.cell = cell.name;
    result_.words = cell.words;
    for (const SplitSpec& spec : splits_) {
      result_.rows.push_back({spec.name, "rollout", {}, {}});
      result_.rows.push_back({spec.name, "movement", {}, {}});
    }
    if (!scenario.profile) {
      pairs_.emplace(splits_, flat, result_);
    }
  }

  void add(const sim::Truth& truth, std::uint64_t index, const BenchOptions& options) {
    sim::ReceiverModel model = cell_.receiver;
    sim::Random random(0x6365ULL + index);
    model.phase_s = random.uniform() / model.rate_hz;
    Log log = sim::receive(truth, model, 7919 * index + 17, begin_of_ride);
    if (model.whole_second_stamps && model.rate_hz > 1.0) {
      log = sim::read_back(sim::to_csv(log));  // the reader spreads repeated times
    }
    const std::clock_t before = std::clock();  // of this process: others may share the machine
    SpeedSeries series = speed_series(log);
    if (options.told) {
      tell(series, model);
    }
    Ride ride;
    ride.runs = find_runs(series, {.splits = splits_, .include_gentle = include_gentle_});
    const double spent_s = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
    result_.find_ms += spent_s * 1e3;
    result_.timed_runs += ride.runs.accepted.size();
    ++result_.logs;
    const StartOfRun starts = match(truth, ride.runs);
    if (options.oracle) {
      tell(series, model);
      score_oracle(truth, find_runs(series, {.splits = splits_, .include_gentle = include_gentle_}));
    }
    if (pairs_) {
      pairs_->add(truth, ride, starts, result_);
    }
    score_naive(truth, log);
  }

  [[nodiscard]] const CellResult& result() const { return result_; }

 private:
  using StartOfRun = PairScorer::StartOfRun;

  StartOfRun match(const sim::Truth& truth, const Runs& runs) {
    StartOfRun starts;
    std::vector<bool> taken(truth.starts.size(), false);
    for (const Run& run : runs.accepted) {
      const auto i = start_of(run, truth, tolerance_s());
      if (!i && measured_) {
        continue;  // a measured profile also holds starts out of a crawl that are not judged here
      }
      if (!i || taken[*i] || truth.starts[*i].kind != sim::StartKind::run) {
        ++result_.false_runs;
        continue;
      }
      taken[*i] = true;
      ++result_.found_runs;
      starts[run.id] = *i;
      score(truth, truth.starts[*i], run);
    }
    for (const auto& start : truth.starts) {
      if (start.kind == sim::StartKind::run) {
        ++result_.true_runs;
        continue;
      }
      ++result_.other_starts;
      const bool listed = std::any_of(runs.rejected.begin(), runs.rejected.end(), [&](const Rejected& r) {
        return std::abs(seconds_between(begin_of_ride, r.time) - start.movement_s) < 5.0;
      });
      result_.listed_starts += listed ? 1 : 0;
    }
    return starts;
  }

  /// A measured car may have crept for seconds before anything showed: that is an error, not another start.
  [[nodiscard]] double tolerance_s() const { return measured_ ? 4.0 : 1.5 + 2.0 / cell_.receiver.rate_hz; }

  void score_oracle(const sim::Truth& truth, const Runs& runs) {
    for (const Run& run : runs.accepted) {
      const auto i = start_of(run, truth, tolerance_s());
      if (i && truth.starts[*i].kind == sim::StartKind::run) {
        score(truth, truth.starts[*i], run, &CellResult::Row::oracle);
      }
    }
  }

  void score(const sim::Truth& truth, const sim::TrueStart& start, const Run& run,
             Score CellResult::Row::*kind = &CellResult::Row::found) {
    for (std::size_t k = 0; k < splits_.size(); ++k) {
      const auto split = std::find_if(run.splits.begin(), run.splits.end(),
                                      [&](const Split& s) { return s.spec.name == splits_[k].name; });
      if (split == run.splits.end()) {
        continue;
      }
      if (const auto t = sim::true_split_s(truth, start, splits_[k], Clock::rollout)) {
        (result_.rows[2 * k].*kind).add(split->rollout, *t);
      }
      if (const auto t = sim::true_split_s(truth, start, splits_[k], Clock::movement)) {
        (result_.rows[2 * k + 1].*kind).add(split->movement, *t);
      }
    }
  }

  void score_naive(const sim::Truth& truth, const Log& log) {
    const PlainSpeed speed = plain_speed(log, begin_of_ride);
    for (const auto& start : truth.starts) {
      if (start.kind != sim::StartKind::run) {
        continue;
      }
      for (std::size_t k = 0; k < splits_.size(); ++k) {
        const auto found = naive_split_s(speed, start, splits_[k]);
        const auto rollout = sim::true_split_s(truth, start, splits_[k], Clock::rollout);
        const auto movement = sim::true_split_s(truth, start, splits_[k], Clock::movement);
        if (found && rollout && movement) {
          result_.rows[2 * k].naive.add(*found, *rollout);
          result_.rows[2 * k + 1].naive.add(*found, *movement);
        }
      }
    }
  }

  Cell cell_;
  std::vector<SplitSpec> splits_;
  bool include_gentle_;
  bool measured_;
  std::optional<PairScorer> pairs_;
  CellResult result_;
};

}  // namespace

void run_bench(const BenchOptions& options, const std::function<void(const CellResult&)>& done) {
  const std::vector<Cell> all = cells();
  for (const Scenario& scenario : scenarios()) {
    const auto flat = has_flat_truth(scenario) ? std::optional(flat_ride(scenario)) : std::nullopt;
    std::vector<Scorer> scorers;
    for (const Cell& cell : all) {
      if (cell.scenario == scenario.name && wanted(cell, options)) {
        scorers.emplace_back(cell, scenario, flat);
      }
    }
    if (scorers.empty()) {
      continue;
    }
    std::size_t runs = 0;
    for (std::uint64_t index = 0; runs < options.runs; ++index) {
      const sim::Truth truth = draw_ride(scenario, index);
      for (Scorer& scorer : scorers) {
        scorer.add(truth, index, options);
      }
      runs = scorers.front().result().true_runs;
    }
    for (const Scorer& scorer : scorers) {
      done(scorer.result());
    }
  }
}

}  // namespace bothways::truth
