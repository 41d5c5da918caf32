#include "bothways/speed/outliers.hpp"

#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace bothways {

namespace {

using Limits = OutlierLimits;

constexpr std::size_t no_row = SIZE_MAX;

/// For each row the last valid one before it, or `no_row`.
std::vector<std::size_t> valid_before(const Stretch& s) {
  std::vector<std::size_t> before(s.t_s.size(), no_row);
  for (std::size_t i = 1; i < before.size(); ++i) {
    before[i] = is_valid(s, i - 1) ? i - 1 : before[i - 1];
  }
  return before;
}

/// A jump into a valid row from the last valid one before it.
bool jumps(const Stretch& s, std::size_t before, std::size_t to) {
  return is_valid(s, to) && before != no_row &&
         std::abs(s.v_mps[to] - s.v_mps[before]) >
             Limits::jump_mps + Limits::most_accel_mps2 * (s.t_s[to] - s.t_s[before]);
}

/// First row after a jump to `from` that is back where the vehicle may be; 0 if there is none.
std::size_t back_from(const Stretch& s, const std::vector<std::size_t>& before, std::size_t from) {
  const std::size_t last = std::min(s.t_s.size(), from + Limits::most_samples);
  for (std::size_t i = from + 1; i < last && s.t_s[i] - s.t_s[from] <= Limits::longest_excursion_s; ++i) {
    const double driven = Limits::jump_mps / 2.0 + Limits::driven_mps2 * (s.t_s[i] - s.t_s[before[from]]);
    if (jumps(s, before[i], i) && std::abs(s.v_mps[i] - s.v_mps[before[from]]) <= driven) {
      return i;
    }
  }
  return 0;
}

/// Change between two rows, in units of what an acceleration makes in that time.
double change(const Stretch& s, std::size_t from, std::size_t to, double mps2) {
  return (s.v_mps[to] - s.v_mps[from]) / (mps2 * std::max(s.t_s[to] - s.t_s[from], Limits::least_step_s));
}

/// Rows from..back-1 stand out against the row before and that at `back`.
bool stand_out(const Stretch& s, std::size_t before, std::size_t from, std::size_t back) {
  const double mps2 = back - from == 1 ? Limits::most_accel_mps2 : Limits::patch_accel_mps2;
  const double there = change(s, before, from, mps2);
  const double back_again = change(s, back - 1, back, mps2);
  return (there > 1.0 && back_again < -1.0) || (there < -1.0 && back_again > 1.0);
}

/// First row after a spike that begins at `from`; `from` if there is none.
/// @param before  the last valid row before it: back from a spike is no jump
std::size_t spike_end(const Stretch& s, std::size_t before, std::size_t from) {
  for (std::size_t back = from + 1; back < s.t_s.size() && back - from <= Limits::patch_samples; ++back) {
    if (back - from > 1 && s.t_s[back] - s.t_s[before] > Limits::patch_s) {
      break;
    }
    if (stand_out(s, before, from, back)) {
      return back;
    }
  }
  return from;
}

/// Whether the first or last row cannot be, judged by its one neighbour.
bool is_spiked_end(const Stretch& s, std::size_t end, std::size_t neighbour) {
  const double jump = change(s, std::min(end, neighbour), std::max(end, neighbour), Limits::most_accel_mps2);
  return is_valid(s, neighbour) && std::abs(jump) > 1.0;
}

std::size_t mark(Stretch& s, std::size_t from, std::size_t end, Validity verdict) {
  std::size_t marked = 0;
  for (std::size_t i = from; i < end; ++i) {
    if (is_valid(s, i)) {
      s.validity[i] = verdict;
      ++marked;
    }
  }
  return marked;
}

}  // namespace

std::size_t mark_spikes(Stretch& stretch) {
  std::size_t marked = 0;
  const std::size_t n = stretch.t_s.size();
  std::size_t before = 0;
  for (std::size_t i = 1; i + 1 < n;) {
    before = is_valid(stretch, i - 1) ? i - 1 : before;
    const std::size_t end = spike_end(stretch, before, i);
    marked += mark(stretch, i, end, Validity::spike);
    i = std::max(i + 1, end);
  }
  if (n > 2 && is_spiked_end(stretch, 0, 1)) {
    marked += mark(stretch, 0, 1, Validity::spike);
  }
  if (n > 2 && is_spiked_end(stretch, n - 1, n - 2)) {
    marked += mark(stretch, n - 1, n, Validity::spike);
  }
  return marked;
}

std::size_t mark_excursions(Stretch& stretch) {
  const std::vector<std::size_t> before = valid_before(stretch);
  std::size_t marked = 0;
  for (std::size_t i = 1; i + 1 < stretch.t_s.size(); ++i) {
    const std::size_t back = jumps(stretch, before[i], i) ? back_from(stretch, before, i) : 0;
    if (back == 0) {
      continue;
    }
    marked += mark(stretch, i, back, Validity::excursion);
    i = back;
  }
  return marked;
}

}  // namespace bothways
