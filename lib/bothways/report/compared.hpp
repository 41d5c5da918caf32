#pragma once

#include "bothways/pair/compare.hpp"
#include "bothways/report/record.hpp"
#include "bothways/report/result.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"

#include <cstddef>
#include <iosfwd>
#include <string>
#include <vector>

namespace bothways {

/// All that one comparison of set-ups found: what the report stage writes of it.
struct Compared {
  Clock clock = Clock::rollout;
  bool metric = false;
  std::vector<SplitSpec> splits;              ///< in the order asked
  bool marks_chosen = false;                  ///< nobody asked: the splits follow from what the starts reach
  bool places = true;                         ///< as in Result
  std::vector<Side> sides;                    ///< the first is the reference; run ids unique within a side
  std::vector<std::vector<Overall>> overall;  ///< (sides) overall() of each for `splits`
  std::vector<Comparison> comparisons;        ///< one for each side after the first
};

/// One side as the result of a call with its logs alone. @throws std::out_of_range  if there is no such side,
/// or nothing in `overall` for it.
[[nodiscard]] Result side_result(const Compared& compared, std::size_t side);

/// True if any split of any side could be compared.
[[nodiscard]] bool has_differences(const Compared& compared);

/// The split that is judged alone; nullptr if no split could be compared.
[[nodiscard]] const Difference* main_difference(const Comparison& comparison);

/// Warnings of all comparisons, each once.
[[nodiscard]] std::vector<Note> warnings_of(const Compared& compared);

/// A sentence for each side without a pair, and why it has none; a sentence for sides that share no split.
[[nodiscard]] std::vector<std::string> why_not_compared(const Compared& compared);

/// Decimals of the times of both sides, alike for all splits.
[[nodiscard]] int decimals_of_sides(const Comparison& comparison);

/// Decimals that show a p-value to three digits, 3 to 12.
[[nodiscard]] int p_decimals(double p_value);

/// One split of one comparison.
[[nodiscard]] Record difference_record(const Comparison& comparison, const Difference& row);

/// Tidy: a row per side after the first and split.
[[nodiscard]] Table differences_table(const Compared& compared);

/// A table to keep: the differences (`kind` "difference"), then the two-way results of each side ("overall")
/// with its day, set-up, masses and weather.
[[nodiscard]] Table compared_table(const Compared& compared);

/// The comparison as one JSON object, schema "bothways/1" (docs/formats.md): the differences, the warnings,
/// and each side with its logs as write_result_json writes them.
void write_compared_json(std::ostream& out, const Compared& compared);

/// The same in lines: one object per difference, then one with the warnings.
void write_compared_jsonl(std::ostream& out, const Compared& compared);

/// Text for people: what each side is, both sides' two-way times and their difference, the verdict in words,
/// warnings, and what the verdict rests on. Where nothing can be compared, the one-way times and why.
void write_compared(std::ostream& out, const Compared& compared, const SummaryOptions& options);

}  // namespace bothways
