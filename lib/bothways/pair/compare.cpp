#include "bothways/pair/compare.hpp"

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/compare_text.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/judge.hpp"
#include "bothways/pair/levels.hpp"
#include "bothways/pair/side_warnings.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace bothways {

namespace {

constexpr double level = 0.05;  // of the words, as of the intervals

/// Both sides' results of one split.
struct Looks {
  std::vector<Outcome> before;
  std::vector<Outcome> after;
};

std::vector<Outcome> outcomes_of(const Side& side, const std::vector<int>& days, const std::string& name,
                                 Clock clock) {
  std::vector<Outcome> outcomes;
  for (std::size_t k = 0; k < side.pairs.made.size(); ++k) {
    for (const TwoWay& split : side.pairs.made[k].splits) {
      if (split.name == name) {
        const Estimate& time = clock == Clock::rollout ? split.rollout : split.movement;
        outcomes.push_back({time.value, time.sd, days[k]});
      }
    }
  }
  return outcomes;
}

/// Standing in for the scatter that a single pair cannot show: the stated allowance, or what the other side
/// shows if that is more.
Part stand_in(const Leveled& single, const Leveled& other, const std::string& name) {
  const double allowance = allowance_share(name, single.value) * single.value;
  if (other.pair_degrees_of_freedom > 0.0 && other.pair_scatter > allowance) {
    return {other.pair_scatter, other.pair_degrees_of_freedom};
  }
  return {allowance};
}

/// A side of one day has the interval of the overall line (decision 10), so that both commands say the same.
Estimate side_estimate(const std::vector<Outcome>& outcomes, const Leveled& side, const Part& extra) {
  if (side.days == 1 && side.pairs >= 2) {
    std::vector<double> values;
    std::vector<double> sds;
    for (const Outcome& outcome : outcomes) {
      values.push_back(outcome.value);
      sds.push_back(outcome.measurement);
    }
    return mean_of(values, sds).estimate;
  }
  return estimate_of(side.value, std::array{side.day, side.pair, extra, Part{side.measurement}});
}

/// sd between single pairs, pooled over the two sides as far as they show it.
double pooled_scatter(const Leveled& a, const Leveled& b, const Part& extra) {
  const double freedom = a.pair_degrees_of_freedom + b.pair_degrees_of_freedom;
  if (freedom > 0.0) {
    return std::sqrt((a.pair_degrees_of_freedom * a.pair_scatter * a.pair_scatter +
                      b.pair_degrees_of_freedom * b.pair_scatter * b.pair_scatter) /
                     freedom);
  }
  return std::hypot(extra.sd, std::hypot(a.measurement, b.measurement)) / std::sqrt(2.0);
}

Difference difference_of(const std::string& name, const Looks& looks) {
  const Leveled a = leveled(looks.before);
  const Leveled b = leveled(looks.after);
  const Part extra_a = a.pairs == 1 ? stand_in(a, b, name) : Part{};
  const Part extra_b = b.pairs == 1 ? stand_in(b, a, name) : Part{};
  LeveledDifference difference = leveled_difference(looks.before, looks.after);
  const Part extra = combine(std::array{extra_a, extra_b});
  difference.parts.push_back(extra);
  Difference row{.name = name,
                 .before = side_estimate(looks.before, a, extra_a),
                 .after = side_estimate(looks.after, b, extra_b),
                 .difference = estimate_of(difference.value, difference.parts),
                 .p_value = p_value_of(difference.value, difference.parts),
                 .degrees_of_freedom = combine(difference.parts).degrees_of_freedom,
                 .pairs_before = a.pairs,
                 .pairs_after = b.pairs,
                 .days_before = a.days,
                 .days_after = b.days,
                 .allowance_s = extra.sd};
  row.scatter_s = pooled_scatter(a, b, extra);
  row.days_decide =
      2.0 * difference.parts.front().sd * difference.parts.front().sd > row.difference.sd * row.difference.sd;
  return row;
}

std::size_t main_of(const Comparison& comparison) {
  const auto& all = comparison.differences;
  const auto found = std::find_if(all.begin(), all.end(), [](const Difference& row) { return row.main; });
  return static_cast<std::size_t>(found - all.begin());
}

Comparison compared(const Side& before, const Side& after, const DaysOfSides& days,
                    const std::vector<std::string>& names, const CompareOptions& options) {
  Comparison result{.before = before.name, .after = after.name, .clock = options.clock};
  for (const std::string& name : names) {
    const Looks looks{outcomes_of(before, days.before, name, options.clock),
                      outcomes_of(after, days.after, name, options.clock)};
    if (!looks.before.empty() && !looks.after.empty()) {
      result.differences.push_back(difference_of(name, looks));
      result.differences.back().main = name == options.main_split;
    }
  }
  if (!result.differences.empty() && main_of(result) == result.differences.size()) {
    result.differences.front().main = true;  // the main split was not reached by both sides
  }
  result.warnings = side_warnings(before, after, days);
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

SideScatter scatter_of(const Side& side, const std::string& name, const CompareOptions& options) {
  const Side nobody;
  const auto outcomes =
      outcomes_of(side, days_of_sides(side, nobody, options.pause_s).before, name, options.clock);
  if (outcomes.empty()) {
    return {};
  }
  const Leveled figure = leveled(outcomes);
  if (figure.pair_degrees_of_freedom > 0.0) {
    return {.scatter_s = figure.pair_scatter, .pairs = figure.pairs};
  }
  const double allowance_s = allowance_share(name, figure.value) * figure.value;
  return {.scatter_s = std::hypot(allowance_s, figure.measurement), .pairs = figure.pairs, .assumed = true};
}

double allowance_share(const std::string& name, double time_s) {
  constexpr double low_mps = 30.0 * mps_per_mph;
  constexpr double high_mps = 50.0 * mps_per_mph;
  const SplitSpec spec = parse_splits(name).front();
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

std::vector<Comparison> compare(std::span<const Side> sides, const std::vector<std::string>& names,
                                const CompareOptions& options) {
  if (sides.size() < 2 || names.empty()) {
    throw std::invalid_argument("a comparison needs two sides or more, and at least one split");
  }
  CompareOptions used = options;
  if (used.main_split.empty()) {
    used.main_split = names.front();
  } else if (std::find(names.begin(), names.end(), used.main_split) == names.end()) {
    throw std::invalid_argument("the main split '" + used.main_split + "' is not among the splits asked");
  }
  std::vector<Comparison> comparisons;
  for (const Side& after : sides.subspan(1)) {
    const DaysOfSides days = days_of_sides(sides.front(), after, options.pause_s);
    comparisons.push_back(compared(sides.front(), after, days, names, used));
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
