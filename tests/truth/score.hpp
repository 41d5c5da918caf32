#pragma once

#include "bothways/core/estimate.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace bothways::truth {

/// Errors of one figure over many runs.
struct Score {
  std::vector<double> error_s;  ///< found minus true
  std::vector<double> width_s;  ///< of the 95 % interval
  std::vector<double> z;        ///< error over sd
  std::size_t held = 0;         ///< intervals that hold the truth
  std::size_t broken = 0;  ///< not finite, sd not above 0, or an interval that does not hold its own value

  void add(const Estimate& found, double true_s);
  void add(double found_s, double true_s);
};

struct Summary {
  std::size_t n = 0;
  double bias_s = 0.0;
  double rms_s = 0.0;
  double median_s = 0.0;  ///< of the absolute error
  double coverage = 0.0;
  double coverage_lo = 0.0;  ///< Wilson 95 % interval
  double coverage_hi = 1.0;
  double width_s = 0.0;        ///< mean
  double mean_square_z = 0.0;  ///< of error / sd: 1 is right, 4 is a sd of half its size, 0.25 of twice
};

[[nodiscard]] Summary summary(const Score& score);

/// Wilson's 95 % score interval of a share.
[[nodiscard]] std::pair<double, double> wilson(std::size_t hits, std::size_t n);

/// All that one cell gives.
struct CellResult {
  struct Row {
    std::string split;
    /// rollout, movement: one run. two-way: a pair against the mean of its true accelerations; flat: a pair
    /// against the level road in the mean wind; overall: the mean of a log's pairs against the same;
    /// together: the mean of three pairs against the mean of their truths.
    std::string clock;
    Score found;
    Score naive;   ///< two-way, flat: the plain mean of the two times instead
    Score oracle;  ///< found again with the receiver's noise told, if asked
  };
  std::string cell;
  std::string words;  ///< the cell in words
  std::size_t logs = 0;
  std::size_t true_runs = 0;
  std::size_t found_runs = 0;
  std::size_t timed_runs =
      0;  ///< all that the program took for runs, also those out of a crawl that are not judged
  std::size_t other_starts = 0;
  std::size_t false_runs = 0;
  std::size_t listed_starts = 0;  ///< other starts that were left out with a reason
  std::size_t pairs = 0;          ///< made by pair_runs
  double find_ms = 0.0;           ///< time in speed_series and find_runs, ms
  std::vector<Row> rows;
};

}  // namespace bothways::truth
