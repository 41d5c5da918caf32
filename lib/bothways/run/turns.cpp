#include "bothways/run/turns.hpp"

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <stdexcept>
#include <tuple>
#include <vector>

namespace bothways {

std::string setup_of(const Ride& ride) {
  return ride.conditions ? ride.conditions->setup : "";
}

void number_turns(std::span<Ride> rides, std::span<const std::string> setups) {
  if (setups.size() != rides.size()) {
    throw std::invalid_argument("turns need a set-up, or none, for each ride");
  }
  const bool in_order = std::all_of(rides.begin(), rides.end(), [&](const Ride& ride) {
    return ride.dated || ride.path == rides.front().path;
  });
  std::vector<std::size_t> order(rides.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::tie(rides[a].first, rides[a].path) < std::tie(rides[b].first, rides[b].path);
  });
  int turn = 0;
  const std::string* last = nullptr;
  for (const std::size_t i : order) {
    rides[i].turn = 0;
    if (!in_order || rides[i].runs.accepted.empty() || setups[i].empty()) {
      continue;
    }
    turn += last == nullptr || *last != setups[i] ? 1 : 0;
    last = &setups[i];
    rides[i].turn = turn;
  }
}

}  // namespace bothways
