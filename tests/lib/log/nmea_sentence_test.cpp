#include "bothways/log/nmea_sentence.hpp"

#include "helpers.hpp"

#include <catch2/catch.hpp>

using namespace bothways;
using namespace log_test;
using Catch::WithinAbs;

namespace {

/// The one fix of a log of these sentences.
Fix only_fix(const std::string& text) {
  const Log log = read_text(text + "\r\n");
  REQUIRE(log.fixes.size() == 1);
  return log.fixes[0];
}

std::string time_of(const std::string& text) {
  return format_iso8601(only_fix(text).time);
}

constexpr double place_tolerance = 5e-7;  // the published values have six decimals
constexpr double speed_tolerance = 1e-6;  // m/s, likewise

// A position for sentences that have none, at the same time as the sentence under test or at any.
const std::string place_123519 = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\r\n";

}  // namespace

TEST_CASE("published example sentences are decoded as published", "[log]") {
  // Sources in docs/sources.md: [GPSD], [MINMEA], [GONMEA], [PYNMEA2].
  SECTION("RMC with three-digit minutes fields [MINMEA]") {
    const Fix fix = only_fix("$GPRMC,081836,A,3751.65,S,14507.36,E,000.0,360.0,130998,011.3,E*62");
    CHECK_THAT(fix.lat_deg, WithinAbs(-37.860833, place_tolerance));
    CHECK_THAT(fix.lon_deg, WithinAbs(145.122667, place_tolerance));
    CHECK(fix.speed_mps == 0.0);
    CHECK(fix.course_deg == 360.0);
    CHECK(format_iso8601(fix.time) == "1998-09-13T08:18:36.000Z");
  }
  SECTION("RMC [PYNMEA2]") {
    const Fix fix = only_fix("$GPRMC,225446,A,4916.45,N,12311.12,W,000.5,054.7,191194,020.3,E*68");
    CHECK_THAT(fix.lat_deg, WithinAbs(49.274167, place_tolerance));
    CHECK_THAT(fix.lon_deg, WithinAbs(-123.185333, place_tolerance));
    CHECK_THAT(fix.speed_mps, WithinAbs(0.257222, speed_tolerance));
    CHECK(format_iso8601(fix.time).substr(0, 10) == "1994-11-19");
  }
  SECTION("RMC [GONMEA]") {
    const Fix fix = only_fix("$GPRMC,220516,A,5133.82,N,00042.24,W,173.8,231.8,130694,004.2,W*70");
    CHECK_THAT(fix.lat_deg, WithinAbs(51.563667, place_tolerance));
    CHECK_THAT(fix.lon_deg, WithinAbs(-0.704, place_tolerance));
    CHECK_THAT(fix.speed_mps, WithinAbs(89.410444, speed_tolerance));
  }
  SECTION("navigation status V beside status A is normal [GONMEA]") {
    const Fix fix = only_fix("$GNRMC,102014.00,A,5550.6082,N,03732.2488,E,000.00000,092.9,300518,,,A,V*3B");
    CHECK(fix.speed_mps == 0.0);
    CHECK(format_iso8601(fix.time) == "2018-05-30T10:20:14.000Z");
  }
  SECTION("an over-long RMC of a 10 Hz log [GPSD]") {
    const Fix fix =
        only_fix("$GPRMC,132820.60,A,4134.49821229,N,09345.03351845,W,3.252,92.308,180320,11.5985,E,D*1A");
    CHECK_THAT(fix.speed_mps, WithinAbs(1.672973, speed_tolerance));
    CHECK(format_iso8601(fix.time) == "2020-03-18T13:28:20.600Z");
  }
  SECTION("an empty course is unknown [MINMEA]") {
    const Fix fix = only_fix("$GPRMC,123205.00,A,5106.94085,N,01701.51689,E,0.016,,280214,,,A*7B");
    CHECK_FALSE(is_known(fix.course_deg));
    CHECK_THAT(fix.speed_mps, WithinAbs(0.008231, speed_tolerance));
  }
  SECTION("GGA [MINMEA]") {
    const Fix fix = only_fix("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47");
    CHECK_THAT(fix.lat_deg, WithinAbs(48.1173, place_tolerance));
    CHECK_THAT(fix.lon_deg, WithinAbs(11.516667, place_tolerance));
    CHECK(fix.satellites == 8);
    CHECK(fix.hdop == 0.9);
    CHECK(fix.ele_m == 545.4);
    CHECK_FALSE(is_known(fix.speed_mps));
  }
  SECTION("GGA in the south [PYNMEA2]") {
    const Fix fix = only_fix("$GPGGA,184353.07,1929.045,S,02410.506,E,1,04,2.6,100.00,M,-33.9,M,,0000*6D");
    CHECK_THAT(fix.lat_deg, WithinAbs(-19.484083, place_tolerance));
    CHECK_THAT(fix.lon_deg, WithinAbs(24.1751, place_tolerance));
    CHECK(time_of("$GPGGA,184353.07,1929.045,S,02410.506,E,1,04,2.6,100.00,M,-33.9,M,,0000*6D") ==
          "1970-01-01T18:43:53.070Z");
  }
  SECTION("GNS with a fix in two systems [GONMEA]") {
    const Fix fix = only_fix("$GNGNS,014035.00,4332.69262,S,17235.48549,E,RR,13,0.9,25.63,11.24,,*70");
    CHECK_THAT(fix.lat_deg, WithinAbs(-43.544877, place_tolerance));
    CHECK_THAT(fix.lon_deg, WithinAbs(172.591425, place_tolerance));
    CHECK(fix.satellites == 13);
    CHECK(fix.hdop == 0.9);
  }
  SECTION("GLL [MINMEA]") {
    const Fix fix = only_fix("$GPGLL,3723.2475,N,12158.3416,W,161229.487,A,A*41");
    CHECK_THAT(fix.lat_deg, WithinAbs(37.387458, place_tolerance));
    CHECK_THAT(fix.lon_deg, WithinAbs(-121.972360, place_tolerance));
    CHECK(format_iso8601(fix.time) == "1970-01-01T16:12:29.487Z");
  }
  SECTION("VTG: knots and km/h agree within one last digit [GONMEA], [MINMEA]") {
    const Fix with_mode = only_fix(place_123519 + "$GPVTG,220.86,T,,M,2.550,N,4.724,K,A*34");
    CHECK_THAT(with_mode.speed_mps, WithinAbs(1.311833, speed_tolerance));
    CHECK(with_mode.course_deg == 220.86);
    const Fix without_mode = only_fix(place_123519 + "$GPVTG,054.7,T,034.4,M,005.5,N,010.2,K*48");
    CHECK_THAT(without_mode.speed_mps, WithinAbs(2.829444, speed_tolerance));
    const Fix none = only_fix(place_123519 + "$GPVTG,,,,,,,,,N*30");
    CHECK_FALSE(is_known(none.speed_mps));
  }
  SECTION("GSA gives hdop where nothing else does [MINMEA]") {
    const Fix fix = only_fix(
        "$GPRMC,220516,A,5133.82,N,00042.24,W,173.8,231.8,130694,004.2,W*70\r\n"
        "$GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1*39");
    CHECK(fix.hdop == 1.3);
    const Fix gn = only_fix(
        "$GPRMC,220516,A,5133.82,N,00042.24,W,173.8,231.8,130694,004.2,W*70\r\n"
        "$GNGSA,A,3,13,12,22,19,08,21,,,,,,,1.05,0.64,0.83,4*0B");
    CHECK(gn.hdop == 0.64);
  }
  SECTION("ZDA gives the date [GONMEA], [MINMEA]") {
    CHECK(time_of("$GPZDA,172809.456,12,07,1996,00,00*57\r\n" +
                  sentence("GPGGA,172810.00,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,")) ==
          "1996-07-12T17:28:10.000Z");
    CHECK(time_of("$GPZDA,160012.71,11,03,2004,-1,00*7D\r\n" +
                  sentence("GPGGA,160013.00,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,")) ==
          "2004-03-11T16:00:13.000Z");
  }
  SECTION("GST gives the horizontal accuracy [PYNMEA2]") {
    const Fix fix = only_fix(sentence("GPGGA,172814.0,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,") +
                             "$GPGST,172814.0,0.006,0.023,0.020,273.6,0.023,0.020,0.031*6A");
    CHECK_THAT(fix.position_sd_m, WithinAbs(0.021552, 1e-6));  // sqrt((0.023^2 + 0.020^2) / 2)
  }
}

TEST_CASE("a sentence that knows nothing makes no fix", "[log]") {
  const std::string known = sentence("GPRMC,093000.00,A,4807.038,N,01131.000,E,1.0,90.0,040526,,,A");
  for (const char* text :
       {"$GPRMC,,V,,,,,,,,,,N*53", "$GPGGA,,,,,,0,00,99.99,,,,,,*48", "$GPVTG,,,,,,,,,N*30"}) {
    CAPTURE(text);
    CHECK(read_text(known + text + "\r\n").fixes.size() == 1);
  }
}

TEST_CASE("midnight and the leap second are ordinary seconds", "[log]") {
  const Log midnight = read_text(
      "$GPRMC,235959.90,A,4807.0380,N,01131.0000,E,12.340,084.4,311223,,,A*68\r\n"
      "$GPRMC,000000.00,A,4807.0380,N,01131.0100,E,12.840,084.4,010124,,,A*6C\r\n");
  REQUIRE(midnight.fixes.size() == 2);
  CHECK(midnight.fixes[1].time.unix_us - midnight.fixes[0].time.unix_us == 100'000);
  CHECK(time_of("$GPRMC,235960.00,A,4807.0380,N,01131.0000,E,0.000,,311216,,,A*7F") ==
        "2017-01-01T00:00:00.000Z");
}

TEST_CASE("a checksum has two hex digits of either case and nothing glued to it", "[log]") {
  const auto judged = [](std::string text) {
    std::string_view line = text;
    Sentence found;
    REQUIRE(take_sentence(line, found));
    return found.checksum;
  };
  const std::string body = "$GPRMC,123205.00,A,5106.94085,N,01701.51689,E,0.016,,280214,,,A";
  CHECK(judged(body + "*7B") == Checksum::right);
  CHECK(judged(body + "*7b") == Checksum::right);
  CHECK(judged(body + "*7B,1699400577566") == Checksum::right);
  CHECK(judged(body + "*7C") == Checksum::wrong);
  CHECK(judged(body + "*7g") == Checksum::wrong);
  CHECK(judged(body + "*7B2") == Checksum::wrong);
  CHECK(judged(body + "*7") == Checksum::cut);
  CHECK(judged(body) == Checksum::absent);
}

TEST_CASE("the kind of a sentence is its last three letters, whatever the talker", "[log]") {
  CHECK(sentence_kind("GPRMC,") == SentenceKind::rmc);
  CHECK(sentence_kind("YDVTG,") == SentenceKind::vtg);
  CHECK(sentence_kind("BDGGA,") == SentenceKind::gga);
  CHECK(sentence_kind("PGRMC,") == SentenceKind::other);  // proprietary
  CHECK(sentence_kind("GPGSV,") == SentenceKind::other);
  CHECK(sentence_kind("GPRMC") == SentenceKind::other);
}

TEST_CASE("impossible times, dates and places are refused", "[log]") {
  CHECK_FALSE(nmea_clock_us("246000"));
  CHECK_FALSE(nmea_clock_us("23596"));
  CHECK_FALSE(nmea_clock_us("120000,5"));
  CHECK(nmea_clock_us("120000.123456789") == 43'200'123'456);
  CHECK_FALSE(nmea_date_days("310226"));
  CHECK_FALSE(nmea_date_days("000000"));
  CHECK(nmea_date_days("010170") == 36'525);  // 2070: years below 80 are 20xx
  CHECK(nmea_date_days("010180") == 3'652);   // 1980
  CHECK_FALSE(nmea_degrees("4860.000", "N"));
  CHECK_FALSE(nmea_degrees("4807.038", ""));
  CHECK_FALSE(nmea_degrees("4807.038", "X"));
  CHECK_FALSE(nmea_degrees("07.038", "N"));
  CHECK_FALSE(nmea_degrees("48-7.038", "N"));
}
