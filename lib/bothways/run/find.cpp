#include "bothways/run/find.hpp"

#include "bothways/core/units.hpp"
#include "bothways/run/detect.hpp"
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

constexpr double gentle_share = 0.75;  // of the log's best mean acceleration (common practice, no source)
constexpr std::size_t alike_starts = 3;
constexpr double alike_share = 0.75;
constexpr double luck_of_best_sds = 1.0;  // of noise: the mean of the best of three
constexpr double own_luck_sds = 1.0;      // one start in six is that unlucky
constexpr double least_of_share = 0.82;   // else traffic starts count
constexpr double least_rest_s = 0.95;     // one second, less the jitter of stamps
constexpr double creep_mps = 5.4;  // 12 mph: below it nobody has tried anything (common practice, no source)
constexpr double compare_from_mps = 2.0;
constexpr double least_compared_mps = 8.9;  // 20 mph

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
  double travel_m = 0.0;   ///< to the lift, from the readings
  bool reached = false;    ///< the first mark
  double pace_mps2 = 0.0;  ///< mean acceleration from 2 m/s to the speed of comparison
  bool gentle = false;
};

double travel_of(const Stretch& s, const StandingStart& start) {
  const std::vector<double>& v = s.smooth_mps;
  double travel = 0.0;
  for (std::size_t i = start.rest_end; i < start.end; ++i) {
    travel += 0.5 * (v[i] + v[i + 1]) * (s.t_s[i + 1] - s.t_s[i]);
  }
  return travel;
}

double pace(const Stretch& s, const StandingStart& start, double to_mps) {
  const double from_t = time_at_speed(s, start.rest_end, start.end, compare_from_mps);
  const double to_t = time_at_speed(s, start.rest_end, start.end, to_mps);
  return from_t >= 0.0 && to_t > from_t ? (to_mps - compare_from_mps) / (to_t - from_t) : 0.0;
}

std::string speed_text(double v_mps, bool metric) {
  return metric ? fmt::format("{:.0f} km/h", v_mps / mps_per_kmh)
                : fmt::format("{:.0f} mph", v_mps / mps_per_mph);
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

double reference_speed(const FirstMark& mark, double top_mps) {
  // Low marks are passed too quickly to tell a gentle start by.
  const double asked = mark.speed ? std::max(mark.speed->mps(), least_compared_mps) : top_mps;
  return std::min(asked, 0.95 * top_mps);
}

std::vector<Judged> judge(const Finder& f, const std::vector<StandingStart>& starts) {
  std::vector<Judged> out;
  for (const StandingStart& start : starts) {
    const Stretch& s = f.series.stretches[start.stretch];
    Judged j{start};
    j.travel_m = travel_of(s, start);
    j.reached = (f.mark.speed && start.top_mps >= f.mark.speed->mps()) ||
                (f.mark.length && j.travel_m >= f.mark.length->m());
    j.pace_mps2 = pace(s, start, reference_speed(f.mark, start.top_mps));
    out.push_back(j);
  }
  return out;
}

/// Whether impossible readings hide how it began.
bool is_hidden(const Finder& f, const StandingStart& start) {
  return start.unread_s > longest_silence_s(1.0 / f.series.receiver.rate_hz);
}

/// The log's best start over the same speeds as another's. One that stands out from three others that are
/// alike is a wild reading, and not the best.
double best_pace(const Finder& f, const std::vector<Judged>& all, double to_mps) {
  std::vector<double> paces;
  for (const Judged& j : all) {
    if (j.start.top_mps >= to_mps && !is_hidden(f, j.start)) {
      paces.push_back(pace(f.series.stretches[j.start.stretch], j.start, to_mps));
    }
  }
  std::sort(paces.begin(), paces.end(), std::greater<>());
  std::size_t best = 0;
  while (best + alike_starts < paces.size() && paces[best + 1] < alike_share * paces[best] &&
         paces[best + alike_starts] >= alike_share * paces[best + 1]) {
    ++best;
  }
  return paces.empty() ? 0.0 : paces[best];
}

/// sd of a pace that the receiver's noise makes, as a share of it.
double pace_sd_share(const SpeedSeries& series, double gained_mps) {
  const Receiver& r = series.receiver;
  const double noise_mps =
      series.source == SpeedSource::positions ? r.position_stray_sd_mps : total_noise_mps(r);
  return std::numbers::sqrt2 * noise_mps / gained_mps;  // of its first and last reading
}

/// The share of the best pace below which a start surely was gentle: the best of several noisy paces is
/// lucky, and one's own may be unlucky.
double surely_gentle_share(const Finder& f, double to_mps) {
  const double noise = pace_sd_share(f.series, to_mps - compare_from_mps);
  return gentle_share * std::max(1.0 - (luck_of_best_sds + own_luck_sds) * noise, least_of_share);
}

/// Sorts one start into run or not; true if it is to be timed.
bool accept(Finder& f, Judged& j, const std::vector<Judged>& all) {
  const StandingStart& s = j.start;
  const double to_mps = reference_speed(f.mark, s.top_mps);
  const double best = best_pace(f, all, to_mps);
  const double share = surely_gentle_share(f, to_mps);
  const bool gentle = best > 0.0 && j.pace_mps2 < share * best;
  j.gentle = gentle;
  if (j.reached) {
    if (is_hidden(f, s)) {
      f.reject(s.stretch, s.moving, "gap",
               fmt::format("impossible readings hide the start: none is believed for {:.1f} s", s.unread_s));
      return false;
    }
    if (s.rest_s < least_rest_s) {
      f.reject(
          s.stretch, s.moving, "short",
          fmt::format("it stood for {:.1f} s only before the start; a run needs a second at rest", s.rest_s));
      return false;
    }
    if (gentle && !f.options.include_gentle) {
      f.reject(s.stretch, s.moving, "gentle",
               fmt::format("gentle start: accelerated {:.0f} % as hard as this log's best start; {:.0f} % is "
                           "needed to count",
                           100.0 * j.pace_mps2 / best, 100.0 * share));
      return false;
    }
    return true;
  }
  if (s.ended_by == StandingStart::End::series_end) {
    f.reject(s.stretch, s.moving, "gap", "the log stops or has a gap before the first mark is reached");
  } else if (s.top_mps < creep_mps) {
    f.reject(s.stretch, s.moving, "short",
             fmt::format("rolled forward to {} only", speed_text(s.top_mps, f.options.metric)));
  } else if (is_out_of_speed(f.series.stretches[s.stretch], s, f.most_mps)) {
    f.reject(s.stretch, s.moving, "top-speed",
             fmt::format("reached its highest speed, {}, before the first mark",
                         speed_text(s.top_mps, f.options.metric)));
  } else if (gentle) {
    f.reject(s.stretch, s.moving, "gentle",
             fmt::format("gentle start, let off at {} before the first mark",
                         speed_text(s.top_mps, f.options.metric)));
  } else {
    f.reject(s.stretch, s.moving, "lifted",
             fmt::format("let off at {}, before the first mark", speed_text(s.top_mps, f.options.metric)));
  }
  return false;
}

/// Times starts together and adds them to the runs; those that do not surely reach the first mark are left
/// out.
void time_group(Finder& f, const std::vector<Judged>& starts, bool hard) {
  std::vector<CountedStart> counted;
  counted.reserve(starts.size());
  for (const Judged& j : starts) {
    counted.push_back(
        {j.start, j.pace_mps2, reference_speed(f.mark, j.start.top_mps) - compare_from_mps, j.gentle});
  }
  TimedStarts timed =
      time_starts(f.series, counted, f.options.splits, hard, f.options.more_splits, f.options.jobs);
  for (std::size_t i = 0; i < starts.size(); ++i) {
    if (timed.runs[i].splits.empty()) {
      f.reject(starts[i].start.stretch, starts[i].start.moving, "lifted",
               "it does not surely reach the first mark");
    } else {
      f.out.accepted.push_back(std::move(timed.runs[i]));
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
    f.reject(h.stretch, 0, "gap", fmt::format("the start falls into a gap of {:.1f} s in the log", h.gap_s));
  }
}

}  // namespace

Runs find_runs(const SpeedSeries& series, const RunOptions& options) {
  if (options.splits.empty()) {
    throw std::invalid_argument("find_runs needs at least one split");
  }
  const Starts starts = detect_starts(series);
  Finder f{series, options, first_mark(options.splits), highest_speed_mps(series), {}, 0};
  std::vector<Judged> judged = judge(f, starts.standing);
  std::vector<Judged> hard;
  std::vector<Judged> gentle;
  for (Judged& j : judged) {
    if (accept(f, j, judged)) {
      (j.gentle ? gentle : hard).push_back(j);
    }
  }
  time_group(f, hard, true);
  time_group(f, gentle, false);
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
