// docs/method.md, eq. (9.2): h = half_s, c = error_share, c^2 V = sd_s^2.
#include "bothways/pair/power_to_tell.hpp"

#include "bothways/numeric/square.hpp"
#include "bothways/pair/figures.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace bothways {

namespace {

using numeric::square;

constexpr int luck_nodes = 5;      // of the chi-square law, equally likely
constexpr int most_in_a_day = 32;  // a side: nobody rides more on a day
constexpr int two_sides = 2;

Outcome outcome_of(const PlanBasis& basis, int side) {
  return {.own_sd = basis.own_s,
          .log_sd = std::sqrt(0.5) * basis.log_s,
          .receiver_sd = std::sqrt(0.5) * basis.log_s,
          .visit_sd = std::sqrt(0.5) * basis.wind_s,
          .day_sd = std::sqrt(0.5) * basis.wind_s,
          .side = side};
}

/// Pairs of one side, one after the other: their mean and squares say all.
std::vector<Outcome> in_a_block(const PlanBasis& basis, Ridden ridden, int side, int pairs, double squares) {
  Outcome all = outcome_of(basis, side);
  all.count = pairs;
  all.squares = squares;
  all.day = ridden == Ridden::two_days ? side : 0;
  all.log = static_cast<std::size_t>(side);
  all.block = side;
  return {all};
}

/// Each pair a log and block of its own; half of them up, half down, so that they have these squares.
std::vector<Outcome> in_turns(const PlanBasis& basis, int side, int pairs, double squares) {
  const double off = pairs > 1 ? std::sqrt(squares / (pairs - pairs % two_sides)) : 0.0;
  std::vector<Outcome> outcomes;
  for (int k = 0; k < pairs; ++k) {
    Outcome one = outcome_of(basis, side);
    const bool last_of_odd = pairs % two_sides != 0 && k + 1 == pairs;
    one.value = last_of_odd ? 0.0 : (k % two_sides == 0 ? off : -off);
    one.block = two_sides * k + side;
    one.log = static_cast<std::size_t>(one.block);
    outcomes.push_back(one);
  }
  return outcomes;
}

/// sd of a pair about the mean of its side, s.
double pair_sd(const PlanBasis& basis, Ridden ridden) {
  const double alone = std::hypot(basis.own_s, basis.scatter.pair_s);
  return ridden == Ridden::turns ? std::hypot(alone, std::sqrt(0.5) * basis.log_s, basis.scatter.block_s)
                                 : alone;
}

/// sd of the error of the difference, s.
double difference_sd(const PlanBasis& basis, Ridden ridden, int pairs) {
  double variance =
      two_sides * square(pair_sd(basis, ridden)) / pairs + square(basis.wind_s) + square(basis.log_s);
  if (ridden != Ridden::turns) {
    variance += square(basis.log_s) + two_sides * square(basis.scatter.block_s);
  }
  if (ridden == Ridden::two_days) {
    variance += two_sides * square(basis.scatter.day_s) + square(basis.wind_s);
  }
  return basis.error_share * std::sqrt(variance);
}

void require_sane(double difference_s, const PlanOptions& options) {
  if (!(options.level > 0.0 && options.level < 0.5) ||
      !(options.power > options.level && options.power < 1.0) || !(difference_s > 0.0) ||
      !std::isfinite(difference_s)) {
    throw std::invalid_argument(
        "a plan needs a difference > 0, a level between 0 and 0.5, and a power above it and below 1");
  }
}

}  // namespace

double scatter_s(const PlanBasis& basis) {
  return std::hypot(basis.own_s, basis.scatter.pair_s, basis.log_s);
}

Telling telling_of(const PlanBasis& basis, int pairs, Ridden ridden, double level) {
  if (pairs < 1) {
    throw std::invalid_argument("a plan needs at least one pair a side");
  }
  Telling telling{.pairs = pairs, .sd_s = difference_sd(basis, ridden, pairs), .half_s = {}};
  for (int node = 0; node < luck_nodes; ++node) {
    double squares = 0.0;  // of each side, about its mean
    if (pairs > 1) {
      const boost::math::chi_squared law(two_sides * (pairs - 1));
      squares =
          boost::math::quantile(law, (node + 0.5) / luck_nodes) * square(pair_sd(basis, ridden)) / two_sides;
    }
    std::vector<Outcome> outcomes;
    for (int side = 0; side < two_sides; ++side) {
      const auto of_side = ridden == Ridden::turns ? in_turns(basis, side, pairs, squares)
                                                   : in_a_block(basis, ridden, side, pairs, squares);
      outcomes.insert(outcomes.end(), of_side.begin(), of_side.end());
    }
    telling.half_s.push_back(half_width_of(outcomes, basis.prior, level));
  }
  return telling;
}

double power_of(const Telling& telling, double difference_s) {
  const boost::math::normal law(difference_s, std::max(telling.sd_s, 1e-12));
  double power = 0.0;
  for (const double half : telling.half_s) {
    power += boost::math::cdf(boost::math::complement(law, half)) + boost::math::cdf(law, -half);
  }
  return power / static_cast<double>(telling.half_s.size());
}

double difference_told(const Telling& telling, double power) {
  const double most =
      *std::max_element(telling.half_s.begin(), telling.half_s.end()) + 10.0 * std::max(telling.sd_s, 1e-9);
  if (power_of(telling, 0.0) >= power) {
    return 0.0;
  }
  std::uintmax_t steps = 60;
  const auto [lo, hi] =
      boost::math::tools::toms748_solve([&](double d) { return power_of(telling, d) - power; }, 0.0, most,
                                        boost::math::tools::eps_tolerance<double>(30), steps);
  return (lo + hi) / 2.0;
}

Plan plan_pairs(double difference_s, const PlanBasis& basis, Ridden ridden, const PlanOptions& options) {
  require_sane(difference_s, options);
  Plan plan{.difference_s = difference_s, .scatter_s = scatter_s(basis)};
  const auto power = [&](int n) {
    return power_of(telling_of(basis, n, ridden, options.level), difference_s);
  };
  int lo = 0;  // does not tell
  int hi = 1;
  while (hi <= most_in_a_day && power(hi) < options.power) {
    lo = hi;
    hi *= 2;
  }
  if (hi > most_in_a_day) {
    plan.text = fmt::format(
        "a difference of {:.2g} s is too small beside what pairs, receiver and weather leave: no number of "
        "pairs that anyone rides would show it",
        difference_s);
    return plan;
  }
  while (hi - lo > 1) {
    const int middle = (lo + hi) / 2;
    (power(middle) < options.power ? lo : hi) = middle;
  }
  plan.pairs = hi;
  plan.power = power(hi);
  plan.text = fmt::format(
      "{} pairs a side show a difference of {:.2g} s in {:.0f} of 100 cases, where two-way results of one "
      "set-up scatter by {:.2g} s",
      plan.pairs, difference_s, 100.0 * plan.power, plan.scatter_s);
  return plan;
}

}  // namespace bothways
