#pragma once

#include <cstdint>
#include <random>

namespace bothways::sim {

/// Seeded random numbers that are the same with every standard library (std::normal_distribution is not).
class Random {
 public:
  explicit Random(std::uint64_t seed);
  [[nodiscard]] double uniform();                      ///< [0, 1)
  [[nodiscard]] double uniform(double lo, double hi);  ///< [lo, hi)
  [[nodiscard]] double normal();                       ///< mean 0, sd 1
  [[nodiscard]] int integer(int lo, int hi);           ///< lo..hi, both included

 private:
  std::mt19937_64 bits_;
  double spare_ = 0.0;
  bool has_spare_ = false;
};

/// Slowly correlated noise with a given sd and correlation time (first-order Gauss-Markov process).
class SlowNoise {
 public:
  /// Starts in the stationary state. sd >= 0, time_s > 0.
  SlowNoise(double sd, double time_s, Random& random);
  double step(double dt_s, Random& random);  ///< moves on by dt_s >= 0 and gives the new value
  [[nodiscard]] double value() const { return value_; }

 private:
  double sd_;
  double time_s_;
  double value_;
};

}  // namespace bothways::sim
