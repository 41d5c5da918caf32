#include "bothways/run/run.hpp"

#include <algorithm>
#include <numeric>

namespace bothways {

const char* to_string(Clock clock) {
  return clock == Clock::rollout ? "rollout" : "movement";
}

const char* describe(Clock clock) {
  return clock == Clock::rollout ? "time after the first foot (0.30 m) of travel"
                                 : "time from first movement";
}

double shared_covariance(const std::vector<double>& one_s, const std::vector<double>& other_s) {
  return one_s.size() == other_s.size() ? std::inner_product(one_s.begin(), one_s.end(), other_s.begin(), 0.0)
                                        : 0.0;
}

const Split* find_split(const Run& run, const std::string& name) {
  const auto found =
      std::find_if(run.splits.begin(), run.splits.end(), [&](const Split& s) { return s.spec.name == name; });
  return found == run.splits.end() ? nullptr : &*found;
}

}  // namespace bothways
