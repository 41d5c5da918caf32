// The logbook through the program: its figures are those of compare, and what is remembered changes none.
#include "cli/page_support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <thread>
#include <vector>

using bothways::cli::Exit;
namespace fs = std::filesystem;

namespace {

/// Set-ups with their rides, in a folder of its own.
class Rides {
 public:
  Rides() {
    for (const char* side : {"before", "after"}) {
      fs::copy(std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/before-after/" + side,
               folder_.path() / "rides" / side, fs::copy_options::recursive);
    }
  }

  [[nodiscard]] std::string path() const { return (folder_.path() / "rides").string(); }
  [[nodiscard]] std::string cache() const { return (folder_.path() / "cache" / "rides.sqlite").string(); }

  [[nodiscard]] Outcome logbook(std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"logbook", path()});
    return call(more, "", "", cache());
  }

 private:
  struct Folder : TemporaryFolder {
    Folder() { fs::create_directories(path() / "rides"); }
  } folder_;
};

}  // namespace

TEST_CASE("the rows of a logbook have the figures of compare", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json book = json_of({"logbook", "fixtures/before-after"});
  const Json compared = json_of({"compare", "fixtures/before-after/before", "fixtures/before-after/after"});
  REQUIRE(book["rows"].size() == 2 * compared["differences"].size());
  for (const Json& row : book["rows"]) {
    const Json& difference = named(compared["differences"], row["split"]);
    CAPTURE(row.dump(), difference.dump());
    const bool before = row["setup"] == "as bought";
    CHECK(row["date"] == (before ? "2026-05-04" : "2026-05-11"));
    CHECK(row["time_s"] == difference[before ? "before_s" : "after_s"]);
    CHECK(row["pairs"] == difference[before ? "pairs_before" : "pairs_after"]);
    CHECK(row.contains("against") != before);
    const auto told = [&row](const char* key) { return row.contains(key) ? row[key] : Json(nullptr); };
    CHECK((before ? Json(nullptr) : difference["difference_s"]) == told("difference_time_s"));
    CHECK((before ? Json(nullptr) : difference["lo95_s"]) == told("difference_lo95_s"));
    for (const char* key : {"p_value", "verdict", "text"}) {
      CHECK((before ? Json(nullptr) : difference[key]) == told(key));
    }
  }
}

TEST_CASE("what a logbook remembers changes no byte of it, in any format", "[cli]") {
  const Rides rides;
  for (const std::string format : {"text", "csv", "json"}) {
    const Outcome anew = rides.logbook({"--format", format, "--no-cache"});
    CHECK(anew.code == Exit::ok);
    CHECK(anew.out.find("new clutch springs") != std::string::npos);
    for (int k = 0; k < 2; ++k) {
      CHECK(rides.logbook({"--format", format}).out == anew.out);
    }
  }
  CHECK(fs::exists(rides.cache()));
  CHECK(rides.logbook({"--splits", "0-30 mph"}).out ==
        rides.logbook({"--splits", "0-30 mph", "--no-cache"}).out);
}

TEST_CASE("with --no-cache nothing is remembered", "[cli]") {
  const Rides rides;
  CHECK(rides.logbook({"--no-cache"}).code == Exit::ok);
  CHECK_FALSE(fs::exists(rides.cache()));
}

TEST_CASE("a byte changed in a log is seen, though the file has its size and time as before", "[cli]") {
  const Rides rides;
  const fs::path log = fs::path(rides.path()) / "after" / "ride.nmea.gz";
  CHECK(rides.logbook().code == Exit::ok);
  std::string bytes = bytes_of(log);
  const auto time = fs::last_write_time(log);
  bytes[bytes.size() / 2] = static_cast<char>(bytes[bytes.size() / 2] ^ 1);
  std::ofstream(log, std::ios::binary) << bytes;
  fs::last_write_time(log, time);
  const Outcome changed = rides.logbook();
  const Outcome anew = rides.logbook({"--no-cache"});
  CHECK(changed.out == anew.out);
  CHECK(changed.err == anew.err);
  bytes = "nothing of a log";
  std::ofstream(log, std::ios::binary) << bytes;
  CHECK(rides.logbook().out.find("new clutch springs") == std::string::npos);
}

TEST_CASE("two logbooks at once with one cache are both right", "[cli]") {
  const Rides rides;
  const std::string expected = rides.logbook({"--no-cache"}).out;
  Outcome outcomes[4];
  {
    std::vector<std::thread> threads;
    for (Outcome& outcome : outcomes) {
      threads.emplace_back([&outcome, &rides] { outcome = rides.logbook(); });
    }
    for (std::thread& thread : threads) {
      thread.join();
    }
  }
  for (const Outcome& outcome : outcomes) {
    CHECK(outcome.out == expected);
    CHECK(outcome.code == Exit::ok);
  }
  CHECK(rides.logbook().out == expected);
}

TEST_CASE("a logbook whose cache was cut in half is as before, and so is the next", "[cli]") {
  const Rides rides;
  const std::string expected = rides.logbook().out;
  fs::resize_file(rides.cache(), fs::file_size(rides.cache()) / 2);
  CHECK(rides.logbook().out == expected);
  CHECK(rides.logbook().out == expected);
}

TEST_CASE("a logbook's page has its rows, a chart for each split, and no place or time of day", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Outcome outcome =
      call({"logbook", "fixtures/before-after", "--page", "--splits", "0-30 mph, 30-50 mph"});
  REQUIRE(outcome.code == Exit::ok);
  const Json data = data_of(outcome.out);
  CHECK(data["charts"].size() == 2);
  CHECK(data["tables"]["times0"].size() == 2);
  const std::string text = call({"logbook", "fixtures/before-after", "--splits", "0-30 mph, 30-50 mph"}).out;
  for (const Json& row : data["tables"]["times0"]) {
    const std::string time = row["text"];
    CHECK(text.find(time.substr(0, time.find(" s,"))) != std::string::npos);
  }
  CHECK(without_parts(outcome.out).find("fixtures/") == std::string::npos);
  CHECK(call({"logbook", "fixtures/before-after", "--page", "--format", "csv"}).code == Exit::usage);
}

TEST_CASE("a logbook's page takes care of every change, each by its last day", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const Rides rides;
  const fs::path root = rides.path();
  const auto copy = [&root](const char* from, const char* to, const std::string& setup, const char* vehicle) {
    fs::copy(root / from, root / to, fs::copy_options::recursive);
    std::ofstream(root / to / "conditions.ini") << "setup = " << setup << "\nvehicle = " << vehicle << '\n';
  };
  // Another vehicle's change comes last, so that of the first is not the last one.
  copy("before", "other-before", "old <tyre>", "Wren 50");
  copy("after", "other-after", "new tyre", "Wren 50");
  for (const char* log : {"other-before", "other-after"}) {  // another ride: not of the same seconds
    const fs::path path = root / log / "ride.nmea.gz";
    const std::string text = call({"fixes", path.string(), "--format", "csv"}).out;
    std::string later = text;
    for (std::size_t at = later.find("2026-05-"); at != std::string::npos; at = later.find("2026-05-", at)) {
      later.replace(at, 8, "2026-06-");
    }
    std::ofstream(root / log / "ride.csv") << later;
    fs::remove(path);
  }
  const std::string text = one_line(rides.logbook().out);
  const std::string page = without_parts(rides.logbook({"--page"}).out);
  const std::string changes = page.substr(page.find("<h2 id=\"h-changes\">"));
  for (const std::string days : {"as bought and new clutch springs were ridden on different days",
                                 "old <tyre> and new tyre were ridden on different days"}) {
    CAPTURE(days);
    std::string in_page = days;
    for (std::size_t at = in_page.find('<'); at != std::string::npos; at = in_page.find('<')) {
      in_page.replace(at, 1, "&lt;");
    }
    for (std::size_t at = in_page.find('>'); at != std::string::npos; at = in_page.find('>')) {
      in_page.replace(at, 1, "&gt;");
    }
    CHECK(count(text, days) == 1);
    CHECK(count(changes.substr(0, changes.find("</section>")), in_page) == 1);
  }
}

TEST_CASE("a log in sections is as many rides of the logbook, remembered or not", "[cli]") {
  const TemporaryFolder folder;
  const fs::path rides = folder.path() / "rides";
  const std::string source = BOTHWAYS_SOURCE_DIR;
  fs::copy(source + "/fixtures/in-turns", rides, fs::copy_options::recursive);
  const std::string cache = (folder.path() / "cache" / "rides.sqlite").string();
  const Outcome anew = call({"logbook", rides.string(), "--no-cache", "--format", "json"});
  const Json rows = Json::parse(anew.out)["rows"];
  const Json compared = json_of({"compare", rides.string()});
  std::set<std::string> setups;
  for (const Json& row : rows) {
    setups.insert(row["setup"]);
    CHECK(row["pairs"] == 4);
    const Json& difference = named(compared["differences"], row["split"]);
    const bool before = row["setup"] == "as bought";
    CHECK(row["time_s"] == difference[before ? "before_s" : "after_s"]);
    if (!before) {
      CHECK(row["difference_time_s"] == difference["difference_s"]);
      CHECK(row["verdict"] == difference["verdict"]);
    }
  }
  CHECK(setups == std::set<std::string>{"as bought", "new clutch springs"});
  for (int k = 0; k < 2; ++k) {
    CHECK(call({"logbook", rides.string(), "--format", "json"}, "", "", cache).out == anew.out);
  }
  // Another time in a section is another logbook, though the log has not changed.
  std::string conditions = bytes_of(rides / "conditions.ini");
  conditions.replace(conditions.find("[09:45Z"), 7, "[09:49Z");
  std::ofstream(rides / "conditions.ini") << conditions;
  const Outcome moved = call({"logbook", rides.string(), "--format", "json"}, "", "", cache);
  CHECK(moved.out == call({"logbook", rides.string(), "--no-cache", "--format", "json"}).out);
  CHECK(moved.out != anew.out);
}

TEST_CASE("a logbook without a pair says so", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Outcome outcome = call({"logbook", "fixtures/demo", "--splits", "0-120 mph"});
  CHECK(outcome.code == Exit::nothing_found);
  CHECK(one_line(outcome.err).find("no pair of runs out and back") != std::string::npos);
}
