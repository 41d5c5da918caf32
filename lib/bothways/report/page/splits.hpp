#pragma once

#include "bothways/report/page/page.hpp"

#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// Decimals of each column of times, those that the text's columns have.
struct SplitDecimals {
  int overall = 0;  ///< as those of all splits asked, and of all sides
  int pairs = 0;
  int runs = 0;
};

/// One split of one side, by the clock asked for.
struct SideSplit {
  std::optional<Overall> overall;
  std::vector<std::optional<TwoWay>> pairs;  ///< (pairs of the side)
  std::vector<std::optional<Split>> runs;    ///< (runs of the side, over all rides)
  SplitDecimals decimals;
};

/// One split of everything ridden.
struct PageSplit {
  SplitSpec spec;
  bool asked = true;
  std::vector<SideSplit> sides;
  std::vector<std::optional<Difference>> differences;  ///< (sides after the first); times of asked ones only
};

/// Those asked, as the result has them; then those offered besides that any run reaches, each as if it had
/// been the only one asked, over the same runs and pairs.
[[nodiscard]] std::vector<PageSplit> page_splits(const Page& page);

/// The result without one run of a side: that side paired again, averaged, and compared.
struct Without {
  int run = 0;
  std::size_t pairs = 0;
  std::vector<Overall> overall;         ///< of the splits asked, by the clock asked for
  std::vector<Comparison> comparisons;  ///< differences of all sides; empty where there is one
};

/// (sides), for each run of a side; empty for a side of more runs than `most`.
[[nodiscard]] std::vector<std::vector<Without>> without_each_run(const Compared& compared,
                                                                 std::size_t most = 24);

}  // namespace bothways
