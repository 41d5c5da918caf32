// What the cache of analyses finds, and what it does when its file is not as it should be.
#include "cli/ride_cache.hpp"

#include "bothways/log/read.hpp"
#include "bothways/speed/derive.hpp"
#include "cli/logbook_fields.hpp"
#include "cli/packed.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <sys/stat.h>

#include <filesystem>
#include <string>

using namespace bothways;
using namespace bothways::cli;
namespace fs = std::filesystem;

namespace {

const RunOptions options{.splits = parse_splits("0-30 mph, 30-50 mph, 60 ft")};

std::string demo_path() {
  return std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/demo/mill-lane.nmea.gz";
}

/// The demo ride, made once.
const Ride& demo_ride() {
  static const Ride ride = analyse(read_log(demo_path()), options);
  return ride;
}

bool finds(const std::string& file, const std::string& maker, const std::string& log) {
  RideCache cache(file, maker);
  return cache.rides().find_look({log, {}}).has_value();
}

void fill(const std::string& file, const std::string& log) {
  RideCache cache(file, "this");
  Ride look = demo_ride();
  look.runs = {};
  cache.rides().keep_look({log, {}}, look);
  cache.rides().keep_runs({log, {}}, options, demo_ride());
  cache.save();
}

}  // namespace

TEST_CASE("a ride comes back from its bytes as it was, and from cut bytes not at all", "[cli]") {
  const std::string bytes = packed(demo_ride(), options.splits);
  const auto ride = unpacked<Ride>(bytes, options.splits);
  REQUIRE(ride);
  CHECK(packed(*ride, options.splits) == bytes);
  CHECK(ride->receiver.white_sd_mps == demo_ride().receiver.white_sd_mps);
  CHECK(ride->trace.points.size() == demo_ride().trace.points.size());
  REQUIRE(ride->runs.accepted.size() == demo_ride().runs.accepted.size());
  const Run& run = ride->runs.accepted.front();
  const Run& original = demo_ride().runs.accepted.front();
  CHECK(run.splits.front().spec.name == original.splits.front().spec.name);
  CHECK(run.splits.front().rollout.value == original.splits.front().rollout.value);
  CHECK(run.splits.front().movement.hi95 == original.splits.front().movement.hi95);
  CHECK_FALSE(run.splits.front().rollout_shared_s.empty());
  CHECK(run.splits.front().rollout_shared_s == original.splits.front().rollout_shared_s);
  CHECK(run.edges.back().t_s == original.edges.back().t_s);
  CHECK(run.start.lat_deg == original.start.lat_deg);
  CHECK(ride->runs.rejected.back().text == demo_ride().runs.rejected.back().text);
  for (std::size_t size = 0; size < bytes.size(); size += 1 + size / 50) {
    CHECK_FALSE(unpacked<Ride>(std::string_view(bytes).substr(0, size), options.splits));
  }
  CHECK_FALSE(unpacked<Ride>(bytes + "x", options.splits));
  CHECK_FALSE(unpacked<Ride>(bytes, parse_splits("0-30 mph")));
}

TEST_CASE("a day and a change of a logbook come back from their bytes as they were", "[cli]") {
  Ride after = demo_ride();
  after.conditions = Conditions{.setup = "b"};
  after.first = shifted(after.first, 86'400.0);
  after.trace = {};
  for (Run& run : after.runs.accepted) {
    run.clock_start = shifted(run.clock_start, 86'400.0);
    run.start.lat_deg += 0.01;  // another road
  }
  Ride before = demo_ride();
  before.conditions = Conditions{.setup = "a"};
  const Logbook book = make_logbook({before, after}, options.splits);
  const LogbookEntry& last = book.entries.back();
  const LogbookDay day{last.side.pairs, last.overall};
  const std::string bytes = packed(day, options.splits);
  const auto same_day = unpacked<LogbookDay>(bytes, options.splits);
  REQUIRE(same_day);
  CHECK(packed(*same_day, options.splits) == bytes);
  REQUIRE_FALSE(same_day->pairs.made.empty());
  CHECK(same_day->pairs.made[0].splits[0].rollout.hi95 == day.pairs.made[0].splits[0].rollout.hi95);
  CHECK(same_day->pairs.made[0].splits[0].bands.size() == day.pairs.made[0].splits[0].bands.size());
  CHECK(same_day->pairs.winds.size() == day.pairs.winds.size());
  CHECK(same_day->overall[0].best_one_way_s == day.overall[0].best_one_way_s);
  REQUIRE(last.change);
  const auto same_change = unpacked<Comparison>(packed(*last.change, options.splits), options.splits);
  REQUIRE(same_change);
  CHECK(same_change->differences[0].text == last.change->differences[0].text);
  CHECK(same_change->differences[0].p_value == last.change->differences[0].p_value);
  CHECK(same_change->before == "a");
  REQUIRE_FALSE(same_change->warnings.empty());
  CHECK(same_change->warnings.back().text == last.change->warnings.back().text);
}

TEST_CASE("the cache finds a log by its bytes, for the same program and options alone", "[cli]") {
  const TemporaryFolder folder;
  const std::string file = (folder.path() / "new" / "rides.sqlite").string();
  const std::string log = folder.file("a.nmea", "some bytes");
  fill(file, log);
  CHECK(finds(file, "this", log));
  CHECK_FALSE(finds(file, "another", log));
  RideCache cache(file, "this");
  const RideStore store = cache.rides();
  CHECK(store.find_runs({log, {}}, options));
  CHECK_FALSE(store.find_runs({log, {}}, {.splits = parse_splits("0-30 mph")}));
  CHECK_FALSE(store.find_runs({log, {}}, {.splits = options.splits, .include_gentle = true}));
  CHECK(store.find_look({folder.file("copy.nmea", "some bytes"), {}}));
  CHECK(store.find_look({folder.file("copy.nmea", "some bytes"), {}})->path ==
        (folder.path() / "copy.nmea").string());
  CHECK_FALSE(store.find_look({folder.file("other.nmea", "some byteS"), {}}));
  CHECK_FALSE(store.find_look({(folder.path() / "none.nmea").string(), {}}));
  CHECK_FALSE(store.find_look({"-", {}}));
  struct stat status {};
  REQUIRE(stat(file.c_str(), &status) == 0);
  CHECK((status.st_mode & 0777U) == 0600U);
}

TEST_CASE("the cache knows a part of a log by its times, and all of the log apart from its parts", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("a.nmea", "some bytes");
  const std::string file = (folder.path() / "rides.sqlite").string();
  const PartOfLog part{{1'000'000}, {5'000'000}};
  {
    RideCache cache(file, "this");
    const RideStore store = cache.rides();
    Ride look = demo_ride();
    look.runs = {};
    store.keep_look({log, part}, look);
    store.keep_runs({log, part}, options, demo_ride());
    store.keep_summary(log, {{false, {1'000'000}, {9'000'000}}, {{"no-zone", "Told.", 7}}});
    cache.save();
  }
  RideCache cache(file, "this");
  const RideStore store = cache.rides();
  CHECK(store.find_look({log, part}));
  CHECK(store.find_runs({log, part}, options));
  for (const PartOfLog other : {PartOfLog{{1'000'001}, {5'000'000}}, PartOfLog{{1'000'000}, {5'000'001}}}) {
    CHECK_FALSE(store.find_look({log, other}));
    CHECK_FALSE(store.find_runs({log, other}, options));
  }
  CHECK_FALSE(store.find_look({log, {}}));
  CHECK_FALSE(store.find_runs({log, {}}, options));
  const auto summary = store.find_summary(log);
  REQUIRE(summary);
  CHECK_FALSE(summary->extent.dated);
  CHECK(summary->extent.first.unix_us == 1'000'000);
  CHECK(summary->extent.last.unix_us == 9'000'000);
  CHECK(summary->notes.at(0).code == "no-zone");
  (void)folder.file("a.nmea", "some byteS");
  RideCache later(file, "this");
  CHECK_FALSE(later.rides().find_summary(log));
  CHECK_FALSE(later.rides().find_look({log, part}));
}

TEST_CASE("a cache that is cut, overwritten or no file does no harm and is made anew where it can be",
          "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("a.nmea", "some bytes");
  const std::string file = (folder.path() / "rides.sqlite").string();
  fill(file, log);
  const auto size = fs::file_size(file);
  for (const auto left : {size / 2, size / 3, std::uintmax_t{1}, std::uintmax_t{0}}) {
    CAPTURE(left);
    fs::resize_file(file, left);
    (void)finds(file, "this", log);
    fill(file, log);
    CHECK(finds(file, "this", log));
  }
  (void)folder.file("rides.sqlite", std::string(9000, 'x'));
  CHECK_FALSE(finds(file, "this", log));
  fill(file, log);
  CHECK(finds(file, "this", log));
  std::string bytes = bytes_of(file);
  const std::size_t at = bytes.find("gentle start");
  REQUIRE(at != std::string::npos);
  bytes[at] = 'G';
  (void)folder.file("rides.sqlite", bytes);
  CHECK_FALSE(RideCache(file, "this").rides().find_runs({log, {}}, options));
  fs::create_directory(folder.path() / "folder");
  fill((folder.path() / "folder").string(), log);
  CHECK_FALSE(finds((folder.path() / "folder").string(), "this", log));
  CHECK_FALSE(finds("/dev/null/rides.sqlite", "this", log));
}
