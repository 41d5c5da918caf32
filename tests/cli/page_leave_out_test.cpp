// Runs left out of a page, a figure alone, and a page without runs.
#include "cli/page_support.hpp"

#include <catch2/catch.hpp>

#include <iterator>
#include <string>
#include <vector>

using bothways::cli::Exit;

TEST_CASE("a run left out on a page gives what the page with --leave-out has", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json all = data_of(page_of({"fixtures/demo"}));
  for (const Json& without : all["sides"][0]["without"]) {
    const std::string run = without["run"].dump();
    CAPTURE(run);
    const Json page = data_of(page_of({"fixtures/demo", "--leave-out", run}));
    CHECK(page["sides"][0]["runs"].size() + 1 == all["sides"][0]["runs"].size());
    CHECK(page["sides"][0]["pairs"].size() == without["pairs"]);
    REQUIRE_FALSE(without["splits"].empty());
    for (const Json& split : without["splits"]) {
      CHECK(named(page["splits"], split["name"])["sides"][0]["overall"] == split["figures"]);
    }
  }
  CHECK(all["sides"][0]["without"].size() == 6);
}

TEST_CASE("a run of a side left out on a page gives the sentences of the page with --leave-out", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  std::vector<std::string> sides(std::begin(before_after), std::end(before_after));
  const Json all = data_of(page_of(sides));
  const Json& without = all["sides"][1]["without"][2];
  CHECK(without["run"] == 3);
  REQUIRE(without["differences"].size() == 4);
  sides.insert(sides.end(), {"--leave-out", "after:3"});
  const std::string page = without_parts(page_of(sides));
  for (const Json& text : without["differences"]) {
    CAPTURE(text.dump());
    CHECK(page.find(">" + text.get<std::string>() + "</p>") != std::string::npos);
  }
}

TEST_CASE("a wrong --leave-out is told before or after reading, never passed over", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const char* list : {"", "x", "0", "1,", "1 2", "after:1", "7"}) {
    CAPTURE(list);
    CHECK(call({"page", "fixtures/demo", "--leave-out", list}).code == Exit::usage);
  }
  std::vector<std::string> sides(std::begin(before_after), std::end(before_after));
  sides.insert(sides.begin(), "page");
  sides.insert(sides.end(), {"--leave-out", "1"});
  CHECK(call(sides).code == Exit::usage);
}

TEST_CASE("a figure is an SVG with a curve and a band for each run", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string file = (folder.path() / "speed.svg").string();
  const Outcome outcome = call({"page", "fixtures/demo", "--figure", file});
  CHECK(outcome.code == Exit::ok);
  CHECK(outcome.out.empty());
  const std::string svg = bytes_of(file);
  CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
  CHECK(svg.ends_with("</svg>\n"));
  CHECK(count(svg, "<polyline") == 6);
  CHECK(count(svg, "<polygon") == 6);
  CHECK(svg.find("nan") == std::string::npos);
  CHECK(call({"page", "fixtures/demo", "--figure", file, "-o", file}).code == Exit::usage);
}

TEST_CASE("a page says so where no start counts", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Outcome outcome = call({"page", "fixtures/demo", "--splits", "0-120 mph"});
  CHECK(outcome.code == Exit::nothing_found);
  CHECK(outcome.out.find("No run was found") != std::string::npos);
  CHECK(outcome.out.find("lead") < outcome.out.find("does not count"));
}
