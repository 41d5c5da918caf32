// Marks that nobody asked for follow from what the starts of the logs reach.
#include "cli/options.hpp"
#include "cli/pipeline.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sstream>

using namespace bothways;
using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

std::string names_of(const std::vector<SplitSpec>& splits) {
  std::string names;
  for (const SplitSpec& split : splits) {
    names += (names.empty() ? "" : ", ") + split.name;
  }
  return names;
}

/// Without line breaks, whatever the width.
std::string words_of(const std::string& text) {
  std::istringstream words(text);
  std::string all;
  for (std::string word; words >> word;) {
    all += (all.empty() ? "" : " ") + word;
  }
  return all;
}

Analysis analysed(const std::vector<std::string>& files, std::size_t rows_kept, unsigned jobs) {
  AnalysisOptions options;
  options.run.splits.clear();
  options.rows_kept = rows_kept;
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  return analyse_all(files, options, jobs, {in, out, err});
}

}  // namespace

TEST_CASE("a moped is timed to the marks that it reaches, in either unit", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Outcome mph = call({"fixtures/moped"});
  CHECK(mph.code == Exit::ok);
  CHECK_THAT(mph.out, Contains("6 runs") && Contains("0-15 mph") && Contains("0-25 mph"));
  CHECK_THAT(words_of(mph.out),
             Contains("Marks chosen from what these starts reach; use --splits for others."));
  CHECK_THAT(mph.out, Contains("0-25 mph   5.59 ± "));  // the result
  const Outcome kmh = call({"fixtures/moped", "--units", "kmh"});
  CHECK_THAT(kmh.out, Contains("6 runs") && Contains("0-40 km/h"));
  const Outcome asked = call({"fixtures/moped", "--splits", "0-25 mph"});
  CHECK_THAT(asked.out, !Contains("chosen"));
}

TEST_CASE("a small scooter keeps the marks that it had", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const char* folder : {"fixtures/demo", "fixtures/before-after", "fixtures/slope-2-percent"}) {
    CAPTURE(folder);
    const auto json = nlohmann::json::parse(call({folder, "--format", "json"}).out);
    CHECK(json["marks"] == "chosen");
    CHECK(json["overall"].size() == 4);
    CHECK(json["overall"][2]["name"] == "0-50 mph");
    const auto metric = nlohmann::json::parse(call({folder, "--format", "json", "--units", "kmh"}).out);
    CHECK(metric["overall"][2]["name"] == "0-70 km/h");
  }
}

TEST_CASE("both sides of a comparison have the same marks, which the slower one reaches", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const bool moped_first : {true, false}) {
    const std::string before = moped_first ? "fixtures/moped" : "fixtures/demo";
    const std::string after = moped_first ? "fixtures/demo" : "fixtures/moped";
    const auto json = nlohmann::json::parse(
        call({"compare", "--before", before, "--after", after, "--format", "json"}).out);
    REQUIRE(json["differences"].size() == 4);
    CHECK(json["differences"][2]["name"] == "0-25 mph");
  }
  const auto main =
      nlohmann::json::parse(call({"compare", "--before", "fixtures/before-after/before", "--after",
                                  "fixtures/before-after/after", "--main", "60 ft", "--format", "json"})
                                .out);
  REQUIRE(main["differences"].size() == 5);
  CHECK(main["differences"][4]["name"] == "60 ft");
  CHECK(main["differences"][4]["main"] == true);
}

TEST_CASE("where the marks asked for are too high, the sentence offers some that are reached", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Outcome outcome = call({"fixtures/moped", "--splits", "0-50 mph"});
  CHECK(outcome.code == Exit::nothing_found);
  CHECK_THAT(one_line(outcome.err), Contains("--splits \"0-15 mph, 0-20 mph, 0-25 mph, 10-25 mph\""));
  CHECK_THAT(words_of(outcome.out),
             Contains("reached its highest speed, 27 to 28 mph, before the first mark"));
}

TEST_CASE("a rolling split alone may be asked for", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Outcome outcome = call({"fixtures/demo", "--splits", "30-50 mph"});
  CHECK(outcome.code == Exit::ok);
  CHECK_THAT(outcome.out, Contains("6 runs") && Contains("30-50 mph from mark to\nmark"));
}

TEST_CASE("marks are the same whatever is kept in memory and however many work at once", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::vector<std::string> files{"fixtures/two-logs/2-back.nmea", "fixtures/two-logs/1-out.nmea"};
  const Analysis kept = analysed(files, 4'000'000, 1);
  CHECK(names_of(kept.result.splits) == "0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph");
  CHECK(count_runs(kept.result.rides) == 4);
  for (const std::size_t rows : {std::size_t{0}, std::size_t{1}}) {
    const Analysis again = analysed(files, rows, 2);
    CHECK(names_of(again.result.splits) == names_of(kept.result.splits));
    REQUIRE(again.result.rides.size() == kept.result.rides.size());
    for (std::size_t i = 0; i < kept.result.rides.size(); ++i) {
      CHECK(again.result.rides[i].runs.accepted.size() == kept.result.rides[i].runs.accepted.size());
      CHECK(again.result.rides[i].notes.size() == kept.result.rides[i].notes.size());
    }
  }
}

TEST_CASE("no marks are offered that are no lower than those asked", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::string high = words_of(call({"fixtures/moped", "--splits", "0-60 mph"}).err);
  CHECK_THAT(high, Contains("the starts reach lower marks: try --splits"));
  for (const char* splits :
       {"0-20 km/h, 0-40 km/h", "0-15 mph, 0-60 mph", "60 ft", "10-20 mph", "60 ft, 100 m"}) {
    CAPTURE(splits);
    const Outcome none = call({"fixtures/moped", "--splits", splits, "--leave-out", "1-6"});
    CHECK(none.code == Exit::nothing_found);
    CHECK_THAT(words_of(none.err),
               Contains("no run found") && !Contains("lower marks") && !Contains(" 0.0 "));
  }
}
