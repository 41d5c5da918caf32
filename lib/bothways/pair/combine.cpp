// docs/method.md, eq. (8.1) in half_width: u = sd, t = factor.
#include "bothways/pair/combine.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <numeric>
#include <stdexcept>
#include <vector>

namespace bothways {

namespace {

double squares(std::span<const double> values, double centre) {
  return std::accumulate(values.begin(), values.end(), 0.0,
                         [&](double sum, double x) { return sum + (x - centre) * (x - centre); });
}

constexpr double as_good_as_known = 1e6;  // degrees of freedom

/// Half-width of the interval that leaves out `level`.
double half_width(std::span<const Part> parts, double level) {
  double square = 0.0;
  if (level >= 1.0) {
    return 0.0;
  }
  for (const Part& part : parts) {
    if (part.sd > 0.0) {
      const boost::math::students_t student(std::min(part.degrees_of_freedom, as_good_as_known));
      const double factor = boost::math::quantile(boost::math::complement(student, level / 2.0));
      square += factor * factor * part.sd * part.sd;
    }
  }
  return std::sqrt(square);
}

}  // namespace

Part combine(std::span<const Part> parts) {
  double variance = 0.0;
  double spread = 0.0;
  for (const Part& part : parts) {
    const double square = part.sd * part.sd;
    variance += square;
    spread += square * square / part.degrees_of_freedom;
  }
  Part whole{std::sqrt(variance)};
  if (spread > 0.0) {
    whole.degrees_of_freedom = variance * variance / spread;
  }
  return whole;
}

Estimate estimate_of(double value, std::span<const Part> parts) {
  const Part whole = combine(parts);
  (void)normal_estimate(value, whole.sd);  // refuses what is not finite
  const double half = half_width(parts, 0.05);
  return {value, whole.sd, value - half, value + half};
}

double p_value_of(double value, std::span<const Part> parts) {
  const double size = std::abs(value);
  std::vector<Part> real;
  std::copy_if(parts.begin(), parts.end(), std::back_inserter(real),
               [](const Part& p) { return p.sd > 0.0; });
  if (value == 0.0 || real.empty()) {
    return value == 0.0 ? 1.0 : 0.0;
  }
  if (real.size() == 1) {
    const boost::math::students_t student(std::min(real[0].degrees_of_freedom, as_good_as_known));
    return 2.0 * boost::math::cdf(boost::math::complement(student, size / real[0].sd));
  }
  // Where the half-width reaches the figure, on a logarithmic scale; first a bracket, then a root finder.
  const auto excess = [&](double log_level) { return half_width(real, std::exp(log_level)) - size; };
  constexpr double step = 3.0;
  constexpr double least = -500.0;  // 1e-217
  double lo = -step;
  while (lo > least && excess(lo) < 0.0) {
    lo -= step;
  }
  if (lo <= least) {
    return 0.0;
  }
  std::uintmax_t most_steps = 60;
  const auto [from, to] = boost::math::tools::toms748_solve(
      excess, lo, lo + step, boost::math::tools::eps_tolerance<double>(44), most_steps);
  return std::exp((from + to) / 2.0);
}

Estimate widest_of(double value, std::span<const Look> looks) {
  Estimate widest{value, 0.0, value, value};
  for (const Look& look : looks) {
    const Estimate one = estimate_of(value, look);
    widest.sd = std::max(widest.sd, one.sd);
    widest.lo95 = std::min(widest.lo95, one.lo95);
    widest.hi95 = std::max(widest.hi95, one.hi95);
  }
  return widest;
}

double largest_p_value_of(double value, std::span<const Look> looks) {
  double largest = 0.0;
  for (const Look& look : looks) {
    largest = std::max(largest, p_value_of(value, look));
  }
  return largest;
}

double degrees_of_freedom_of(std::span<const Look> looks) {
  const auto widest = std::max_element(looks.begin(), looks.end(), [](const Look& a, const Look& b) {
    return half_width(a, 0.05) < half_width(b, 0.05);
  });
  return combine(*widest).degrees_of_freedom;
}

MeanOf mean_of(std::span<const double> values, std::span<const double> measurement_sds) {
  if (values.empty() || values.size() != measurement_sds.size()) {
    throw std::invalid_argument("a mean needs at least one result, each with its sd");
  }
  const auto n = static_cast<double>(values.size());
  MeanOf mean;
  mean.value = std::accumulate(values.begin(), values.end(), 0.0) / n;
  // A second pass takes out what rounding left in a mean of large numbers.
  mean.value += std::accumulate(values.begin(), values.end(), 0.0,
                                [&](double sum, double x) { return sum + (x - mean.value); }) /
                n;
  mean.measurement = std::sqrt(squares(measurement_sds, 0.0)) / n;
  if (values.size() > 1) {
    const double variance = squares(values, mean.value) / (n - 1.0);
    mean.scatter = std::sqrt(variance);
    const double beyond = variance / n - mean.measurement * mean.measurement;
    mean.beyond = {std::sqrt(std::max(0.0, beyond)), n - 1.0};
  }
  const Part student{mean.scatter / std::sqrt(n), std::max(1.0, n - 1.0)};  // sd 0 for one result
  mean.estimate = widest_of(mean.value, std::array{Look{{mean.measurement}}, Look{student}});
  return mean;
}

}  // namespace bothways
