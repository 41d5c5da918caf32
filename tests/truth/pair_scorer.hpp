#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"
#include "support/simulate/truth.hpp"
#include "truth/score.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <vector>

namespace bothways::truth {

/// Scores what two or more runs give together.
class PairScorer {
 public:
  using StartOfRun = std::map<int, std::size_t>;  ///< Run::id -> index of the true start

  /// Adds its rows to the result, for the splits to a speed. With a flat truth also "flat", "overall",
  /// "one-pair".
  PairScorer(const std::vector<SplitSpec>& splits, const std::optional<sim::Truth>& flat, CellResult& result);

  void add(const sim::Truth& truth, const Ride& ride, const StartOfRun& starts, CellResult& result) const;

 private:
  struct Rows {
    SplitSpec spec;
    std::size_t first = 0;  ///< of "two-way"; "together" follows, then, with a flat truth, the others
    std::optional<double> flat_s;
  };

  void add_split(const Rows& rows, const sim::Truth& truth, const Ride& ride, const Pairs& pairs,
                 const StartOfRun& starts, CellResult& result) const;

  std::vector<Rows> rows_;
};

}  // namespace bothways::truth
