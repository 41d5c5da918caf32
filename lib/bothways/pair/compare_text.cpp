#include "bothways/pair/compare_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr int most_decimals = 3;

double half_of(const Estimate& estimate) {
  return (estimate.hi95 - estimate.lo95) / 2.0;
}

/// Decimals whose last digit is worth less than a third of the half-width; more where the end of the interval
/// next to zero would read as zero.
int decimals_of(const Estimate& difference) {
  const double half = half_of(difference);
  const double near = std::min(std::abs(difference.lo95), std::abs(difference.hi95));
  const bool told = difference.lo95 > 0.0 || difference.hi95 < 0.0;
  int decimals = 1;
  while (decimals < most_decimals &&
         (half * std::pow(10.0, decimals) < 3.0 - 1e-9 || (told && near * std::pow(10.0, decimals) < 0.5))) {
    ++decimals;
  }
  return decimals;
}

/// "quicker by 0.24 s (0.11 to 0.37)"
std::string amount(const Estimate& difference) {
  const int decimals = decimals_of(difference);
  const bool is_quicker = difference.value < 0.0;
  const double lo = is_quicker ? -difference.hi95 : difference.lo95;
  const double hi = is_quicker ? -difference.lo95 : difference.hi95;
  return fmt::format("{} by {:.{}f} s ({:.{}f} to {:.{}f})", is_quicker ? "quicker" : "slower",
                     std::abs(difference.value), decimals, lo, decimals, hi, decimals);
}

/// "-0.4", "+0.2", and "0.0" without a sign
std::string signed_text(double value, int decimals) {
  const double step = std::pow(10.0, -decimals);
  return std::abs(value) < step / 2.0 ? fmt::format("{:.{}f}", 0.0, decimals)
                                      : fmt::format("{:+.{}f}", value, decimals);
}

std::string next_step(const Difference& row) {
  if (row.days_decide) {
    return "; the days differ more than the pairs of a day: ride before and after on one day, or on more "
           "days";
  }
  if (row.more_pairs > 0) {
    const int decimals = decimals_of(row.difference);
    return fmt::format("; about {} more {} a side would show {:.{}f} s", row.more_pairs,
                       row.more_pairs == 1 ? "pair" : "pairs", row.more.difference_s, decimals);
  }
  return "";
}

std::string single_words(const Difference& row) {
  const bool both = row.pairs_before == 1 && row.pairs_after == 1;
  const char* where = both ? "one pair a side" : row.pairs_before == 1 ? "one pair before" : "one pair after";
  return fmt::format(
      "{}: scatter between pairs cannot be seen there, so {:.2f} s (one sd) is allowed for slope and "
      "wind beside the measurement",
      where, row.allowance_s);
}

void put_plan(Difference& row, const PlanOptions& options) {
  const double half = half_of(row.difference);
  const double step = std::pow(10.0, -decimals_of(row.difference));
  const double shown = std::max(step, std::round(half / step) * step);
  if (!(half > 0.0) || !std::isfinite(half)) {
    return;
  }
  row.more = plan_pairs(shown, row.scatter_s, options);
  row.more_pairs =
      row.more.pairs > 0 ? std::max(1, row.more.pairs - std::min(row.pairs_before, row.pairs_after)) : 0;
}

}  // namespace

void put_words(Difference& row, const PlanOptions& plan) {
  const Estimate& difference = row.difference;
  if (row.verdict != Verdict::cannot_tell) {
    row.text = fmt::format("{}: {}", row.name, amount(difference));
  } else if (difference.lo95 > 0.0 || difference.hi95 < 0.0) {
    row.text = fmt::format("{}: cannot tell; alone it would be {}, but several looks were taken at once",
                           row.name, amount(difference));
    row.notes.push_back(
        {"looked-at-together",
         fmt::format("{} is one of several splits or set-ups looked at: with so many, one whose "
                     "interval leaves out zero by chance is no surprise",
                     row.name),
         0});
  } else {
    put_plan(row, plan);
    const int decimals = decimals_of(difference);
    row.text = fmt::format("{}: cannot tell; the difference is between {} and {} s{}", row.name,
                           signed_text(difference.lo95, decimals), signed_text(difference.hi95, decimals),
                           next_step(row));
  }
  if (row.allowance_s > 0.0) {
    const std::string words = single_words(row);
    row.text += "; " + words;
    row.notes.push_back({"single-pair", words, 0});
  }
}

}  // namespace bothways
