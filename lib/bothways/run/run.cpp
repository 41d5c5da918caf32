#include "bothways/run/run.hpp"

namespace bothways {

const char* to_string(Clock clock) {
  return clock == Clock::rollout ? "rollout" : "movement";
}

const char* describe(Clock clock) {
  return clock == Clock::rollout ? "time after the first foot (0.30 m) of travel"
                                 : "time from first movement";
}

}  // namespace bothways
