#include "bothways/report/contract.hpp"

#include "bothways/report/conditions.hpp"
#include "bothways/report/contract_parts.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/words.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <variant>

namespace bothways {

void put_number(Json& object, const char* key, double value, int decimals) {
  if (std::isfinite(value)) {
    object[key] = rounded(value, decimals);
  }
}

void put_estimate(Json& object, const std::string& prefix, const Estimate& estimate) {
  if (is_printable(estimate)) {
    const Estimate e = rounded(estimate);
    object[prefix + "time_s"] = e.value;
    object[prefix + "sd_s"] = e.sd;
    object[prefix + "lo95_s"] = e.lo95;
    object[prefix + "hi95_s"] = e.hi95;
  }
}

namespace {

/// The time of the clock asked for, then both clocks by name.
template <typename Row>
void put_times(Json& object, const Row& row, Clock clock) {
  put_estimate(object, "", chosen(row, clock));
  if (clock == Clock::movement) {
    put_estimate(object, "rollout_", row.rollout);
  }
  put_estimate(object, "movement_", row.movement);
}

void put_place(Json& object, const LatLon& place) {
  if (std::isfinite(place.lat_deg) && std::isfinite(place.lon_deg)) {
    put_number(object, "lat", place.lat_deg, 7);
    put_number(object, "lon", place.lon_deg, 7);
  }
}

double unix_s(Instant at) {
  return rounded(static_cast<double>(at.unix_us) * 1e-6, 3);
}

}  // namespace

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

Json conditions_json(const Conditions& conditions) {
  Json object = Json::object();
  for (const auto& [key, value] : condition_values(conditions)) {
    if (const auto* text = std::get_if<std::string>(&value)) {
      object[key] = valid_utf8(*text);
    } else {
      object[key] = std::get<double>(value);
    }
  }
  return object;
}

void put_partner(Json& object, const Pairs& pairs, const Run& run) {
  const auto found = std::find_if(pairs.single.begin(), pairs.single.end(),
                                  [&](const Single& single) { return single.run == run.id; });
  if (found != pairs.single.end()) {
    object["without_partner"] = {{"code", found->code}, {"text", valid_utf8(found->text)}};
  }
}

Json run_json(const Result& result, const Ride& ride, const Run& run) {
  Json object{{"id", run.id}, {"start", iso_time(run.movement, ride.dated)}};
  object["start_unix_s"] = unix_s(run.movement);
  put_number(object, "heading_deg", heading_deg(run), 1);
  put_place(object, run.start);
  if (const int pair = pair_of(result, run.id); pair > 0) {
    object["pair"] = pair;
  }
  object["clock_unix_s"] = unix_s(run.clock_start);
  put_number(object, "length_m", run.length_m, 1);
  put_number(object, "top_speed_mps", run.top_speed_mps, 2);
  if (run.gentle) {
    object["gentle"] = true;
  }
  Json splits = Json::array();
  for (const Split& split : run.splits) {
    Json row{{"name", split.name}};
    put_times(row, split, result.clock);
    splits.push_back(std::move(row));
  }
  object["splits"] = std::move(splits);
  put_partner(object, result.pairs, run);
  if (!run.notes.empty()) {
    object["notes"] = notes_json(run.notes);
  }
  return object;
}

Json rejected_json(const Rejected& start) {
  Json object{{"start_unix_s", unix_s(start.time)},
              {"code", valid_utf8(start.code)},
              {"text", valid_utf8(start.text)}};
  put_place(object, start.place);
  return object;
}

Json pair_json(const Result& result, const Pair& pair) {
  Json splits = Json::array();
  for (const TwoWay& split : pair.splits) {
    Json row{{"name", split.name}};
    put_times(row, split, result.clock);
    put_number(row, "plain_mean_s", plain_mean_s(result, pair, split), machine_decimals);
    put_number(row, "apart", split.apart, 4);
    put_number(row, "overlap", split.overlap, 3);
    splits.push_back(std::move(row));
  }
  Json object{{"id", pair.id}, {"runs", {pair.first_run, pair.second_run}}, {"splits", std::move(splits)}};
  put_number(object, "overlap", pair.overlap, 3);
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
    rejected.push_back(rejected_json(start));
  }
  Json pairs = Json::array();
  for (const Pair& pair : result.pairs.made) {
    if (pair.ride == index) {
      pairs.push_back(pair_json(result, pair));
    }
  }
  Json object{{"path", valid_utf8(ride.path)}, {"format", to_string(ride.format)}, {"fixes", ride.fixes}};
  put_number(object, "rate_hz", ride.receiver.rate_hz, 2);
  object["speed_source"] = to_string(ride.source);
  object["dated"] = ride.dated;
  if (ride.conditions) {
    object["conditions"] = conditions_json(*ride.conditions);
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

Json head_json(const Result& result) {
  return {
      {"schema", json_schema}, {"clock", to_string(result.clock)}, {"clock_text", describe(result.clock)}};
}

}  // namespace

Json overall_json(const Result& result) {
  Json array = Json::array();
  for (const Overall& row : result.overall) {
    Json object{{"name", row.name}, {"pairs", row.pairs}, {"days", row.days}};
    put_times(object, row, result.clock);
    put_number(object, "best_one_way_s", best_one_way_s(row, result.clock), machine_decimals);
    if (row.pairs > 1) {
      put_number(object, "scatter_s", row.scatter_s, machine_decimals);
    } else {
      put_number(object, "allowance_s",
                 result.clock == Clock::rollout ? row.allowance_s : row.allowance_movement_s,
                 machine_decimals);
    }
    array.push_back(std::move(object));
  }
  return array;
}

void write_result_json(std::ostream& out, const Result& result) {
  Json object = head_json(result);
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
    Json object = head_json(result);
    object.update(log_json(result, i));
    out << object.dump() << '\n';
  }
  Json object = head_json(result);
  object["overall"] = overall_json(result);
  put_notes(object, result);
  out << object.dump() << '\n';
}

}  // namespace bothways
