#include "bothways/trip/samples.hpp"

#include "bothways/core/geodesy.hpp"
#include "bothways/log/log.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

// Limits of what is likely: common practice, no source.
constexpr double straight_gap_s = 600.0;
constexpr double coasting_gap_s = 15.0;
constexpr double gap_speed_slack = 1.1;
constexpr double gap_speed_slack_mps = 2.0;
constexpr double least_ride_m = 3.0;
constexpr double least_ride_s = 1.0;
constexpr double least_stand_s = 3.0;

void append_valid(const SpeedSeries& series, std::size_t index, std::vector<ValidSample>& rows) {
  const Stretch& stretch = series.stretches[index];
  const double offset_s = seconds_between(series.stretches.front().start, stretch.start);
  for (std::size_t i = 0; i < stretch.t_s.size(); ++i) {
    if (is_valid(stretch, i)) {
      rows.push_back({offset_s + stretch.t_s[i], stretch.v_mps[i], static_cast<std::uint32_t>(index),
                      static_cast<std::uint32_t>(i)});
    }
  }
}

PlanePoint place_of(const SpeedSeries& series, const ValidSample& row) {
  const Stretch& stretch = series.stretches[row.stretch];
  return {stretch.east_m[row.row], stretch.north_m[row.row]};
}

/// How a gap between two rows is crossed.
struct Crossed {
  Between how = Between::open;
  double travel_m = 0.0;
};

Crossed cross(const SpeedSeries& series, const ValidSample& a, const ValidSample& b, double top_mps) {
  const double dt = b.t_s - a.t_s;
  const double by_speed_m = (a.v_mps + b.v_mps) / 2.0 * dt;
  if (a.stretch == b.stretch && dt <= coasting_gap_s) {
    return {Between::bridged, by_speed_m};  // outliers: the places are not to be trusted either
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

void fill_between(const SpeedSeries& series, ValidSamples& samples) {
  double top_mps = 0.0;
  for (const ValidSample& row : samples.rows) {
    top_mps = std::max(top_mps, row.v_mps);
  }
  const double step_s = longest_step_s(series);
  for (std::size_t i = 0; i + 1 < samples.rows.size(); ++i) {
    const ValidSample& a = samples.rows[i];
    const ValidSample& b = samples.rows[i + 1];
    Crossed crossed{Between::ride, (a.v_mps + b.v_mps) / 2.0 * (b.t_s - a.t_s)};
    if (a.stretch != b.stretch || (b.row != a.row + 1 && b.t_s - a.t_s > step_s)) {
      crossed = cross(series, a, b, top_mps);
    }
    samples.between.push_back(crossed.how);
    samples.travel_m.push_back(crossed.travel_m);
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

void tell_moving(const SpeedSeries& series, ValidSamples& samples) {
  const auto& rows = samples.rows;
  samples.moving.resize(rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    samples.moving[i] = series.stretches[rows[i].stretch].at_rest[rows[i].row] != 0 ? 0 : 1;
  }
  const std::vector<char> by_sample = samples.moving;
  for_spells(by_sample, 0, [&](std::size_t first, std::size_t last) {
    const bool inside = first > 0 && last + 1 < rows.size();
    if (inside && rows[last + 1].t_s - rows[first - 1].t_s < least_stand_s) {
      std::fill_n(samples.moving.begin() + static_cast<std::ptrdiff_t>(first), last - first + 1, char{1});
    }
  });
  const std::vector<char> by_rest = samples.moving;
  for_spells(by_rest, 1, [&](std::size_t first, std::size_t last) {
    double travel_m = 0.0;
    for (std::size_t i = first; i < last; ++i) {
      travel_m += samples.travel_m[i];
    }
    if (travel_m < least_ride_m || rows[last].t_s - rows[first].t_s < least_ride_s) {
      std::fill_n(samples.moving.begin() + static_cast<std::ptrdiff_t>(first), last - first + 1, char{0});
    }
  });
}

}  // namespace

ValidSamples valid_samples(const SpeedSeries& series) {
  ValidSamples samples;
  for (std::size_t index = 0; index < series.stretches.size(); ++index) {
    append_valid(series, index, samples.rows);
  }
  fill_between(series, samples);
  tell_moving(series, samples);
  return samples;
}

}  // namespace bothways
