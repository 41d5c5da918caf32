#include "bothways/pair/meet.hpp"

#include "bothways/core/geodesy.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways {

namespace {

constexpr double far_deg = 0.2;           // of latitude, 22 km: no road test needs more
constexpr double shortest_track_m = 5.0;  // below it the logged heading says more than the chord
constexpr double radian = std::numbers::pi / 180.0;

struct Vector {
  double east = 0.0;
  double north = 0.0;
};

double dot(Vector a, Vector b) {
  return a.east * b.east + a.north * b.north;
}

double cross(Vector a, Vector b) {
  return a.east * b.north - a.north * b.east;
}

/// Start and end of a run on the plane.
struct Track {
  Vector start;
  Vector end;
};

Track track_of(const Run& run, LatLon to, const LocalPlane& plane) {
  const PlanePoint start = plane.to_plane(run.start);
  const PlanePoint end = plane.to_plane(to);
  Track track{{start.east_m, start.north_m}, {end.east_m, end.north_m}};
  const double chord_m = std::hypot(track.end.east - track.start.east, track.end.north - track.start.north);
  if (!(chord_m >= shortest_track_m)) {  // also where the end is not known
    const double angle = run.heading_deg * radian;
    track.end = {track.start.east + run.length_m * std::sin(angle),
                 track.start.north + run.length_m * std::cos(angle)};
  }
  return track;
}

Vector direction_of(const Track& track, const Run& run) {
  const Vector chord{track.end.east - track.start.east, track.end.north - track.start.north};
  const double length = std::hypot(chord.east, chord.north);
  if (length > 0.0) {
    return {chord.east / length, chord.north / length};
  }
  return {std::sin(run.heading_deg * radian), std::cos(run.heading_deg * radian)};
}

/// Distance of a track from the road's axis at a place along it.
double offset_at(const Track& track, Vector axis, double along) {
  const double a0 = dot(track.start, axis);
  const double a1 = dot(track.end, axis);
  const double o0 = cross(axis, track.start);
  const double o1 = cross(axis, track.end);
  const double share = a1 == a0 ? 0.0 : std::clamp((along - a0) / (a1 - a0), 0.0, 1.0);
  return o0 + share * (o1 - o0);
}

struct Shared {
  double lo = 0.0;
  double hi = 0.0;     ///< below lo: nothing is shared
  double share = 0.0;  ///< of the shorter, 0..1
};

Shared shared_stretch(const Track& a, const Track& b, Vector axis) {
  const auto [a_lo, a_hi] = std::minmax({dot(a.start, axis), dot(a.end, axis)});
  const auto [b_lo, b_hi] = std::minmax({dot(b.start, axis), dot(b.end, axis)});
  Shared out{std::max(a_lo, b_lo), std::min(a_hi, b_hi)};
  const double shorter = std::min(a_hi - a_lo, b_hi - b_lo);
  out.share = shorter > 0.0 ? std::clamp((out.hi - out.lo) / shorter, 0.0, 1.0) : 0.0;
  return out;
}

/// Two runs as lines on one plane. The earlier start carries it, so that exchanging the two changes no bit.
struct Lines {
  const Run* first = nullptr;
  const Run* second = nullptr;
  LocalPlane plane;
  Track a;      ///< of the first
  Track b;      ///< of the second
  Vector axis;  ///< of the road
};

Lines lines_of(const Run& one, const Run& other) {
  const bool swapped = other.clock_start < one.clock_start;
  const Run& first = swapped ? other : one;
  const Run& second = swapped ? one : other;
  const LocalPlane plane(first.start);
  const Track a = track_of(first, first.end, plane);
  const Track b = track_of(second, second.end, plane);
  const Vector da = direction_of(a, first);
  const Vector db = direction_of(b, second);
  Vector axis{da.east - db.east, da.north - db.north};
  const double length = std::hypot(axis.east, axis.north);
  axis = length > 1e-6 ? Vector{axis.east / length, axis.north / length} : da;
  return {&first, &second, plane, a, b, axis};
}

/// The part of a track, travel being spread evenly over it.
Track part_of(const Track& track, const Run& run, const PartOfRun& part) {
  const auto at = [&](double travel_m) {
    const double share = run.length_m > 0.0 ? travel_m / run.length_m : 0.0;
    return Vector{track.start.east + share * (track.end.east - track.start.east),
                  track.start.north + share * (track.end.north - track.start.north)};
  };
  return {at(part.from_m), at(part.to_m)};
}

}  // namespace

double shared_part(const Run& one, const PartOfRun& of_one, const Run& other, const PartOfRun& of_other) {
  const Lines lines = lines_of(one, other);
  const bool swapped = lines.first != &one;
  return shared_stretch(part_of(lines.a, *lines.first, swapped ? of_other : of_one),
                        part_of(lines.b, *lines.second, swapped ? of_one : of_other), lines.axis)
      .share;
}

bool is_placed(const Run& run) {
  return std::isfinite(run.heading_deg) && std::isfinite(run.start.lat_deg) &&
         std::isfinite(run.start.lon_deg) && std::isfinite(run.length_m);
}

Meeting meet(const Run& one, const Run& other) {
  Meeting result;
  if (!is_placed(one) || !is_placed(other)) {
    return result;
  }
  result.placed = true;
  result.from_opposite_deg = 180.0 - angle_between_deg(one.heading_deg, other.heading_deg);
  if (std::abs(one.start.lat_deg - other.start.lat_deg) > far_deg) {
    result.sideways_m = result.between_m = far_deg * 111e3;
    return result;
  }
  const Lines lines = lines_of(one, other);
  const Shared timed = shared_stretch(lines.a, lines.b, lines.axis);
  result.overlap = timed.share;
  result.between_m = std::max(0.0, timed.lo - timed.hi);
  result.travel_overlap = shared_stretch(track_of(*lines.first, lines.first->stop, lines.plane),
                                         track_of(*lines.second, lines.second->stop, lines.plane), lines.axis)
                              .share;
  const double middle = (timed.lo + timed.hi) / 2.0;
  result.sideways_m =
      std::abs(offset_at(lines.a, lines.axis, middle) - offset_at(lines.b, lines.axis, middle));
  return result;
}

}  // namespace bothways
