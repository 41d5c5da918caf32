#include "bothways/pair/compare.hpp"

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/compare_text.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/figures.hpp"
#include "bothways/pair/judge.hpp"
#include "bothways/pair/side_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>
#include <utility>

namespace bothways {

namespace {

constexpr double level = 0.05;  // of the words, as of the intervals

/// The set-up that the conditions of a pair's rides name; empty: not told.
std::string setup_of(const std::vector<Ride>& rides, const Pair& pair) {
  for (const std::size_t ride : {pair.ride, pair.other_ride}) {
    if (rides[ride].conditions && !rides[ride].conditions->setup.empty()) {
      return rides[ride].conditions->setup;
    }
  }
  return "";
}

std::set<int> days_of(const SideResults& side) {
  std::set<int> days;
  for (const Outcome& outcome : side.outcomes) {
    days.insert(outcome.day);
  }
  return days;
}

/// Mean square of a known sd over outcomes, rooted.
template <class Sd>
double typical(const std::vector<Outcome>& outcomes, const Sd& sd) {
  double sum = 0.0;
  for (const Outcome& outcome : outcomes) {
    sum += sd(outcome) * sd(outcome);
  }
  return outcomes.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(outcomes.size()));
}

/// Intervals are drawn wide: in the population (1,173 couples, seeds 11 to 13, for tuning) the rms error of
/// a difference was 0.78 of the sd stated, 0.67 to 0.88 by kind of log.
constexpr double error_share = 0.78;

PlanBasis basis_of(const std::vector<Outcome>& outcomes, const Scatters& scatter, const ScatterPrior& prior) {
  PlanBasis basis{.scatter = scatter,
                  .prior = prior,
                  .error_share = error_share,
                  .pairs = static_cast<int>(outcomes.size())};
  basis.own_s = typical(outcomes, [](const Outcome& o) { return o.own_sd; });
  basis.log_s = typical(outcomes, [](const Outcome& o) { return std::hypot(o.log_sd, o.receiver_sd); });
  basis.wind_s = typical(outcomes, [](const Outcome& o) { return std::hypot(o.visit_sd, o.day_sd); });
  return basis;
}

/// The largest part of the variance.
Component largest_of(const Budget& budget) {
  const std::array<std::pair<double, Component>, 5> parts{
      {{std::hypot(budget.scatter, budget.block), Component::pairs},
       {budget.day, Component::days},
       {budget.wind, Component::weather},
       {budget.slope, Component::road},
       {std::hypot(budget.receiver, budget.launch), Component::receiver}}};
  return std::max_element(parts.begin(), parts.end(),
                          [](const auto& a, const auto& b) { return a.first < b.first; })
      ->second;
}

/// One side's results of the split, and the other's.
struct Results {
  SideResults before;
  SideResults after;
};

/// A difference, and what a plan to show it rests on.
struct Judged {
  Difference row;
  PlanBasis basis;
};

Judged difference_of(const SplitSpec& spec, const Results& results, bool times) {
  const Figure difference = bothways::difference_of(results.before, results.after);
  const std::set<int> before = days_of(results.before);
  const std::set<int> after = days_of(results.after);
  std::vector<Outcome> all = results.before.outcomes;
  all.insert(all.end(), results.after.outcomes.begin(), results.after.outcomes.end());
  Difference row{.spec = spec,
                 .difference = difference.estimate,
                 .budget = difference.budget,
                 .p_value = difference.p_value,
                 .pairs_before = static_cast<int>(results.before.outcomes.size()),
                 .pairs_after = static_cast<int>(results.after.outcomes.size()),
                 .days_before = static_cast<int>(before.size()),
                 .days_after = static_cast<int>(after.size()),
                 .largest = largest_of(difference.budget)};
  if (times) {
    row.before = figure_of(results.before).estimate;
    row.after = figure_of(results.after).estimate;
  }
  const bool is_single = row.pairs_before == 1 || row.pairs_after == 1;
  row.allowance_s = is_single ? std::hypot(row.budget.scatter, row.budget.block) : 0.0;
  row.ridden = before == after ? Ridden::blocks : Ridden::two_days;
  const PlanBasis basis = basis_of(all, difference.scatter, results.before.prior);
  row.scatter_s = scatter_s(basis);
  return {std::move(row), basis};
}

/// How many more pairs would show it, where that is asked.
void put_plan(Difference& row, const PlanBasis& basis, const CompareOptions& options) {
  const bool asked = options.more == More::all || (options.more == More::told && tells_more(row));
  const double half = (row.difference.hi95 - row.difference.lo95) / 2.0;
  if (asked && row.p_value > level && half > 0.0) {
    row.more = plan_pairs(half, basis, row.ridden, options.plan);
  }
}

/// Squares go by the pairs that showed them.
PlanBasis pooled(const PlanBasis& a, const PlanBasis& b, double share_of_b) {
  const auto mix = [&](double x, double y) {
    return std::sqrt((1.0 - share_of_b) * x * x + share_of_b * y * y);
  };
  return {.own_s = mix(a.own_s, b.own_s),
          .log_s = mix(a.log_s, b.log_s),
          .wind_s = mix(a.wind_s, b.wind_s),
          .scatter = {mix(a.scatter.pair_s, b.scatter.pair_s), mix(a.scatter.block_s, b.scatter.block_s),
                      mix(a.scatter.day_s, b.scatter.day_s)},
          .prior = {mix(a.prior.pair_s, b.prior.pair_s), mix(a.prior.block_s, b.prior.block_s),
                    mix(a.prior.day_s, b.prior.day_s)},
          .error_share = error_share,
          .pairs = a.pairs + b.pairs,
          .setups = a.setups + 1,
          .assumed = a.assumed};
}

std::size_t main_of(const Comparison& comparison) {
  const auto& all = comparison.differences;
  const auto found = std::find_if(all.begin(), all.end(), [](const Difference& row) { return row.main; });
  return static_cast<std::size_t>(found - all.begin());
}

Comparison compared(const Side& before, const Side& after, const DaysOfSides& days,
                    const std::vector<SplitSpec>& splits, const CompareOptions& options) {
  Comparison result{.before = before.name, .after = after.name, .clock = options.clock};
  const LocalPlane plane = plane_of(before.rides, before.pairs.made);
  std::vector<PlanBasis> bases;
  for (const SplitSpec& spec : splits) {
    const Results results{
        results_of(before.rides, before.pairs.made, days.before, spec, options.clock, 0, plane),
        results_of(after.rides, after.pairs.made, days.after, spec, options.clock, 1, plane)};
    if (!results.before.outcomes.empty() && !results.after.outcomes.empty()) {
      Judged judged = difference_of(spec, results, options.times);
      judged.row.main = spec.name == options.main_split;
      result.differences.push_back(std::move(judged.row));
      bases.push_back(judged.basis);
    }
  }
  std::string other_main;
  if (!result.differences.empty() && main_of(result) == result.differences.size()) {
    result.differences.front().main = true;
    other_main = result.differences.front().spec.name;
  }
  for (std::size_t i = 0; i < bases.size(); ++i) {
    put_plan(result.differences[i], bases[i], options);
  }
  result.warnings = side_warnings(before, after, days);
  if (!other_main.empty()) {
    result.warnings.push_back({"other-main",
                               fmt::format("{} is not reached by both sides in pairs; {} decides instead",
                                           options.main_split, other_main),
                               0});
  }
  return result;
}

/// Words for one comparison; `share` of the level is its part where there are several.
void judge(Comparison& comparison, double share) {
  std::vector<double> p_values;
  for (const Difference& row : comparison.differences) {
    p_values.push_back(row.p_value);
  }
  const std::vector<bool> words = told(p_values, main_of(comparison), share);
  for (std::size_t i = 0; i < words.size(); ++i) {
    Difference& row = comparison.differences[i];
    if (words[i] && row.difference.value != 0.0) {
      row.verdict = row.difference.value < 0.0 ? Verdict::quicker : Verdict::slower;
    }
  }
}

/// The level that the main split of each comparison is judged at: Holm over the comparisons.
std::vector<double> shares_of(const std::vector<Comparison>& comparisons) {
  std::vector<double> p_values;
  for (const Comparison& comparison : comparisons) {
    const std::size_t main = main_of(comparison);
    p_values.push_back(main < comparison.differences.size() ? comparison.differences[main].p_value : 1.0);
  }
  const std::vector<bool> words = holm(p_values, level);
  std::vector<double> shares;
  for (std::size_t i = 0; i < comparisons.size(); ++i) {
    // Told: at the full level of its step, else at the strictest.
    shares.push_back(words[i] ? level : level / static_cast<double>(comparisons.size()));
  }
  return shares;
}

}  // namespace

const char* to_string(Verdict verdict) {
  switch (verdict) {
    case Verdict::quicker:
      return "quicker";
    case Verdict::slower:
      return "slower";
    case Verdict::cannot_tell:
      break;
  }
  return "cannot-tell";
}

PlanBasis plan_basis(const Side& side, const SplitSpec& spec, const CompareOptions& options) {
  const std::vector<int> days = days_of_pairs(side.rides, side.pairs, options.pause_s);
  const LocalPlane plane = plane_of(side.rides, side.pairs.made);
  std::map<std::string, std::pair<std::vector<Pair>, std::vector<int>>> setups;
  for (std::size_t k = 0; k < side.pairs.made.size(); ++k) {
    auto& [pairs, of_days] = setups[setup_of(side.rides, side.pairs.made[k])];
    pairs.push_back(side.pairs.made[k]);
    of_days.push_back(days[k]);
  }
  PlanBasis all{.setups = 0, .assumed = true};
  for (const auto& [setup, of_setup] : setups) {
    const auto results =
        results_of(side.rides, of_setup.first, of_setup.second, spec, options.clock, 0, plane);
    if (results.outcomes.empty()) {
      continue;
    }
    const PlanBasis one = basis_of(results.outcomes, figure_of(results).scatter, results.prior);
    const double share = static_cast<double>(one.pairs) / (all.pairs + one.pairs);
    all = pooled(all, one, share);
    all.assumed = all.assumed && one.pairs == 1;
  }
  return all;
}

std::vector<Comparison> compare(std::span<const Side> sides, const std::vector<SplitSpec>& splits,
                                const CompareOptions& options) {
  if (sides.size() < 2 || splits.empty()) {
    throw std::invalid_argument("a comparison needs two sides or more, and at least one split");
  }
  CompareOptions used = options;
  if (used.main_split.empty()) {
    used.main_split = splits.front().name;
  } else if (std::none_of(splits.begin(), splits.end(),
                          [&](const SplitSpec& s) { return s.name == used.main_split; })) {
    throw std::invalid_argument("the main split '" + used.main_split + "' is not among the splits asked");
  }
  std::vector<Comparison> comparisons;
  for (const Side& after : sides.subspan(1)) {
    const DaysOfSides days = days_of_sides(sides.front(), after, options.pause_s);
    comparisons.push_back(compared(sides.front(), after, days, splits, used));
  }
  const std::vector<double> shares = shares_of(comparisons);
  for (std::size_t i = 0; i < comparisons.size(); ++i) {
    judge(comparisons[i], shares[i]);
    for (Difference& row : comparisons[i].differences) {
      put_words(row);
    }
  }
  return comparisons;
}

}  // namespace bothways
