#include "bothways/pair/compare.hpp"

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/compare_text.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/judge.hpp"
#include "bothways/pair/levels.hpp"
#include "bothways/pair/outcomes.hpp"
#include "bothways/pair/side_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <stdexcept>

namespace bothways {

namespace {

constexpr double level = 0.05;  // of the words, as of the intervals

/// Both sides' results of one split.
struct Looks {
  std::vector<Outcome> before;
  std::vector<Outcome> after;
};

double measured_sd(const Leveled& side) {
  return std::hypot(side.measurement, side.shared);
}

/// The set-up that the conditions of a pair's rides name; empty: not told.
std::string setup_of(const std::vector<Ride>& rides, const Pair& pair) {
  for (const std::size_t ride : {pair.ride, pair.other_ride}) {
    if (rides[ride].conditions && !rides[ride].conditions->setup.empty()) {
      return rides[ride].conditions->setup;
    }
  }
  return "";
}

double allowance_of(const SplitSpec& spec, const Leveled& side) {
  return allowance_share(spec, side.value) * side.value;
}

/// Standing in for the scatter that a single pair cannot show: the stated allowance, or what the other side
/// shows if that is more.
Part stand_in(const Leveled& single, const Leveled& other, const SplitSpec& spec) {
  const double allowance = allowance_of(spec, single);
  if (other.pair_degrees_of_freedom > 0.0 && other.pair_scatter > allowance) {
    return {other.pair_scatter, other.pair_degrees_of_freedom};
  }
  return {allowance};
}

/// sd between single pairs, pooled over the two sides as far as they show it.
double pooled_scatter(const Leveled& a, const Leveled& b, const Part& extra) {
  const double freedom = a.pair_degrees_of_freedom + b.pair_degrees_of_freedom;
  if (freedom > 0.0) {
    return std::sqrt((a.pair_degrees_of_freedom * a.pair_scatter * a.pair_scatter +
                      b.pair_degrees_of_freedom * b.pair_scatter * b.pair_scatter) /
                     freedom);
  }
  return std::hypot(extra.sd, std::hypot(measured_sd(a), measured_sd(b))) / std::sqrt(2.0);
}

Difference difference_of(const SplitSpec& spec, const Looks& looks) {
  const Leveled a = leveled(looks.before);
  const Leveled b = leveled(looks.after);
  const Part extra_a = a.pairs == 1 ? stand_in(a, b, spec) : Part{};
  const Part extra_b = b.pairs == 1 ? stand_in(b, a, spec) : Part{};
  LeveledDifference difference = leveled_difference(looks.before, looks.after);
  const Part extra = combine(std::array{extra_a, extra_b});
  for (Look& look : difference.looks) {
    look.push_back(extra);
  }
  Difference row{.spec = spec,
                 .before = figure_of(a, allowance_of(spec, a)),  // as the overall line has it
                 .after = figure_of(b, allowance_of(spec, b)),
                 .difference = widest_of(difference.value, difference.looks),
                 .p_value = largest_p_value_of(difference.value, difference.looks),
                 .degrees_of_freedom = degrees_of_freedom_of(difference.looks),
                 .pairs_before = a.pairs,
                 .pairs_after = b.pairs,
                 .days_before = a.days,
                 .days_after = b.days,
                 .allowance_s = extra.sd};
  row.scatter_s = pooled_scatter(a, b, extra);
  row.days_decide = 2.0 * difference.day.sd * difference.day.sd > row.difference.sd * row.difference.sd;
  return row;
}

std::size_t main_of(const Comparison& comparison) {
  const auto& all = comparison.differences;
  const auto found = std::find_if(all.begin(), all.end(), [](const Difference& row) { return row.main; });
  return static_cast<std::size_t>(found - all.begin());
}

Comparison compared(const Side& before, const Side& after, const DaysOfSides& days,
                    const std::vector<SplitSpec>& splits, const CompareOptions& options) {
  Comparison result{.before = before.name, .after = after.name, .clock = options.clock};
  for (const SplitSpec& spec : splits) {
    const Looks looks{outcomes_of(before.pairs.made, days.before, spec, options.clock),
                      outcomes_of(after.pairs.made, days.after, spec, options.clock)};
    if (!looks.before.empty() && !looks.after.empty()) {
      result.differences.push_back(difference_of(spec, looks));
      result.differences.back().main = spec.name == options.main_split;
    }
  }
  std::string other_main;
  if (!result.differences.empty() && main_of(result) == result.differences.size()) {
    result.differences.front().main = true;
    other_main = result.differences.front().spec.name;
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

SideScatter scatter_of(const Side& side, const SplitSpec& spec, const CompareOptions& options) {
  const std::vector<int> days = days_of_pairs(side.rides, side.pairs, options.pause_s);
  std::map<std::string, std::vector<Outcome>> setups;
  for (std::size_t k = 0; k < side.pairs.made.size(); ++k) {
    const Pair& pair = side.pairs.made[k];
    const auto outcomes = outcomes_of({&pair, 1}, {&days[k], 1}, spec, options.clock);
    auto& of_setup = setups[setup_of(side.rides, pair)];
    of_setup.insert(of_setup.end(), outcomes.begin(), outcomes.end());
  }
  SideScatter result{.setups = 0};
  double squares = 0.0;
  double freedom = 0.0;
  double assumed = 0.0;  // variance, weighed by pairs
  for (const auto& [setup, outcomes] : setups) {
    if (outcomes.empty()) {
      continue;
    }
    const Leveled figure = leveled(outcomes);
    squares += figure.pair_degrees_of_freedom * figure.pair_scatter * figure.pair_scatter;
    freedom += figure.pair_degrees_of_freedom;
    const double alone = std::hypot(allowance_of(spec, figure), measured_sd(figure));
    assumed += figure.pairs * alone * alone;
    result.pairs += figure.pairs;
    ++result.setups;
  }
  result.assumed = result.pairs > 0 && !(freedom > 0.0);
  if (result.pairs > 0) {
    result.scatter_s = std::sqrt(result.assumed ? assumed / result.pairs : squares / freedom);
  }
  return result;
}

double allowance_share(const SplitSpec& spec, double time_s) {
  constexpr double low_mps = 30.0 * mps_per_mph;
  constexpr double high_mps = 50.0 * mps_per_mph;
  double end_mps = 0.0;
  if (const auto* speed = std::get_if<Speed>(&spec.to)) {
    end_mps = speed->mps();
  } else {
    const double travel_m = std::get<Length>(spec.to).m() - std::get<Length>(spec.from).m();
    end_mps = (spec.from_rest() ? 2.0 : 1.0) * travel_m / std::max(time_s, 1e-3);
  }
  const double share = 0.009 + (0.024 - 0.009) * (end_mps - low_mps) / (high_mps - low_mps);
  return std::clamp(share, 0.009, 0.05) * (spec.from_rest() ? 1.0 : 1.5);
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
      put_words(row, used.plan);
    }
  }
  return comparisons;
}

}  // namespace bothways
