#include "bothways/log/tidy.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways;
using Catch::WithinAbs;

namespace {

constexpr std::int64_t start_us = 1'777'887'000'000'000;  // 2026-05-04T09:30:00Z
constexpr double m_per_deg = 111'150.0;                   // of latitude at 46.5 degrees, to 0.01 %

Fix fix_at(double t_s, double north_m = 0.0, double v_mps = unknown) {
  Fix fix;
  fix.time.unix_us = start_us + std::llround(t_s * 1e6);
  fix.lat_deg = 46.5 + north_m / m_per_deg;
  fix.lon_deg = 9.1;
  fix.speed_mps = v_mps;
  return fix;
}

Draft draft_of(std::vector<Fix> fixes) {
  Draft draft;
  for (const Fix& fix : fixes) {
    draft.add(fix, draft.fixes.size() + 1, 1'000'000);
  }
  return draft;
}

const Note* note_of(const Draft& draft, const std::string& code) {
  for (const Note& note : draft.notes) {
    if (note.code == code) {
      return &note;
    }
  }
  return nullptr;
}

/// A steady ride north whose times are cut to whole seconds.
Draft cut_ride(int hz, double seconds, double v_mps = 10.0, double offset_s = 0.0) {
  std::vector<Fix> fixes;
  for (int i = 0; i < static_cast<int>(seconds * hz); ++i) {
    const double t_s = offset_s + static_cast<double>(i) / hz;
    Fix fix = fix_at(t_s, v_mps * t_s, v_mps);
    fix.time.unix_us -= fix.time.unix_us % 1'000'000;
    fixes.push_back(fix);
  }
  return draft_of(fixes);
}

}  // namespace

TEST_CASE("a good log passes unchanged and without a note", "[log]") {
  std::vector<Fix> fixes;
  for (int i = 0; i < 1000; ++i) {
    fixes.push_back(fix_at(0.1 * i, 1.5 * i, 15.0));
  }
  Draft draft = draft_of(fixes);
  tidy(draft);
  CHECK(draft.notes.empty());
  REQUIRE(draft.fixes.size() == fixes.size());
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    CHECK(draft.fixes[i].time == fixes[i].time);
    CHECK(draft.fixes[i].speed_mps == fixes[i].speed_mps);
  }
}

TEST_CASE("times that go back are sorted, counted, and placed", "[log]") {
  Draft draft = draft_of({fix_at(5), fix_at(6), fix_at(1), fix_at(2), fix_at(0)});
  tidy(draft);
  REQUIRE(note_of(draft, "time-backwards") != nullptr);
  CHECK(note_of(draft, "time-backwards")->text ==
        "2 times go backwards; the log was sorted by time (the first in line 3)");
  for (std::size_t i = 1; i < draft.fixes.size(); ++i) {
    CHECK(draft.fixes[i - 1].time < draft.fixes[i].time);
  }
}

TEST_CASE("records of one instant become one that knows what any of them knows", "[log]") {
  Fix first = fix_at(1);
  first.hdop = 0.9;
  Fix second = fix_at(1, 3.0, 7.0);
  Draft draft = draft_of({fix_at(0), first, second, fix_at(2)});
  tidy(draft);
  REQUIRE(draft.fixes.size() == 3);
  CHECK(draft.fixes[1].hdop == 0.9);
  CHECK(draft.fixes[1].speed_mps == 7.0);
  CHECK(draft.fixes[1].lat_deg == first.lat_deg);  // of two known figures the first stands
  CHECK(note_of(draft, "duplicate-time") != nullptr);
}

TEST_CASE("whole-second stamps of a faster logger are spread inside their second", "[log]") {
  for (const int hz : {2, 4, 5, 10, 18, 25}) {
    CAPTURE(hz);
    Draft draft = cut_ride(hz, 30.0);
    tidy(draft);
    REQUIRE(note_of(draft, "whole-second-stamps") != nullptr);
    REQUIRE(draft.fixes.size() == static_cast<std::size_t>(30 * hz));
    for (std::size_t i = 0; i < draft.fixes.size(); ++i) {
      CHECK_THAT(seconds_between({start_us}, draft.fixes[i].time),
                 WithinAbs(static_cast<double>(i) / hz, 2e-6));
    }
    CHECK(draft.notes.size() == 1);
  }
}

TEST_CASE("a first second that is cut short is spread to its end", "[log]") {
  Draft draft = cut_ride(5, 30.0, 10.0, 0.6);
  tidy(draft);
  REQUIRE(note_of(draft, "whole-second-stamps") != nullptr);
  CHECK_THAT(seconds_between({start_us}, draft.fixes[0].time), WithinAbs(0.6, 1e-6));
  CHECK_THAT(seconds_between({start_us}, draft.fixes[2].time), WithinAbs(1.0, 1e-6));
}

TEST_CASE("whole-second stamps are seen though the vehicle stands most of the time", "[log]") {
  std::vector<Fix> fixes;
  for (int i = 0; i < 1000; ++i) {
    Fix fix = fix_at(i / 10, i < 800 ? 0.0 : 0.5 * (i - 800), i < 800 ? 0.0 : 5.0);
    fixes.push_back(fix);
  }
  Draft draft = draft_of(fixes);
  tidy(draft);
  CHECK(note_of(draft, "whole-second-stamps") != nullptr);
  CHECK(draft.fixes.size() == 1000);
}

TEST_CASE("a 1 Hz log with doubled or a few repeated records is not taken for a faster one", "[log]") {
  std::vector<Fix> doubled;
  std::vector<Fix> few;
  for (int i = 0; i < 60; ++i) {
    doubled.push_back(fix_at(i, 10.0 * i, 10.0));
    doubled.push_back(doubled.back());
    few.push_back(fix_at(i, 10.0 * i, 10.0));
    if (i % 4 == 0) {
      few.push_back(fix_at(i, 10.0 * i + 3.0, 10.0));
    }
  }
  for (const auto& fixes : {doubled, few}) {
    Draft draft = draft_of(fixes);
    tidy(draft);
    CHECK(note_of(draft, "whole-second-stamps") == nullptr);
    CHECK(note_of(draft, "duplicate-time") != nullptr);
    CHECK(draft.fixes.size() == 60);
  }
}

TEST_CASE("figures that cannot be are made unknown", "[log]") {
  Fix fix = fix_at(0, 0, 250.0);
  fix.course_deg = 400.0;
  fix.hdop = 0.0;
  fix.ele_m = 1e9;
  fix.speed_sd_mps = -1.0;
  fix.position_sd_m = 0.0;
  Fix infinite = fix_at(1);
  infinite.speed_mps = std::numeric_limits<double>::infinity();
  infinite.hdop = infinite.speed_mps;
  Draft draft = draft_of({fix, infinite, fix_at(2, 0, -1.0)});
  tidy(draft);
  for (const Fix& tidied : draft.fixes) {
    for (const double figure : {tidied.speed_mps, tidied.course_deg, tidied.hdop, tidied.ele_m,
                                tidied.speed_sd_mps, tidied.position_sd_m}) {
      CHECK_FALSE(is_known(figure));
    }
  }
  CHECK(note_of(draft, "speed-absurd")->text.substr(0, 1) == "2");
  CHECK(note_of(draft, "speed-invalid")->text.substr(0, 1) == "1");
}

TEST_CASE("a speed in the wrong unit is found from the positions and corrected", "[log]") {
  for (const double factor : {3.6, 2.23694, 1.94384, 1.852, 0.514444, 0.277778}) {
    CAPTURE(factor);
    std::vector<Fix> fixes;
    for (int i = 0; i < 300; ++i) {
      // Positions 1 m off to and fro, speed 1 % off: still plain.
      const double off = i % 2 == 0 ? 1.0 : -1.0;
      fixes.push_back(fix_at(i, 12.0 * i + off, 12.0 * factor * (1.0 + 0.01 * off)));
    }
    Draft draft = draft_of(fixes);
    tidy(draft);
    REQUIRE(note_of(draft, "speed-unit") != nullptr);
    CHECK_THAT(draft.fixes[100].speed_mps, WithinAbs(12.0, 0.15));
  }
}

TEST_CASE("the unit of a good speed is left alone, however rough the positions", "[log]") {
  std::uint64_t state = 1;
  const auto noise = [&state] {  // -1..1
    state = state * 6364136223846793005U + 1442695040888963407U;
    return static_cast<double>(state >> 11U) / 4503599627370496.0 - 1.0;
  };
  for (const double position_noise_m : {0.0, 2.0, 10.0, 40.0}) {
    for (const double hz : {1.0, 10.0}) {
      std::vector<Fix> fixes;
      for (int i = 0; i < 3000; ++i) {
        const double t_s = i / hz;
        const double v_mps = 8.0 + 8.0 * std::sin(0.05 * t_s);
        const double s_m = 8.0 * t_s - 160.0 * std::cos(0.05 * t_s);
        fixes.push_back(fix_at(t_s, s_m + position_noise_m * noise(), v_mps));
      }
      Draft draft = draft_of(fixes);
      tidy(draft);
      CAPTURE(position_noise_m, hz);
      CHECK(note_of(draft, "speed-unit") == nullptr);
    }
  }
}

TEST_CASE("dates that cannot be right are noted and not changed", "[log]") {
  const auto dated = [](std::int64_t unix_s) {
    Fix fix = fix_at(0);
    fix.time.unix_us = unix_s * 1'000'000;
    Draft draft = draft_of({fix});
    tidy(draft);
    REQUIRE(draft.fixes[0].time == fix.time);
    return draft;
  };
  CHECK(note_of(dated(935'280'151), "week-rollover") != nullptr);  // 1999-08-22
  CHECK(note_of(dated(315'964'810), "clock-not-set") != nullptr);  // 1980-01-06
  CHECK(note_of(dated(1'777'887'000), "week-rollover") == nullptr);
}
