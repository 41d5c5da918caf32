#include "support/simulate/random.hpp"

#include <cmath>

namespace bothways::sim {

Random::Random(std::uint64_t seed) : bits_(seed) {}

double Random::uniform() {
  return static_cast<double>(bits_() >> 11U) * 0x1p-53;
}

double Random::uniform(double lo, double hi) {
  return lo + (hi - lo) * uniform();
}

double Random::normal() {
  if (has_spare_) {
    has_spare_ = false;
    return spare_;
  }
  double x = 0.0;
  double y = 0.0;
  double r2 = 0.0;
  do {  // polar method: a point in the unit circle gives two normal numbers
    x = uniform(-1.0, 1.0);
    y = uniform(-1.0, 1.0);
    r2 = x * x + y * y;
  } while (r2 >= 1.0 || r2 == 0.0);
  const double scale = std::sqrt(-2.0 * std::log(r2) / r2);
  spare_ = y * scale;
  has_spare_ = true;
  return x * scale;
}

int Random::integer(int lo, int hi) {
  return lo + static_cast<int>(uniform() * (hi - lo + 1));
}

SlowNoise::SlowNoise(double sd, double time_s, Random& random)
    : sd_(sd), time_s_(time_s), value_(sd * random.normal()) {}

double SlowNoise::step(double dt_s, Random& random) {
  const double keep = std::exp(-dt_s / time_s_);
  value_ = keep * value_ + sd_ * std::sqrt(1.0 - keep * keep) * random.normal();
  return value_;
}

}  // namespace bothways::sim
