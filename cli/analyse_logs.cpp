// log -> speed -> runs for many logs at once: a first look at each, marks where none are asked, a second
// look.
#include "bothways/log/part.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/speed/derive.hpp"
#include "cli/conditions.hpp"
#include "cli/looks.hpp"
#include "cli/parallel.hpp"
#include "cli/pipeline.hpp"
#include "cli/ride_lines.hpp"

#include <algorithm>
#include <atomic>
#include <iterator>
#include <optional>
#include <utility>

namespace bothways::cli {

namespace {

/// All of a log is read; the order of its dates is in the key of the store (cmd_logbook.cpp).
bool is_plain(const ReadAs& read) {
  return read.part.window.open();
}

class Analyst {
 public:
  /// @param jobs  threads for one log
  Analyst(const AnalysisOptions& options, unsigned jobs, const Streams& streams)
      : run_(options.run),
        read_as_(options.read),
        rows_kept_(options.rows_kept),
        store_(is_plain(options.read) ? options.store : std::nullopt),  // it knows no other reading
        streams_(streams) {
    run_.jobs = jobs;
    if (!options.conditions.empty()) {
      conditions_ = read_conditions(options.conditions);
    }
  }

  /// The first look; where splits are asked, the only one.
  [[nodiscard]] Attempt<Looks> first(const LogAsked& asked) {
    const FoundConditions found = conditions_ ? *conditions_ : conditions_beside(asked.path);
    if (store_ && asked.window.open() && found.sections.empty()) {
      return first_of_whole(asked, found);
    }
    return attempt(asked.path, read_as_, streams_, [&](Log log) {
      Looks looks;
      for (LogPart& part : parted(std::move(log), asked.window, found, read_as_.part.zone)) {
        SpeedSeries series = speed_series(part.log);
        looks.push_back({look_at(part.log, series), std::nullopt, asked.side, part.between});
        looks.back().ride.conditions = std::move(part.conditions);
        looks.back().ride.part = part.part;
        judge_or_keep(looks.back(), std::move(series));
      }
      return looks;
    });
  }

  void choose(const std::vector<SplitSpec>& splits) { run_.splits = splits; }

  /// The second look, when the marks are chosen.
  [[nodiscard]] Attempt<Looks> second(Looks looks) const {
    if (take_remembered(looks)) {
      return {std::move(looks), ""};
    }
    const bool kept = std::all_of(looks.begin(), looks.end(), [](const Look& l) { return l.series; });
    if (kept) {
      for (Look& look : looks) {
        judge(look, std::move(*look.series));
      }
      return {std::move(looks), ""};
    }
    const std::string path = looks.front().ride.path;
    return attempt(path, read_as_, streams_, [&](const Log& log) {
      for (Look& look : looks) {
        const auto& part = look.ride.part;
        judge(look, speed_series(part ? part_of(log, part->from, part->until) : log));
      }
      return std::move(looks);
    });
  }

 private:
  /// The first look at a log that may be remembered.
  [[nodiscard]] Attempt<Looks> first_of_whole(const LogAsked& asked, const FoundConditions& found) {
    const auto with_conditions = [&](Ride ride) {
      ride.conditions = found.conditions;
      ride.notes.insert(ride.notes.end(), found.notes.begin(), found.notes.end());
      return Look{.ride = std::move(ride), .series = std::nullopt, .side = asked.side, .remember = true};
    };
    if (auto ride = store_->find_look(asked.path)) {
      Looks looks{with_conditions(std::move(*ride))};
      return run_.splits.empty() ? Attempt<Looks>{std::move(looks), ""} : second(std::move(looks));
    }
    return attempt(asked.path, read_as_, streams_, [&](const Log& log) {
      SpeedSeries series = speed_series(log);
      Ride ride = look_at(log, series);
      store_->keep_look(asked.path, ride);
      Looks looks{with_conditions(std::move(ride))};
      judge_or_keep(looks.front(), std::move(series));
      return looks;
    });
  }

  /// Judges the starts where splits are asked; else keeps the series, as far as memory goes, for when they
  /// are.
  void judge_or_keep(Look& look, SpeedSeries series) {
    if (!run_.splits.empty()) {
      judge(look, std::move(series));
    } else if (look.ride.path == "-" || rows_.fetch_add(look.ride.fixes) < rows_kept_) {
      look.series = std::move(series);
    }
  }

  void judge(Look& look, SpeedSeries series) const {
    const auto notes = static_cast<std::ptrdiff_t>(look.ride.notes.size());
    look.ride = with_runs(std::move(look.ride), std::move(series), run_);
    if (look.remember) {
      const Ride runs{.notes = {look.ride.notes.begin() + notes, look.ride.notes.end()},
                      .runs = look.ride.runs};
      store_->keep_runs(look.ride.path, run_, runs);
    }
  }

  /// True if the runs were remembered.
  [[nodiscard]] bool take_remembered(Looks& looks) const {
    if (looks.size() != 1 || !looks.front().remember) {
      return false;
    }
    Ride& ride = looks.front().ride;
    auto runs = store_->find_runs(ride.path, run_);
    if (!runs) {
      return false;
    }
    ride.runs = std::move(runs->runs);
    std::move(runs->notes.begin(), runs->notes.end(), std::back_inserter(ride.notes));
    return true;
  }

  RunOptions run_;
  ReadAs read_as_;
  std::size_t rows_kept_;
  std::optional<RideStore> store_;
  const Streams& streams_;
  std::optional<FoundConditions> conditions_;
  std::atomic<std::size_t> rows_{0};
};

/// Threads for each of so many logs at once.
unsigned jobs_for_each(std::size_t logs, unsigned jobs) {
  return static_cast<unsigned>(std::max<std::size_t>(jobs / std::max<std::size_t>(logs, 1), 1));
}

/// The first look at all logs, and the second where marks are to be chosen.
class Survey {
 public:
  Survey(const std::vector<LogAsked>& logs, const AnalysisOptions& options, unsigned jobs,
         const Streams& streams)
      : analyst_(options, jobs_for_each(logs.size(), jobs), streams),
        attempts_(logs.size()),
        jobs_(jobs),
        streams_(streams) {
    for_each_log(logs.size(), jobs, streams, [&](std::size_t i) { attempts_[i] = analyst_.first(logs[i]); });
  }

  /// Takes all that was made of the logs, in their order, and where each came from.
  [[nodiscard]] Looks take() {
    Looks all;
    from_.clear();
    for (std::size_t i = 0; i < attempts_.size(); ++i) {
      if (attempts_[i].made) {
        from_.insert(from_.end(), attempts_[i].made->size(), i);
        std::move(attempts_[i].made->begin(), attempts_[i].made->end(), std::back_inserter(all));
        attempts_[i].made->clear();
      }
    }
    return all;
  }

  /// Puts back what take() gave.
  void give_back(Looks looks) {
    for (std::size_t i = 0; i < looks.size(); ++i) {
      attempts_[from_[i]].made->push_back(std::move(looks[i]));
    }
  }

  void look_again(const std::vector<SplitSpec>& splits) {
    analyst_.choose(splits);
    for_each_log(attempts_.size(), jobs_, streams_, [&](std::size_t i) {
      if (attempts_[i].made && !attempts_[i].made->empty()) {
        attempts_[i] = analyst_.second(std::move(*attempts_[i].made));
      }
    });
  }

  /// Moves all that was found into the result.
  void finish(Analysed& all) {
    for (Attempt<Looks>& attempt : attempts_) {
      if (!attempt.made) {
        all.troubles.take(std::move(attempt));
        continue;
      }
      ++all.read;
      drop_idle_parts(*attempt.made);
      for (Look& look : *attempt.made) {
        if (look.ride.runs.accepted.empty()) {
          all.top_speed_mps = std::max(all.top_speed_mps, look.ride.top_speed_mps);
        }
        all.sides.push_back(look.side);
        all.rides.push_back(std::move(look.ride));
      }
    }
  }

 private:
  Analyst analyst_;
  std::vector<Attempt<Looks>> attempts_;
  std::vector<std::size_t> from_;
  unsigned jobs_;
  const Streams& streams_;
};

void put_sides_by_setup(Analysed& all) {
  std::vector<const Ride*> rides;
  std::transform(all.rides.begin(), all.rides.end(), std::back_inserter(rides),
                 [](const Ride& ride) { return &ride; });
  BySetup found = by_setup(rides);
  all.setups = std::move(found.setups);
  all.sides = std::move(found.sides);
}

}  // namespace

Analysed analyse_logs(const std::vector<LogAsked>& logs, const AnalysisOptions& options, unsigned jobs,
                      const Streams& streams, SidesBy by) {
  if (options.from_lines) {
    Analysed all = rides_of_lines(logs, streams);
    if (by == SidesBy::setup) {
      put_sides_by_setup(all);
    }
    number_turns(all);
    return all;
  }
  Survey survey(logs, options, jobs, streams);
  Analysed all{.splits = options.run.splits, .marks_chosen = options.run.splits.empty()};
  Looks looks = survey.take();
  if (by == SidesBy::setup) {
    std::vector<const Ride*> rides;
    std::transform(looks.begin(), looks.end(), std::back_inserter(rides),
                   [](const Look& l) { return &l.ride; });
    const BySetup setups = by_setup(rides);
    for (std::size_t i = 0; i < looks.size(); ++i) {
      looks[i].side = setups.sides[i];
    }
  }
  if (all.marks_chosen) {
    all.splits = chosen_splits(looks, options);
  }
  survey.give_back(std::move(looks));
  if (all.marks_chosen) {
    survey.look_again(all.splits);
  }
  survey.finish(all);
  if (by == SidesBy::setup) {
    put_sides_by_setup(all);  // parts without a start are gone
  }
  number_turns(all);
  return all;
}

}  // namespace bothways::cli
