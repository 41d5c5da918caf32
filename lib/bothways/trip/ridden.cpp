#include "bothways/trip/ridden.hpp"

#include "bothways/core/geodesy.hpp"
#include "bothways/log/log.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace bothways {

namespace {

// Limits of what is likely: common practice, no source.
constexpr double most_accel_mps2 = 12.0;
constexpr double accel_slack_mps = 0.5;
constexpr double accel_slack_sd = 4.0;
constexpr double most_mps = 140.0;
constexpr double wild_piece_s = 60.0;  // a shorter piece that fits neither neighbour is wild
constexpr double straight_gap_s = 600.0;
constexpr double coasting_gap_s = 15.0;
constexpr double gap_speed_slack = 1.1;
constexpr double gap_speed_slack_mps = 2.0;
constexpr double rest_in_sd = 4.0;
constexpr double least_rest_mps = 0.3;
constexpr double least_rest_of_positions_mps = 0.6;  // places wander
constexpr double most_rest_mps = 1.5;
constexpr double least_ride_m = 3.0;
constexpr double least_ride_s = 1.0;
constexpr double least_stand_s = 3.0;

/// Neighbouring readings that a vehicle could have made one after the other.
struct Piece {
  std::size_t first = 0;
  std::size_t last = 0;
  std::size_t before = SIZE_MAX;  // pieces beside it, SIZE_MAX: none
  std::size_t after = SIZE_MAX;
};

bool is_possible(const RiddenRow& a, const RiddenRow& b, double sd_mps) {
  const double limit =
      most_accel_mps2 * std::max(b.t_s - a.t_s, 0.1) + accel_slack_mps + accel_slack_sd * sd_mps;
  return std::abs(b.v_mps - a.v_mps) <= limit;
}

/// Takes short pieces out, shortest first, until what is left fits together.
class Sieve {
 public:
  Sieve(std::vector<RiddenRow>& rows, double sd_mps) : rows_(&rows), sd_mps_(sd_mps) {
    std::size_t first = 0;
    for (std::size_t i = 1; i <= rows.size(); ++i) {
      if (i == rows.size() || !is_possible(rows[i - 1], rows[i], sd_mps)) {
        pieces_.push_back({first, i - 1});
        first = i;
      }
    }
    for (std::size_t k = 0; k < pieces_.size(); ++k) {
      pieces_[k].before = k > 0 ? k - 1 : SIZE_MAX;
      pieces_[k].after = k + 1 < pieces_.size() ? k + 1 : SIZE_MAX;
      queue_.insert({duration(k), k});
    }
  }

  /// Rows that are left.
  std::vector<RiddenRow> sifted() {
    if (pieces_.size() <= 1) {
      return std::move(*rows_);
    }
    std::vector<char> kept(rows_->size(), 1);
    while (queue_.size() > 1 && queue_.begin()->first < wild_piece_s) {
      const std::size_t k = queue_.begin()->second;
      queue_.erase(queue_.begin());
      drop(k, kept);
    }
    std::vector<RiddenRow> rows;
    for (std::size_t i = 0; i < rows_->size(); ++i) {
      if (kept[i] != 0) {
        rows.push_back((*rows_)[i]);
      }
    }
    return rows;
  }

 private:
  [[nodiscard]] double duration(std::size_t k) const {
    return (*rows_)[pieces_[k].last].t_s - (*rows_)[pieces_[k].first].t_s;
  }

  void drop(std::size_t k, std::vector<char>& kept) {
    Piece& piece = pieces_[k];
    for (std::size_t i = piece.first; i <= piece.last; ++i) {
      kept[i] = 0;  // rows of pieces joined over a gap were dropped already
    }
    if (piece.before != SIZE_MAX) {
      pieces_[piece.before].after = piece.after;
    }
    if (piece.after != SIZE_MAX) {
      pieces_[piece.after].before = piece.before;
    }
    if (piece.before != SIZE_MAX && piece.after != SIZE_MAX) {
      join(piece.before, piece.after);
    }
  }

  void join(std::size_t a, std::size_t b) {
    if (!is_possible((*rows_)[pieces_[a].last], (*rows_)[pieces_[b].first], sd_mps_)) {
      return;
    }
    queue_.erase({duration(a), a});
    queue_.erase({duration(b), b});
    pieces_[a].last = pieces_[b].last;
    pieces_[a].after = pieces_[b].after;
    if (pieces_[a].after != SIZE_MAX) {
      pieces_[pieces_[a].after].before = a;
    }
    queue_.insert({duration(a), a});
  }

  std::vector<RiddenRow>* rows_;
  double sd_mps_;
  std::vector<Piece> pieces_;
  std::set<std::pair<double, std::size_t>> queue_;  // by duration
};

double usual_sd(const Receiver& receiver) {
  return std::hypot(receiver.white_sd_mps, receiver.slow_sd_mps);
}

void append_stretch(const SpeedSeries& series, std::size_t index, Ridden& ridden) {
  const Stretch& stretch = series.stretches[index];
  const double offset_s = seconds_between(series.stretches.front().start, stretch.start);
  std::vector<RiddenRow> rows;
  for (std::size_t i = 0; i < stretch.t_s.size(); ++i) {
    if (stretch.sd_mps[i] < disbelieved_mps && stretch.v_mps[i] <= most_mps) {
      rows.push_back({offset_s + stretch.t_s[i], std::max(0.0, stretch.v_mps[i]),
                      static_cast<std::uint32_t>(index), static_cast<std::uint32_t>(i)});
    }
  }
  rows = Sieve(rows, usual_sd(series.receiver)).sifted();
  ridden.wild += stretch.t_s.size() - rows.size();
  ridden.rows.insert(ridden.rows.end(), rows.begin(), rows.end());
}

PlanePoint place_of(const SpeedSeries& series, const RiddenRow& row) {
  const Stretch& stretch = series.stretches[row.stretch];
  return {stretch.east_m[row.row], stretch.north_m[row.row]};
}

/// How a gap between two rows is crossed.
struct Crossed {
  Between how = Between::open;
  double travel_m = 0.0;
};

Crossed cross(const SpeedSeries& series, const RiddenRow& a, const RiddenRow& b, double top_mps) {
  const double dt = b.t_s - a.t_s;
  const double by_speed_m = (a.v_mps + b.v_mps) / 2.0 * dt;
  if (a.stretch == b.stretch && dt <= coasting_gap_s) {
    return {Between::bridged, by_speed_m};  // wild readings: the places are not to be trusted either
  }
  const PlanePoint from = place_of(series, a);
  const PlanePoint to = place_of(series, b);
  if (is_known(from.east_m) && is_known(to.east_m) && dt <= straight_gap_s) {
    const double straight_m =
        geodesic_between(series.plane.from_plane(from), series.plane.from_plane(to)).distance_m;
    if (straight_m <= (gap_speed_slack * top_mps + gap_speed_slack_mps) * dt) {
      return {Between::bridged, straight_m};
    }
  }
  return dt <= coasting_gap_s ? Crossed{Between::bridged, by_speed_m} : Crossed{};
}

/// Longest step between rows of one stretch that is not a gap.
double longest_step_s(const SpeedSeries& series) {
  return 2.5 / series.receiver.rate_hz;
}

void fill_between(const SpeedSeries& series, Ridden& ridden) {
  double top_mps = 0.0;
  for (const RiddenRow& row : ridden.rows) {
    top_mps = std::max(top_mps, row.v_mps);
  }
  const double step_s = longest_step_s(series);
  for (std::size_t i = 0; i + 1 < ridden.rows.size(); ++i) {
    const RiddenRow& a = ridden.rows[i];
    const RiddenRow& b = ridden.rows[i + 1];
    Crossed crossed{Between::ride, (a.v_mps + b.v_mps) / 2.0 * (b.t_s - a.t_s)};
    if (a.stretch != b.stretch || (b.row != a.row + 1 && b.t_s - a.t_s > step_s)) {
      crossed = cross(series, a, b, top_mps);
    }
    ridden.between.push_back(crossed.how);
    ridden.travel_m.push_back(crossed.travel_m);
  }
}

/// Calls `judge(first, last)` for every longest run of rows of one state.
template <typename Judge>
void for_spells(const std::vector<char>& moving, char state, Judge judge) {
  for (std::size_t i = 0; i < moving.size();) {
    std::size_t k = i;
    while (k + 1 < moving.size() && moving[k + 1] == moving[i]) {
      ++k;
    }
    if (moving[i] == state) {
      judge(i, k);
    }
    i = k + 1;
  }
}

void tell_moving(Ridden& ridden) {
  const auto& rows = ridden.rows;
  ridden.moving.resize(rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    ridden.moving[i] = rows[i].v_mps >= ridden.rest_mps ? 1 : 0;
  }
  const std::vector<char> first_guess = ridden.moving;
  for_spells(first_guess, 0, [&](std::size_t first, std::size_t last) {
    const bool inside = first > 0 && last + 1 < rows.size();
    if (inside && rows[last + 1].t_s - rows[first - 1].t_s < least_stand_s) {
      std::fill_n(ridden.moving.begin() + static_cast<std::ptrdiff_t>(first), last - first + 1, char{1});
    }
  });
  const std::vector<char> second_guess = ridden.moving;
  for_spells(second_guess, 1, [&](std::size_t first, std::size_t last) {
    double travel_m = 0.0;
    for (std::size_t i = first; i < last; ++i) {
      travel_m += ridden.travel_m[i];
    }
    if (travel_m < least_ride_m || rows[last].t_s - rows[first].t_s < least_ride_s) {
      std::fill_n(ridden.moving.begin() + static_cast<std::ptrdiff_t>(first), last - first + 1, char{0});
    }
  });
}

}  // namespace

Ridden ridden_of(const SpeedSeries& series) {
  Ridden ridden;
  const double least_mps =
      series.source == SpeedSource::positions ? least_rest_of_positions_mps : least_rest_mps;
  ridden.rest_mps =
      std::clamp(std::max(rest_in_sd * series.receiver.standing_sd_mps, series.receiver.zero_hold_mps),
                 least_mps, most_rest_mps);
  for (std::size_t index = 0; index < series.stretches.size(); ++index) {
    append_stretch(series, index, ridden);
  }
  if (ridden.rows.empty()) {
    return ridden;
  }
  fill_between(series, ridden);
  tell_moving(ridden);
  return ridden;
}

}  // namespace bothways
