// The trip for programs: one table of plain columns, which JSON writes nested.
#include "bothways/report/escape.hpp"
#include "bothways/report/flat.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/trip.hpp"
#include "bothways/report/words.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <utility>

namespace bothways {

namespace {

using Json = nlohmann::ordered_json;

/// A column or key and its figure; unknown figures are left out.
struct Figure {
  std::string name;
  double value = 0.0;
  int decimals = 0;
};

void add_estimate(std::vector<Figure>& figures, const std::string& name, const char* unit, const Estimate& e,
                  int decimals) {
  const std::string tail = std::string("_") + unit;
  figures.push_back({name + tail, e.value, decimals});
  figures.push_back({name + "_sd" + tail, e.sd, decimals});
  figures.push_back({name + "_lo95" + tail, e.lo95, decimals});
  figures.push_back({name + "_hi95" + tail, e.hi95, decimals});
}

std::vector<Figure> figures_of(const Trip& trip) {
  std::vector<Figure> figures;
  add_estimate(figures, "distance", "m", trip.distance_m, 1);
  const auto whole = [](std::size_t n) { return static_cast<double>(n); };
  figures.insert(figures.end(), {{"bridged_m", trip.bridged_m, 1},
                                 {"gaps_bridged", whole(trip.gaps_bridged), 0},
                                 {"gaps_open", whole(trip.gaps_open), 0},
                                 {"moving_s", trip.moving_s, 1},
                                 {"stopped_s", trip.stopped_s, 1},
                                 {"unlogged_s", trip.unlogged_s, 1},
                                 {"stops", whole(trip.stops), 0},
                                 {"rest_mps", trip.rest_mps, 2}});
  const bool moved = trip.distance_m.value > 0.0;
  figures.push_back({"average_moving_mps", moved ? trip.average_moving_mps() : unknown, 3});
  const Estimate none{unknown, unknown, unknown, unknown};
  const auto held = [&](const Estimate& e) { return e.value > 0.0 ? e : none; };
  add_estimate(figures, "sustained_1s", "mps", held(trip.sustained_1s_mps), 3);
  add_estimate(figures, "sustained_5s", "mps", held(trip.sustained_5s_mps), 3);
  figures.insert(figures.end(),
                 {{"town_m", trip.town_m, 1},
                  {"open_m", trip.open_m, 1},
                  {"climb_m", trip.climb_m.value, 1},
                  {"climb_turn_m", is_known(trip.climb_m.value) ? trip.climb_turn_m : unknown, 1},
                  {"climb_sd_m", trip.climb_m.sd, 1},
                  {"climb_lo95_m", trip.climb_m.lo95, 1},
                  {"climb_hi95_m", trip.climb_m.hi95, 1}});
  return figures;
}

std::vector<Figure> figures_of(const Consumption& fuel) {
  std::vector<Figure> figures{{"fuel_l", fuel.fuel_l, 3}, {"fuel_distance_m", fuel.distance_m, 1}};
  add_estimate(figures, "consumption", "l_per_100km", fuel.l_per_100km, 3);
  add_estimate(figures, "economy", "mpg_us", fuel.mpg_us, 3);
  add_estimate(figures, "economy", "mpg_imp", fuel.mpg_imp, 3);
  return figures;
}

std::vector<Figure> figures_of(const ChannelSummary& channel) {
  std::vector<Figure> figures;
  for (const auto& [state, spread] :
       {std::pair{"standing", channel.standing}, std::pair{"moving", channel.moving}}) {
    const auto known = [&, n = spread.n](double value) { return n > 0 ? value : unknown; };
    const std::string head = std::string(state) + "_";
    figures.push_back({head + "min", known(spread.min), 4});
    figures.push_back({head + "median", known(spread.median), 4});
    figures.push_back({head + "max", known(spread.max), 4});
  }
  figures.insert(figures.end(), {{"drift_per_h", channel.drift_per_h, 4},
                                 {"drift", channel.drift.value, 4},
                                 {"drift_sd", channel.drift.sd, 4},
                                 {"drift_lo95", channel.drift.lo95, 4},
                                 {"drift_hi95", channel.drift.hi95, 4}});
  return figures;
}

void put(Json& object, const std::vector<Figure>& figures) {
  for (const Figure& figure : figures) {
    if (!std::isfinite(figure.value)) {
      continue;
    }
    if (figure.decimals == 0) {
      object[figure.name] = static_cast<long long>(std::llround(figure.value));
    } else {
      object[figure.name] = rounded(figure.value, figure.decimals);
    }
  }
}

Json notes_json(const std::vector<Note>& notes) {
  Json array = Json::array();
  for (const Note& note : notes) {
    array.push_back({{"code", note.code}, {"text", valid_utf8(note.text)}});
  }
  return array;
}

Json trip_json(const Trip& trip) {
  Json object{{"path", valid_utf8(trip.path)},
              {"start", iso_time(trip.first, trip.dated)},
              {"end", iso_time(trip.last, trip.dated)},
              {"dated", trip.dated},
              {"speed_source", to_string(trip.source)}};
  if (trip.readings > 1) {
    put(object, figures_of(trip));
  }
  object["channels"] = Json::array();
  for (const ChannelSummary& channel : trip.channels) {
    Json row{{"name", valid_utf8(channel.name)}};
    put(row, figures_of(channel));
    object["channels"].push_back(std::move(row));
  }
  object["notes"] = notes_json(trip.notes);
  return object;
}

/// What stands beside the logs.
void put_sums(Json& object, const TripResult& result) {
  if (result.trips.size() > 1) {
    Json all = Json::object();
    put(all, figures_of(all_of(result.trips)));
    object["all"] = std::move(all);
  }
  if (result.consumption) {
    Json fuel = Json::object();
    put(fuel, figures_of(*result.consumption));
    fuel["text"] = fuel_words(*result.consumption);
    object["fuel"] = std::move(fuel);
  }
}

void append_cells(std::vector<Cell>& row, const std::vector<Figure>& figures) {
  for (const Figure& figure : figures) {
    row.emplace_back(Number{figure.value, figure.decimals});
  }
}

void append_columns(Table& table, const std::string& before, const std::vector<Figure>& figures) {
  for (const Figure& figure : figures) {
    table.columns.push_back({before + figure.name, "", ColumnKind::number});
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

void append_trip(std::vector<Cell>& row, const Trip& trip) {
  std::vector<Figure> figures = figures_of(trip);
  if (trip.readings < 2) {
    for (Figure& figure : figures) {
      figure.value = unknown;
    }
  }
  append_cells(row, figures);
}

void append_channels(std::vector<Cell>& row, const Trip& trip, const std::vector<std::string>& names) {
  for (const std::string& name : names) {
    const auto found = std::find_if(trip.channels.begin(), trip.channels.end(),
                                    [&name](const ChannelSummary& channel) { return channel.name == name; });
    append_cells(row, figures_of(found == trip.channels.end() ? ChannelSummary{} : *found));
  }
}

}  // namespace

Table trip_table(const TripResult& result) {
  Table table{"trip", {{"log", ""}, {"start", "", ColumnKind::time}, {"end", "", ColumnKind::time}}, {}};
  append_columns(table, "", figures_of(Trip{}));
  append_columns(table, "", figures_of(Consumption{}));
  const std::vector<std::string> names = channel_names(result);
  for (const std::string& name : names) {
    append_columns(table, name + "_", figures_of(ChannelSummary{}));
  }
  std::vector<Trip> trips = result.trips;
  if (trips.size() > 1) {
    trips.push_back(all_of(result.trips));
    trips.back().path = "all";
  }
  for (std::size_t i = 0; i < trips.size(); ++i) {
    const Trip& trip = trips[i];
    std::vector<Cell> row{trip.path, TimeCell{trip.first, trip.dated}, TimeCell{trip.last, trip.dated}};
    append_trip(row, trip);
    const bool last = i + 1 == trips.size();
    std::vector<Figure> fuel = figures_of(result.consumption.value_or(Consumption{}));
    for (Figure& figure : fuel) {
      figure.value = last && result.consumption ? figure.value : unknown;
    }
    append_cells(row, fuel);
    append_channels(row, trip, names);
    table.rows.push_back(std::move(row));
  }
  return table;
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
