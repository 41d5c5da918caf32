#include "bothways/run/run.hpp"

#include <algorithm>

namespace bothways {

const char* to_string(Clock clock) {
  return clock == Clock::rollout ? "rollout" : "movement";
}

const char* describe(Clock clock) {
  return clock == Clock::rollout ? "time after the first foot (0.30 m) of travel"
                                 : "time from first movement";
}

const Split* find_split(const Run& run, const std::string& name) {
  const auto found =
      std::find_if(run.splits.begin(), run.splits.end(), [&](const Split& s) { return s.spec.name == name; });
  return found == run.splits.end() ? nullptr : &*found;
}

}  // namespace bothways
