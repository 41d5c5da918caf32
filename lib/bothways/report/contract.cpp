#include "bothways/report/contract.hpp"

#include "bothways/report/conditions.hpp"
#include "bothways/report/contract_parts.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/result_records.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <variant>

namespace bothways {

namespace {

struct PutValue {
  Json& object;
  const std::string& key;

  void operator()(std::monostate /*nothing*/) const {}
  void operator()(const std::string& text) const { object[key] = valid_utf8(text); }
  void operator()(bool yes) const { object[key] = yes; }
  void operator()(long long whole) const { object[key] = whole; }
  void operator()(const Number& figure) const {
    if (std::isfinite(figure.value)) {
      object[key] = rounded(figure.value, figure.decimals);
    }
  }
};

}  // namespace

void put(Json& object, const Record& record) {
  for (const Field& field : record) {
    if (!field.key.json.empty()) {
      std::visit(PutValue{object, field.key.json}, field.value);
    }
  }
}

Json to_json(const Record& record) {
  Json object = Json::object();
  put(object, record);
  return object;
}

Json notes_json(const std::vector<Note>& notes) {
  Json array = Json::array();
  for (const Note& note : notes) {
    Json object{{"code", valid_utf8(note.code)}, {"text", valid_utf8(note.text)}};
    if (note.line > 0) {
      object["line"] = note.line;
    }
    array.push_back(std::move(object));
  }
  return array;
}

namespace {

void put_partner(Json& object, const Pairs& pairs, const Run& run) {
  const auto found = std::find_if(pairs.single.begin(), pairs.single.end(),
                                  [&](const Single& single) { return single.run == run.id; });
  if (found != pairs.single.end()) {
    object["without_partner"] = {{"code", found->code}, {"text", valid_utf8(found->text)}};
  }
}

Json run_json(const Result& result, const Ride& ride, const Run& run) {
  Json object = to_json(run_record(result, ride, run));
  object["splits"] = Json::array();
  for (const Split& split : run.splits) {
    object["splits"].push_back(to_json(split_record(split, result.clock)));
  }
  put_partner(object, result.pairs, run);
  if (!run.notes.empty()) {
    object["notes"] = notes_json(run.notes);
  }
  return object;
}

Json pair_json(const Result& result, const Pair& pair) {
  Json object{{"id", pair.id}, {"runs", {pair.first_run, pair.second_run}}, {"splits", Json::array()}};
  for (const TwoWay& split : pair.splits) {
    object["splits"].push_back(
        to_json(two_way_record(split, result.clock, "", plain_mean_s(result, pair, split))));
  }
  put(object, pair_record(pair, result.clock));
  if (!pair.notes.empty()) {
    object["notes"] = notes_json(pair.notes);
  }
  return object;
}

}  // namespace

Json log_json(const Result& result, std::size_t index) {
  const Ride& ride = result.rides[index];
  Json runs = Json::array();
  for (const Run& run : ride.runs.accepted) {
    runs.push_back(run_json(result, ride, run));
  }
  Json rejected = Json::array();
  for (const Rejected& start : ride.runs.rejected) {
    rejected.push_back(to_json(rejected_record(start, result.places)));
  }
  Json pairs = Json::array();
  for (const Pair& pair : result.pairs.made) {
    if (pair.ride == index) {
      pairs.push_back(pair_json(result, pair));
    }
  }
  Json object = to_json(log_record(ride, result.places));
  if (ride.conditions) {
    object["conditions"] = to_json(condition_record(*ride.conditions));
  }
  object["notes"] = notes_json(ride.notes);
  object["runs"] = std::move(runs);
  object["rejected"] = std::move(rejected);
  object["pairs"] = std::move(pairs);
  return object;
}

namespace {

/// What holds for all logs together, if anything.
void put_notes(Json& object, const Result& result) {
  if (const std::string text = mixed_setups_words(result); !text.empty()) {
    object["notes"] = notes_json({{"mixed-setups", text, 0}});
  }
}

}  // namespace

Json head_json(Clock clock, bool marks_chosen) {
  return {{"schema", json_schema},
          {"clock", to_string(clock)},
          {"clock_text", describe(clock)},
          {"marks", marks_chosen ? "chosen" : "asked"}};
}

Json overall_json(const Result& result) {
  Json array = Json::array();
  for (const Overall& row : result.overall) {
    array.push_back(to_json(overall_record(row, result.clock)));
  }
  return array;
}

void write_result_json(std::ostream& out, const Result& result) {
  Json object = head_json(result.clock, result.marks_chosen);
  object["logs"] = Json::array();
  for (std::size_t i = 0; i < result.rides.size(); ++i) {
    object["logs"].push_back(log_json(result, i));
  }
  object["overall"] = overall_json(result);
  put_notes(object, result);
  out << object.dump(1) << '\n';
}

void write_result_jsonl(std::ostream& out, const Result& result) {
  for (std::size_t i = 0; i < result.rides.size(); ++i) {
    Json object = head_json(result.clock, result.marks_chosen);
    object.update(log_json(result, i));
    out << object.dump() << '\n';
  }
  Json object = head_json(result.clock, result.marks_chosen);
  object["overall"] = overall_json(result);
  put_notes(object, result);
  out << object.dump() << '\n';
}

namespace {

void write_list(std::ostream& out, const Result& result, const char* name, const std::vector<Json>& list,
                bool lines) {
  Json object = head_json(result.clock, result.marks_chosen);
  if (!lines) {
    object[name] = list;
    out << object.dump(1) << '\n';
    return;
  }
  for (const Json& element : list) {
    Json line = object;
    line.update(element);
    out << line.dump() << '\n';
  }
}

Json with_path(Json object, const Ride& ride) {
  object["path"] = valid_utf8(ride.path);
  return object;
}

}  // namespace

void write_runs_json(std::ostream& out, const Result& result, bool lines) {
  std::vector<Json> runs;
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      runs.push_back(with_path(run_json(result, ride, run), ride));
    }
  }
  write_list(out, result, "runs", runs, lines);
}

void write_pairs_json(std::ostream& out, const Result& result, bool lines) {
  std::vector<Json> pairs;
  for (const Pair& pair : result.pairs.made) {
    pairs.push_back(with_path(pair_json(result, pair), result.rides.at(pair.ride)));
  }
  write_list(out, result, "pairs", pairs, lines);
}

}  // namespace bothways
