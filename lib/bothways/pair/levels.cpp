// docs/method.md, eq. (7.1): s_D / sqrt(D) = days_seen, s W = pairs_seen, the last = measurement; (8.1): its
// three parts are those of leveled_difference.
#include "bothways/pair/levels.hpp"

#include "bothways/core/duration.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>

namespace bothways {

namespace {

/// The outcomes of one day.
struct Day {
  double n = 0.0;
  double sum = 0.0;
  double square_own = 0.0;  // measurement, but for what the outcomes of a log share
  [[nodiscard]] double mean() const { return sum / n; }
};

using Days = std::map<int, Day>;

double own_variance(const Outcome& outcome) {
  return std::max(0.0, outcome.measurement * outcome.measurement - outcome.shared * outcome.shared);
}

/// sd in the mean of the days' means from what the outcomes of each log share.
double shared_of(std::span<const Outcome> outcomes, const Days& days) {
  std::map<std::size_t, double> logs;
  for (const Outcome& outcome : outcomes) {
    logs[outcome.log] += outcome.shared / (days.at(outcome.day).n * static_cast<double>(days.size()));
  }
  return std::sqrt(std::accumulate(logs.begin(), logs.end(), 0.0, [](double sum, const auto& log) {
    return sum + log.second * log.second;
  }));
}

Days days_of(std::span<const Outcome> outcomes) {
  Days days;
  for (const Outcome& outcome : outcomes) {
    Day& day = days[outcome.day];
    day.n += 1.0;
    day.sum += outcome.value;
    day.square_own += own_variance(outcome);
  }
  return days;
}

double beyond(double variance, double explained) {
  return std::sqrt(std::max(0.0, variance - explained));
}

double variance_of(const std::vector<double>& values) {
  const std::vector<double> exact(values.size(), 0.0);
  const double sd = mean_of(values, exact).scatter;
  return sd * sd;
}

bool is_same_days(const Days& a, const Days& b) {
  return a.size() > 1 && a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(),
                    [](const auto& x, const auto& y) { return x.first == y.first; });
}

/// What days bring to the difference of two sides. A side of one day cannot show it, and takes that of the
/// other side's days: the sd of a single day, known as well as the other side knows it.
Part days_of_both(const Leveled& a, const Leveled& b) {
  if ((a.days == 1) == (b.days == 1)) {
    return combine(std::array{a.day, b.day});
  }
  const Leveled& shows = a.days == 1 ? b : a;
  return {shows.day.sd * std::sqrt(1.0 + static_cast<double>(shows.days)), shows.day.degrees_of_freedom};
}

}  // namespace

Leveled leveled(std::span<const Outcome> outcomes) {
  const Days days = days_of(outcomes);
  const auto count = static_cast<double>(days.size());
  const auto n = static_cast<double>(outcomes.size());
  Leveled side{.pairs = static_cast<int>(outcomes.size()), .days = static_cast<int>(days.size())};
  std::vector<double> means;
  double weights = 0.0;  // sum of squared weights of the pairs in the mean of the days' means
  double measured = 0.0;
  double own = 0.0;     // mean measurement variance of one pair, without what a log shares
  double single = 0.0;  // and with it
  for (const auto& [key, day] : days) {
    means.push_back(day.mean());
    weights += 1.0 / (day.n * count * count);
    measured += day.square_own / (day.n * day.n * count * count);
    own += day.square_own / n;
  }
  for (const Outcome& outcome : outcomes) {
    single += outcome.measurement * outcome.measurement / n;
  }
  side.value = mean_of(means, std::vector<double>(means.size(), 0.0)).value;
  side.measurement = std::sqrt(measured);
  side.shared = shared_of(outcomes, days);
  const double freedom = n - count;
  if (freedom > 0.0) {
    double within = 0.0;
    for (const Outcome& outcome : outcomes) {
      const double off = outcome.value - days.at(outcome.day).mean();
      within += off * off / freedom;
    }
    side.pair_scatter = std::sqrt(std::max(within, single));
    side.scatter_seen = std::sqrt(within);
    side.pair_degrees_of_freedom = freedom;
    side.pair = {std::sqrt(weights) * beyond(within, own), freedom};
    side.pairs_seen = {std::sqrt(weights * within), freedom};
  }
  if (count > 1.0) {
    const double explained = side.pair.sd * side.pair.sd + measured + side.shared * side.shared;
    const double variance = variance_of(means);
    side.day = {beyond(variance / count, explained), count - 1.0};
    side.days_seen = {std::sqrt(variance / count), count - 1.0};
    if (!(freedom > 0.0)) {  // one pair a day: nothing else shows how pairs scatter
      side.pair_scatter = std::sqrt(std::max(variance, single));
      side.scatter_seen = std::sqrt(variance);
      side.pair_degrees_of_freedom = count - 1.0;
    }
  }
  return side;
}

std::vector<Look> looks_of(const Leveled& side, double allowance_s) {
  const Part own{side.measurement};
  const Part shared{side.shared};
  if (side.pairs == 1) {
    return {{Part{allowance_s}, own, shared}};
  }
  return {{own, shared}, {side.pairs_seen, shared}, {side.days_seen}};
}

Estimate figure_of(const Leveled& side, double allowance_s) {
  return as_duration(widest_of(side.value, looks_of(side, allowance_s)));
}

LeveledDifference leveled_difference(std::span<const Outcome> before, std::span<const Outcome> after) {
  const Leveled a = leveled(before);
  const Leveled b = leveled(after);
  const Days days_a = days_of(before);
  const Days days_b = days_of(after);
  LeveledDifference result{.value = b.value - a.value};
  const Part pair = combine(std::array{a.pair, b.pair});
  const Part own{std::hypot(a.measurement, b.measurement)};
  const Part shared{std::hypot(a.shared, b.shared)};
  if (!is_same_days(days_a, days_b)) {
    result.day = days_of_both(a, b);
    result.looks = {{result.day, pair, own, shared}};
    return result;
  }
  std::vector<double> differences;
  for (const auto& [key, one] : days_a) {
    differences.push_back(days_b.at(key).mean() - one.mean());
  }
  const auto count = static_cast<double>(differences.size());
  const double variance = variance_of(differences) / count;
  result.day = {beyond(variance, pair.sd * pair.sd + own.sd * own.sd + shared.sd * shared.sd), count - 1.0};
  result.looks = {{{std::sqrt(variance), count - 1.0}},
                  {combine(std::array{a.pairs_seen, b.pairs_seen}), shared},
                  {own, shared}};
  return result;
}

}  // namespace bothways
