// docs/method.md, eq. (1.8): n_k = counts[k], d = step_mps.
#include "bothways/speed/rounded_rest.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bothways {

namespace {

constexpr double least_sd_steps = 1.0 / 6.0;  // below, all readings are 0 and tell no more
constexpr double sd_ratio = 1.04;
constexpr int sds_tried = 82;         // up to four steps
constexpr double stray_share = 0.02;  // jolts of the stand, as the launch takes them (launch/at_rest.cpp)
constexpr double stray_sds = 4.0;

/// P(length of normal noises < limit), in sd of one.
double length_cdf(double limit_sds, int axes) {
  return axes == 2 ? 1.0 - std::exp(-0.5 * limit_sds * limit_sds) : std::erf(limit_sds / std::numbers::sqrt2);
}

/// P(the length rounds to k steps), sd in steps.
double share_of(std::size_t k, double sd, int axes) {
  const auto steps = static_cast<double>(k);
  return length_cdf((steps + 0.5) / sd, axes) - length_cdf(std::max(steps - 0.5, 0.0) / sd, axes);
}

double log_likelihood(const std::vector<std::size_t>& counts, double sd, int axes) {
  constexpr double tiny = 1e-12;
  double sum = 0.0;
  for (std::size_t k = 0; k < counts.size(); ++k) {
    const double share =
        (1.0 - stray_share) * share_of(k, sd, axes) + stray_share * share_of(k, stray_sds * sd, axes);
    sum += static_cast<double>(counts[k]) * std::log(std::max(share, tiny));
  }
  return sum;
}

}  // namespace

RoundedRest rounded_rest(const std::vector<std::size_t>& counts, double step_mps) {
  RoundedRest found;
  double best = -std::numeric_limits<double>::infinity();
  for (const int axes : {2, 1}) {  // of two that are as likely, the usual one
    for (int power = 0; power < sds_tried; ++power) {
      const double sd = least_sd_steps * std::pow(sd_ratio, power);
      const double now = log_likelihood(counts, sd, axes);
      if (now > best + 1e-9) {
        best = now;
        found = {axes, sd * step_mps};
      }
    }
  }
  return found;
}

}  // namespace bothways
