#include "bothways/run/homogeneity.hpp"

#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

// Common practice, no source: full throttle on one road repeats to 2 or 3 %; traffic spreads over the 25 %
// that count.
constexpr double one_way_spread = 0.05;
constexpr double both_ways_spread = 0.12;  // slopes of 2 % make 0.07
constexpr double same_way_deg = 25.0;

/// Starts in one direction.
struct Way {
  double heading_deg = 0.0;
  std::vector<double> pulls;
};

bool same_way(double a_deg, double b_deg) {
  if (std::isnan(a_deg) || std::isnan(b_deg)) {
    return std::isnan(a_deg) && std::isnan(b_deg);
  }
  return std::abs(std::remainder(a_deg - b_deg, 360.0)) < same_way_deg;
}

std::vector<Way> ways_of(const std::vector<Pull>& pulls) {
  std::vector<Way> ways;
  for (const Pull& pull : pulls) {
    std::size_t i = 0;
    while (i < ways.size() && !same_way(ways[i].heading_deg, pull.heading_deg)) {
      ++i;
    }
    if (i == ways.size()) {
      ways.push_back({pull.heading_deg, {}});
    }
    ways[i].pulls.push_back(pull.mean_mps2);
  }
  return ways;
}

double mean_of(const std::vector<double>& x) {
  double sum = 0.0;
  for (const double value : x) {
    sum += value;
  }
  return sum / static_cast<double>(x.size());
}

double squares_about(const std::vector<double>& x, double mean) {
  double sum = 0.0;
  for (const double value : x) {
    sum += (value - mean) * (value - mean);
  }
  return sum;
}

}  // namespace

bool homogeneous(const std::vector<Pull>& pulls, double noise_share) {
  if (pulls.size() < 2) {
    return true;
  }
  std::vector<double> all;
  all.reserve(pulls.size());
  for (const Pull& pull : pulls) {
    all.push_back(pull.mean_mps2);
  }
  const double mean = mean_of(all);
  const std::vector<Way> ways = ways_of(pulls);
  double squares = 0.0;
  for (const Way& way : ways) {
    squares += squares_about(way.pulls, mean_of(way.pulls));
  }
  double spread = one_way_spread;
  auto freedom = static_cast<double>(pulls.size() - ways.size());
  if (ways.size() == pulls.size()) {  // each went its own way
    squares = squares_about(all, mean);
    spread = both_ways_spread;
    freedom = static_cast<double>(pulls.size() - 1);
  }
  return squares < freedom * mean * mean * (spread * spread + noise_share * noise_share);
}

}  // namespace bothways
