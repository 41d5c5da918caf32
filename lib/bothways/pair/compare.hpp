#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/core/note.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/pair/plan.hpp"
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

/// One split, after against before.
struct Difference {
  SplitSpec spec;
  Estimate before;                  ///< s, two-way; scatter and measurement in its interval
  Estimate after;                   ///< s
  Estimate difference;              ///< s, after - before: negative is quicker
  double p_value = 1.0;             ///< two-sided; for this split taken alone
  double degrees_of_freedom = 0.0;  ///< of the difference [GUM] G.4, infinity where only measurement is known
  int pairs_before = 0;
  int pairs_after = 0;
  int days_before = 0;
  int days_after = 0;
  bool main = false;         ///< judged alone; the others together (docs/decisions/0011-one-split-decides.md)
  double allowance_s = 0.0;  ///< sd in the difference that stands in for scatter not seen; 0: none
  bool days_decide = false;  ///< the scatter between days outweighs the rest: only more days would help
  double scatter_s = 0.0;    ///< sd between pairs of one set-up, measurement in it: what a plan needs
  Verdict verdict = Verdict::cannot_tell;
  Plan more;                ///< pairs a side that would show as much as the interval is wide now
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

struct CompareOptions {
  Clock clock = Clock::rollout;
  std::string main_split;        ///< name of the split that decides; empty: the first of the splits
  double pause_s = day_pause_s;  ///< a longer pause between pairs starts another day
  PlanOptions plan;              ///< for "more pairs would show"
};

/// Compares each side with the first: did the change make it quicker?
///
/// The repeated unit is the two-way pair; days are a level of their own. Welch's t with the measurement part
/// kept (docs/method.md, "Comparison"). A side with a single pair carries an allowance for the scatter that
/// it cannot show: allowance_share(). Exchanging two sides changes the sign and nothing else; the order of
/// rides and runs within a side changes nothing.
/// @param sides   at least two, the first being the reference
/// @param splits  in the order asked; at least one
/// @return       one comparison for each side after the first
/// @throws std::invalid_argument  if there are fewer than two sides or no splits, or the main split is not
/// among them. Coverage: test "the interval of a difference holds the truth".
[[nodiscard]] std::vector<Comparison> compare(std::span<const Side> sides,
                                              const std::vector<SplitSpec>& splits,
                                              const CompareOptions& options = {});

/// How much two-way results of one set-up scatter: what plan_pairs() wants.
struct SideScatter {
  double scatter_s = 0.0;  ///< sd between single pairs of one day and set-up, measurement in it, s
  int pairs = 0;           ///< 0: the side has no pair for this split, and nothing else here means anything
  int setups = 1;          ///< that the conditions name: the scatter within each, pooled
  bool assumed = false;    ///< a single pair shows no scatter: allowance_share() and its measurement instead
};

/// What changes from set-up to set-up is no scatter: where the conditions of the rides name several, each is
/// taken by itself.
[[nodiscard]] SideScatter scatter_of(const Side& side, const SplitSpec& spec,
                                     const CompareOptions& options = {});

/// Share of a split's time that two-way results scatter by on a hilly road in gusty wind, one sd: 0.9 % from
/// rest to 30 mph or less, growing in proportion to speed to 2.4 % at 50 mph, at most 5 %; half as much again
/// for rolling splits, where the high speeds are. From simulated rides of a small scooter (0.04 s at 0-30
/// mph, 0.24 s at 0-50 mph); no outside source.
/// @param time_s  its time, s, > 0: a distance is taken to end at twice its mean speed
[[nodiscard]] double allowance_share(const SplitSpec& spec, double time_s);

}  // namespace bothways
