#include "bothways/pair/levels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace bothways {

namespace {

/// The outcomes of one day.
struct Day {
  double n = 0.0;
  double sum = 0.0;
  double square_measurement = 0.0;
  [[nodiscard]] double mean() const { return sum / n; }
};

using Days = std::map<int, Day>;

Days days_of(std::span<const Outcome> outcomes) {
  Days days;
  for (const Outcome& outcome : outcomes) {
    Day& day = days[outcome.day];
    day.n += 1.0;
    day.sum += outcome.value;
    day.square_measurement += outcome.measurement * outcome.measurement;
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

}  // namespace

Leveled leveled(std::span<const Outcome> outcomes) {
  const Days days = days_of(outcomes);
  const auto count = static_cast<double>(days.size());
  const auto n = static_cast<double>(outcomes.size());
  Leveled side{.pairs = static_cast<int>(outcomes.size()), .days = static_cast<int>(days.size())};
  std::vector<double> means;
  double weights = 0.0;  // sum of squared weights of the pairs in the mean of the days' means
  double measured = 0.0;
  double single = 0.0;  // mean measurement variance of one pair
  for (const auto& [key, day] : days) {
    means.push_back(day.mean());
    weights += 1.0 / (day.n * count * count);
    measured += day.square_measurement / (day.n * day.n * count * count);
    single += day.square_measurement / n;
  }
  side.value = mean_of(means, std::vector<double>(means.size(), 0.0)).value;
  side.measurement = std::sqrt(measured);
  const double freedom = n - count;
  if (freedom > 0.0) {
    double within = 0.0;
    for (const Outcome& outcome : outcomes) {
      const double off = outcome.value - days.at(outcome.day).mean();
      within += off * off / freedom;
    }
    side.pair_scatter = std::sqrt(std::max(within, single));
    side.pair_degrees_of_freedom = freedom;
    side.pair = {std::sqrt(weights) * beyond(within, single), freedom};
  }
  if (count > 1.0) {
    const double explained = side.pair.sd * side.pair.sd + measured;
    const double variance = variance_of(means);
    side.day = {beyond(variance / count, explained), count - 1.0};
    if (!(freedom > 0.0)) {  // one pair a day: nothing else shows how pairs scatter
      side.pair_scatter = std::sqrt(std::max(variance, single));
      side.pair_degrees_of_freedom = count - 1.0;
    }
  }
  return side;
}

LeveledDifference leveled_difference(std::span<const Outcome> before, std::span<const Outcome> after) {
  const Leveled a = leveled(before);
  const Leveled b = leveled(after);
  const Days days_a = days_of(before);
  const Days days_b = days_of(after);
  LeveledDifference result{.value = b.value - a.value, .same_days = is_same_days(days_a, days_b)};
  const Part pair = combine(std::array{a.pair, b.pair});
  const double measurement = std::hypot(a.measurement, b.measurement);
  Part day = combine(std::array{a.day, b.day});
  if (result.same_days) {
    std::vector<double> differences;
    for (const auto& [key, one] : days_a) {
      differences.push_back(days_b.at(key).mean() - one.mean());
    }
    const auto count = static_cast<double>(differences.size());
    day = {beyond(variance_of(differences) / count, pair.sd * pair.sd + measurement * measurement),
           count - 1.0};
  }
  result.parts = {day, pair, Part{measurement}};
  return result;
}

}  // namespace bothways
