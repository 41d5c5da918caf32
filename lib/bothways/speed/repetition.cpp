#include "bothways/speed/repetition.hpp"

#include "bothways/core/geodesy.hpp"
#include "bothways/numeric/robust.hpp"
#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>
#include <utility>

namespace bothways {

namespace {

constexpr double finest_speed_step_mps = 1e-3;  // written, where the log's own step is finer than matters
constexpr double finest_place_step_deg = 1e-9;
constexpr double surely_moving_mps = 2.0;    // below it receivers may hold speed and place
constexpr double jump_steps = 2.5;           // what rises through coarse steps row by row takes one or two
constexpr std::size_t enough_jumps = 30;     // in motion
constexpr std::size_t most_blocks = 40'000;  // looked at: more tell no more
constexpr double most_of_jumps = 0.5;        // are shown again: three rows for two readings, or more
constexpr double most_even = 0.9;  // of the blocks last a period, to a row: no receiver's are more uneven
constexpr std::size_t beat_blocks = 10;     // on either side; clocks drift by less than a row over them
constexpr double least_step_s = 1e-5;       // between readings
constexpr double nearly_all_blocks = 0.95;  // are within a row of the beat

bool is_same(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

bool shows_again(const Fix& row, const Fix& before) {
  return is_same(row.speed_mps, before.speed_mps) && is_same(row.lat_deg, before.lat_deg) &&
         is_same(row.lon_deg, before.lon_deg);
}

double between_s(const std::vector<const Fix*>& fixes, std::size_t a, std::size_t b) {
  return seconds_between(fixes[a]->time, fixes[b]->time);
}

double way_m(const Fix& from, const Fix& to) {
  const PlanePoint at = LocalPlane({from.lat_deg, from.lon_deg}).to_plane({to.lat_deg, to.lon_deg});
  return std::hypot(at.east_m, at.north_m);
}

/// Rows begin..end-1 that show one reading.
struct Block {
  std::size_t begin = 0;
  std::size_t end = 0;
};

std::vector<Block> blocks_of(const std::vector<const Fix*>& fixes) {
  std::vector<Block> blocks;
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    if (i == 0 || !shows_again(*fixes[i], *fixes[i - 1])) {
      blocks.push_back({i, i});
    }
    blocks.back().end = i + 1;
  }
  return blocks;
}

/// Step of a column of places, degrees: the smallest change.
double place_step_deg(const std::vector<const Fix*>& fixes, double Fix::*column) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    const double change = std::abs(fixes[i]->*column - fixes[i - 1]->*column);
    least = change > finest_place_step_deg ? std::min(least, change) : least;
  }
  return least;
}

/// Speed about a change of blocks, m/s: as reported, the lesser of both; else the way from one block to the
/// next but one, or the one before, whichever is slower.
double speed_at_change_mps(const std::vector<const Fix*>& fixes, const std::vector<Block>& blocks,
                           std::size_t k) {
  const Fix& before = *fixes[blocks[k - 1].begin];
  const Fix& now = *fixes[blocks[k].begin];
  if (is_known(now.speed_mps) && is_known(before.speed_mps)) {
    return std::min(now.speed_mps, before.speed_mps);
  }
  const auto way_mps = [&](std::size_t from, std::size_t to) {
    const Fix& a = *fixes[blocks[from].begin];
    const Fix& b = *fixes[blocks[to].begin];
    return way_m(a, b) / seconds_between(a.time, b.time);
  };
  return k >= 2 && k + 1 < blocks.size() ? std::min(way_mps(k - 2, k), way_mps(k - 1, k + 1)) : 0.0;
}

bool is_held_at_rest(const std::vector<const Fix*>& fixes, const Block& block) {
  const Fix& fix = *fixes[block.begin];
  if (is_known(fix.speed_mps)) {
    return fix.speed_mps < RestLimits::most_mps || !is_known(fix.lat_deg);
  }
  if (block.end == fixes.size()) {
    return true;
  }
  const Fix& next = *fixes[block.end];
  return way_m(fix, next) < RestLimits::most_mps * between_s(fixes, block.begin, block.end);
}

/// Where the beat would put a reading no later than the one before, both keep the times of their first rows.
void keep_order(const std::vector<double>& first_s, std::vector<double>& beats_s) {
  for (std::size_t k = 1; k < beats_s.size(); ++k) {
    for (std::size_t i = k; i > 0 && beats_s[i] < beats_s[i - 1] + least_step_s; --i) {
      beats_s[i] = first_s[i];
      beats_s[i - 1] = first_s[i - 1];
    }
  }
}

/// Times of the beat that first rows follow within a row; empty where they follow none.
std::vector<double> times_of_beat(const std::vector<double>& first_s, const Repetition& repetition) {
  std::vector<double> late_s;
  std::vector<double> beats_s;
  double beat_s = 0.0;
  for (std::size_t k = 0; k < first_s.size(); ++k) {
    const double step_s = k > 0 ? first_s[k] - first_s[k - 1] : 0.0;
    beat_s += k > 0 ? repetition.period_s * std::max(1.0, std::round(step_s / repetition.period_s)) : 0.0;
    beats_s.push_back(beat_s);
    late_s.push_back(first_s[k] - beat_s);
  }
  std::size_t within = 0;
  for (std::size_t k = 0; k < first_s.size(); ++k) {
    const std::size_t from = k - std::min(k, beat_blocks);
    const std::size_t to = std::min(first_s.size(), k + beat_blocks + 1);
    const double usual_s = numeric::quantile({late_s.begin() + static_cast<std::ptrdiff_t>(from),
                                              late_s.begin() + static_cast<std::ptrdiff_t>(to)},
                                             0.5);
    const bool on_beat = std::abs(late_s[k] - usual_s) <= 1.01 * repetition.row_s;
    within += on_beat ? 1U : 0U;
    beats_s[k] = on_beat ? beats_s[k] + usual_s : first_s[k];
  }
  if (static_cast<double>(within) < nearly_all_blocks * static_cast<double>(first_s.size())) {
    return {};
  }
  keep_order(first_s, beats_s);
  return beats_s;
}

}  // namespace

std::optional<Repetition> repetition_of(const std::vector<const Fix*>& fixes, double speed_step_mps) {
  if (fixes.size() < 2 * enough_jumps) {
    return std::nullopt;
  }
  const double lat_step = place_step_deg(fixes, &Fix::lat_deg);
  const double lon_step = place_step_deg(fixes, &Fix::lon_deg);
  const double speed_step = std::max(speed_step_mps, finest_speed_step_mps);
  const auto jumps = [&](const Fix& a, const Fix& b) {
    return std::abs(b.speed_mps - a.speed_mps) > jump_steps * speed_step ||
           std::abs(b.lat_deg - a.lat_deg) > jump_steps * lat_step ||
           std::abs(b.lon_deg - a.lon_deg) > jump_steps * lon_step;
  };
  const std::vector<Block> blocks = blocks_of(fixes);
  std::size_t all = 0;
  std::size_t again = 0;
  std::vector<double> apart_s;
  for (std::size_t k = 1; k + 1 < std::min(blocks.size(), most_blocks); ++k) {
    if (speed_at_change_mps(fixes, blocks, k) < surely_moving_mps ||
        !jumps(*fixes[blocks[k - 1].begin], *fixes[blocks[k].begin])) {
      continue;
    }
    ++all;
    again += blocks[k].end - blocks[k].begin >= 2 ? 1U : 0U;
    apart_s.push_back(between_s(fixes, blocks[k].begin, blocks[k + 1].begin));
  }
  if (all < enough_jumps || static_cast<double>(again) < most_of_jumps * static_cast<double>(all)) {
    return std::nullopt;
  }
  std::vector<double> rows_s;
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    rows_s.push_back(between_s(fixes, i - 1, i));
  }
  Repetition repetition;
  repetition.row_s = std::max(numeric::quantile(std::move(rows_s), 0.5), 1e-3);
  const double longest_s =
      numeric::quantile(apart_s, 0.75) + 1.01 * repetition.row_s;  // longer ones lost a reading
  const auto lost = std::partition(apart_s.begin(), apart_s.end(), [&](double s) { return s <= longest_s; });
  repetition.period_s =
      std::accumulate(apart_s.begin(), lost, 0.0) / static_cast<double>(std::distance(apart_s.begin(), lost));
  const auto even = std::count_if(apart_s.begin(), apart_s.end(), [&](double s) {
    return std::abs(s - repetition.period_s) <= 1.01 * repetition.row_s;
  });
  if (static_cast<double>(even) < most_even * static_cast<double>(all)) {
    return std::nullopt;
  }
  return repetition;
}

std::vector<Fix> first_showings(const std::vector<const Fix*>& fixes, const Repetition& repetition) {
  std::vector<Fix> out;
  std::vector<double> first_s;
  for (const Block& block : blocks_of(fixes)) {
    const bool held = is_held_at_rest(fixes, block);
    double due_s = 0.0;
    for (std::size_t i = block.begin; i < block.end; ++i) {
      const double since_s = between_s(fixes, block.begin, i);
      const double left_s = block.end < fixes.size() ? between_s(fixes, i, block.end) : repetition.period_s;
      if (i == block.begin ||
          (held && since_s > due_s - 0.5 * repetition.row_s && left_s > 0.5 * repetition.period_s)) {
        out.push_back(*fixes[i]);
        first_s.push_back(between_s(fixes, 0, i));
        // On the block's beat, but not behind: a recorder may pause while a reading is held.
        due_s = repetition.period_s *
                (std::floor((since_s + 0.5 * repetition.row_s) / repetition.period_s + 1e-9) + 1.0);
      }
    }
  }
  const std::vector<double> beats_s = times_of_beat(first_s, repetition);
  for (std::size_t k = 0; k < beats_s.size(); ++k) {
    out[k].time = shifted(fixes.front()->time, beats_s[k]);
  }
  return out;
}

}  // namespace bothways
