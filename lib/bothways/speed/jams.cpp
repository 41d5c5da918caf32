#include "bothways/speed/jams.hpp"

#include <cmath>

namespace bothways {

namespace {

constexpr double jump_mps = 6.0;  // beyond any noise seen
constexpr double jump_mps2 = 14.0;
constexpr double ridden_mps2 = 8.0;  // what a vehicle may have gained or lost meanwhile
constexpr double longest_s = 12.0;

bool jumps(const Stretch& s, std::size_t to) {
  return std::abs(s.v_mps[to] - s.v_mps[to - 1]) > jump_mps + jump_mps2 * (s.t_s[to] - s.t_s[to - 1]);
}

/// First row after a jump to `from` that is back where the vehicle may be; 0 if there is none.
std::size_t back_from(const Stretch& s, std::size_t from) {
  const std::size_t before = from - 1;
  for (std::size_t i = from + 1; i < s.t_s.size() && s.t_s[i] - s.t_s[from] <= longest_s; ++i) {
    const double ridden = jump_mps / 2.0 + ridden_mps2 * (s.t_s[i] - s.t_s[before]);
    if (jumps(s, i) && std::abs(s.v_mps[i] - s.v_mps[before]) <= ridden) {
      return i;
    }
  }
  return 0;
}

}  // namespace

std::size_t mark_jams(Stretch& stretch) {
  std::size_t marked = 0;
  for (std::size_t i = 1; i + 1 < stretch.t_s.size(); ++i) {
    const std::size_t back = jumps(stretch, i) ? back_from(stretch, i) : 0;
    if (back == 0) {
      continue;
    }
    for (; i < back; ++i) {
      stretch.sd_mps[i] = disbelieved_mps;
      ++marked;
    }
  }
  return marked;
}

}  // namespace bothways
