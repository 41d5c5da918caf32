#pragma once

#include "bothways/pair/plan.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"

#include <iosfwd>
#include <span>
#include <string>
#include <vector>

namespace bothways {

/// What so many pairs a side show.
struct Detectable {
  int pairs = 0;
  double difference = 0.0;  ///< smallest told with the power asked, in the unit of Planned
};

/// How many pairs a side one split needs.
struct PlannedSplit {
  std::string name;               ///< SplitSpec::name; empty where the scatter was given, not seen in logs
  Plan plan;                      ///< its figures in the unit of Planned
  std::vector<Detectable> shown;  ///< by usual_numbers_of_pairs()
  int from_pairs = 0;             ///< pairs that showed the scatter; 0: it was given
  int setups = 1;                 ///< of which the pairs were, each taken by itself
  bool assumed = false;           ///< a single pair shows none: the allowance stands in
};

/// All that a plan tells.
struct Planned {
  bool percent = false;  ///< figures are per cent of the split's time, else seconds
  PlanOptions options;
  std::vector<PlannedSplit> splits;  ///< at least one; the ride plan is for the first
  std::vector<Note> notes;           ///< one-setup-assumed, and the warnings of the logs
};

/// Pairs a side that a plan tells beside the one asked for.
[[nodiscard]] std::span<const int> usual_numbers_of_pairs();

/// "0.2 s", "2 %"
[[nodiscard]] std::string amount_words(double amount, bool percent);

/// One sentence: so many pairs a side show so much, and where the scatter comes from.
[[nodiscard]] std::string plan_words(const Planned& planned, const PlannedSplit& split);

/// A row per split.
[[nodiscard]] Table plans_table(const Planned& planned);

/// {"schema", "power", "level", "plans": [...], "ride_plan": [...]}
void write_planned_json(std::ostream& out, const Planned& planned);

/// An element of "plans" a line, with "schema" before it.
void write_planned_jsonl(std::ostream& out, const Planned& planned);

/// How to ride so many pairs a side, a numbered step a line.
void write_ride_plan(std::ostream& out, int pairs, const SummaryOptions& options);

/// Text for people: the pairs, what fewer or more would show, and how to ride them.
void write_planned(std::ostream& out, const Planned& planned, const SummaryOptions& options);

}  // namespace bothways
