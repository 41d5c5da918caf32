#include "bothways/core/error.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace bothways;
using namespace log_test;
using Catch::Contains;
using Catch::WithinAbs;

namespace {

std::string kml(const std::string& inside) {
  return "<kml xmlns=\"http://www.opengis.net/kml/2.2\"><Placemark>" + inside + "</Placemark></kml>";
}

std::string when(int second) {
  return fmt::format("<when>2026-05-04T09:30:{:02}Z</when>", second);
}

std::string coord(double lon) {
  return fmt::format("<coord>{} 46.5 450</coord>", lon);
}

std::string tcx_point(int second, const std::string& inside) {
  return fmt::format("<Trackpoint><Time>2026-05-04T09:30:{:02}Z</Time>{}</Trackpoint>", second, inside);
}

std::string tcx(const std::string& points) {
  return "<TrainingCenterDatabase><Activities><Activity><Lap><Track>" + points +
         "</Track></Lap></Activity></Activities></TrainingCenterDatabase>";
}

const std::string place =
    "<Position><LatitudeDegrees>46.5</LatitudeDegrees><LongitudeDegrees>9.1</LongitudeDegrees></Position>";

}  // namespace

TEST_CASE("times and places of a KML track belong together by their number, in any order", "[log]") {
  for (const std::string& track :
       {when(0) + when(1) + coord(9.1) + coord(9.2), when(0) + coord(9.1) + when(1) + coord(9.2),
        coord(9.1) + coord(9.2) + when(0) + when(1)}) {
    CAPTURE(track);
    const Log log = read_text(kml("<Track>" + track + "</Track>"));
    CHECK(log.format == LogFormat::kml);
    REQUIRE(log.fixes.size() == 2);
    CHECK(log.fixes[0].lon_deg == 9.1);
    CHECK(log.fixes[1].lon_deg == 9.2);
    CHECK(log.fixes[1].lat_deg == 46.5);
    CHECK(log.fixes[1].ele_m == 450.0);
    CHECK(log.notes.empty());
  }
}

TEST_CASE("a KML track with more places than times loses those without, with a note", "[log]") {
  const Log log = read_text(kml("<Track>" + when(0) + coord(9.1) + coord(9.2) + coord(9.3) + "</Track>"));
  CHECK(log.fixes.size() == 1);
  CHECK(find_note(log, "no-time")->text.substr(0, 2) == "2 ");
}

TEST_CASE("the speeds of a KML track count where their name says the unit", "[log]") {
  const auto with = [](const std::string& name) {
    return read_text(kml("<Track>" + when(0) + when(1) + coord(9.1) + coord(9.2) +
                         "<ExtendedData><SimpleArrayData name=\"" + name +
                         "\"><value>36</value><value>72</value></SimpleArrayData></ExtendedData></Track>"));
  };
  CHECK(with("speed_kmh").fixes[1].speed_mps == 20.0);
  CHECK(with("Vitesse (km/h)").fixes[1].speed_mps == 20.0);
  CHECK(with("speed_mps").fixes[0].speed_mps == 36.0);
  const Log without = with("speed");
  CHECK_FALSE(is_known(without.fixes[0].speed_mps));
  CHECK(find_note(without, "speed-without-unit") != nullptr);
  CHECK_FALSE(is_known(with("heartrate").fixes[0].speed_mps));
  CHECK(with("heartrate").notes.empty());
}

TEST_CASE("times outside a KML track are none of the ride's", "[log]") {
  CHECK_THROWS_WITH(
      read_text(kml("<TimeStamp>" + when(0) + "</TimeStamp><Point><coordinates>9,46</coordinates></Point>")),
      Contains("no track with times (gx:Track)") && Contains("export the ride as GPX"));
  CHECK_THROWS_WITH(read_text("<kml/>"), Contains("without any track"));
}

TEST_CASE("a KML track that is cut off keeps what is whole", "[log]") {
  const std::string whole = kml("<Track>" + when(0) + coord(9.1) + when(1) + coord(9.2) + "</Track>");
  const Log log = read_text(whole.substr(0, whole.find("9.2") + 2));
  CHECK(log.fixes.size() == 1);
  CHECK(find_note(log, "cut-off") != nullptr);
}

TEST_CASE("limits hold in KML and TCX", "[log]") {
  std::string track;
  std::string points;
  for (int i = 0; i < 50; ++i) {
    track += when(i) + coord(9.1);
    points += tcx_point(i, place);
  }
  for (const std::string& text : {kml("<Track>" + track + "</Track>"), tcx(points)}) {
    const Log log = read_text(text, {.fixes = 10});
    CHECK(log.fixes.size() == 10);
    CHECK(find_note(log, "too-many-fixes") != nullptr);
  }
  const Log longs = read_text(kml("<Track>" + when(0) + "<coord>" + std::string(300, '1') + "</coord>" +
                                  when(1) + coord(9.1) + coord(9.2) + "</Track>"));
  CHECK(find_note(longs, "long-text") != nullptr);
}

TEST_CASE("a TCX point gives its position, height and speed", "[log]") {
  const Log log = read_text(
      tcx(tcx_point(0, place + "<AltitudeMeters>450</AltitudeMeters><Extensions><TPX><Speed>7.5</Speed></TPX>"
                               "</Extensions>") +
          tcx_point(1, place)));
  CHECK(log.format == LogFormat::tcx);
  REQUIRE(log.fixes.size() == 2);
  CHECK(log.fixes[0].lat_deg == 46.5);
  CHECK(log.fixes[0].lon_deg == 9.1);
  CHECK(log.fixes[0].ele_m == 450.0);
  CHECK(log.fixes[0].speed_mps == 7.5);
  CHECK_FALSE(is_known(log.fixes[1].speed_mps));
  CHECK(log.notes.empty());
}

TEST_CASE("a TCX point without a time or a place is left out with a note", "[log]") {
  const Log log =
      read_text(tcx("<Trackpoint>" + place + "</Trackpoint>" + tcx_point(1, place) + tcx_point(2, "")));
  CHECK(log.fixes.size() == 1);
  CHECK(find_note(log, "no-time") != nullptr);
  CHECK(find_note(log, "empty-fix") != nullptr);
}

TEST_CASE("a planned course in a TCX file is no ride", "[log]") {
  const std::string course = "<Courses><Course><Track>" + tcx_point(0, place) + "</Track></Course></Courses>";
  CHECK_THROWS_WITH(read_text("<TrainingCenterDatabase>" + course + "</TrainingCenterDatabase>"),
                    Contains("a planned course but no activity"));
}
