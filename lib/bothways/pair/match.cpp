#include "bothways/pair/match.hpp"

#include "bothways/core/units.hpp"
#include "bothways/pair/assign.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/level_road.hpp"
#include "bothways/pair/meet.hpp"
#include "bothways/pair/overall_rows.hpp"
#include "bothways/pair/share.hpp"
#include "bothways/pair/two_way.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace bothways {

namespace {

/// How far a run came on the way to a partner; the furthest step gives the reason.
enum class Step { none, opposite, beside, overlapping };

struct Entry {
  std::size_t ride = 0;
  const Run* run = nullptr;
  bool dated = true;
  std::string setup;  ///< as the conditions name it; empty: not told
  bool placed = false;
  Step step = Step::none;
  double nearest_m = std::numeric_limits<double>::infinity();  ///< of the opposite runs
  double most_overlap = 0.0;                                   ///< of those beside
};

void require_sane(const PairOptions& options) {
  const auto within = [](double x, double lo, double hi) { return x >= lo && x <= hi; };
  // Beyond 45 degrees "opposite" is no longer a relation between two classes of runs.
  if (!within(options.heading_tolerance_deg, 0.0, 45.0) || !within(options.overlap, 0.0, 1.0) ||
      !within(options.sideways_m, 0.0, 1e7) || !within(options.apart_s, 0.0, 1e6)) {
    throw std::invalid_argument(
        "pairing needs a heading tolerance of 0 to 45 degrees, an overlap of 0 to 1, and distances and times "
        ">= 0 (at most 1e6 s apart)");
  }
}

/// Earlier first; runs of one instant in an order that does not depend on the order of the rides.
bool is_before(const Entry& a, const Entry& b) {
  const auto key = [](const Entry& entry) {
    const Run& run = *entry.run;
    const auto place = entry.placed ? std::array{run.start.lat_deg, run.start.lon_deg, run.heading_deg}
                                    : std::array{0.0, 0.0, 0.0};
    return std::tuple(run.clock_start, entry.placed, place, run.id);
  };
  return key(a) < key(b);
}

std::vector<Entry> entries_of(const std::vector<Ride>& rides) {
  std::vector<Entry> entries;
  for (std::size_t ride = 0; ride < rides.size(); ++ride) {
    for (const Run& run : rides[ride].runs.accepted) {
      const auto& conditions = rides[ride].conditions;
      entries.push_back({.ride = ride,
                         .run = &run,
                         .dated = rides[ride].dated,
                         .setup = conditions ? conditions->setup : "",
                         .placed = is_placed(run)});
    }
  }
  std::stable_sort(entries.begin(), entries.end(), is_before);
  return entries;
}

void note_step(Entry& entry, Step step, const Meeting& meeting, double away_m) {
  entry.step = std::max(entry.step, step);
  entry.nearest_m = std::min(entry.nearest_m, away_m);
  if (step >= Step::beside) {
    entry.most_overlap = std::max({entry.most_overlap, meeting.overlap, meeting.travel_overlap});
  }
}

/// Whether two runs may be partners; remembers with both how far it went.
bool may_pair(Entry& a, Entry& b, const PairOptions& options) {
  if (!(a.dated && b.dated) && a.ride != b.ride) {
    return false;  // without a date nobody knows that it was the same day
  }
  if (a.setup != b.setup) {
    return false;  // a change between the two would not drop out; where one is not told, nobody knows of none
  }
  const Meeting meeting = meet(*a.run, *b.run);
  if (!meeting.placed || meeting.from_opposite_deg > options.heading_tolerance_deg) {
    return false;
  }
  const double away_m = std::hypot(meeting.sideways_m, meeting.between_m);
  Step step = Step::opposite;
  if (meeting.sideways_m <= options.sideways_m &&
      meeting.between_m <= std::max(a.run->length_m, b.run->length_m)) {
    const double best = std::max(meeting.overlap, meeting.travel_overlap);
    step = best >= options.overlap && best > 0.0 ? Step::overlapping : Step::beside;
  }
  note_step(a, step, meeting, away_m);
  note_step(b, step, meeting, away_m);
  return step == Step::overlapping;
}

double apart_s(const Entry& earlier, const Entry& later) {
  return seconds_between(earlier.run->clock_start, later.run->clock_start);
}

std::vector<Candidate> candidates_of(std::vector<Entry>& entries, const PairOptions& options) {
  std::vector<Candidate> candidates;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    for (std::size_t j = i + 1; j < entries.size() && apart_s(entries[i], entries[j]) <= options.apart_s;
         ++j) {
      if (entries[i].placed && entries[j].placed && may_pair(entries[i], entries[j], options)) {
        candidates.push_back({i, j, std::llround(1e3 * apart_s(entries[i], entries[j]))});
      }
    }
  }
  return candidates;
}

Pair made(const Entry& first, const Entry& second, int id) {
  TwoWayResult result = two_way(*first.run, *second.run);
  const Meeting meeting = meet(*first.run, *second.run);
  for (TwoWay& split : result.splits) {
    split.overlap = split_overlap(*first.run, *second.run, split.spec);
  }
  for (Note& note : overlap_notes(result.splits)) {
    result.notes.push_back(std::move(note));
  }
  return {.id = id,
          .ride = first.ride,
          .other_ride = second.ride,
          .first_run = first.run->id,
          .second_run = second.run->id,
          .overlap = meeting.overlap,
          .splits = std::move(result.splits),
          .notes = std::move(result.notes)};
}

Single single_of(const Entry& entry, const PairOptions& options) {
  Single single{.ride = entry.ride, .run = entry.run->id};
  if (!entry.placed) {
    single.code = "no-position";
    single.text =
        "the log does not say where or in which direction this run went, so no partner can be found";
  } else if (entry.step == Step::none) {
    single.code = "no-opposite";
    single.text = "no run in the opposite direction on the same day and with the same set-up";
  } else if (entry.step == Step::opposite) {
    single.code = "other-place";
    single.text =
        fmt::format("runs in the opposite direction are elsewhere: the nearest is {:.0f} {} away",
                    entry.nearest_m / (options.metric ? 1.0 : m_per_foot), options.metric ? "m" : "ft");
  } else if (entry.step == Step::beside) {
    single.code = "no-overlap";
    single.text = fmt::format(
        "the runs in the opposite direction share {:.0f} % of the road with it at most, less than {:.0f} %; "
        "start the way back where the way out ends",
        std::floor(100.0 * entry.most_overlap), 100.0 * options.overlap);
  } else {
    single.code = "odd-one";
    single.text = "the runs in the opposite direction have other partners, nearer in time";
  }
  return single;
}

Averaged averaged(const std::vector<Ride>& rides, Pairs pairs, const std::vector<SplitSpec>& splits,
                  const AverageOptions& average) {
  pairs = on_level_road(rides, std::move(pairs));
  const std::vector<int> days = days_of_pairs(rides, pairs, day_pause_s);
  const auto posteriors = posteriors_of(rides, pairs.made, days, splits_of(pairs.made), average.only);
  if (average.each_pair) {
    put_intervals(rides, pairs.made, posteriors);
  }
  std::vector<Overall> rows = overall_rows(rides, pairs, posteriors, splits);
  return {std::move(pairs), std::move(rows)};
}

}  // namespace

Pairs pair_runs(const std::vector<Ride>& rides, const PairOptions& options) {
  return average_runs(rides, {}, options).pairs;
}

Pairs match_runs(const std::vector<Ride>& rides, const PairOptions& options) {
  require_sane(options);
  std::vector<Entry> entries = entries_of(rides);
  const std::vector<Candidate> candidates = candidates_of(entries, options);
  Pairs pairs;
  std::vector<bool> taken(entries.size(), false);
  for (const auto& [first, second] : best_pairing(entries.size(), candidates)) {
    taken[first] = taken[second] = true;
    pairs.made.push_back(made(entries[first], entries[second], static_cast<int>(pairs.made.size()) + 1));
  }
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (!taken[i]) {
      pairs.single.push_back(single_of(entries[i], options));
    }
  }
  return pairs;
}

Averaged average_matched(const std::vector<Ride>& rides, Pairs pairs, const std::vector<SplitSpec>& splits,
                         const AverageOptions& average) {
  return averaged(rides, with_winds(rides, std::move(pairs)), splits, average);
}

Averaged average_runs(const std::vector<Ride>& rides, const std::vector<SplitSpec>& splits,
                      const PairOptions& options, const AverageOptions& average) {
  return average_matched(rides, match_runs(rides, options), splits, average);
}

Averaged average_pairs(const std::vector<Ride>& rides, Pairs pairs, const std::vector<SplitSpec>& splits,
                       const AverageOptions& average) {
  for (Pair& pair : pairs.made) {
    pair.splits = two_way(run_of_pair(rides, pair, true), run_of_pair(rides, pair, false)).splits;
  }
  return averaged(rides, std::move(pairs), splits, average);
}

}  // namespace bothways
