// docs/method.md, eq. (9.1): d/s = effect, n = n, t(0.975, 2n - 2) = critical, noncentrality = shift.
#include "bothways/pair/plan.hpp"

#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>

namespace bothways {

namespace {

/// A number of pairs needs three digits, not the eighteen that Boost works out for a double otherwise: a year
/// of changes is planned in half the time.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr double most_planned = 1e6;
constexpr double largest_shift = 37.0;  // beyond it the power is 1 to all digits

void require_sane(const PlanOptions& options) {
  if (!(options.level > 0.0 && options.level < 0.5) ||
      !(options.power > options.level && options.power < 1.0)) {
    throw std::invalid_argument("a plan needs a level between 0 and 0.5, and a power above it and below 1");
  }
}

/// The x at which a rising function passes `level`; lo and hi hold it between them.
template <class Function>
double solve(const Function& rising, double level, double lo, double hi) {
  std::uintmax_t most_steps = 60;
  const auto [from, to] =
      boost::math::tools::toms748_solve([&](double x) { return rising(x) - level; }, lo, hi,
                                        boost::math::tools::eps_tolerance<double>(34), most_steps);
  return (from + to) / 2.0;
}

}  // namespace

double power_of(double effect, double n, const PlanOptions& options) {
  require_sane(options);
  if (!(effect >= 0.0) || !(n > 1.0) || !std::isfinite(n)) {
    throw std::invalid_argument("power needs a difference >= 0 and more than one pair a side");
  }
  const double nu = options.two_sides ? 2.0 * (n - 1.0) : n - 1.0;
  const double shift = effect * std::sqrt(options.two_sides ? n / 2.0 : n);
  const boost::math::students_t_distribution<double, InDouble> student(nu);
  const double tail = options.two_sided ? options.level / 2.0 : options.level;
  const double critical = boost::math::quantile(boost::math::complement(student, tail));
  if (shift > largest_shift + critical) {
    return 1.0;
  }
  const boost::math::non_central_t_distribution<double, InDouble> alternative(nu, shift);
  double power = boost::math::cdf(boost::math::complement(alternative, critical));
  if (options.two_sided) {
    power += boost::math::cdf(alternative, -critical);
  }
  return power;
}

double pairs_needed(double effect, const PlanOptions& options) {
  require_sane(options);
  if (!(effect > 0.0)) {
    throw std::invalid_argument("a plan needs a difference > 0");
  }
  const auto power = [&](double n) { return power_of(effect, n, options); };
  double hi = 2.0;
  while (power(hi) < options.power) {
    hi *= 2.0;
    if (hi > most_planned) {
      return std::numeric_limits<double>::infinity();
    }
  }
  return hi == 2.0 ? 2.0 : solve(power, options.power, hi / 2.0, hi);
}

double effect_seen(double n, const PlanOptions& options) {
  require_sane(options);
  if (!(n >= 2.0)) {
    throw std::invalid_argument("a plan needs at least two pairs a side");
  }
  return solve([&](double effect) { return power_of(effect, n, options); }, options.power, 0.0, 100.0);
}

Plan plan_pairs(double difference_s, double scatter_s, const PlanOptions& options) {
  require_sane(options);
  if (!(difference_s > 0.0) || !std::isfinite(difference_s) || !(scatter_s >= 0.0) ||
      !std::isfinite(scatter_s)) {
    throw std::invalid_argument("a plan needs a difference > 0 s and a scatter >= 0 s");
  }
  Plan plan{.difference_s = difference_s, .scatter_s = scatter_s};
  const double n = scatter_s > 0.0 ? std::ceil(pairs_needed(difference_s / scatter_s, options) - 1e-9) : 2.0;
  if (!std::isfinite(n)) {
    plan.text = fmt::format(
        "a difference of {:.2g} s is too small beside a scatter of {:.2g} s between pairs: no "
        "number of pairs that anyone rides would show it",
        difference_s, scatter_s);
    return plan;
  }
  plan.pairs = static_cast<int>(n);
  plan.power = scatter_s > 0.0 ? power_of(difference_s / scatter_s, n, options) : 1.0;
  plan.text = fmt::format(
      "{} pairs a side show a difference of {:.2g} s in {:.0f} of 100 cases, where two-way results "
      "of one set-up scatter by {:.2g} s",
      plan.pairs, difference_s, 100.0 * plan.power, scatter_s);
  return plan;
}

std::vector<std::string> ride_plan(int pairs) {
  if (pairs < 1) {
    throw std::invalid_argument("a ride plan needs at least one pair a side");
  }
  return {
      "Use a closed or private road: straight, level if you can, with room to stop.",
      "Warm up first: ride until engine, transmission and tyres no longer change.",
      fmt::format("Before the change make {} standing starts, one way and then back: {} {}.", 2 * pairs,
                  pairs, pairs == 1 ? "pair" : "pairs"),
      std::string(
          "Use one stretch both ways: start the way back at its other end, about where the way out ") +
          "passed the last mark.",
      "The first metres are then at two places: for a short split choose ends alike in slope and surface.",
      "Stand still for three seconds, then hold full throttle past the last mark.",
      fmt::format("Make the change, warm up again, and make the same {} starts.", 2 * pairs),
      "Ride both sides on one day; if you cannot, ride both sides on each of several days.",
      "Keep the same: rider, clothes, load, fuel in the tank, tyre pressure, receiver and where it sits.",
      "Note temperature, pressure and wind for each side; wait if the wind picks up.",
  };
}

}  // namespace bothways
