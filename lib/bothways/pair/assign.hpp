#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace bothways {

/// Two nodes that may be joined, and what it costs.
struct Candidate {
  std::size_t a = 0;
  std::size_t b = 0;
  std::int64_t cost = 0;  ///< >= 0, below 2^40
};

/// Joins nodes 0..n-1 in pairs along candidates: as many pairs as can be, then least total cost; exact.
///
/// The candidates must lie between two classes (as opposite directions do); a candidate inside one class,
/// counted from the first node of its group, is left out. Groups of more than `largest_group` nodes are cut
/// in two in the order of the nodes until they fit, which keeps time and memory bounded: O(largest_group^3) a
/// group.
[[nodiscard]] std::vector<std::pair<std::size_t, std::size_t>> best_pairing(
    std::size_t nodes, std::span<const Candidate> candidates, std::size_t largest_group = 400);

}  // namespace bothways
