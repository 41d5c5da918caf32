#include "bothways/log/read.hpp"

#include "helpers.hpp"

#include <catch2/catch.hpp>

using namespace bothways;
using namespace log_test;
using Catch::WithinAbs;

namespace {

const std::string small_gpx =
    "<gpx version=\"1.1\"><trk><trkseg>"
    "<trkpt lat=\"48.5\" lon=\"11.25\"><ele>500</ele><time>2026-05-04T09:30:12Z</time>"
    "<extensions><speed>1.5</speed></extensions></trkpt>"
    "<trkpt lat=\"48.6\" lon=\"11.25\"><time>2026-05-04T09:30:12.5Z</time></trkpt>"
    "</trkseg></trk></gpx>";
const std::string small_nmea = sentence("GPRMC,093012.00,A,4830.0000,N,01115.0000,E,10.0,90.0,040526,,,A") +
                               sentence("GPRMC,093013.00,A,4836.0000,N,01115.0000,E,,,040526,,,A");
const std::string small_csv = "time,lat,lon,speed_kmh\n2026-05-04T09:30:12Z,48.5,11.25,36\n";

}  // namespace

TEST_CASE("GPX, NMEA and CSV are told apart by content", "[log]") {
  const Log gpx = read_text(small_gpx);
  CHECK(gpx.format == LogFormat::gpx);
  REQUIRE(gpx.fixes.size() == 2);
  CHECK(gpx.fixes[0].speed_mps == 1.5);
  CHECK(gpx.fixes[0].ele_m == 500.0);
  CHECK_FALSE(is_known(gpx.fixes[1].speed_mps));
  CHECK(format_iso8601(gpx.fixes[1].time) == "2026-05-04T09:30:12.500Z");

  const Log nmea = read_text(small_nmea);
  CHECK(nmea.format == LogFormat::nmea);
  REQUIRE(nmea.fixes.size() == 2);
  CHECK_THAT(nmea.fixes[0].speed_mps, WithinAbs(5.144444, 1e-6));
  CHECK(nmea.fixes[1].lat_deg == 48.6);
  CHECK_FALSE(is_known(nmea.fixes[1].speed_mps));

  const Log csv = read_text(small_csv);
  CHECK(csv.format == LogFormat::csv);
  REQUIRE(csv.fixes.size() == 1);
  CHECK(csv.fixes[0].speed_mps == 10.0);
  CHECK(csv.fixes[0].time == gpx.fixes[0].time);
}
