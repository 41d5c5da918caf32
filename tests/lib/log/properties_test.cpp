#include "bothways/core/error.hpp"
#include "helpers.hpp"
#include "support/real_logs.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <optional>
#include <vector>

namespace fs = std::filesystem;
using namespace bothways;
using namespace log_test;
using Catch::WithinAbs;

namespace {

/// What the ride of the three writers is made of: exact in all three formats.
struct Record {
  int tenth = 0;         ///< of a second after 09:30:00
  int lat_micromin = 0;  ///< 1e-6 minutes of latitude beyond 46 30
  int knots_milli = 0;
};

std::vector<Record> ride() {
  std::vector<Record> records;
  for (int i = 0; i < 60; ++i) {
    records.push_back({i, 1000 * i, 20 * i});
  }
  return records;
}

double lat_of(const Record& record) {
  return 46.0 + (30.0 + record.lat_micromin * 1e-6) / 60.0;
}
double speed_of(const Record& record) {
  return record.knots_milli / 1000.0 * 1852.0 / 3600.0;
}

std::string as_gpx(const std::vector<Record>& records) {
  std::string text = "<gpx version=\"1.1\"><trk><trkseg>\n";
  for (const Record& r : records) {
    text += fmt::format(
        "<trkpt lat=\"{:.12f}\" lon=\"9.1\"><ele>450.5</ele><time>2026-05-04T09:30:{:02}.{}Z</time>"
        "<extensions><speed>{:.12f}</speed></extensions></trkpt>\n",
        lat_of(r), r.tenth / 10, r.tenth % 10, speed_of(r));
  }
  return text + "</trkseg></trk></gpx>\n";
}

std::string as_nmea(const std::vector<Record>& records) {
  std::string text;
  for (const Record& r : records) {
    const std::string clock = fmt::format("0930{:02}.{}0", r.tenth / 10, r.tenth % 10);
    const std::string place = fmt::format("46{:09.6f},N,00906.000000,E", 30.0 + r.lat_micromin * 1e-6);
    text += sentence(fmt::format("GPRMC,{},A,{},{:.3f},,040526,,,A", clock, place, r.knots_milli / 1000.0));
    text += sentence(fmt::format("GPGGA,{},{},1,,,450.5,M,48.0,M,,", clock, place));
  }
  return text;
}

std::string as_csv(const std::vector<Record>& records) {
  std::string text = "time,lat,lon,speed_kn,ele\n";
  for (const Record& r : records) {
    text += fmt::format("2026-05-04T09:30:{:02}.{}Z,{:.12f},9.1,{:.3f},450.5\n", r.tenth / 10, r.tenth % 10,
                        lat_of(r), r.knots_milli / 1000.0);
  }
  return text;
}

/// What holds of any log, good or bad.
void check_sound(const Log& log) {
  REQUIRE_FALSE(log.fixes.empty());
  bool increasing = true;
  bool finite = true;
  bool together = true;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& fix = log.fixes[i];
    increasing = increasing && (i == 0 || log.fixes[i - 1].time < fix.time);
    together = together && is_known(fix.lat_deg) == is_known(fix.lon_deg);
    for (const double figure : {fix.lat_deg, fix.lon_deg, fix.ele_m, fix.speed_mps, fix.course_deg,
                                fix.speed_sd_mps, fix.position_sd_m, fix.hdop}) {
      finite = finite && !std::isinf(figure);
    }
    finite = finite && !(fix.speed_mps < 0.0) && !(std::abs(fix.lat_deg) > 90.0) &&
             !(std::abs(fix.lon_deg) > 180.0);
  }
  CHECK(increasing);
  CHECK(finite);
  CHECK(together);
  for (const Channel& channel : log.channels) {
    CHECK(channel.value.size() == log.fixes.size());
  }
}

std::optional<Log> try_read(const std::string& text) {
  try {
    return read_text(text);
  } catch (const LogError&) {
    return std::nullopt;
  }
}

}  // namespace

TEST_CASE("a ride written as GPX, NMEA and CSV gives the same fixes", "[log]") {
  const auto records = ride();
  const Log gpx = read_text(as_gpx(records));
  const Log nmea = read_text(as_nmea(records));
  const Log csv = read_text(as_csv(records));
  REQUIRE(gpx.fixes.size() == records.size());
  REQUIRE(nmea.fixes.size() == records.size());
  REQUIRE(csv.fixes.size() == records.size());
  for (std::size_t i = 0; i < records.size(); ++i) {
    for (const Log* log : {&nmea, &csv}) {
      CHECK(log->fixes[i].time == gpx.fixes[i].time);
      CHECK_THAT(log->fixes[i].lat_deg, WithinAbs(gpx.fixes[i].lat_deg, 1e-11));
      CHECK_THAT(log->fixes[i].lon_deg, WithinAbs(gpx.fixes[i].lon_deg, 1e-11));
      CHECK_THAT(log->fixes[i].speed_mps, WithinAbs(gpx.fixes[i].speed_mps, 1e-11));
      CHECK(log->fixes[i].ele_m == gpx.fixes[i].ele_m);
    }
  }
  CHECK(gpx.notes.empty());
  CHECK(nmea.notes.empty());
  CHECK(csv.notes.empty());
}

TEST_CASE("a log cut at any byte gives a prefix of its fixes", "[log]") {
  const auto records = ride();
  for (const std::string& text : {as_gpx(records), as_nmea(records), as_csv(records)}) {
    const Log whole = read_text(text);
    for (std::size_t cut = 0; cut < text.size(); ++cut) {
      const auto log = try_read(text.substr(0, cut));
      if (!log) {
        continue;
      }
      bool prefix = log->fixes.size() <= whole.fixes.size();
      for (std::size_t i = 0; prefix && i < log->fixes.size(); ++i) {
        const Fix& part = log->fixes[i];
        const Fix& full = whole.fixes[i];
        // The last instant of an NMEA log may lack its second sentence.
        const bool last = i + 1 == log->fixes.size();
        prefix = part.time == full.time && part.lat_deg == full.lat_deg && part.lon_deg == full.lon_deg &&
                 part.speed_mps == full.speed_mps &&
                 (part.ele_m == full.ele_m || (last && !is_known(part.ele_m)));
      }
      CAPTURE(cut);
      REQUIRE(prefix);
    }
  }
}

TEST_CASE("a cut inside a record is noted", "[log]") {
  const auto records = ride();
  for (const std::string& text : {as_gpx(records), as_nmea(records), as_csv(records)}) {
    const auto log = try_read(text.substr(0, text.size() - 40));
    REQUIRE(log);
    CHECK(find_note(*log, "cut-off") != nullptr);
  }
}

TEST_CASE("reading twice gives the same, in pieces of any size", "[log]") {
  const std::string text = as_nmea(ride());
  const Log whole = read_text(text);
  for (const std::size_t step : {1U, 3U, 64U}) {
    const Log log = read_log(bytes_of(text, step), "ride");
    REQUIRE(log.fixes.size() == whole.fixes.size());
    for (std::size_t i = 0; i < whole.fixes.size(); ++i) {
      CHECK(log.fixes[i].speed_mps == whole.fixes[i].speed_mps);
    }
  }
}

TEST_CASE(
    "every real log beside the checkout is read or refused in one sentence, and nothing in it is infinite",
    "[log][reallog]") {
  const auto shared = real_logs();
  if (!shared) {
    return;
  }
  std::size_t logs = 0;
  for (const auto& entry : fs::recursive_directory_iterator(*shared)) {
    if (!entry.is_regular_file()) {
      continue;
    }
    CAPTURE(entry.path().string());
    try {
      const Log log = read_log(entry.path().string());
      check_sound(log);
      CHECK(looks_like_log(entry.path().string()));
      CHECK(log.notes.size() < 8);
      CHECK(find_note(log, "speed-unit") == nullptr);
      CHECK(find_note(log, "whole-second-stamps") == nullptr);
      ++logs;
    } catch (const LogError& error) {
      CHECK(std::string(error.what()).find('\n') == std::string::npos);
    }
  }
  CHECK(logs > 100);
}

TEST_CASE("what holds of any log holds of the odd ones", "[log]") {
  for (const auto& entry : fs::directory_iterator(fs::path(BOTHWAYS_SOURCE_DIR) / "fixtures" / "oddities")) {
    CAPTURE(entry.path().string());
    try {
      check_sound(read_log(entry.path().string()));
    } catch (const LogError& error) {
      CHECK(std::string(error.what()).find(": ") != std::string::npos);
    }
  }
}
