// One ride in several files of a folder counts once.
#include "cli/support.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

const std::string demo_path_here = BOTHWAYS_SOURCE_DIR "/fixtures/demo/mill-lane.nmea.gz";

/// The lines of the overall result, without what follows.
std::string result_of(const std::string& text) {
  const std::size_t from = text.find("Result, both ways");
  REQUIRE(from != std::string::npos);
  // Which log was left out, told between the result and the pairs, is no part of it.
  std::string lines =
      text.substr(from, std::min(text.find("\n\n", from), text.find("Take care: ", from)) - from);
  lines.erase(lines.find_last_not_of('\n') + 1);
  return lines;
}

}  // namespace

TEST_CASE("an export of a log in the same folder changes no figure", "[cli]") {
  const TemporaryFolder folder;
  const std::string original = folder.file("mill-lane.nmea.gz", bytes_of(demo_path_here));
  const Outcome alone = call({"pairs", original, "--jobs", "1"});
  const std::string csv = call({"fixes", original, "--format", "csv"}).out;
  (void)folder.file("export.csv", csv);
  (void)folder.file("part.csv", csv.substr(0, csv.find('\n', csv.size() / 2) + 1));
  const std::string here = folder.path().string();

  const Outcome pairs = call({"pairs", here});
  CHECK(pairs.code == Exit::ok);
  CHECK(result_of(pairs.out) == result_of(alone.out));
  CHECK_THAT(result_of(pairs.out), Contains("0-50 mph   9.7"));
  CHECK_THAT(one_line(pairs.out), Contains("recorded the same ride as"));

  const Outcome trip = call({"trip", here, "--format", "csv"});
  CHECK(trip.code == Exit::ok);
  CHECK(trip.out == call({"trip", original, "--format", "csv"}).out);

  const Outcome plan = call({"plan", "--detect", "0.1s", here, "--format", "csv"});
  CHECK(plan.out == call({"plan", "--detect", "0.1s", original, "--format", "csv"}).out);
  const Outcome power = call({"power", "--mass", "200kg", here, "--format", "csv"});
  CHECK(power.out == call({"power", "--mass", "200kg", original, "--format", "csv"}).out);
}

TEST_CASE("a side of a comparison counts a ride in two files once", "[cli]") {
  const TemporaryFolder folder;
  const std::string original = folder.file("mill-lane.nmea.gz", bytes_of(demo_path_here));
  const std::string copy = folder.file("export.csv", call({"fixes", original, "--format", "csv"}).out);
  const std::string other = BOTHWAYS_SOURCE_DIR "/fixtures/geared-25hz";
  const Outcome one = call({"compare", "--before", original, "--after", other, "--format", "csv"});
  const Outcome two = call({"compare", "--before", original, copy, "--after", other, "--format", "csv"});
  CHECK(one.out == two.out);
  CHECK_FALSE(one.out.empty());
}
