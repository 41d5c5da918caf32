// Untrusted bytes: whatever they are, a sound log within the limits or one clear sentence, and soon.
#include "bothways/core/error.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

namespace fs = std::filesystem;
using namespace bothways;
using namespace log_test;
using Catch::Contains;

namespace {

constexpr double longest_s = 2.0;  // of a file below 1 MB, on a slow machine with sanitizers

/// Reads a text and checks what holds of every log and every refusal.
/// @return the log, empty if it was refused
Log survive(const std::string& text) {
  const auto start = std::chrono::steady_clock::now();
  Log log;
  try {
    log = read_text(text);
    CHECK_FALSE(log.fixes.empty());
  } catch (const LogError& error) {
    const std::string what = error.what();
    CHECK(what.size() < 1000);
    CHECK(what.starts_with("ride"));
  }
  const bool increasing = std::is_sorted(log.fixes.begin(), log.fixes.end(),
                                         [](const Fix& a, const Fix& b) { return a.time <= b.time; });
  const bool finite = std::all_of(log.fixes.begin(), log.fixes.end(), [](const Fix& fix) {
    return !std::isinf(fix.speed_mps) && !std::isinf(fix.ele_m) && !(std::abs(fix.lat_deg) > 90.0) &&
           !(std::abs(fix.lon_deg) > 180.0) && !(fix.speed_mps < 0.0);
  });
  CHECK(increasing);
  CHECK(finite);
  for (const Note& note : log.notes) {
    CHECK(note.text.size() < 1000);
  }
  CHECK(std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count() < longest_s);
  return log;
}

std::string bytes_of_file(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// The small fixtures, whole.
std::vector<std::string> odd_files() {
  std::vector<std::string> all;
  for (const auto& entry : fs::directory_iterator(fs::path(BOTHWAYS_SOURCE_DIR) / "fixtures" / "oddities")) {
    all.push_back(bytes_of_file(entry.path()));
  }
  std::sort(all.begin(), all.end());
  return all;
}

void cut_everywhere(std::size_t step) {
  std::size_t cuts = 0;
  for (const std::string& text : odd_files()) {
    for (std::size_t cut = 0; cut < text.size(); cut += step) {
      survive(text.substr(0, cut));
      ++cuts;
    }
  }
  CHECK(cuts > 50'000 / step);
}

std::string rmc(const std::string& clock, const std::string& place, const std::string& speed,
                const std::string& date) {
  return sentence("GPRMC," + clock + ",A," + place + "," + speed + ",90.0," + date + ",,,A");
}

const std::string here = "4630.0000,N,00906.0000,E";

/// A GPX file around these bytes, two points before them and one behind.
std::string gpx_around(const std::string& inside, const std::string& head = "") {
  const auto point = [](int second) {
    return fmt::format("<trkpt lat=\"46.5\" lon=\"9.1\"><time>2026-05-04T09:30:{:02}Z</time></trkpt>",
                       second);
  };
  return head + "<gpx><trk><trkseg>" + point(0) + point(1) + inside + point(2) + "</trkseg></trk></gpx>";
}

}  // namespace

TEST_CASE("every odd file cut at every 97th byte is read or refused", "[log]") {
  cut_everywhere(97);
}

TEST_CASE("every odd file cut at every byte is read or refused", "[log][slow]") {
  cut_everywhere(1);
}

TEST_CASE("odd files with flipped bits, doubled and swapped blocks are read or refused", "[log]") {
  std::mt19937 random(17);
  for (const std::string& text : odd_files()) {
    if (text.size() < 8) {
      continue;
    }
    for (int round = 0; round < 4; ++round) {
      std::string flipped = text;
      for (int i = 0; i < 5; ++i) {
        flipped[random() % text.size()] ^= static_cast<char>(1U << (random() % 8));
      }
      survive(flipped);
      const std::size_t a = random() % text.size();
      const std::size_t b = a + random() % (text.size() - a);
      survive(text.substr(0, b) + text.substr(a));                                      // a to b twice
      survive(text.substr(0, a) + text.substr(b) + text.substr(a, b - a));              // a to b at the end
      survive(text.substr(0, a) + std::string(random() % 100, '\0') + text.substr(b));  // a to b as NUL bytes
    }
  }
}

TEST_CASE("an attribute of a gigabyte is not taken into memory", "[log]") {
  std::size_t given = 0;
  const std::string start = gpx_around("").substr(0, 200) + "<trkpt lat=\"";
  const ByteSource endless = [&](std::span<char> into) {
    const std::size_t had = given;
    for (char& c : into) {
      c = given < start.size() ? start[given] : '4';
      ++given;
    }
    if (had > std::size_t{1} << 30U) {
      given = had;
      return std::size_t{0};
    }
    return into.size();
  };
  const Log log = read_log(endless, "ride");
  CHECK(log.fixes.size() >= 1);
  CHECK(find_note(log, "broken-xml") != nullptr);
  CHECK(given < std::size_t{64} << 20U);  // libxml2 gives up at 10 MB
}

TEST_CASE("a broken name that goes on for pages is told by its beginning", "[log]") {
  for (const std::string letter : {"x", "\xC3\xA4", "\xE3\x80\xBD"}) {
    CAPTURE(letter);
    std::string point = "<trkpt lat=\"46.5\" ";
    for (int i = 0; i < 1000; ++i) {
      point += letter;
    }
    const Note* note = nullptr;
    const Log log = survive(gpx_around(point + ">"));
    REQUIRE((note = find_note(log, "broken-xml")) != nullptr);
    CHECK(note->text.size() < 300);
    CHECK_THAT(note->text, Contains(letter + "...)"));
    survive("<gpx><trk><trkseg>" + point + ">");  // refused, with a short sentence
  }
}

TEST_CASE("XML that lies about its encoding keeps what stands before the lie", "[log]") {
  for (const char* encoding : {"UTF-16", "UCS-4", "no-such-encoding", "EBCDIC-CP-US"}) {
    CAPTURE(encoding);
    survive(gpx_around("", fmt::format("<?xml version=\"1.0\" encoding=\"{}\"?>", encoding)));
  }
  CHECK(survive(gpx_around("<name>\xFF\xFE</name>")).fixes.size() == 2);
  CHECK(survive(gpx_around(std::string("<name>\0</name>", 14))).fixes.size() == 2);
  CHECK(survive(gpx_around("<name>H\xF6he</name>", "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>"))
            .fixes.size() == 3);
}

TEST_CASE("XML that is nested without end or holds the same element a million times ends soon", "[log]") {
  std::string deep;
  for (int i = 0; i < 100'000; ++i) {
    deep += "<extensions>";
  }
  CHECK(survive(gpx_around(deep)).fixes.size() == 2);
  for (const char* root : {"kml", "TrainingCenterDatabase"}) {
    CAPTURE(root);
    std::string many = fmt::format("<{}><Track><Courses>", root);
    for (int i = 0; i < 50'000; ++i) {
      many += "<when/><coord/><Trackpoint/>";
    }
    survive(many);
  }
}

TEST_CASE("entity bombs in TCX and KML are not expanded", "[log]") {
  std::string type = "<!DOCTYPE x [<!ENTITY a0 \"2026\">";
  for (int i = 1; i < 30; ++i) {
    type += fmt::format("<!ENTITY a{0} \"&a{1};&a{1};&a{1};&a{1};\">", i, i - 1);
  }
  type += "<!ENTITY f SYSTEM \"file:///etc/hostname\">]>";
  const Log tcx = survive(
      type +
      "<TrainingCenterDatabase><Track><Trackpoint><Time>2026-05-04T09:30:00Z</Time><AltitudeMeters>&a29;5"
      "</AltitudeMeters><Position><LatitudeDegrees>46&f;</LatitudeDegrees><LongitudeDegrees>9</"
      "LongitudeDegrees>"
      "</Position><Speed>5</Speed></Trackpoint></Track></TrainingCenterDatabase>");
  REQUIRE(tcx.fixes.size() == 1);
  CHECK_FALSE(is_known(tcx.fixes[0].ele_m));
  CHECK_FALSE(is_known(tcx.fixes[0].lat_deg));
  const Log kml =
      survive(type +
              "<kml><Track><when>2026-05-04T09:30:00Z</when><when>&a29;</when><coord>9 46 1</coord>"
              "<coord>9 46 &a1;</coord></Track></kml>");
  CHECK(kml.fixes.size() == 1);
}

TEST_CASE("a megabyte without a line end costs its line, not the log", "[log]") {
  const std::string good = rmc("093000.00", here, "5.0", "040526") + rmc("093001.00", here, "5.0", "040526");
  const Log nmea = survive(good + "$GPRMC," + std::string(3'000'000, '1') + "\r\n" +
                           rmc("093002.00", here, "5.0", "040526"));
  CHECK(nmea.fixes.size() == 3);
  CHECK(find_note(nmea, "long-line") != nullptr);
  const Log csv = survive("time,lat,lon\n1777887000,46.5,9.1\n" + std::string(3'000'000, ',') +
                          "\n1777887001,46.5,9.1\n");
  CHECK(csv.fixes.size() == 2);
  survive(std::string(200'000, '$'));
  survive(std::string(200'000, ','));
  survive("time,lat,lon\n" + std::string(200'000, '"'));
  survive("time;lat;lon\n" + std::string(60'000, ';') + "\n");
}

TEST_CASE("absurd fields of sentences are not figures", "[log]") {
  for (const char* speed : {"1e308", "-5", "nan", "inf", "99999999999999999999", "0x10", ""}) {
    CAPTURE(speed);
    const Log log = survive(rmc("093000.00", here, speed, "040526"));
    REQUIRE(log.fixes.size() == 1);
    CHECK_FALSE(is_known(log.fixes[0].speed_mps));
  }
  for (const char* place :
       {"9999.0000,N,00906.0000,E", "4630.0000,X,00906.0000,E", "4660.0000,N,00906.0000,E",
        "-630.0000,N,00906.0000,E", "4630.0000,N,18100.0000,E", ",,,"}) {
    CAPTURE(place);
    const Log log = survive(rmc("093000.00", place, "5.0", "040526"));
    CHECK((log.fixes.empty() || !is_known(log.fixes[0].lat_deg)));
  }
  for (const char* clock : {"240000.00", "096000.00", "093061.00", "0930", "", "-93000.00", "093000.00.00"}) {
    CAPTURE(clock);
    CHECK(survive(rmc(clock, here, "5.0", "040526")).fixes.empty());
  }
  for (const char* date : {"300226", "000000", "320126", "011326", "0405", "aabbcc"}) {
    CAPTURE(date);
    const Log log = survive(rmc("093000.00", here, "5.0", date));
    CHECK((log.fixes.empty() || !log.dated));
  }
}

TEST_CASE("months, years and leap days end where the calendar says", "[log]") {
  struct Case {
    const char* before;
    const char* after;
  };
  for (const Case& c : {Case{"280226", "010326"}, Case{"280224", "290224"}, Case{"290224", "010324"},
                        Case{"311226", "010127"}, Case{"300426", "010526"}}) {
    CAPTURE(c.before);
    const Log log = survive(rmc("235959.50", here, "5.0", c.before) + rmc("000000.50", here, "5.0", c.after));
    REQUIRE(log.fixes.size() == 2);
    CHECK(seconds_between(log.fixes[0].time, log.fixes[1].time) == 1.0);
  }
}

TEST_CASE("the date line and the poles are places like others", "[log]") {
  const Log line = survive(rmc("093000.00", "1630.0000,S,17959.9999,E", "5.0", "040526") +
                           rmc("093001.00", "1630.0000,S,17959.9999,W", "5.0", "040526") +
                           rmc("093002.00", "1630.0000,S,18000.0000,W", "5.0", "040526"));
  REQUIRE(line.fixes.size() == 3);
  CHECK(line.fixes[2].lon_deg == -180.0);
  CHECK(line.notes.empty());
  const Log pole = survive(rmc("093000.00", "9000.0000,N,00000.0000,E", "5.0", "040526") +
                           rmc("093001.00", "8959.9999,N,17900.0000,W", "5.0", "040526"));
  REQUIRE(pole.fixes.size() == 2);
  CHECK(pole.fixes[0].lat_deg == 90.0);
}

TEST_CASE("line ends inside quotes belong to their CSV cell", "[log]") {
  const Log log = survive(
      "time,lat,lon,remark,rpm\r\n1777887000,46.5,9.1,\"one\r\ntwo, \"\"three\"\"\n\",3000\r\n"
      "1777887001,46.5,9.1,four,3100\r\n");
  REQUIRE(log.fixes.size() == 2);
  REQUIRE(log.channels.size() == 1);
  CHECK(log.channels[0].value == std::vector<double>{3000.0, 3100.0});
}
