// log -> speed -> runs for many logs at once: a first look at each, marks where none are asked, a second
// look.
#include "cli/analyst.hpp"
#include "cli/looks.hpp"
#include "cli/parallel.hpp"
#include "cli/pipeline.hpp"
#include "cli/ride_lines.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace bothways::cli {

namespace {

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
        all.top_speed_mps = std::max(all.top_speed_mps, look.ride.top_speed_mps);
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
