#include "bothways/report/result_records.hpp"

#include "bothways/report/conditions.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

namespace {

void add_place(Record& record, const LatLon& place, bool tell) {
  const bool known = tell && std::isfinite(place.lat_deg) && std::isfinite(place.lon_deg);
  record.push_back({{"lat", "lat_deg"}, Number{known ? place.lat_deg : unknown, degrees_decimals}});
  record.push_back({{"lon", "lon_deg"}, Number{known ? place.lon_deg : unknown, degrees_decimals}});
}

/// The time of the clock asked for; in JSON also that after the first foot, where another was asked for.
void add_times(Record& record, const Estimate& chosen, const Estimate& rollout, Clock clock) {
  add_estimate(record, time_key(), chosen);
  if (clock == Clock::movement) {
    add_estimate(record, {.value = {"rollout_time", ""}, .spread = {"rollout", ""}}, rollout);
  }
}

/// When a run began; its day alone where times of day are kept back.
FieldValue start_of(const Result& result, const Ride& ride, const Run& run) {
  if (result.places) {
    return iso_time(run.movement, ride.dated);
  }
  return if_so(ride.dated, date_words(run.movement));
}

}  // namespace

void add_budget(Record& record, const Budget& budget) {
  for (const BudgetRow& row : budget_rows(budget)) {
    record.push_back({{std::string(row.code) + "_sd_s", ""}, Number{row.sd_s, machine_decimals}});
  }
}

Record log_record(const Ride& ride, bool places) {
  const PartOfLog part = ride.part.value_or(PartOfLog{});
  return {{"path", ride.path},
          {"format", to_string(ride.format)},
          {"fixes", static_cast<long long>(ride.fixes)},
          {"readings", if_so(ride.readings > 0, static_cast<long long>(ride.readings))},
          {"rate_hz", Number{ride.receiver.rate_hz, 2}},
          {"speed_source", to_string(ride.source)},
          {"dated", ride.dated},
          {"part_from", if_so(places && ride.part.has_value(), iso_time(part.from, ride.dated))},
          {"part_until", if_so(places && ride.part.has_value(), iso_time(part.until, ride.dated))},
          {"turn", if_so(ride.turn > 0, ride.turn)}};
}

Record rejected_record(const Rejected& start, bool places) {
  Record record{
      {"start_unix_s", if_so(places, unix_s(start.time))}, {"code", start.code}, {"text", start.text}};
  add_place(record, start.place, places);
  return record;
}

Record run_record(const Result& result, const Ride& ride, const Run& run) {
  const int pair = pair_of(result, run.id);
  Record record{{{"id", "run"}, run.id},
                {{"", "log"}, ride.path},
                {"start", start_of(result, ride, run)},
                {"start_unix_s", if_so(result.places, unix_s(run.movement))},
                {{"", "clock"}, to_string(result.clock)},
                {"heading_deg", Number{heading_deg(run), 1}}};
  add_place(record, run.start, result.places);
  record.insert(record.end(), {{"pair", if_so(pair > 0, pair)},
                               {{"clock_unix_s", ""}, if_so(result.places, unix_s(run.clock_start))},
                               {"length_m", Number{run.length_m, 1}},
                               {"top_speed_mps", Number{run.top_speed_mps, 2}},
                               {{"gentle", ""}, if_so(run.gentle, true)},
                               {{"", "gentle"}, run.gentle}});
  return record;
}

Record split_record(const Split& split, Clock clock) {
  Record record{{{"name", "split"}, split.spec.name}};
  add_times(record, chosen(split, clock), split.rollout, clock);
  add_estimate(record, time_key("movement"), split.movement);
  const Estimate none{unknown, unknown, unknown, unknown};
  add_estimate(record, quantity_key("speed", "mps"), split.speed_mps.value_or(none), 2);
  return record;
}

Record pair_record(const Pair& pair, Clock clock) {
  return {{{"id", "pair"}, pair.id},
          {{"", "first_run"}, pair.first_run},
          {{"", "second_run"}, pair.second_run},
          {{"overlap", ""}, Number{pair.overlap, 3}},
          {{"", "overlap_percent"}, Number{pair.overlap * 100, 0}},
          {{"", "clock"}, to_string(clock)}};
}

Record two_way_record(const TwoWay& split, Clock clock, const std::string& path, double plain_mean_s) {
  Record record{{{"name", "split"}, split.spec.name}};
  add_times(record, chosen(split, clock), split.rollout, clock);
  add_estimate(record, time_key("movement"), split.movement);
  const Estimate& ridden = clock == Clock::rollout ? split.as_ridden : split.as_ridden_movement;
  record.push_back({{"as_ridden_s", ""}, Number{ridden.value, machine_decimals}});
  add_budget(record, split.budget);
  record.insert(record.end(), {{"plain_mean_s", Number{plain_mean_s, machine_decimals}},
                               {{"apart", ""}, Number{split.apart, 4}},
                               {{"", "apart_percent"}, Number{split.apart * 100, 1}},
                               {{"", "log"}, path},
                               {{"overlap", ""}, Number{split.overlap, 3}},
                               {{"", "split_overlap_percent"}, Number{split.overlap * 100, 0}}});
  return record;
}

Record overall_record(const Overall& row, Clock clock) {
  const bool rollout = clock == Clock::rollout;
  const Budget& budget = rollout ? row.budget : row.budget_movement;
  const double allowance_s = std::hypot(budget.scatter, budget.block);
  Record record{{{"name", "split"}, row.spec.name}, {"pairs", row.pairs}, {"days", row.days}};
  add_times(record, chosen(row, clock), row.rollout, clock);
  add_estimate(record, time_key("movement"), row.movement);
  record.push_back(
      {{"as_ridden_s", ""}, Number{rollout ? row.as_ridden_s : row.as_ridden_movement_s, machine_decimals}});
  add_budget(record, budget);
  record.insert(record.end(), {{"best_one_way_s", Number{best_one_way_s(row, clock), machine_decimals}},
                               {"scatter_s", if_so(row.pairs > 1, Number{row.scatter_s, machine_decimals})},
                               {"allowance_s", if_so(row.pairs < 2, Number{allowance_s, machine_decimals})}});
  return record;
}

Record origin_record(const std::vector<const Ride*>& rides) {
  const auto day_of = [](const Ride& ride) { return ride.dated ? date_words(ride.first) : ""; };
  const auto conditions_of = [](const Ride& ride) {
    return condition_record(ride.conditions.value_or(Conditions{}));
  };
  std::string day;
  const int turn = rides.empty() ? 0 : rides.front()->turn;
  const bool one_turn =
      std::all_of(rides.begin(), rides.end(), [&](const Ride* ride) { return ride->turn == turn; });
  Record record = condition_record({});
  for (const Ride* ride : rides) {
    const Record own = conditions_of(*ride);
    if (ride == rides.front()) {
      day = day_of(*ride);
      record = own;
      continue;
    }
    day = day == day_of(*ride) ? day : "";
    for (std::size_t i = 0; i < record.size(); ++i) {
      record[i].value = record[i] == own[i] ? record[i].value : FieldValue();
    }
  }
  record.erase(std::remove_if(record.begin(), record.end(),
                              [](const Field& field) { return field.key.column == "file"; }),
               record.end());
  record.insert(record.begin(), {"date", if_so(!day.empty(), day)});
  record.push_back({"turn", if_so(one_turn && turn > 0, turn)});
  return record;
}

}  // namespace bothways
