// Names stay text, and nothing tells a place or a time of day that was not asked for.
#include "cli/page_support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <regex>
#include <string>
#include <vector>

using bothways::cli::Exit;

TEST_CASE("what logs and conditions are called stays text on a page", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const TemporaryFolder folder;
  const std::string name = "a\"><script>owned()</script>&amp;'\xE2\x80\xAEgpj.nmea.gz";
  const std::string log = folder.file("x/" + std::string("b") + "/c.txt", "");
  const auto place = std::filesystem::path(log).parent_path() / "d";
  std::filesystem::create_directories(place);
  // A file name has no slash: the end tag comes through the conditions.
  std::string in_name = name;
  in_name.erase(in_name.find('/'), 1);
  std::filesystem::copy_file(std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/demo/mill-lane.nmea.gz",
                             place / in_name);
  const std::string conditions = folder.file(
      "conditions.ini", "setup = </script><script>owned()</script><!-- {{script}}\nnote = </textarea>'\"\n");
  const std::string page = page_of({(place / in_name).string(), "--conditions", conditions});
  const std::string rest = without_parts(page);
  CHECK(count(rest, "<script") == 3);
  CHECK(count(rest, "</script") == 3);
  CHECK(count(rest, "<!--") == 0);
  CHECK(count(rest, "</textarea") == 1);
  CHECK(rest.find("\xE2\x80\xAE") == std::string::npos);
  CHECK(rest.find("&lt;/script&gt;&lt;script&gt;owned()&lt;/script&gt;&lt;!-- {{script}}") !=
        std::string::npos);
  CHECK(rest.find("a&quot;&gt;&lt;script&gt;owned()&lt;script&gt;&amp;amp;&#39;\\u202egpj.nmea.gz") !=
        std::string::npos);
}

TEST_CASE("a page without a map tells no place and no time of day, nor the names of folders", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::regex clock_time("[0-2][0-9]:[0-5][0-9]:[0-5][0-9]");
  const std::string plain = without_parts(page_of({"fixtures/demo"}));
  const std::regex place("33\\.(1|2)[0-9][0-9]|18\\.(39|40)[0-9]");
  CHECK_FALSE(std::regex_search(plain, place));
  CHECK_FALSE(std::regex_search(plain, clock_time));
  CHECK(plain.find("fixtures/") == std::string::npos);
  CHECK(plain.find("2026-05-04") != std::string::npos);
  const std::string with_map = without_parts(page_of({"fixtures/demo", "--with-map"}));
  CHECK(std::regex_search(with_map, clock_time));
  CHECK(data_of(with_map)["tables"]["course"].size() == 6);
  CHECK_FALSE(data_of(plain)["tables"].contains("course"));
}

TEST_CASE("with --strip-places CSV and JSON have no place and no time of day, and all else as before",
          "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::regex clock_time("[0-2][0-9]:[0-5][0-9]:[0-5][0-9]|unix_s\":|-33\\.[0-9]{4}");
  const std::vector<std::vector<std::string>> commands{
      {"fixtures/demo"},
      {"runs", "fixtures/demo"},
      {"compare", "fixtures/before-after/before", "fixtures/before-after/after"}};
  for (const auto& command : commands) {
    for (const std::string format : {"csv", "json", "jsonl"}) {
      std::vector<std::string> arguments = command;
      arguments.insert(arguments.end(), {"--format", format});
      const std::string all = call(arguments).out;
      arguments.emplace_back("--strip-places");
      const std::string stripped = call(arguments).out;
      CAPTURE(arguments[0], format);
      CHECK_FALSE(std::regex_search(stripped, clock_time));
      CHECK(stripped.find("2026-05-04") == all.find("2026-05-04"));
      CHECK(stripped.size() > all.size() / 2);
    }
  }
  CHECK(call({"fixtures/demo", "--strip-places"}).code == Exit::usage);
  const Json all = json_of({"fixtures/demo"});
  const Json stripped = json_of({"fixtures/demo", "--strip-places"});
  CHECK(stripped["overall"] == all["overall"]);
  CHECK(stripped["logs"][0]["runs"][0]["start"] == "2026-05-04");
  CHECK(stripped["logs"][0]["runs"][0]["heading_deg"] == all["logs"][0]["runs"][0]["heading_deg"]);
  CHECK(stripped["logs"][0]["runs"][0]["splits"] == all["logs"][0]["runs"][0]["splits"]);
}
