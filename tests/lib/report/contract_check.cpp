#include "lib/report/contract_check.hpp"

#include <set>

namespace {

using Json = nlohmann::json;
using Kind = Json::value_t;

class Checker {
 public:
  std::vector<std::string> faults;

  void check(const Json& document) {
    const Json* head = &document;
    need(*head, "", "schema", &Json::is_string);
    need(*head, "", "clock", &Json::is_string);
    if (document.value("schema", "") != "bothways/1") {
      fault("", "schema is not bothways/1");
    }
    one_of(document, "", "clock", {"rollout", "movement"});
    each(document, "", "logs", [&](const Json& log, const std::string& at) { check_log(log, at); });
    each(document, "", "overall", [&](const Json& row, const std::string& at) {
      need(row, at, "name", &Json::is_string);
      need(row, at, "pairs", &Json::is_number_integer);
      check_times(row, at, "");
      need(row, at, "best_one_way_s", &Json::is_number);
    });
  }

 private:
  void fault(const std::string& at, const std::string& what) { faults.push_back(at + ": " + what); }

  template <typename Test>
  bool need(const Json& object, const std::string& at, const std::string& key, Test is_right) {
    if (!object.contains(key)) {
      fault(at, "no " + key);
      return false;
    }
    if (!(object.at(key).*is_right)()) {
      fault(at, key + " is of the wrong kind");
      return false;
    }
    return true;
  }

  void one_of(const Json& object, const std::string& at, const std::string& key,
              const std::set<std::string>& words) {
    if (need(object, at, key, &Json::is_string) && words.count(object.at(key).get<std::string>()) == 0) {
      fault(at, key + " is '" + object.at(key).get<std::string>() + "'");
    }
  }

  template <typename Check>
  void each(const Json& object, const std::string& at, const std::string& key, Check check_element) {
    if (!need(object, at, key, &Json::is_array)) {
      return;
    }
    std::size_t i = 0;
    for (const Json& element : object.at(key)) {
      check_element(element, at + "/" + key + "/" + std::to_string(i++));
    }
  }

  void check_times(const Json& row, const std::string& at, const std::string& prefix) {
    bool all = true;
    for (const char* figure : {"time_s", "sd_s", "lo95_s", "hi95_s"}) {
      all = need(row, at, prefix + figure, &Json::is_number) && all;
    }
    if (all) {
      const double value = row.at(prefix + "time_s");
      if (!(row.at(prefix + "lo95_s") <= value && value <= row.at(prefix + "hi95_s"))) {
        fault(at, prefix + "time_s is not inside its interval");
      }
      if (value == 0.0) {
        fault(at, prefix + "time_s is 0");
      }
    }
  }

  void check_notes(const Json& object, const std::string& at) {
    each(object, at, "notes", [&](const Json& note, const std::string& where) {
      need(note, where, "code", &Json::is_string);
      need(note, where, "text", &Json::is_string);
      if (note.contains("line")) {
        need(note, where, "line", &Json::is_number_unsigned);
      }
    });
  }

  void check_run(const Json& run, const std::string& at) {
    need(run, at, "id", &Json::is_number_integer);
    need(run, at, "start", &Json::is_string);
    for (const char* key : {"start_unix_s", "clock_unix_s"}) {
      need(run, at, key, &Json::is_number);
    }
    if (run.contains("lat")) {  // without positions there is no direction either
      need(run, at, "heading_deg", &Json::is_number);
    }
    if (run.contains("lat") != run.contains("lon")) {
      fault(at, "lat without lon");
    }
    if (run.contains("pair")) {
      need(run, at, "pair", &Json::is_number_integer);
    }
    each(run, at, "splits", [&](const Json& split, const std::string& where) {
      need(split, where, "name", &Json::is_string);
      check_times(split, where, "");
      check_times(split, where, "movement_");
    });
  }

  void check_pair(const Json& pair, const std::string& at) {
    need(pair, at, "id", &Json::is_number_integer);
    if (need(pair, at, "runs", &Json::is_array) && pair.at("runs").size() != 2) {
      fault(at, "runs are not two");
    }
    each(pair, at, "splits", [&](const Json& split, const std::string& where) {
      need(split, where, "name", &Json::is_string);
      check_times(split, where, "");
      need(split, where, "plain_mean_s", &Json::is_number);
    });
  }

  void check_log(const Json& log, const std::string& at) {
    need(log, at, "path", &Json::is_string);
    one_of(log, at, "format", {"gpx", "nmea", "csv", "kml", "tcx"});
    need(log, at, "fixes", &Json::is_number_unsigned);
    need(log, at, "rate_hz", &Json::is_number);
    one_of(log, at, "speed_source", {"reported", "positions"});
    check_notes(log, at);
    each(log, at, "runs", [&](const Json& run, const std::string& where) { check_run(run, where); });
    each(log, at, "rejected", [&](const Json& start, const std::string& where) {
      need(start, where, "start_unix_s", &Json::is_number);
      one_of(start, where, "code", {"rolling-start", "lifted", "gentle", "gap", "short"});
      need(start, where, "text", &Json::is_string);
    });
    each(log, at, "pairs", [&](const Json& pair, const std::string& where) { check_pair(pair, where); });
  }
};

}  // namespace

std::vector<std::string> contract_faults(const nlohmann::json& document) {
  Checker checker;
  checker.check(document);
  return checker.faults;
}
