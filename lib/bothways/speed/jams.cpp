#include "bothways/speed/jams.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace bothways {

namespace {

constexpr double jump_mps = 6.0;  // beyond any noise seen
constexpr double jump_mps2 = 14.0;
constexpr double ridden_mps2 = 8.0;  // what a vehicle may have gained or lost meanwhile
constexpr double longest_s = 12.0;
constexpr std::size_t most_rows = 1000;  // in that time: no receiver is quicker

// Of one reading; of several less will do, for a vehicle that gained 1 g does not lose 1 g at once.
constexpr double spike_mps2 = 14.0;
constexpr double spikes_mps2 = 10.0;
constexpr double spikes_s = 1.0;
constexpr std::size_t most_spikes = 3;

constexpr std::size_t none = SIZE_MAX;

bool is_believed(const Stretch& s, std::size_t row) {
  return s.sd_mps[row] < disbelieved_mps;
}

/// For each row the last believed one before it, or `none`.
std::vector<std::size_t> believed_before(const Stretch& s) {
  std::vector<std::size_t> before(s.t_s.size(), none);
  for (std::size_t i = 1; i < before.size(); ++i) {
    before[i] = is_believed(s, i - 1) ? i - 1 : before[i - 1];
  }
  return before;
}

/// A jump into a believed row from the last believed one before it.
bool jumps(const Stretch& s, std::size_t before, std::size_t to) {
  return is_believed(s, to) && before != none &&
         std::abs(s.v_mps[to] - s.v_mps[before]) > jump_mps + jump_mps2 * (s.t_s[to] - s.t_s[before]);
}

/// First row after a jump to `from` that is back where the vehicle may be; 0 if there is none.
std::size_t back_from(const Stretch& s, const std::vector<std::size_t>& before, std::size_t from) {
  const std::size_t last = std::min(s.t_s.size(), from + most_rows);
  for (std::size_t i = from + 1; i < last && s.t_s[i] - s.t_s[from] <= longest_s; ++i) {
    const double ridden = jump_mps / 2.0 + ridden_mps2 * (s.t_s[i] - s.t_s[before[from]]);
    if (jumps(s, before[i], i) && std::abs(s.v_mps[i] - s.v_mps[before[from]]) <= ridden) {
      return i;
    }
  }
  return 0;
}

/// Change between two rows, in units of what an acceleration makes in that time.
double change(const Stretch& s, std::size_t from, std::size_t to, double mps2) {
  return (s.v_mps[to] - s.v_mps[from]) / (mps2 * std::max(s.t_s[to] - s.t_s[from], 0.1));
}

/// Rows from..back-1 stand out against the row before and that at `back`.
bool stand_out(const Stretch& s, std::size_t before, std::size_t from, std::size_t back) {
  const double mps2 = back - from == 1 ? spike_mps2 : spikes_mps2;
  const double there = change(s, before, from, mps2);
  const double back_again = change(s, back - 1, back, mps2);
  return (there > 1.0 && back_again < -1.0) || (there < -1.0 && back_again > 1.0);
}

/// First row after a spike that begins at `from`; `from` if there is none.
/// @param before  the last believed row before it: back from a spike is no jump
std::size_t spike_end(const Stretch& s, std::size_t before, std::size_t from) {
  for (std::size_t back = from + 1; back < s.t_s.size() && back - from <= most_spikes; ++back) {
    if (back - from > 1 && s.t_s[back] - s.t_s[before] > spikes_s) {
      break;
    }
    if (stand_out(s, before, from, back)) {
      return back;
    }
  }
  return from;
}

/// Whether the first or last row cannot be, judged by its one neighbour.
bool is_wild_end(const Stretch& s, std::size_t end, std::size_t neighbour) {
  return is_believed(s, neighbour) &&
         std::abs(change(s, std::min(end, neighbour), std::max(end, neighbour), spike_mps2)) > 1.0;
}

std::size_t disbelieve(Stretch& s, std::size_t from, std::size_t end) {
  std::size_t marked = 0;
  for (std::size_t i = from; i < end; ++i) {
    marked += s.sd_mps[i] < disbelieved_mps ? std::size_t{1} : 0;
    s.sd_mps[i] = disbelieved_mps;
  }
  return marked;
}

}  // namespace

std::size_t mark_jams(Stretch& stretch) {
  const std::vector<std::size_t> before = believed_before(stretch);
  std::size_t marked = 0;
  for (std::size_t i = 1; i + 1 < stretch.t_s.size(); ++i) {
    const std::size_t back = jumps(stretch, before[i], i) ? back_from(stretch, before, i) : 0;
    if (back == 0) {
      continue;
    }
    marked += disbelieve(stretch, i, back);
    i = back;
  }
  return marked;
}

std::size_t mark_spikes(Stretch& stretch) {
  std::size_t marked = 0;
  const std::size_t n = stretch.t_s.size();
  std::size_t before = 0;
  for (std::size_t i = 1; i + 1 < n;) {
    before = is_believed(stretch, i - 1) ? i - 1 : before;
    const std::size_t end = spike_end(stretch, before, i);
    marked += disbelieve(stretch, i, end);
    i = std::max(i + 1, end);
  }
  if (n > 2 && is_wild_end(stretch, 0, 1)) {
    marked += disbelieve(stretch, 0, 1);
  }
  if (n > 2 && is_wild_end(stretch, n - 1, n - 2)) {
    marked += disbelieve(stretch, n - 1, n);
  }
  return marked;
}

}  // namespace bothways
