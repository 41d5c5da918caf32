#include "bothways/pair/compare.hpp"
#include "lib/pair/sides.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace bothways;
using namespace made_up;

namespace {

std::vector<std::string> codes_of(const std::vector<Note>& notes) {
  std::vector<std::string> codes;
  for (const Note& note : notes) {
    codes.push_back(note.code);
  }
  return codes;
}

}  // namespace

TEST_CASE("what breaks a comparison is warned of", "[pair]") {
  const Side before = side_of("before", {5.3, 5.2, 5.25});
  Side after = side_of("after", {5.1, 5.0, 5.05});
  CHECK(compare_two(before, after).warnings.empty());

  Side faster_receiver = after;
  faster_receiver.rides[0].receiver.rate_hz = 1.0;
  faster_receiver.rides[0].source = SpeedSource::positions;
  CHECK(codes_of(compare_two(before, faster_receiver).warnings) ==
        std::vector<std::string>{"other-rate", "other-source"});

  Side elsewhere = after;
  for (Run& run : elsewhere.rides[0].runs.accepted) {
    run.start.lat_deg += 0.05;
    run.end.lat_deg += 0.05;
  }
  CHECK(codes_of(compare_two(before, elsewhere).warnings) == std::vector<std::string>{"other-road"});

  Side along = after;  // 56 m to the north
  for (Run& run : along.rides[0].runs.accepted) {
    run.start.lat_deg += 0.0005;
    run.end.lat_deg += 0.0005;
  }
  const Comparison shifted = compare_two(before, along);
  CHECK(codes_of(shifted.warnings) == std::vector<std::string>{"other-starts"});
  CHECK_THAT(shifted.warnings.at(0).text, Catch::Contains("began some 56 m from those of before"));

  Side turned = after;
  for (Pair& pair : turned.pairs.made) {
    for (Run& run : turned.rides[0].runs.accepted) {
      if (run.id == pair.first_run) {
        run = placed(run, run.id, 0.0, 100.0, false);
      }
    }
  }
  CHECK(codes_of(compare_two(before, turned).warnings) == std::vector<std::string>{"direction-order"});

  Side one_way = after;
  one_way.pairs.single = {{.ride = 0, .run = 1, .code = "no-opposite", .text = "..."}};
  CHECK(codes_of(compare_two(before, one_way).warnings) == std::vector<std::string>{"runs-left-out"});
  one_way.pairs.made.clear();
  const Comparison none = compare_two(before, one_way);
  CHECK(none.differences.empty());
  CHECK(codes_of(none.warnings) == std::vector<std::string>{"no-pairs"});

  std::vector<Given> later{{5.1, 0.0, 48.0}, {5.0, 0.0, 48.1}};
  CHECK(codes_of(compare_two(before, side_of("after", "0-30 mph", later)).warnings) ==
        std::vector<std::string>{"other-days"});
  Side without_days = side_of("after", "0-30 mph", later);
  for (Ride& ride : without_days.rides) {
    ride.dated = false;
  }
  CHECK_THAT(compare_two(before, without_days).warnings.at(0).text,
             Catch::Contains("the logs do not say whether before and after were ridden on one day"));
  later.push_back({5.2, 0.0, 72.0});
  CHECK(codes_of(compare_two(before, side_of("after", "0-30 mph", later)).warnings) ==
        std::vector<std::string>{"several-days"});
  Side more_without_days = side_of("after", "0-30 mph", later);
  for (Ride& ride : more_without_days.rides) {
    ride.dated = false;
  }
  CHECK_THAT(compare_two(before, more_without_days).warnings.at(0).text,
             Catch::Contains("do not say on which days they were ridden"));

  Side one_way_and_gentle = one_way;
  one_way_and_gentle.rides[0].runs.rejected = {{.code = "gentle", .text = "..."},
                                               {.code = "gap", .text = "..."}};
  CHECK_THAT(
      compare_two(before, one_way_and_gentle).warnings.at(0).text,
      Catch::EndsWith("or see whether of 1 start left out as gentle some are full throttle the other way"));
}
