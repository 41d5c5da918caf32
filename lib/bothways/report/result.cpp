#include "bothways/report/result.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace bothways {

RunPlace find_run(const Result& result, int id) {
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      if (run.id == id) {
        return {&ride, &run};
      }
    }
  }
  throw std::invalid_argument("there is no run " + std::to_string(id));
}

int pair_of(const Result& result, int run_id) {
  for (const Pair& pair : result.pairs.made) {
    if (pair.first_run == run_id || pair.second_run == run_id) {
      return pair.id;
    }
  }
  return 0;
}

double plain_mean_s(const Result& result, const Pair& pair, const TwoWay& split) {
  if (result.clock == Clock::rollout) {
    return split.plain_mean_s;
  }
  const Split* first = find_split(*find_run(result, pair.first_run).run, split.spec.name);
  const Split* second = find_split(*find_run(result, pair.second_run).run, split.spec.name);
  if (first == nullptr || second == nullptr) {
    throw std::invalid_argument("a pair has the split " + split.spec.name + ", but not both of its runs");
  }
  return (first->movement.value + second->movement.value) / 2;
}

std::string lowest_mark(const std::vector<SplitSpec>& splits) {
  const auto is_lower = [](const SplitSpec& a, const SplitSpec& b) {
    return a.to < b.to;  // a Mark holds a Speed or, which counts as greater, a Length
  };
  const SplitSpec* lowest = nullptr;
  for (const SplitSpec& split : splits) {
    if (split.from_rest() && (lowest == nullptr || is_lower(split, *lowest))) {
      lowest = &split;
    }
  }
  if (lowest == nullptr) {
    return "";
  }
  return lowest->name.starts_with("0-") ? lowest->name.substr(2) : lowest->name;
}

std::string rolling_words(const Result& result) {
  std::string names;
  for (const SplitSpec& split : result.splits) {
    if (!split.from_rest()) {
      names += (names.empty() ? "" : ", ") + split.name;
    }
  }
  return names.empty() ? "" : "; " + names + " from mark to mark";
}

std::string mixed_setups_words(const Result& result) {
  constexpr std::size_t most_named = 4;
  constexpr std::array<const char*, 4> counts{"two", "three", "four", "five"};
  std::vector<std::string> setups;
  for (const Ride& ride : result.rides) {
    const bool told = ride.conditions && !ride.conditions->setup.empty() && !ride.runs.accepted.empty();
    if (told && std::find(setups.begin(), setups.end(), ride.conditions->setup) == setups.end()) {
      setups.push_back(ride.conditions->setup);
    }
  }
  if (setups.size() < 2) {
    return "";
  }
  std::string names;
  for (std::size_t i = 0; i < std::min(setups.size(), most_named); ++i) {
    names += (i == 0 ? "" : "; ") + setups[i];
  }
  const std::size_t more = setups.size() - std::min(setups.size(), most_named);
  const std::size_t at = setups.size() - 2;
  return (at < counts.size() ? counts.at(at) : std::to_string(setups.size())) + " set-ups are in here (" +
         names + (more > 0 ? "; and " + std::to_string(more) + " more" : "") +
         "): the overall result mixes them; use bothways compare";
}

std::size_t count_runs(const std::vector<Ride>& rides) {
  std::size_t count = 0;
  for (const Ride& ride : rides) {
    count += ride.runs.accepted.size();
  }
  return count;
}

std::vector<const Ride*> rides_with_pairs(const Result& result, const SplitSpec& spec) {
  std::vector<const Ride*> rides;
  for (const Pair& pair : result.pairs.made) {
    const auto has = [&](const TwoWay& split) { return split.spec.name == spec.name; };
    if (std::any_of(pair.splits.begin(), pair.splits.end(), has)) {
      rides.push_back(&result.rides.at(pair.ride));
      rides.push_back(&result.rides.at(pair.other_ride));
    }
  }
  return rides;
}

}  // namespace bothways
