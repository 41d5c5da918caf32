#include "bothways/core/geodesy.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("distances agree with published geodesic lines", "[core]") {
  // Test lines of the GeographicLib project, docs/sources.md [KARNEY13].
  struct Line {
    LatLon from, to;
    double s12_m, azi1_deg;
  };
  const std::array<Line, 4> lines{
      {{{35.60777, -139.44815}, {-11.17491, -69.95921}, 8935244.5604818305, 111.098748429560326},
       {{55.52454, 106.05087}, {77.03196, 197.18234}, 4105086.1713924406, 22.020059880982801},
       {{-68.82867, -74.28391}, {-50.63005, -8.36685}, 3956936.926063544, 93.774347763114881},
       {{-19.79938, -174.47484}, {-11.99349, -154.35109}, 2319004.8601169389, 71.167275780171533}}};
  for (const auto& line : lines) {
    const Geodesic found = geodesic_between(line.from, line.to);
    CHECK_THAT(found.distance_m, WithinAbs(line.s12_m, 1e-6));
    CHECK_THAT(found.bearing_deg, WithinAbs(line.azi1_deg, 1e-9));
  }
}

TEST_CASE("the local plane agrees with the geodesic", "[core]") {
  for (const double lat : {0.0, 30.0, 45.0, -60.0}) {
    const LocalPlane plane({lat, 179.9999});
    for (const double bearing : {0.0, 37.0, 90.0, 200.0}) {
      for (const auto& [distance, tolerance] : {std::pair{100.0, 2e-5}, std::pair{5000.0, 1e-3}}) {
        const double rad = bearing * 0.017453292519943295;
        const LatLon place = plane.from_plane({distance * std::sin(rad), distance * std::cos(rad)});
        CAPTURE(lat, bearing, distance);
        CHECK_THAT(geodesic_between(plane.origin(), place).distance_m, WithinRel(distance, tolerance));
        const PlanePoint back = plane.to_plane(place);
        CHECK_THAT(std::hypot(back.east_m, back.north_m), WithinRel(distance, 1e-9));
      }
    }
  }
}

TEST_CASE("directions on the plane are counted from north by the east", "[core]") {
  CHECK(direction_deg({1.0, 1.0}, {1.0, 3.0}) == 0.0);
  CHECK_THAT(direction_deg({0.0, 0.0}, {2.0, 0.0}), WithinAbs(90.0, 1e-12));
  CHECK_THAT(direction_deg({0.0, 0.0}, {-1.0, 1.0}), WithinAbs(315.0, 1e-12));
}

TEST_CASE("the angle between two directions wraps at north", "[core]") {
  CHECK_THAT(angle_between_deg(350, 10), WithinAbs(20, 1e-12));
  CHECK_THAT(angle_between_deg(10, 190), WithinAbs(180, 1e-12));
}
