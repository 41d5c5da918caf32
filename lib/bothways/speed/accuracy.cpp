#include "bothways/speed/accuracy.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace bothways {

namespace {

constexpr double tolerated_worse = 1.6;  // an accuracy figure may wander this much without meaning anything
constexpr double most_worse = 30.0;

}  // namespace

std::vector<double> worse_than_usual(const std::vector<const Fix*>& fixes) {
  std::vector<double> out(fixes.size(), 1.0);
  for (const auto figure : {&Fix::speed_sd_mps, &Fix::position_sd_m, &Fix::hdop}) {
    std::vector<double> known;
    for (const Fix* fix : fixes) {
      if (is_known(fix->*figure)) {
        known.push_back(fix->*figure);
      }
    }
    if (known.size() * 2 < fixes.size()) {
      continue;
    }
    const double usual = numeric::quantile(std::move(known), 0.5);
    for (std::size_t i = 0; i < fixes.size(); ++i) {
      const double ratio = fixes[i]->*figure / usual;
      out[i] = ratio > tolerated_worse ? std::min(ratio, most_worse) : 1.0;
    }
    break;
  }
  return out;
}

}  // namespace bothways
