#pragma once

#include "bothways/core/split_spec.hpp"
#include "cli/conditions.hpp"
#include "cli/looks.hpp"
#include "cli/parts.hpp"
#include "cli/pipeline.hpp"
#include "cli/ride_store.hpp"

#include <atomic>
#include <cstddef>
#include <optional>
#include <vector>

namespace bothways::cli {

/// Makes looks of logs, one log a call, with all that a call of the program asks of them; what the store
/// remembers is not worked out again.
class Analyst {
 public:
  /// @param jobs  threads for one log
  /// @throws LogError, UsageError  as read_conditions()
  Analyst(const AnalysisOptions& options, unsigned jobs, const Streams& streams);

  /// The first look; where splits are asked, the only one. May be called from several threads at once.
  [[nodiscard]] Attempt<Looks> first(const LogAsked& asked);

  void choose(const std::vector<SplitSpec>& splits) { run_.splits = splits; }

  /// The second look, when the marks are chosen. Likewise.
  /// @param looks  of one log, not empty
  [[nodiscard]] Attempt<Looks> second(Looks looks) const;

 private:
  [[nodiscard]] Attempt<Looks> first_of_whole(const LogAsked& asked, const FoundConditions& found);
  [[nodiscard]] Attempt<Looks> first_in_parts(const LogAsked& asked, const FoundConditions& found);
  [[nodiscard]] Looks looks_at(Log log, const LogAsked& asked, const FoundConditions& found);
  [[nodiscard]] Looks remembering_looks_at(Log log, const LogAsked& asked, const FoundConditions& found);
  [[nodiscard]] std::optional<Looks> remembered_parts(const LogAsked& asked,
                                                      const FoundConditions& found) const;
  void judge_or_keep(Look& look, SpeedSeries series);
  void judge(Look& look, SpeedSeries series) const;
  [[nodiscard]] bool take_remembered(Looks& looks) const;

  RunOptions run_;
  ReadAs read_as_;
  std::size_t rows_kept_;
  std::optional<RideStore> store_;
  const Streams& streams_;
  std::optional<FoundConditions> conditions_;
  std::atomic<std::size_t> rows_{0};
};

}  // namespace bothways::cli
