#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/core/note.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/pair/plan.hpp"
#include "bothways/pair/power_to_tell.hpp"
#include "bothways/run/ride.hpp"

#include <span>
#include <string>
#include <vector>

namespace bothways {

/// One set-up, ridden: all its logs and the pairs made of them.
struct Side {
  std::string name;  ///< "before", "after", or as the user calls it
  std::vector<Ride> rides;
  Pairs pairs;  ///< pair_runs(rides)
};

enum class Verdict { quicker, slower, cannot_tell };

/// "quicker", "slower" or "cannot-tell": the word of the output contract.
[[nodiscard]] const char* to_string(Verdict verdict);

/// A part of a difference's uncertainty that something can be done about.
enum class Component { pairs, days, weather, road, receiver };

/// One split, after against before.
struct Difference {
  SplitSpec spec;
  Estimate before;       ///< s, two-way, level road in still air: as overall() has it
  Estimate after;        ///< s
  Estimate difference;   ///< s, after - before: negative is quicker
  Budget budget;         ///< of `difference`
  double p_value = 1.0;  ///< two-sided; for this split taken alone
  int pairs_before = 0;
  int pairs_after = 0;
  int days_before = 0;
  int days_after = 0;
  bool main = false;         ///< judged alone; the others together (docs/decisions/0011-one-split-decides.md)
  double allowance_s = 0.0;  ///< sd of the scatter that a single pair cannot show; 0: none stands alone
  Component largest = Component::pairs;  ///< of the budget
  double scatter_s = 0.0;  ///< sd between pairs of one set-up, measurement in it: what a plan needs
  Verdict verdict = Verdict::cannot_tell;
  Ridden ridden = Ridden::blocks;  ///< as the two sides were
  Plan more;                       ///< pairs a side that would show as much as the interval is wide now
  int more_pairs = 0;       ///< so many more a side than there are now; 0: said something, or none would
  std::string text;         ///< one sentence: verdict, figure, interval
  std::vector<Note> notes;  ///< single-pair | looked-at-together
};

/// One side against the first.
struct Comparison {
  std::string before;  ///< name of the reference side
  std::string after;
  Clock clock = Clock::rollout;
  std::vector<Difference> differences;  ///< splits that both sides have pairs for, in the order asked
  std::vector<Note> warnings;           ///< why the comparison may be false or is not there
};

/// For which differences it is worked out how many more pairs would show them: most of the time it takes.
enum class More {
  none,
  told,  ///< those whose sentence says it
  all
};

struct CompareOptions {
  Clock clock = Clock::rollout;
  std::string main_split;        ///< name of the split that decides; empty: the first of the splits
  double pause_s = day_pause_s;  ///< a longer pause between pairs starts another day
  PlanOptions plan;              ///< for "more pairs would show"
  More more = More::all;         ///< fills Difference::more
  bool times = true;             ///< fills Difference::before and after, else left at 0: half of the time
};

/// Compares each side with the first: did the change make it quicker?
///
/// Both sides' two-way results in one mixed model of days, logs, blocks and pairs, scatters with half-t
/// priors (docs/method.md, "Comparison"): what a day, a log or a road does to both drops out. Exchanging two
/// sides changes the sign and nothing else; the order of rides and runs within a side changes nothing.
/// @param sides   at least two, the first being the reference
/// @param splits  in the order asked; at least one
/// @return       one comparison for each side after the first
/// @throws std::invalid_argument  if there are fewer than two sides or no splits, or the main split is not
/// among them. Coverage: test "the interval of a difference holds the truth".
[[nodiscard]] std::vector<Comparison> compare(std::span<const Side> sides,
                                              const std::vector<SplitSpec>& splits,
                                              const CompareOptions& options = {});

/// How two-way results of one set-up scatter, for plan_pairs(). What changes from set-up to set-up is no
/// scatter: where the conditions of the rides name several, each is taken by itself.
[[nodiscard]] PlanBasis plan_basis(const Side& side, const SplitSpec& spec,
                                   const CompareOptions& options = {});

}  // namespace bothways
