#pragma once

namespace bothways {

struct LatLon {
  double lat_deg = 0.0;  ///< WGS 84 latitude, -90..90
  double lon_deg = 0.0;  ///< WGS 84 longitude, -180..180
};

struct PlanePoint {
  double east_m = 0.0;
  double north_m = 0.0;
};

/// A flat map round a place: metres east and north, scaled by the ellipsoid's two radii of curvature there.
/// Error of a distance from the origin up to 60 degrees of latitude: below 2e-5 of it at 100 m, 1e-3 at 5 km
/// (test "the local plane agrees with the geodesic"). Longitudes wrap at the date line. Costs two
/// multiplications.
class LocalPlane {
 public:
  LocalPlane() = default;
  explicit LocalPlane(LatLon origin);
  [[nodiscard]] PlanePoint to_plane(LatLon place) const;
  [[nodiscard]] LatLon from_plane(PlanePoint point) const;
  [[nodiscard]] double distance_m(LatLon from, LatLon to) const;
  [[nodiscard]] LatLon origin() const { return origin_; }

 private:
  LatLon origin_;
  double m_per_deg_lat_ = 0.0;
  double m_per_deg_lon_ = 0.0;
};

struct Geodesic {
  double distance_m = 0.0;
  double bearing_deg = 0.0;  ///< at the first point, clockwise from true north, 0..360
};

/// Shortest line on WGS 84 [KARNEY13]; 1e-8 m.
[[nodiscard]] Geodesic geodesic_between(LatLon from, LatLon to);

/// Direction of one point from another, clockwise from north, 0..360.
[[nodiscard]] double direction_deg(const PlanePoint& from, const PlanePoint& to);

/// Smallest angle between two directions, 0..180 degrees.
[[nodiscard]] double angle_between_deg(double a_deg, double b_deg);

}  // namespace bothways
