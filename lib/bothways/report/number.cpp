#include "bothways/report/number.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

Shown with_decimals(const Estimate& rounded_estimate, int decimals) {
  const Estimate& e = rounded_estimate;
  const double half = rounded(std::max(e.hi95 - e.value, e.value - e.lo95), machine_decimals);
  return {fixed(e.value, decimals), fixed(half, decimals)};
}

std::string with_half(const Shown& s) {
  return s.value + " ± " + s.half;
}

/// Whether the longer arm, taken downwards, would read as nothing or less of something that is above zero.
bool reaches_below_nothing(const Estimate& estimate, int decimals) {
  const Estimate e = rounded(estimate);
  return e.lo95 > 0.0 && rounded(e.hi95 - e.value, decimals) >= rounded(e.value, decimals);
}

/// "0.3 to 5.9", with so many decimals that its lower end does not read as zero.
std::string interval_text(const Estimate& estimate, int decimals) {
  while (decimals < machine_decimals && rounded(estimate.lo95, decimals) <= 0.0) {
    ++decimals;
  }
  return fixed(estimate.lo95, decimals) + " to " + fixed(estimate.hi95, decimals);
}

}  // namespace

bool is_printable(const Estimate& e) {
  return std::isfinite(e.value) && std::isfinite(e.sd) && std::isfinite(e.lo95) && std::isfinite(e.hi95);
}

Shown shown(const Estimate& estimate) {
  const Estimate e = rounded(estimate);
  return with_decimals(e, decimals_for(e));
}

int common_decimals(std::span<const Estimate> column) {
  int least = machine_decimals;
  double narrowest = 0.0;
  bool any = false;
  for (const Estimate& estimate : column) {
    if (!is_printable(estimate)) {
      continue;
    }
    const Estimate e = rounded(estimate);
    const double half = rounded(std::max(e.hi95 - e.value, e.value - e.lo95), machine_decimals);
    least = std::min(least, decimals_for(e));
    narrowest = half > 0.0 && (narrowest == 0.0 || half < narrowest) ? half : narrowest;
    any = true;
  }
  int needed = 0;
  while (needed < machine_decimals && narrowest > 0.0 && rounded(narrowest, needed) == 0.0) {
    ++needed;
  }
  return any ? std::max(least, needed) : 0;
}

int common_decimals(std::span<const Estimate> column, std::span<const Estimate> differences) {
  int decimals = common_decimals(column);
  for (const Estimate& difference : differences) {
    if (is_printable(difference)) {
      decimals = std::max(decimals, difference_decimals(rounded(difference)));
    }
  }
  return decimals;
}

Shown shown(const Estimate& estimate, int decimals) {
  return with_decimals(rounded(estimate), decimals);
}

std::string plus_minus(const Estimate& estimate, int decimals) {
  return reaches_below_nothing(estimate, decimals) ? interval_text(estimate, decimals)
                                                   : with_half(shown(estimate, decimals));
}

std::string plus_minus(const Estimate& estimate) {
  return plus_minus(estimate, decimals_for(rounded(estimate)));
}

std::string signed_plus_minus(const Estimate& difference) {
  const Estimate e = rounded(difference);
  const Shown s = with_decimals(e, difference_decimals(e));
  const bool is_zero = s.value.find_first_of("123456789") == std::string::npos;
  return (e.value > 0.0 && !is_zero ? "+" : "") + s.value + " ± " + s.half;
}

std::string shown_like(double value, const Estimate& beside) {
  return fixed(rounded(value, machine_decimals), decimals_for(rounded(beside)));
}

}  // namespace bothways
