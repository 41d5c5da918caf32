// What the result would be without one run.
#include "bothways/pair/match.hpp"
#include "bothways/report/page/splits.hpp"
#include "bothways/report/result.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>

namespace bothways {

namespace {

/// What of a side is needed to pair and average its runs again: no curves, no traces.
std::vector<Ride> light_copy(const std::vector<Ride>& rides) {
  std::vector<Ride> copy = rides;
  for (Ride& ride : copy) {
    ride.trace = {};
    ride.profile = {};
    for (Run& run : ride.runs.accepted) {
      run.curve = {};
      run.more_splits.clear();
      run.more_edges.clear();
    }
  }
  return copy;
}

std::string main_split(const Compared& compared) {
  for (const Comparison& comparison : compared.comparisons) {
    for (const Difference& row : comparison.differences) {
      if (row.main) {
        return row.spec.name;
      }
    }
  }
  return "";
}

/// Which runs make the pairs, all that a result goes by.
using RunsOfPairs = std::vector<std::pair<int, int>>;

RunsOfPairs runs_of(const Pairs& pairs) {
  RunsOfPairs runs;
  for (const Pair& pair : pairs.made) {
    runs.emplace_back(pair.first_run, pair.second_run);
  }
  return runs;
}

/// The rows of one side.
class RowsWithout {
 public:
  /// @param light  light copies of all sides; come back as they were
  RowsWithout(const Compared& compared, std::vector<Side>& light, std::size_t side)
      : compared_(compared), light_(light), side_(side) {}

  void add_without(std::size_t ride, std::size_t k) {
    const Side whole = light_[side_];
    Side& part = light_[side_];
    auto& runs = part.rides[ride].runs.accepted;
    const int run = runs[k].id;
    runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(k));
    part.pairs = match_runs(part.rides);
    const RunsOfPairs pairs = runs_of(part.pairs);
    const auto same = std::find(pairs_.begin(), pairs_.end(), pairs);  // mostly that without its partner
    rows_.push_back(same != pairs_.end() ? rows_[static_cast<std::size_t>(same - pairs_.begin())] : row());
    rows_.back().run = run;
    pairs_.push_back(pairs);
    light_[side_] = whole;
  }

  [[nodiscard]] std::vector<Without> take() && { return std::move(rows_); }

 private:
  [[nodiscard]] Without row() {
    Side& part = light_[side_];
    Without row{.pairs = part.pairs.made.size()};
    Averaged again = average_matched(part.rides, std::move(part.pairs), compared_.splits,
                                     {.only = compared_.clock, .each_pair = false});
    part.pairs = std::move(again.pairs);
    row.overall = std::move(again.overall);
    if (light_.size() > 1) {
      row.comparisons = compare(light_, compared_.splits,
                                {.clock = compared_.clock,
                                 .main_split = main_split(compared_),
                                 .more = More::none,
                                 .times = false});
    }
    return row;
  }

  const Compared& compared_;
  std::vector<Side>& light_;
  std::size_t side_;
  std::vector<Without> rows_;
  std::vector<RunsOfPairs> pairs_;  ///< (rows)
};

}  // namespace

std::vector<std::vector<Without>> without_each_run(const Compared& compared, std::size_t most) {
  std::vector<Side> light;
  for (const Side& side : compared.sides) {
    light.push_back({.name = side.name, .rides = light_copy(side.rides), .pairs = side.pairs});
  }
  std::vector<std::vector<Without>> out(light.size());
  for (std::size_t i = 0; i < light.size(); ++i) {
    if (count_runs(light[i].rides) > most) {
      continue;
    }
    RowsWithout rows(compared, light, i);
    for (std::size_t r = 0; r < light[i].rides.size(); ++r) {
      for (std::size_t k = 0; k < light[i].rides[r].runs.accepted.size(); ++k) {
        rows.add_without(r, k);
      }
    }
    out[i] = std::move(rows).take();
  }
  return out;
}

}  // namespace bothways
