// docs/method.md, eq. (1.9): D(z) = missing_m.
#include "bothways/speed/departures.hpp"

#include <cmath>
#include <optional>

namespace bothways {

namespace {

constexpr std::size_t least_levels = 6;  // up to 8 m/s
constexpr double longest_departure_s = 10.0;
constexpr double dip_mps = 1.0;  // a gear change
constexpr double off_line_m = 2.5;
// Of the rest before the first reading above it, where the vehicle surely stands: what smooths shows it late.
constexpr double rest_from_s = 2.8;
constexpr double rest_to_s = 0.7;
constexpr double least_rest_s = 0.9;

/// Rows of one departure.
struct DepartureRows {
  std::size_t rest_begin = 0;
  std::size_t rest_end = 0;  ///< one behind the last that tells of the standing place
  std::size_t moving = 0;    ///< the first not at rest
  std::size_t end = 0;       ///< the last
};

std::optional<DepartureRows> rows_of(const Stretch& s, std::size_t moving, double rest_mps) {
  DepartureRows rows{moving, moving, moving, moving};
  while (rows.rest_begin > 0 && s.v_mps[rows.rest_begin - 1] < rest_mps &&
         s.t_s[moving] - s.t_s[rows.rest_begin - 1] < rest_from_s) {
    --rows.rest_begin;
  }
  while (rows.rest_end > rows.rest_begin && s.t_s[moving] - s.t_s[rows.rest_end - 1] < rest_to_s) {
    --rows.rest_end;
  }
  if (rows.rest_end <= rows.rest_begin + 1 ||
      s.t_s[rows.rest_end - 1] - s.t_s[rows.rest_begin] < least_rest_s) {
    return std::nullopt;
  }
  while (rows.end + 1 < s.t_s.size() && s.v_mps[rows.end] <= departure_levels_mps.back() &&
         s.t_s[rows.end] - s.t_s[moving] < longest_departure_s &&
         s.v_mps[rows.end + 1] > s.v_mps[rows.end] - dip_mps) {
    ++rows.end;
  }
  if (!(s.v_mps[rows.end] > departure_levels_mps[least_levels - 1])) {
    return std::nullopt;
  }
  return rows;
}

/// Speed of a reading near rest, the length of it and of noise of that mean square.
double without_noise(double v_mps, double noise_mps2) {
  const double square = v_mps * v_mps - noise_mps2;
  return std::copysign(std::sqrt(std::abs(square)), square);
}

/// Where a vehicle stands, and what its readings show there.
struct StandingPlace {
  double east_m = 0.0;
  double north_m = 0.0;
  double mean_square_mps2 = 0.0;
  double mean_mps = 0.0;  ///< of the speeds without noise

  [[nodiscard]] double speed(double v_mps) const { return without_noise(v_mps, mean_square_mps2) - mean_mps; }
};

StandingPlace standing_place(const Stretch& s, const DepartureRows& rows) {
  StandingPlace out;
  const auto n = static_cast<double>(rows.rest_end - rows.rest_begin);
  for (std::size_t i = rows.rest_begin; i < rows.rest_end; ++i) {
    out.east_m += s.east_m[i] / n;
    out.north_m += s.north_m[i] / n;
    out.mean_square_mps2 += s.v_mps[i] * s.v_mps[i] / n;
  }
  double mean_mps = 0.0;
  for (std::size_t i = rows.rest_begin; i < rows.rest_end; ++i) {
    mean_mps += without_noise(s.v_mps[i], out.mean_square_mps2) / n;
  }
  out.mean_mps = mean_mps;
  return out;
}

/// The way below the hold of a receiver, which is known to be missing.
double held_m(const Stretch& s, const DepartureRows& rows, double hold_mps) {
  const double accel_mps2 = s.v_mps[rows.end] / (s.t_s[rows.end] - s.t_s[rows.moving]);
  return 0.5 * hold_mps * hold_mps / accel_mps2;
}

/// Nothing where the way is not straight, or a place is missing.
std::optional<Departure> departure_of(const Stretch& s, const DepartureRows& rows, double hold_mps) {
  const StandingPlace from = standing_place(s, rows);
  const double to_east = s.east_m[rows.end] - from.east_m;
  const double to_north = s.north_m[rows.end] - from.north_m;
  const double chord_m = std::hypot(to_east, to_north);
  Departure out;
  double travel_m = held_m(s, rows, hold_mps);
  double most_mps = 0.0;
  double missing_before_m = 0.0;
  for (std::size_t i = rows.rest_end; i <= rows.end && out.levels < out.missing_m.size(); ++i) {
    const auto speed = [&](std::size_t k) { return k < rows.moving ? from.speed(s.v_mps[k]) : s.v_mps[k]; };
    travel_m += 0.5 * (speed(i - 1) + speed(i)) * (s.t_s[i] - s.t_s[i - 1]);
    const double east = s.east_m[i] - from.east_m;
    const double north = s.north_m[i] - from.north_m;
    if (!(std::abs(east * to_north - north * to_east) < off_line_m * chord_m) || !is_valid(s, i)) {
      return std::nullopt;
    }
    const double missing_m = (east * to_east + north * to_north) / chord_m - travel_m;
    for (; out.levels < out.missing_m.size() && s.v_mps[i] >= departure_levels_mps[out.levels];
         ++out.levels) {
      const double part = (departure_levels_mps[out.levels] - most_mps) / (s.v_mps[i] - most_mps);
      out.missing_m[out.levels] = missing_before_m + part * (missing_m - missing_before_m);
    }
    if (s.v_mps[i] > most_mps) {
      most_mps = s.v_mps[i];
      missing_before_m = missing_m;
    }
  }
  return out;
}

}  // namespace

std::vector<Departure> departures(const std::vector<Stretch>& stretches, const Receiver& receiver,
                                  double rest_mps) {
  std::vector<Departure> out;
  for (const Stretch& s : stretches) {
    for (std::size_t i = 1; i < s.t_s.size(); ++i) {
      if (s.v_mps[i] < rest_mps || s.v_mps[i - 1] >= rest_mps) {
        continue;
      }
      if (const auto rows = rows_of(s, i, rest_mps)) {
        if (const auto departure = departure_of(s, *rows, receiver.zero_hold_mps)) {
          out.push_back(*departure);
        }
      }
    }
  }
  return out;
}

}  // namespace bothways
