// Parts of a ride: by time, by number, and by the sections of conditions.ini.
#include "bothways/log/part.hpp"
#include "bothways/log/read.hpp"
#include "cli/packed.hpp"
#include "cli/page_support.hpp"
#include "cli/pipeline.hpp"
#include "support/simulate/write.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <map>
#include <sstream>
#include <string>

using namespace bothways::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

constexpr const char* turns = "fixtures/in-turns";

}  // namespace

TEST_CASE("a part of a log by time gives what the log cut by hand gives", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const bothways::Log all = bothways::read_log(demo_log);
  const bothways::Log cut =
      bothways::part_of(all, at_utc("2026-05-04T09:32:30Z"), at_utc("2026-05-04T09:36:10Z"));
  const std::string by_hand = folder.file("cut.csv", bothways::sim::to_csv(cut));
  const std::string whole = folder.file("whole.csv", bothways::sim::to_csv(all));
  Json part = json_of({whole, "--from", "09:32:30", "--to", "09:36:10", "--splits", "0-30 mph"});
  Json expected = json_of({by_hand, "--splits", "0-30 mph"});
  part["logs"][0]["path"] = by_hand;
  CHECK(part == expected);
  CHECK(part["logs"][0]["runs"].size() == 3);
}

TEST_CASE("every command that reads logs takes a part by time", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const char* command : {"fixes", "speed", "runs", "pairs", "trip", "power"}) {
    CAPTURE(command);
    std::vector<std::string> words{command, demo_log, "--to", "09:33:50", "--format", "csv"};
    if (command == std::string("power")) {
      words.insert(words.end(), {"--mass", "200kg"});
    }
    const Outcome part = call(words);
    CHECK(part.code == Exit::ok);
    words[3] = "09:38:00";
    const Outcome more = call(words);
    CHECK(part.out != more.out);
    words[3] = "09:29:00";
    const Outcome nothing = call(words);
    CHECK(nothing.code == Exit::nothing_found);
    CHECK_THAT(one_line(nothing.err),
               Contains("nothing of it lies in the time asked for; it was recorded 2026-05-04 09:30:00 to"));
  }
}

TEST_CASE("a wrong time or zone is wrong use", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  CHECK_THAT(one_line(call({demo_log, "--from", "half past ten"}).err),
             Contains("--from: 'half past ten' is no time; write 10:30"));
  CHECK_THAT(one_line(call({demo_log, "--from", "2026-05-04 10:30", "--to", "2026-05-04 10:00"}).err),
             Contains("--to is not after --from"));
  CHECK_THAT(one_line(call({demo_log, "--time-zone", "Mars/Olympus"}).err),
             Contains("--time-zone: there is no time zone 'Mars/Olympus'"));
  CHECK(call({demo_log, "--time-zone", "Mars/Olympus"}).code == Exit::usage);
}

TEST_CASE("a run left out keeps its reason, its place among the starts, and the others' numbers", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json all = json_of({demo_log, "--splits", "0-30 mph"});
  const Json some = json_of({demo_log, "--splits", "0-30 mph", "--leave-out", "2 wheel spun, 5-6"});
  std::vector<int> ids;
  for (const Json& run : some["logs"][0]["runs"]) {
    ids.push_back(run["id"]);
  }
  CHECK(ids == std::vector<int>{1, 3, 4});
  CHECK(some["overall"][0]["pairs"] == 1);
  std::vector<std::string> texts;
  for (const Json& start : some["logs"][0]["rejected"]) {
    if (start["code"] == "left-out") {
      texts.push_back(start["text"]);
    }
  }
  CHECK(texts == std::vector<std::string>{"run 2 was left out by hand: wheel spun",
                                          "run 5 was left out by hand", "run 6 was left out by hand"});
  const Json only = json_of({demo_log, "--splits", "0-30 mph", "--only", "1-2, 5"});
  CHECK(only["logs"][0]["runs"].size() == 3);
  CHECK(only["logs"][0]["runs"][0] == all["logs"][0]["runs"][0]);
  CHECK(only["logs"][0]["runs"][2]["id"] == 5);
  CHECK_THAT(call({demo_log, "--leave-out", "2 wheel spun"}).out,
             Contains("run 2 was left out by hand: wheel spun"));
}

TEST_CASE("runs of a side are left out by the name of the side", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::vector<std::string> sides{"compare", "fixtures/before-after/before",
                                       "fixtures/before-after/after"};
  auto words = sides;
  words.insert(words.end(), {"--leave-out", "after:2 gust", "--only", "before: 1-4"});
  const Json json = json_of(words);
  CHECK(json["sides"][0]["runs"] == 4);
  CHECK(json["sides"][1]["runs"] == 5);
  CHECK_THAT(one_line(call(words).out),
             Contains("run 2 was left out by hand: gust") &&
                 Contains("run 5 was left out by hand: it is not among those of --only"));
  for (const auto& [list, why] :
       {std::pair("2", "say of which side, for example \"before:2\""),
        std::pair("later:2", "there is no side 'later'"),
        std::pair("after:20", "there is no run 20 of after; the runs are 1 to 6"),
        std::pair("after:x", "takes numbers of runs"), std::pair("after:3-2", "takes numbers of runs"),
        std::pair("after:0", "takes numbers of runs"), std::pair("", "takes numbers")}) {
    CAPTURE(list);
    auto wrong = sides;
    wrong.insert(wrong.end(), {"--leave-out", list});
    const Outcome outcome = call(wrong);
    CHECK(outcome.code == Exit::usage);
    CHECK_THAT(one_line(outcome.err), Contains(why));
  }
  CHECK_THAT(one_line(call({demo_log, "--only", "after:3"}).err), Contains("there are no sides here"));
}

TEST_CASE("sections by time tell set-ups in one log apart, and pairs never mix them", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json json = json_of({turns, "--splits", "0-30 mph"});
  REQUIRE(json["logs"].size() == 4);
  std::vector<int> turn;
  std::map<int, std::string> setup;
  for (const Json& log : json["logs"]) {
    turn.push_back(log["turn"]);
    CHECK(log["runs"].size() == 4);
    CHECK(log["conditions"]["total_mass_kg"] == 200.0);
    CHECK(log.contains("part_from"));
    for (const Json& run : log["runs"]) {
      setup[run["id"]] = log["conditions"]["setup"];
    }
  }
  CHECK(turn == std::vector<int>{1, 2, 3, 4});
  std::size_t pairs = 0;
  for (const Json& log : json["logs"]) {
    for (const Json& pair : log["pairs"]) {
      ++pairs;
      CHECK(setup[pair["runs"][0]] == setup[pair["runs"][1]]);
    }
  }
  CHECK(pairs == 8);
}

TEST_CASE("compare takes the set-ups of one folder as sides, the one ridden first as the reference",
          "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json json = json_of({"compare", turns, "--splits", "0-30 mph"});
  REQUIRE(json["sides"].size() == 2);
  CHECK(json["sides"][0]["name"] == "as bought");
  CHECK(json["sides"][1]["name"] == "new clutch springs");
  const Json& difference = json["differences"][0];
  CHECK(difference["pairs_before"] == 4);
  CHECK(difference["pairs_after"] == 4);
  CHECK(difference["verdict"] == "quicker");
  // Truth: fixtures/before-after/case.txt, the same vehicles: -0.185 s.
  CHECK(difference["lo95_s"] < -0.185);
  CHECK(difference["hi95_s"] > -0.185);
  CHECK_THAT(call({"compare", turns, "--splits", "0-30 mph"}).out,
             Contains("fixtures/in-turns/ride.nmea.gz: 09:30:00 to 09:39:06, 10:00:00 to 10:09:06 UTC"));
}

TEST_CASE("what lies outside the sections is no side where nothing was ridden in it", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  (void)folder.file("ride.nmea.gz", bytes_of("fixtures/in-turns/ride.nmea.gz"));
  std::string conditions = bytes_of("fixtures/in-turns/conditions.ini");
  conditions.replace(conditions.find("[09:30Z"), 7, "[09:31Z");
  (void)folder.file("conditions.ini", "setup = on the trailer\n" + conditions);
  const Json compared = json_of({"compare", folder.path().string()});
  REQUIRE(compared["sides"].size() == 2);
  CHECK(compared["sides"][0]["name"] == "as bought");
  const Json& difference = compared["differences"][0];
  CHECK(difference["pairs_before"] == 4);
  CHECK(difference["verdict"] == "quicker");
}

TEST_CASE("parts named on the command line give what sections of the same times give", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.nmea.gz", bytes_of("fixtures/in-turns/ride.nmea.gz"));
  const Json parts =
      json_of({"compare", "--side", "as bought=" + log + "@09:30-09:44", "--side",
               "new clutch springs=" + log + "@09:45-09:59", "--side", "as bought=" + log + "@10:00-10:14",
               "--side", "new clutch springs=" + log + "@10:15"});
  const Json sections = json_of({"compare", turns});
  REQUIRE(parts["differences"].size() == sections["differences"].size());
  for (std::size_t i = 0; i < parts["differences"].size(); ++i) {
    const Json& part = parts["differences"][i];
    const Json& section = sections["differences"][i];
    for (const char* key : {"name", "before", "after", "pairs_before", "pairs_after", "verdict"}) {
      CHECK(part[key] == section[key]);
    }
    // The sections' file names mass and wind too, of which the two-way times make a little.
    CHECK_THAT(part["difference_s"].get<double>(), WithinAbs(section["difference_s"].get<double>(), 0.01));
  }
  CHECK(parts["sides"][1]["logs"][0]["turn"] == 2);
  const Outcome shared =
      call({"compare", "--side", "a=" + log + "@09:30-10:00", "--side", "b=" + log + "@09:45-10:14"});
  CHECK(shared.code == Exit::usage);
  CHECK_THAT(one_line(shared.err), Contains("is on two sides, a and b"));
  const Outcome wrong = call({"compare", log + "@9:3x-10:00", log + "@10:00-10:30"});
  CHECK(wrong.code == Exit::usage);
  CHECK_THAT(one_line(wrong.err), Contains("is no time"));
}

TEST_CASE("runs outside all sections are told of, and are on no side", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.nmea.gz", bytes_of("fixtures/in-turns/ride.nmea.gz"));
  (void)folder.file("conditions.ini", "[09:30-09:44]\nsetup = a\n[09:45-09:59]\nsetup = b\n");
  const Outcome all = call({log});
  CHECK_THAT(one_line(all.out), Contains("8 runs lie outside the times of the conditions"));
  const Outcome compared = call({"compare", folder.path().string()});
  CHECK_THAT(one_line(compared.out),
             Contains("8 runs are on no side, since the conditions do not name the set-up"));
  (void)folder.file("conditions.ini", "setup = a\n");
  const Outcome one = call({"compare", folder.path().string()});
  CHECK(one.code == Exit::nothing_found);
  CHECK_THAT(one_line(one.err),
             Contains("the conditions name one set-up, a; write for each part of the ride"));
  (void)folder.file("conditions.ini",
                    "[9.30 - 10]\nsetup = a\ntotal_mass = 200 kg\n[09:45-09:59]\nsetup = b\n");
  const Json notes = json_of({log})["logs"][0]["notes"];
  REQUIRE(notes.size() >= 2);
  CHECK_THAT(notes[0]["text"].get<std::string>(), Contains("line 2: '9.30 - 10' is no time"));
  CHECK_THAT(notes[1]["text"].get<std::string>(),
             Contains("line 3: it stands in a section, [9.30 - 10], of which"));
}

namespace {

/// Remembers looks and runs by path and part, and counts what is worked out. For one thread.
class Memory {
 public:
  [[nodiscard]] RideStore store() {
    const auto find = [](const auto& all, const std::string& key) {
      const auto found = all.find(key);
      return found == all.end() ? std::nullopt : std::optional(found->second);
    };
    const auto keep = [this](auto& all, const std::string& key, const auto& value) {
      ++kept;
      all[key] = value;
    };
    return {.find_summary = [this, find](const auto& path) { return find(summaries_, path); },
            .keep_summary = [this, keep](const auto& path, const auto& s) { keep(summaries_, path, s); },
            .find_look = [this, find](const auto& log) { return find(looks_, key_of(log)); },
            .keep_look = [this, keep](const auto& log, const auto& look) { keep(looks_, key_of(log), look); },
            .find_runs = [this, find](const auto& log, const auto&) { return find(runs_, key_of(log)); },
            .keep_runs = [this, keep](const auto& log, const auto&,
                                      const auto& runs) { keep(runs_, key_of(log), runs); }};
  }

  int kept = 0;

 private:
  static std::string key_of(const LogOrPart& log) {
    return log.path +
           (log.part ? std::to_string(log.part->from.unix_us) + "-" + std::to_string(log.part->until.unix_us)
                     : "");
  }

  std::map<std::string, LogSummary> summaries_;
  std::map<std::string, bothways::Ride> looks_;
  std::map<std::string, bothways::Ride> runs_;
};

/// All rides of a log to the last bit, with or without a memory.
std::string rides_of(const std::string& log, Memory* memory, const std::string& splits) {
  std::istringstream in;
  std::ostringstream out;
  const Streams streams{.in = in, .out = out, .err = out};
  AnalysisOptions options;
  options.run.splits.clear();
  if (!splits.empty()) {
    options.run.splits = bothways::parse_splits(splits);
  }
  if (memory != nullptr) {
    options.store = memory->store();
  }
  const Analysed analysed = analyse_logs({{.path = log, .window = {}}}, options, 1, streams);
  CHECK(analysed.troubles.failed.empty());
  return packed(analysed.rides, analysed.splits);
}

}  // namespace

TEST_CASE("parts of a log that are remembered are those worked out, and other times are noticed", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = (folder.path() / "ride.nmea.gz").string();
  std::filesystem::copy_file(std::string(BOTHWAYS_SOURCE_DIR) + "/" + turns + "/ride.nmea.gz", log);
  const auto conditions = [&](const std::string& first_end, const std::string& setup) {
    (void)folder.file("conditions.ini", "vehicle = Heron 125\n[09:30Z-" + first_end + "]\nsetup = " + setup +
                                            "\n[09:45Z-09:59Z]\nsetup = b\nbad line\n[10:00Z]\nsetup = a\n");
  };
  for (const std::string splits : {"", "0-30 mph"}) {
    CAPTURE(splits);
    Memory memory;
    const auto anew = [&](const std::string& what) {
      CAPTURE(what);
      memory.kept = 0;
      const std::string expected = rides_of(log, nullptr, splits);
      CHECK(rides_of(log, &memory, splits) == expected);
      const int kept = memory.kept;
      CHECK(rides_of(log, &memory, splits) == expected);
      CHECK(memory.kept == kept);  // the second time nothing
      return kept;
    };
    conditions("09:44Z", "a");
    // What the log itself says; three sections with look and runs, two times between in which nothing was
    // recorded.
    constexpr int all = 1 + 2 * 3 + 2;
    CHECK(anew("at first") == all);
    conditions("09:44Z", "renamed");
    CHECK(anew("another set-up") == 0);
    conditions("09:43Z", "renamed");
    CHECK(anew("another end") == all);  // for all of the log is read
    conditions("09:44Z", "a");
    CHECK(anew("as at first") == 0);
    conditions("09:50Z", "a");  // it overlaps the next, and ends where that begins: one time between less
    CHECK(anew("an overlap") > 0);
  }
}
