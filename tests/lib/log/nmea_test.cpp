#include "bothways/core/error.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <random>
#include <vector>

using namespace bothways;
using namespace log_test;
using Catch::WithinAbs;

namespace {

constexpr double mps_per_knot_here = 1852.0 / 3600.0;

std::string rmc(int second, const std::string& knots, const std::string& talker = "GP") {
  return sentence(fmt::format("{}RMC,0930{:02}.00,A,4630.00000,N,00906.{:05},E,{},90.0,040526,,,A", talker,
                              second, 100 * second, knots));
}
std::string gga(int second, const std::string& talker = "GP", int satellites = 9) {
  return sentence(fmt::format("{}GGA,0930{:02}.00,4630.00000,N,00906.{:05},E,1,{:02},0.9,450.0,M,48.0,M,,",
                              talker, second, 100 * second, satellites));
}
std::string vtg(const std::string& knots, const std::string& kmh) {
  return sentence("GPVTG,90.0,T,,M," + knots + ",N," + kmh + ",K,A");
}

}  // namespace

TEST_CASE("the sentences of an instant make one fix in whatever order they come", "[log]") {
  const std::string gst = sentence("GPGST,093005.00,1.0,,,,3.0,4.0,5.0");
  const std::string zda = sentence("GPZDA,093005.00,04,05,2026,00,00");
  std::vector<std::string> parts = {rmc(5, "9.719"), gga(5), gst, zda};
  std::sort(parts.begin(), parts.end());
  do {
    std::string text = rmc(4, "9.000") + gga(4);
    for (const std::string& part : parts) {
      text += part;
    }
    text += gga(6) + rmc(6, "10.000");
    const Log log = read_text(text);
    REQUIRE(log.fixes.size() == 3);
    CHECK(log.notes.empty());
    CHECK_THAT(log.fixes[1].speed_mps, WithinAbs(9.719 * mps_per_knot_here, 1e-12));
    CHECK(log.fixes[1].satellites == 9);
    CHECK(log.fixes[1].ele_m == 450.0);
    CHECK_THAT(log.fixes[1].position_sd_m, WithinAbs(std::sqrt(12.5), 1e-12));
    CHECK_FALSE(is_known(log.fixes[0].position_sd_m));
    CHECK_FALSE(is_known(log.fixes[2].position_sd_m));
  } while (std::next_permutation(parts.begin(), parts.end()));
}

TEST_CASE("VTG, which has no time, gives its speed to the right instant in any order", "[log]") {
  std::mt19937 random(3);
  for (int round = 0; round < 20; ++round) {
    std::string text;
    for (int second = 0; second < 20; ++second) {
      std::vector<std::string> parts = {rmc(second, fmt::format("{:.1f}", 1.0 + second)), gga(second),
                                        vtg(fmt::format("{:.3f}", 1.002 + second), "")};
      std::shuffle(parts.begin(), parts.end(), random);
      for (const std::string& part : parts) {
        text += part;
      }
    }
    const Log log = read_text(text);
    REQUIRE(log.fixes.size() == 20);
    for (std::size_t i = 0; i < log.fixes.size(); ++i) {
      // The VTG of its own instant or, where its order hides it, the coarser RMC; never a neighbour's.
      CHECK_THAT(log.fixes[i].speed_mps,
                 WithinAbs((1.001 + static_cast<double>(i)) * mps_per_knot_here, 0.0011 * mps_per_knot_here));
    }
  }
}

TEST_CASE("the finer figure of RMC and VTG is used", "[log]") {
  CHECK_THAT(read_text(rmc(0, "9.7") + vtg("9.719", "17.9996")).fixes[0].speed_mps,
             WithinAbs(17.9996 / 3.6, 1e-12));
  CHECK_THAT(read_text(rmc(0, "9.719") + vtg("9.7", "18.0")).fixes[0].speed_mps,
             WithinAbs(9.719 * mps_per_knot_here, 1e-12));
  CHECK_THAT(read_text(rmc(0, "") + vtg("9.7", "18.0")).fixes[0].speed_mps,
             WithinAbs(9.7 * mps_per_knot_here, 1e-12));
  // A VTG that disagrees is of another instant.
  CHECK_THAT(read_text(rmc(0, "9.7") + vtg("12.345", "")).fixes[0].speed_mps,
             WithinAbs(9.7 * mps_per_knot_here, 1e-12));
}

TEST_CASE("an empty speed field is unknown, not zero", "[log]") {
  CHECK_FALSE(is_known(read_text(rmc(0, "")).fixes[0].speed_mps));
  CHECK(read_text(rmc(0, "0.0")).fixes[0].speed_mps == 0.0);
}

TEST_CASE("two talkers that repeat an instant make one fix, from the richer", "[log]") {
  std::string text;
  for (int second = 0; second < 5; ++second) {
    text +=
        rmc(second, "9.7", "GP") + gga(second, "GP", 9) + rmc(second, "9.7", "GN") + gga(second, "GN", 21);
  }
  const Log log = read_text(text);
  CHECK(log.fixes.size() == 5);
  CHECK(log.fixes[3].satellites == 21);
  CHECK(log.notes.empty());
}

TEST_CASE("status V and modes N and E are not used, other letters are", "[log]") {
  const auto count = [](const std::string& status, const std::string& mode) {
    return read_text(rmc(0, "1.0") + sentence("GPRMC,093001.00," + status +
                                              ",4630.00000,N,00906.00000,E,1.0,90.0,040526,,," + mode))
        .fixes.size();
  };
  CHECK(count("A", "A") == 2);
  CHECK(count("A", "D") == 2);
  CHECK(count("A", "R") == 2);
  CHECK(count("A", "Q") == 2);  // unknown letters mean nothing
  CHECK(count("A", "") == 2);
  CHECK(count("V", "A") == 1);
  CHECK(count("A", "N") == 1);
  CHECK(count("A", "E") == 1);
}

TEST_CASE("a VTG after an instant without a fix is not lent to another", "[log]") {
  const Log log = read_text(sentence("GPRMC,093000.00,A,4630.00000,N,00906.00000,E,,,040526,,,A") +
                            sentence("GPRMC,093001.00,V,,,,,,,040526,,,N") + vtg("5.0", "9.26") +
                            sentence("GPRMC,093002.00,A,4630.00000,N,00906.00000,E,,,040526,,,A"));
  REQUIRE(log.fixes.size() == 2);
  CHECK_FALSE(is_known(log.fixes[0].speed_mps));
  CHECK_FALSE(is_known(log.fixes[1].speed_mps));
}

TEST_CASE("a log without any date has times of day, and days are added at midnight", "[log]") {
  std::string text;
  for (const char* time : {"235959.00", "000000.00", "120000.00", "235959.00", "000001.00"}) {
    text += sentence(std::string("GPGGA,") + time + ",4630.00000,N,00906.00000,E,1,09,0.9,450.0,M,48.0,M,,");
  }
  const Log log = read_text(text);
  CHECK_FALSE(log.dated);
  CHECK(find_note(log, "no-date") != nullptr);
  REQUIRE(log.fixes.size() == 5);
  CHECK(format_iso8601(log.fixes[0].time) == "1970-01-01T23:59:59.000Z");
  CHECK(format_iso8601(log.fixes[4].time) == "1970-01-03T00:00:01.000Z");
}

TEST_CASE("fixes before the first date get it too", "[log]") {
  const std::string place = ",4630.00000,N,00906.00000,E,1,09,0.9,450.0,M,48.0,M,,";
  const Log log = read_text(sentence("GPGGA,235958.00" + place) + sentence("GPGGA,235959.00" + place) +
                            sentence("GPGGA,000000.00" + place) +
                            sentence("GPRMC,000001.00,A,4630.00000,N,00906.00000,E,1.0,90.0,050526,,,A"));
  CHECK(log.dated);
  REQUIRE(log.fixes.size() == 4);
  CHECK(format_iso8601(log.fixes[0].time) == "2026-05-04T23:59:58.000Z");
  CHECK(format_iso8601(log.fixes[2].time) == "2026-05-05T00:00:00.000Z");
}

TEST_CASE("a small step back in time is not a day", "[log]") {
  const Log log = read_text(rmc(5, "1.0") + gga(4) + rmc(6, "1.0"));
  REQUIRE(log.fixes.size() == 3);
  CHECK(seconds_between(log.fixes.front().time, log.fixes.back().time) == 2.0);
  CHECK(find_note(log, "time-backwards") != nullptr);
}

TEST_CASE("times that differ by rounding are one instant", "[log]") {
  const Log log = read_text(
      "$GPGLL,3908.8199,N,00023.0832,W,120824.758,A*22\r\n"
      "$GPGGA,120824.76,3908.8199,N,00023.0832,W,1,06,2.1,00176,M,,,,*39\r\n");
  CHECK(log.fixes.size() == 1);
}

TEST_CASE("a wrong checksum loses the sentence, and the note says how many and where", "[log]") {
  std::string bad = rmc(1, "9.719");
  bad[bad.find("9.719")] = '8';
  const Log log = read_text(rmc(0, "9.719") + bad + rmc(2, "9.719") + bad);
  CHECK(log.fixes.size() == 2);
  REQUIRE(find_note(log, "bad-checksum") != nullptr);
  CHECK(find_note(log, "bad-checksum")->text ==
        "2 sentences with a wrong or missing checksum were left out (the first in line 2).");
  CHECK(find_note(log, "bad-checksum")->line == 2);
}

TEST_CASE("sentences without a checksum count only in a log that has none", "[log]") {
  const auto bare = [](const std::string& text) { return text.substr(0, text.find('*')) + "\n"; };
  const Log none = read_text(bare(rmc(0, "1.0")) + bare(rmc(1, "1.0")));
  CHECK(none.fixes.size() == 2);
  CHECK(find_note(none, "no-checksum") != nullptr);
  const Log some = read_text(bare(rmc(0, "1.0")) + rmc(1, "1.0") + bare(rmc(2, "1.0")));
  CHECK(some.fixes.size() == 1);
  CHECK(find_note(some, "bad-checksum") != nullptr);
}

TEST_CASE("binary data between sentences does no harm", "[log]") {
  std::string junk;
  for (int i = 0; i < 256; ++i) {
    junk += static_cast<char>(i);
  }
  const Log log = read_text(rmc(0, "1.0") + junk + rmc(1, "1.0") + junk + junk + "\n" + rmc(2, "1.0"));
  CHECK(log.fixes.size() == 3);
}

TEST_CASE("a receiver without a fix all along is an error with that reason", "[log]") {
  CHECK_THROWS_WITH(read_text(sentence("GPRMC,093001.00,V,,,,,,,040526,,,N")),
                    "ride: the receiver had no valid position at any time; give the log of a ride");
}
