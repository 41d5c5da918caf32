#pragma once

#include "support/simulate/receiver.hpp"

#include <string>
#include <vector>

namespace bothways::truth {

/// One cell of the grid: a scenario seen through one receiver.
struct Cell {
  std::string name;      ///< e.g. "scooter-10hz-good"
  std::string scenario;  ///< Scenario::name
  std::string words;     ///< the same in words
  sim::ReceiverModel receiver;
  bool in_short = false;  ///< part of --short
};

[[nodiscard]] std::vector<Cell> cells();

}  // namespace bothways::truth
