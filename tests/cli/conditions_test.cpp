#include "cli/conditions.hpp"

#include "cli/command.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sstream>

using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

std::string refusal(const std::string& text) {
  std::istringstream file(text);
  try {
    (void)read_conditions(file, "c.ini");
  } catch (const UsageError& error) {
    return error.what();
  }
  return "";
}

const char* const standing_path = BOTHWAYS_SOURCE_DIR "/tests/cli/input/standing.csv";

}  // namespace

TEST_CASE("conditions are read from lines of key = value", "[cli]") {
  std::istringstream file(
      "\xEF\xBB\xBF# remark\r\n[ride]\r\nsetup = new springs\r\n\r\ntemperature=52 F # cool\r\nwind = 1-3 "
      "m/s\r\n");
  const auto conditions = read_conditions(file, "c.ini").conditions.value();
  CHECK(conditions.setup == "new springs");
  CHECK(conditions.file == "c.ini");
  CHECK(conditions.temperature_degc.value() > 11.1);
  CHECK(conditions.wind_mps.value().hi == 3.0);
}

TEST_CASE("a mistake in conditions is named with file, line and remedy", "[cli]") {
  CHECK_THAT(refusal("setup = a\ntemperature = 52\n"),
             Contains("c.ini, line 2: temperature: '52' has no unit; write for example 11 C or 52 F"));
  CHECK_THAT(refusal("\n\nwheels = 2\n"), Contains("c.ini, line 3: there is no condition 'wheels'"));
  CHECK_THAT(refusal("just words\n"), Contains("c.ini, line 1: this is not of the form 'key = value'"));
  CHECK_THAT(refusal("note = a\nnote = b\n"), Contains("c.ini, line 2: 'note' stands there twice"));
  CHECK_THAT(refusal("setup =\n"), Contains("c.ini, line 1: 'setup' has no value"));
  CHECK_THAT(refusal(std::string(100'000, 'x')), Contains("too long"));
}

TEST_CASE("keys of conditions are read in any letters, and a slip is told with the key meant", "[cli]") {
  std::istringstream file("Setup = springs\nTEMPERATURE = 52 F\nRider-Mass = 83 kg\n");
  const auto conditions = read_conditions(file, "c.ini").conditions.value();
  CHECK(conditions.setup == "springs");
  CHECK(conditions.temperature_degc.has_value());
  CHECK(conditions.rider_mass_kg == 83.0);
  CHECK_THAT(refusal("temprature = 52 F\n"),
             Contains("there is no condition 'temprature'; did you mean 'temperature'?"));
}

TEST_CASE("right lines of a conditions.ini count beside wrong ones, each of which is noted", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", bytes_of(standing_path));
  (void)folder.file("conditions.ini", "setup = springs\ntemprature = 52 F\nhumidity = much\n");
  const auto of_log = nlohmann::json::parse(call({log, "--format", "json"}).out)["logs"][0];
  CHECK(of_log["conditions"]["setup"] == "springs");
  REQUIRE(of_log["notes"].size() == 2);
  CHECK_THAT(of_log["notes"][0]["text"].get<std::string>(),
             Contains("line 2") && Contains("did you mean 'temperature'? This line was not used"));
  CHECK_THAT(of_log["notes"][1]["text"].get<std::string>(),
             Contains("line 3: humidity") && Contains("; this line was not used"));
}

TEST_CASE("conditions under a name that differs a little are read or told of", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("a/ride.csv", bytes_of(standing_path));
  (void)folder.file("a/Conditions.ini", "setup = springs\n");
  CHECK(nlohmann::json::parse(call({log, "--format", "json"}).out)["logs"][0]["conditions"]["setup"] ==
        "springs");
  const std::string other = folder.file("b/ride.csv", bytes_of(standing_path));
  for (const char* name : {"conditions.ini.txt", "condition.ini"}) {
    CAPTURE(name);
    const std::string misnamed = folder.file(std::string("b/") + name, "setup = springs\n");
    const auto of_other = nlohmann::json::parse(call({other, "--format", "json"}).out)["logs"][0];
    CHECK_FALSE(of_other.contains("conditions"));
    REQUIRE(of_other["notes"].size() == 1);
    CHECK(of_other["notes"][0]["code"] == "conditions-misnamed");
    std::filesystem::remove(misnamed);
  }
}

TEST_CASE("a mistake in the file that --conditions names is wrong use", "[cli]") {
  const TemporaryFolder folder;
  const std::string bad = folder.file("ride.ini", "temperature = warm\n");
  const Outcome outcome = call({standing_path, "--conditions", bad});
  CHECK(outcome.code == Exit::usage);
  CHECK(outcome.out.empty());
  CHECK_THAT(outcome.err, Contains("ride.ini, line 1: temperature: 'warm'"));
  CHECK(call({standing_path, "--conditions", folder.path() / "none.ini"}).code == Exit::failed);
  CHECK(call({standing_path, "--conditions", folder.path()}).code == Exit::failed);
}

TEST_CASE("a conditions.ini beside a log is used, and a mistake in it is only noted", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", bytes_of(standing_path));
  const std::string beside = folder.file("conditions.ini", "setup = new \x1b springs\ntemperature = 11 C\n");
  const Outcome good = call({log, "--format", "json"});
  const auto conditions = nlohmann::json::parse(good.out)["logs"][0]["conditions"];
  CHECK(conditions["setup"] == "new \x1b springs");
  CHECK(conditions["temperature_degc"] == 11.0);
  CHECK(conditions["file"] == beside);
  CHECK_THAT(call({log}).out, Contains("new \\x1b springs"));

  REQUIRE(folder.file("conditions.ini", "temperature = 11\n") == beside);
  const Outcome noted = call({log, "--format", "json"});
  CHECK(noted.code == good.code);
  const auto of_log = nlohmann::json::parse(noted.out)["logs"][0];
  CHECK_FALSE(of_log.contains("conditions"));
  CHECK(of_log["notes"].back()["code"] == "bad-conditions");
  CHECK_THAT(of_log["notes"].back()["text"].get<std::string>(), Contains("conditions.ini, line 1"));

  const std::string other = folder.file("other.ini", "setup = old\n");
  CHECK_THAT(call({log, "--conditions", other}).out, Contains("Conditions (") && Contains("old"));
}
