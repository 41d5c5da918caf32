// What the result would be without one run.
#include "bothways/pair/match.hpp"
#include "bothways/report/page/splits.hpp"
#include "bothways/report/result.hpp"

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

/// @param light  light copies of all sides; comes back as it was
Without without_run(const Compared& compared, std::vector<Side>& light, std::size_t side, std::size_t ride,
                    std::size_t k) {
  const Side whole = light[side];
  Side& part = light[side];
  auto& runs = part.rides[ride].runs.accepted;
  Without row{.run = runs[k].id};
  runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(k));
  part.pairs = pair_runs(part.rides);
  row.pairs = part.pairs.made.size();
  row.overall = overall(part.rides, part.pairs, compared.splits);
  if (light.size() > 1) {
    row.comparisons =
        compare(light, compared.splits,
                {.clock = compared.clock, .main_split = main_split(compared), .more = More::none});
  }
  light[side] = whole;
  return row;
}

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
    for (std::size_t r = 0; r < light[i].rides.size(); ++r) {
      for (std::size_t k = 0; k < light[i].rides[r].runs.accepted.size(); ++k) {
        out[i].push_back(without_run(compared, light, i, r, k));
      }
    }
  }
  return out;
}

}  // namespace bothways
