#include "bothways/core/error.hpp"
#include "helpers.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

namespace fs = std::filesystem;
using namespace bothways;
using namespace log_test;
using Catch::WithinAbs;

namespace {

const fs::path oddities = fs::path(BOTHWAYS_SOURCE_DIR) / "fixtures" / "oddities";

Log read_oddity(const std::string& name) {
  return read_log((oddities / name).string());
}

struct Case {
  const char* file;
  std::size_t fixes;
  std::set<std::string> codes;  ///< of all notes
  std::vector<double> speed_mps;
};

const std::vector<Case> cases = {
    {"csv-quotes.csv", 2, {}, {10 * 0.44704, 11 * 0.44704}},
    {"csv-seconds-from-start.csv", 3, {"no-date"}, {0.0, 0.1, 0.2}},
    {"csv-semicolon.csv", 2, {}, {5.0, 18.5 / 3.6}},
    {"csv-speed-without-unit.csv", 2, {"speed-without-unit"}, {unknown, unknown}},
    {"csv-tab-ms.csv", 2, {}, {5.0, 5.1}},
    {"csv-unix-seconds.csv.gz", 2, {}, {9.719 * 1852 / 3600, 9.8 * 1852 / 3600}},
    {"gpx-10.gpx", 3, {}, {5, 6, 7}},
    {"gpx-10-points-11-header.gpx", 3, {}, {5, 6, 7}},
    {"gpx-bom-cdata-comments.gpx", 3, {}, {unknown}},
    {"gpx-broken-middle.gpx", 3, {"broken-xml"}, {unknown}},
    {"gpx-cut-off.gpx", 4, {"cut-off"}, {unknown}},
    {"gpx-date-jump.gpx", 4, {"date-jump"}, {unknown}},
    {"gpx-element-order.gpx", 3, {}, {unknown}},
    {"gpx-kmh-whole-seconds.gpx", 160, {"speed-unit", "whole-second-stamps"}, {}},
    {"gpx-last-without-time.gpx", 3, {"no-time"}, {}},
    {"gpx-lost-milliseconds.gpx", 6, {"duplicate-time"}, {}},
    {"gpx-mixed-fractions.gpx", 4, {}, {}},
    {"gpx-nested-extension.gpx", 3, {}, {5, 6, 7}},
    {"gpx-no-end-tag.gpx", 5, {"cut-off"}, {}},
    {"gpx-odd-version.gpx", 3, {}, {}},
    {"gpx-phone-export.gpx", 4, {}, {5, 5.5, 6, 6.5}},
    {"gpx-plain-extension.gpx", 4, {}, {5, 5.25, 5.5, 5.75}},
    {"gpx-segments-swapped.gpx", 6, {"time-backwards"}, {}},
    {"gpx-time-spellings.gpx", 8, {"no-zone"}, {}},
    {"gpx-undeclared-prefix.gpx", 2, {"speed-invalid"}, {unknown, 5.5}},
    {"gpx-utf16.gpx", 3, {}, {}},
    {"gpx-white-space-time.gpx", 2, {}, {}},
    {"kml-cut-off.kml", 2, {"cut-off", "empty-fix"}, {unknown, unknown}},
    {"kml-multi-track.kml", 3, {"no-time"}, {unknown, unknown, unknown}},
    {"kml-track.kml", 4, {}, {5.0, 5.5, 6.0, unknown}},
    {"nmea-accuracy.nmea", 2, {}, {5.0, 5.0}},
    {"nmea-bad-checksum.nmea", 3, {"bad-checksum"}, {5, 5, 5}},
    {"nmea-blanks-lower-hex.nmea", 3, {}, {5, 5, 5}},
    {"nmea-cr-only.nmea", 3, {}, {5, 5, 5}},
    {"nmea-cut-off.nmea", 2, {"cut-off"}, {5, 5}},
    {"nmea-date-jump.nmea", 4, {"date-jump"}, {0, 0, 0, 0}},
    {"nmea-fine-vtg.nmea", 3, {}, {17.9996 / 3.6}},
    {"nmea-glued.nmea", 3, {}, {5, 5, 5}},
    {"nmea-leap-second.nmea", 2, {"duplicate-time"}, {0, 0}},
    {"nmea-long.nmea", 2, {"long-sentence"}, {5, 5}},
    {"nmea-midnight.nmea", 2, {}, {12.340 * 1852 / 3600, 12.840 * 1852 / 3600}},
    {"nmea-no-checksum.nmea", 3, {"no-checksum"}, {5, 5, 5}},
    {"nmea-no-date-midnight.nmea", 4, {"no-date"}, {5, 5, 5, 5}},
    {"nmea-not-valid.nmea", 2, {"no-fix"}, {unknown, 5}},
    {"nmea-phone.nmea", 3, {}, {5, 5, 5}},
    {"nmea-two-talkers.nmea", 3, {}, {5, 5, 5}},
    {"nmea-utf16.nmea", 3, {}, {5, 5, 5}},
    {"nmea-week-rollover.nmea", 2, {"week-rollover"}, {5, 5}},
    {"nmea-whole-seconds.nmea", 40, {"whole-second-stamps"}, {}},
    {"tcx-activity.tcx", 3, {"empty-fix"}, {5.0, 5.5, unknown}},
};

struct Refused {
  const char* file;
  const char* because;
};
const std::vector<Refused> refused = {
    {"csv-only-speed-without-unit.csv", "is no speed in a known unit"},
    {"empty.gpx", "the file is empty"},
    {"gpx-no-times.gpx", "none of its track points has a time"},
    {"gpx-route-only.gpx", "a planned route or waypoints but no recorded track"},
    {"kml-path-only.kml", "no track with times"},
    {"letter.csv", "it is text, but neither NMEA sentences nor CSV"},
    {"other.gpx", "XML of another kind, <ride>"},
    {"picture.gpx", "it starts like a PNG picture"},
    {"program.nmea", "it starts like a program"},
    {"tcx-course-only.tcx", "a planned course but no activity"},
};

}  // namespace

TEST_CASE("every odd file gives what its birth certificate says", "[log]") {
  for (const Case& expected : cases) {
    CAPTURE(expected.file);
    const Log log = read_oddity(expected.file);
    CHECK(log.fixes.size() == expected.fixes);
    std::set<std::string> codes;
    for (const Note& note : log.notes) {
      codes.insert(note.code);
    }
    CHECK(codes == expected.codes);
    for (std::size_t i = 0; i < expected.speed_mps.size(); ++i) {
      if (is_known(expected.speed_mps[i])) {
        // 9.719 kn is written for 5 m/s: half its last digit.
        CHECK_THAT(log.fixes.at(i).speed_mps, WithinAbs(expected.speed_mps[i], 0.0005 * 1852 / 3600));
      } else {
        CHECK_FALSE(is_known(log.fixes.at(i).speed_mps));
      }
    }
  }
}

TEST_CASE("every odd file that is no log is refused with its reason", "[log]") {
  for (const Refused& expected : refused) {
    CAPTURE(expected.file);
    CHECK_THROWS_WITH(
        read_oddity(expected.file),
        Catch::Contains(expected.because) && Catch::StartsWith((oddities / expected.file).string() + ":"));
  }
}

TEST_CASE("every odd file is looked at by a test and listed in its README", "[log]") {
  std::set<std::string> tested = {"README.md"};
  for (const Case& expected : cases) {
    tested.insert(expected.file);
  }
  for (const Refused& expected : refused) {
    tested.insert(expected.file);
  }
  std::ifstream readme(oddities / "README.md");
  std::ostringstream all;
  all << readme.rdbuf();
  const std::string text = all.str();
  for (const auto& entry : fs::directory_iterator(oddities)) {
    const std::string name = entry.path().filename().string();
    CAPTURE(name);
    CHECK(tested.count(name) == 1);
    CHECK((name == "README.md" || text.find("| `" + name + "` |") != std::string::npos));
  }
}

TEST_CASE("times of odd files are as written", "[log]") {
  std::string times;
  for (const Fix& fix : read_oddity("gpx-time-spellings.gpx").fixes) {
    times += std::to_string(fix.time.unix_us - 1'777'887'000'000'000) + " ";
  }
  CHECK(times == "0 1000000 2000000 3000000 4000000 5123456 6500000 7250000 ");
  const Log night = read_oddity("nmea-no-date-midnight.nmea");
  CHECK_FALSE(night.dated);
  CHECK(seconds_between(night.fixes.front().time, night.fixes.back().time) == 3.0);
  const Log accuracy = read_oddity("nmea-accuracy.nmea");
  CHECK_THAT(accuracy.fixes[1].position_sd_m, WithinAbs(std::sqrt(12.5), 1e-12));
  CHECK(accuracy.fixes[1].hdop == 1.3);
  const Log quotes = read_oddity("csv-quotes.csv");
  REQUIRE(quotes.channels.size() == 1);
  CHECK(quotes.channels[0].value == std::vector<double>{12.5, 12.25});
  const Log tabs = read_oddity("csv-tab-ms.csv");
  CHECK(tabs.fixes[0].speed_sd_mps == 0.2);
  CHECK_FALSE(is_known(tabs.fixes[1].speed_sd_mps));
  CHECK(tabs.fixes[1].time.unix_us - tabs.fixes[0].time.unix_us == 100'000);
}

TEST_CASE("looks_like_log agrees with what can be read", "[log]") {
  for (const Case& expected : cases) {
    CAPTURE(expected.file);
    CHECK(looks_like_log((oddities / expected.file).string()));
  }
  for (const char* name :
       {"empty.gpx", "letter.csv", "other.gpx", "picture.gpx", "program.nmea", "README.md", "none"}) {
    CAPTURE(name);
    CHECK_FALSE(looks_like_log((oddities / name).string()));
  }
}
