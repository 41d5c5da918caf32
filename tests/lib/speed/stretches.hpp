#pragma once

#include "bothways/speed/series.hpp"

#include <algorithm>
#include <iterator>
#include <vector>

namespace bothways {

/// Speeds so far apart in time, all valid.
inline Stretch stretch_of(const std::vector<double>& v_mps, double dt_s = 0.1) {
  Stretch s;
  for (const double v : v_mps) {
    s.t_s.push_back(dt_s * static_cast<double>(s.t_s.size()));
    s.v_mps.push_back(v);
    s.sd_mps.push_back(0.05);
    s.validity.push_back(Validity::valid);
  }
  return s;
}

inline std::vector<bool> outliers(const Stretch& s) {
  std::vector<bool> out;
  std::transform(s.validity.begin(), s.validity.end(), std::back_inserter(out),
                 [](Validity v) { return v != Validity::valid; });
  return out;
}

}  // namespace bothways
