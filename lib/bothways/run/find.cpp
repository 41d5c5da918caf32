#include "bothways/run/find.hpp"

#include "bothways/run/detect.hpp"
#include "bothways/run/end_note.hpp"
#include "bothways/run/pull.hpp"
#include "bothways/run/reach.hpp"
#include "bothways/run/timing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <limits>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <utility>

namespace bothways {

namespace {

constexpr double least_rest_s = 0.95;  // one second, less the jitter of stamps
constexpr double creep_mps = 5.4;  // 12 mph: below it nobody has tried anything (common practice, no source)

/// Where a run must come to count.
struct FirstMark {
  std::optional<Speed> speed;
  std::optional<Length> length;
};

FirstMark first_mark(const std::vector<SplitSpec>& splits) {
  FirstMark out;
  const auto consider = [&](const Mark& mark) {
    if (const auto* speed = std::get_if<Speed>(&mark)) {
      out.speed = out.speed ? std::min(*out.speed, *speed) : *speed;
    } else {
      const Length length = std::get<Length>(mark);
      out.length = out.length ? std::min(*out.length, length) : length;
    }
  };
  for (const SplitSpec& split : splits) {
    if (split.from_rest()) {
      consider(split.to);
    }
  }
  if (!out.speed && !out.length) {
    for (const SplitSpec& split : splits) {
      consider(split.to);
    }
  }
  return out;
}

/// A standing start with what the rules ask about.
struct Judged {
  StandingStart start;
  double travel_m = 0.0;  ///< to the lift, from the readings
  bool reached = false;   ///< the first mark
  double to_mps = 0.0;    ///< speed of comparison
  PullVerdict pull;
};

double travel_of(const Stretch& s, const StandingStart& start) {
  const std::vector<double>& v = s.smooth_mps;
  double travel = 0.0;
  for (std::size_t i = start.rest_end; i < start.end; ++i) {
    travel += 0.5 * (v[i] + v[i + 1]) * (s.t_s[i + 1] - s.t_s[i]);
  }
  return travel;
}

struct Finder {
  const SpeedSeries& series;
  const RunOptions& options;
  FirstMark mark;
  double most_mps = 0.0;  ///< highest speed of the log
  Runs out;
  std::size_t outliers = 0;  ///< readings left out of runs

  [[nodiscard]] Instant time_of(std::size_t stretch, std::size_t row) const {
    return shifted(series.stretches[stretch].start, series.stretches[stretch].t_s[row]);
  }
  [[nodiscard]] LatLon place_of(std::size_t stretch, std::size_t row) const {
    const Stretch& s = series.stretches[stretch];
    if (!std::isfinite(s.east_m[row])) {
      return {unknown_place, unknown_place};
    }
    return series.plane.from_plane({s.east_m[row], s.north_m[row]});
  }
  void reject(std::size_t stretch, std::size_t row, std::string code, std::string text) {
    out.rejected.push_back({time_of(stretch, row), place_of(stretch, row), std::move(code), std::move(text)});
  }

  static constexpr double unknown_place = std::numeric_limits<double>::quiet_NaN();
};

/// Up to where it is judged how hard a start pulls, m/s.
double reference_speed(const Finder& f, double top_mps) {
  return compared_up_to_mps(f.series, top_mps, f.mark.speed ? f.mark.speed->mps() : top_mps);
}

/// Whether impossible readings hide how it began.
bool is_hidden(const Finder& f, const StandingStart& start) {
  return start.unread_s > longest_silence_s(1.0 / f.series.receiver.rate_hz);
}

std::vector<Judged> judge(const Finder& f, const std::vector<StandingStart>& starts) {
  std::vector<Judged> out;
  std::vector<PulledStart> pulled;
  for (const StandingStart& start : starts) {
    const Stretch& s = f.series.stretches[start.stretch];
    Judged j{start};
    j.travel_m = travel_of(s, start);
    j.reached = (f.mark.speed && start.top_mps >= f.mark.speed->mps()) ||
                (f.mark.length && j.travel_m >= f.mark.length->m());
    j.to_mps = reference_speed(f, start.top_mps);
    const bool hidden = is_hidden(f, start);
    pulled.push_back({.start = start,
                      .to_mps = j.to_mps,
                      .reached = j.reached,
                      .stood = start.rest_s >= least_rest_s,
                      .hidden = hidden,
                      .topped = is_out_of_speed(s, start, 0.0)});
    out.push_back(j);
  }
  const std::vector<PullVerdict> verdicts = judge_pulls(f.series, pulled);
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i].pull = verdicts[i];
  }
  return out;
}

/// Sorts one start into run or not; true if it is to be timed.
bool accept(Finder& f, const Judged& j) {
  const StandingStart& s = j.start;
  if (j.reached) {
    if (f.series.moved_only) {  // what crept looks at rest there
      f.reject(s.stretch, s.moving, "gap",
               "the recorder wrote points only when the vehicle had moved: whether and how long it stood is "
               "not in the log");
      return false;
    }
    if (is_hidden(f, s)) {
      f.reject(s.stretch, s.moving, "gap",
               fmt::format("impossible readings hide the start: none is believed for {:.1f} s", s.unread_s));
      return false;
    }
    if (s.rest_s < least_rest_s) {
      f.reject(
          s.stretch, s.moving, "short",
          s.rest_s > 0.0
              ? fmt::format("it stood for {:.1f} s only before the start; a run needs a second at rest",
                            s.rest_s)
              : "it seems to have moved right before the start: one reading at rest alone; a run needs a "
                "second at rest");
      return false;
    }
    if (j.pull.gentle && !f.options.include_gentle) {
      f.reject(s.stretch, s.moving, "gentle", gentle_words(j.pull));
      return false;
    }
    return true;
  }
  // Uphill or against the wind a vehicle has less speed than the other way.
  const double most_mps = j.pull.way_top_mps > 0.0 ? j.pull.way_top_mps : f.most_mps;
  if (s.ended_by == StandingStart::End::series_end) {
    f.reject(s.stretch, s.moving, "gap", "the log stops or has a gap before the first mark is reached");
  } else if (s.top_mps < creep_mps) {
    f.reject(s.stretch, s.moving, "short",
             fmt::format("rolled forward to {} only", speed_text(s.top_mps, f.options.metric)));
  } else if (is_out_of_speed(f.series.stretches[s.stretch], s, most_mps)) {
    f.reject(s.stretch, s.moving, "top-speed",
             fmt::format("reached its highest speed, {}, before the first mark",
                         speed_text(s.top_mps, f.options.metric)));
  } else if (j.pull.gentle) {
    f.reject(s.stretch, s.moving, "gentle",
             fmt::format("gentle start that reached {} only, below the first mark",
                         speed_text(s.top_mps, f.options.metric)));
  } else {
    f.reject(s.stretch, s.moving, "lifted",
             fmt::format("let off at {}, before the first mark", speed_text(s.top_mps, f.options.metric)));
  }
  return false;
}

/// A split that takes less time than any tyre could make it.
const Split* impossible_split(const std::vector<Split>& splits) {
  const auto found = std::find_if(splits.begin(), splits.end(), [](const Split& split) {
    return split.rollout.value < least_time_s(split.spec);
  });
  return found == splits.end() ? nullptr : &*found;
}

TimedStarts timed_together(const Finder& f, const std::vector<Judged>& starts, bool hard) {
  std::vector<CountedStart> counted;
  counted.reserve(starts.size());
  for (const Judged& j : starts) {
    const double to_mps = compared_up_to_mps(f.series, j.start.top_mps);
    counted.push_back(
        {j.start, mean_pull_mps2(f.series, j.start, to_mps), to_mps - pull_from_mps, j.pull.gentle});
  }
  return time_starts(f.series, counted, f.options.splits, hard, f.options.more_splits, f.options.jobs);
}

/// Those whose readings somebody can have ridden; the others are left out.
std::vector<Judged> possible_starts(Finder& f, const std::vector<Judged>& starts, const TimedStarts& timed) {
  std::vector<Judged> possible;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    if (const Split* split = impossible_split(timed.runs[i].splits)) {
      f.reject(starts[i].start.stretch, starts[i].start.moving, "impossible",
               fmt::format("its readings cannot be right: no tyre of a small vehicle makes {} so soon",
                           split->spec.name));
    } else {
      possible.push_back(starts[i]);
    }
  }
  return possible;
}

/// Times starts together and adds them to the runs; those that do not surely reach the first mark are left
/// out.
void time_group(Finder& f, std::vector<Judged> starts, bool hard) {
  TimedStarts timed = timed_together(f, starts, hard);
  std::vector<Judged> possible = possible_starts(f, starts, timed);
  if (possible.size() < starts.size()) {  // what is wrong in one must not be shared by the others
    starts = std::move(possible);
    timed = timed_together(f, starts, hard);
  }
  for (std::size_t i = 0; i < starts.size(); ++i) {
    if (timed.runs[i].splits.empty()) {
      f.reject(starts[i].start.stretch, starts[i].start.moving, "lifted",
               "it does not surely reach the first mark");
    } else {
      Run& run = timed.runs[i];
      if (auto note = end_note(f.series, starts[i].start, run, f.options.splits, f.options.metric)) {
        run.notes.push_back(*std::move(note));
      }
      f.out.accepted.push_back(std::move(run));
    }
  }
  f.outliers += timed.outliers;
  std::move(timed.notes.begin(), timed.notes.end(), std::back_inserter(f.out.notes));
}

void reject_others(Finder& f, const Starts& starts) {
  for (const RollingStart& r : starts.rolling) {
    f.reject(r.stretch, r.row, "rolling-start",
             fmt::format("began from a roll of {}, not from rest", speed_text(r.from_mps, f.options.metric)));
  }
  for (const HiddenStart& h : starts.hidden) {
    f.reject(h.stretch, 0, "gap",
             f.series.moved_only
                 ? fmt::format(
                       "the recorder wrote nothing for {:.1f} s while the vehicle stood, and its first point "
                       "came after it had set off: the start is not in the log",
                       h.gap_s)
                 : fmt::format("the start falls into a gap of {:.1f} s in the log", h.gap_s));
  }
}

}  // namespace

Runs find_runs(const SpeedSeries& series, const RunOptions& options) {
  if (options.splits.empty()) {
    throw std::invalid_argument("find_runs needs at least one split");
  }
  const Starts starts = detect_starts(series);
  Finder f{series, options, first_mark(options.splits), highest_speed_mps(series), {}, 0};
  std::vector<Judged> hard;
  std::vector<Judged> gentle;
  for (const Judged& j : judge(f, starts.standing)) {
    if (accept(f, j)) {
      (j.pull.gentle ? gentle : hard).push_back(j);
    }
  }
  time_group(f, std::move(hard), true);
  time_group(f, std::move(gentle), false);
  std::stable_sort(f.out.accepted.begin(), f.out.accepted.end(),
                   [](const Run& a, const Run& b) { return a.clock_start < b.clock_start; });
  for (std::size_t i = 0; i < f.out.accepted.size(); ++i) {
    f.out.accepted[i].id = static_cast<int>(i) + 1;
  }
  if (f.outliers > 0) {
    f.out.notes.push_back(
        {"wild-readings", fmt::format("{} wild reading{} in runs {} not used.", f.outliers,
                                      f.outliers == 1 ? "" : "s", f.outliers == 1 ? "was" : "were")});
  }
  reject_others(f, starts);
  std::stable_sort(f.out.rejected.begin(), f.out.rejected.end(),
                   [](const Rejected& a, const Rejected& b) { return a.time < b.time; });
  return std::move(f.out);
}

}  // namespace bothways
