#include "bothways/core/geodesy.hpp"

#include <GeographicLib/Ellipsoid.hpp>
#include <GeographicLib/Geodesic.hpp>

#include <cmath>
#include <numbers>

namespace bothways {

namespace {

constexpr double rad_per_deg = std::numbers::pi / 180.0;

}  // namespace

LocalPlane::LocalPlane(LatLon origin) : origin_(origin) {
  const GeographicLib::Ellipsoid& earth = GeographicLib::Ellipsoid::WGS84();
  m_per_deg_lat_ = earth.MeridionalCurvatureRadius(origin.lat_deg) * rad_per_deg;
  m_per_deg_lon_ = earth.CircleRadius(origin.lat_deg) * rad_per_deg;
}

PlanePoint LocalPlane::to_plane(LatLon place) const {
  double dlon = place.lon_deg - origin_.lon_deg;
  if (dlon > 180.0) {
    dlon -= 360.0;
  } else if (dlon < -180.0) {
    dlon += 360.0;
  }
  return {dlon * m_per_deg_lon_, (place.lat_deg - origin_.lat_deg) * m_per_deg_lat_};
}

double LocalPlane::distance_m(LatLon from, LatLon to) const {
  const PlanePoint a = to_plane(from);
  const PlanePoint b = to_plane(to);
  return std::hypot(b.east_m - a.east_m, b.north_m - a.north_m);
}

LatLon LocalPlane::from_plane(PlanePoint point) const {
  double lon_deg = origin_.lon_deg;
  if (m_per_deg_lon_ > 0.0) {
    lon_deg += point.east_m / m_per_deg_lon_;
  }
  return {origin_.lat_deg + point.north_m / m_per_deg_lat_, std::remainder(lon_deg, 360.0)};
}

Geodesic geodesic_between(LatLon from, LatLon to) {
  Geodesic line;
  double bearing_deg = 0.0;
  double bearing_end_deg = 0.0;
  GeographicLib::Geodesic::WGS84().Inverse(from.lat_deg, from.lon_deg, to.lat_deg, to.lon_deg,
                                           line.distance_m, bearing_deg, bearing_end_deg);
  line.bearing_deg = bearing_deg < 0.0 ? bearing_deg + 360.0 : bearing_deg;
  return line;
}

double direction_deg(const PlanePoint& from, const PlanePoint& to) {
  const double deg =
      std::atan2(to.east_m - from.east_m, to.north_m - from.north_m) * 180.0 / std::numbers::pi;
  return deg < 0.0 ? deg + 360.0 : deg;
}

double angle_between_deg(double a_deg, double b_deg) {
  return std::abs(std::remainder(a_deg - b_deg, 360.0));
}

}  // namespace bothways
