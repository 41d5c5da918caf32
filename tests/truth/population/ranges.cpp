#include "truth/population/ranges.hpp"

#include <cmath>

namespace bothways::population {

double even(sim::Random& random, const Range& range) {
  return random.uniform(range.lo, range.hi);
}

double log_even(sim::Random& random, const Range& range) {
  return range.lo * std::exp(random.uniform() * std::log(range.hi / range.lo));
}

bool chance(sim::Random& random, double probability) {
  return random.uniform() < probability;
}

}  // namespace bothways::population
