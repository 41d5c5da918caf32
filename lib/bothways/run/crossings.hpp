#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/core/units.hpp"
#include "bothways/launch/level_crossing.hpp"

#include <map>
#include <optional>
#include <utility>
#include <vector>

namespace bothways {

/// The clock of a split starts there.
inline constexpr Level first_foot{numeric::i_s, rollout_m};

/// What of a path a mark is crossed by.
[[nodiscard]] Level level_of(const Mark& mark);

/// The likely crossings of the marks of many splits with one path, each worked out once.
class Crossings {
 public:
  /// @param path  outlives this
  Crossings(const SmoothedPath& path, const std::vector<SplitSpec>& splits, double end_s);

  /// likely_crossings() of a mark of the splits. @throws std::out_of_range  if it is of none
  [[nodiscard]] const std::vector<LikelyCrossing>& of(const Mark& mark) const;

  /// Variance of the time from one crossing to one of the splits' ends, which is later, s^2; eq. (5.3).
  [[nodiscard]] double duration_variance(const Crossing& from, const Crossing& to);

 private:
  const SmoothedPath& path_;
  std::map<std::pair<int, double>, std::vector<LikelyCrossing>> by_level_;
  std::vector<std::optional<Crossing>> all_;  ///< in the order of the path
  std::map<std::pair<int, double>, std::vector<double>>
      covariances_;  ///< of one crossing, by row and time, with all
};

}  // namespace bothways
