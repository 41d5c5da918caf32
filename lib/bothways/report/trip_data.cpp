// The trip for programs.
#include "bothways/report/contract_parts.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/trip.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <ostream>
#include <string>
#include <utility>

namespace bothways {

namespace {

long long whole(std::size_t n) {
  return static_cast<long long>(n);
}

Record trip_figures(const Trip& trip) {
  const Estimate none{unknown, unknown, unknown, unknown};
  const auto held = [&](const Estimate& e) { return e.value > 0.0 ? e : none; };
  Record record;
  add_estimate(record, quantity_key("distance", "m"), trip.distance_m, 1);
  record.insert(record.end(), {{"bridged_m", Number{trip.bridged_m, 1}},
                               {"gaps_bridged", whole(trip.gaps_bridged)},
                               {"gaps_open", whole(trip.gaps_open)},
                               {"moving_s", Number{trip.moving_s, 1}},
                               {"stopped_s", Number{trip.stopped_s, 1}},
                               {"unlogged_s", Number{trip.unlogged_s, 1}},
                               {"stops", whole(trip.stops)},
                               {"rest_mps", Number{trip.rest_mps, 2}}});
  const bool moved = trip.distance_m.value > 0.0;
  record.push_back({"average_moving_mps", Number{moved ? trip.average_moving_mps() : unknown, 3}});
  add_estimate(record, quantity_key("sustained_1s", "mps"), held(trip.sustained_1s_mps));
  add_estimate(record, quantity_key("sustained_5s", "mps"), held(trip.sustained_5s_mps));
  record.push_back({"town_m", Number{trip.town_m, 1}});
  record.push_back({"open_m", Number{trip.open_m, 1}});
  add_estimate(record, quantity_key("climb", "m"), trip.climb_m, 1);
  // Beside the climb that is counted with it, before that figure's sd.
  record.insert(record.end() - 3,
                {"climb_turn_m", Number{is_known(trip.climb_m.value) ? trip.climb_turn_m : unknown, 1}});
  return record;
}

Record fuel_record(const Consumption& fuel) {
  Record record{{"fuel_l", Number{fuel.fuel_l, 3}}, {"fuel_distance_m", Number{fuel.distance_m, 1}}};
  add_estimate(record, quantity_key("consumption", "l_per_100km"), fuel.l_per_100km);
  add_estimate(record, quantity_key("economy", "mpg_us"), fuel.mpg_us);
  add_estimate(record, quantity_key("economy", "mpg_imp"), fuel.mpg_imp);
  record.push_back({{"text", ""}, fuel.fuel_l > 0.0 ? FieldValue(fuel_words(fuel)) : FieldValue()});
  return record;
}

Record channel_record(const ChannelSummary& channel) {
  Record record{{{"name", ""}, channel.name}};
  for (const auto& [state, spread] :
       {std::pair{"standing", channel.standing}, std::pair{"moving", channel.moving}}) {
    const auto known = [n = spread.n](double value) { return Number{n > 0 ? value : unknown, 4}; };
    const std::string head = std::string(state) + "_";
    record.push_back({head + "min", known(spread.min)});
    record.push_back({head + "median", known(spread.median)});
    record.push_back({head + "max", known(spread.max)});
  }
  record.push_back({"drift_per_h", Number{channel.drift_per_h, 4}});
  add_estimate(record, quantity_key("drift", ""), channel.drift, 4);
  return record;
}

/// A log without its channels; no figures where it has nothing to measure by.
Record trip_record(const Trip& trip) {
  Record record{{{"path", "log"}, trip.path},
                {"start", iso_time(trip.first, trip.dated)},
                {{"", "start_unix_s"}, unix_s(trip.first)},
                {"end", iso_time(trip.last, trip.dated)},
                {{"", "end_unix_s"}, unix_s(trip.last)},
                {{"dated", ""}, trip.dated},
                {{"speed_source", ""}, to_string(trip.source)}};
  append(record, trip.readings > 1 ? trip_figures(trip) : emptied(trip_figures(trip)));
  return record;
}

Json trip_json(const Trip& trip) {
  Json object = to_json(trip_record(trip));
  object["channels"] = Json::array();
  for (const ChannelSummary& channel : trip.channels) {
    object["channels"].push_back(to_json(channel_record(channel)));
  }
  object["notes"] = notes_json(trip.notes);
  return object;
}

/// What stands beside the logs.
void put_sums(Json& object, const TripResult& result) {
  if (result.trips.size() > 1) {
    object["all"] = to_json(trip_figures(all_of(result.trips)));
  }
  if (result.consumption) {
    object["fuel"] = to_json(fuel_record(*result.consumption));
  }
}

/// Names of all channels, each once, in order of appearance.
std::vector<std::string> channel_names(const TripResult& result) {
  std::vector<std::string> names;
  for (const Trip& trip : result.trips) {
    for (const ChannelSummary& channel : trip.channels) {
      if (std::find(names.begin(), names.end(), channel.name) == names.end()) {
        names.push_back(channel.name);
      }
    }
  }
  return names;
}

Record channels_record(const Trip& trip, const std::vector<std::string>& names) {
  Record record;
  for (const std::string& name : names) {
    const auto found = std::find_if(trip.channels.begin(), trip.channels.end(),
                                    [&name](const ChannelSummary& channel) { return channel.name == name; });
    append(record, channel_record(found == trip.channels.end() ? ChannelSummary{} : *found), name + "_");
  }
  return record;
}

}  // namespace

Table trip_table(const TripResult& result) {
  const std::vector<std::string> names = channel_names(result);
  const auto row_of = [&](const Trip& trip, const Record& fuel) {
    Record row = trip_record(trip);
    append(row, fuel);
    append(row, channels_record(trip, names));
    return row;
  };
  std::vector<Trip> trips = result.trips;
  if (trips.size() > 1) {
    trips.push_back(all_of(result.trips));
    trips.back().path = "all";
  }
  const Record no_fuel = emptied(fuel_record({}));
  std::vector<Record> rows;
  for (std::size_t i = 0; i < trips.size(); ++i) {
    const bool last = i + 1 == trips.size();
    rows.push_back(row_of(trips[i], last && result.consumption ? fuel_record(*result.consumption) : no_fuel));
  }
  return table_of("trip", row_of({}, no_fuel), rows);
}

void write_trip_json(std::ostream& out, const TripResult& result) {
  Json object{{"schema", json_schema}, {"trips", Json::array()}};
  for (const Trip& trip : result.trips) {
    object["trips"].push_back(trip_json(trip));
  }
  put_sums(object, result);
  out << object.dump(1) << '\n';
}

void write_trip_jsonl(std::ostream& out, const TripResult& result) {
  for (const Trip& trip : result.trips) {
    Json object{{"schema", json_schema}};
    object.update(trip_json(trip));
    out << object.dump() << '\n';
  }
  Json object{{"schema", json_schema}};
  put_sums(object, result);
  if (object.size() > 1) {
    out << object.dump() << '\n';
  }
}

}  // namespace bothways
