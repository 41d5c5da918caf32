#include "bothways/report/rows.hpp"

#include "bothways/report/number.hpp"

#include <algorithm>

namespace bothways {

namespace {

constexpr int degrees_decimals = 7;  // a centimetre on the ground

Cell place_number(double deg) {
  return Number{deg, degrees_decimals};
}

/// Without a day it may be any clock, or seconds from the start.
std::string time_heading(bool dated) {
  return dated ? "time (UTC)" : "time";
}

Cell clock_cell(const Result& result) {
  return std::string(to_string(result.clock));
}

std::string column_name(std::string split) {
  std::replace(split.begin(), split.end(), ' ', '_');
  return split;
}

std::vector<Column> run_columns() {
  return {{"run", "", ColumnKind::number},
          {"log", ""},
          {"start", "", ColumnKind::time},
          {"clock", ""},
          {"heading", "deg", ColumnKind::number},
          {"lat", "deg", ColumnKind::number},
          {"lon", "deg", ColumnKind::number},
          {"pair", "", ColumnKind::number},
          {"gentle", ""}};
}

std::vector<Cell> run_cells(const Result& result, const Ride& ride, const Run& run) {
  const int pair = pair_of(result, run.id);
  return {Number{static_cast<double>(run.id), 0},
          ride.path,
          TimeCell{run.movement, ride.dated},
          clock_cell(result),
          Number{heading_deg(run), 1},
          place_number(run.start.lat_deg),
          place_number(run.start.lon_deg),
          pair > 0 ? Cell(Number{static_cast<double>(pair), 0}) : Cell(),
          std::string(run.gentle ? "yes" : "no")};
}

/// One past the last of `count` rows from `first`, of `size` in all.
std::size_t part_end(std::size_t first, std::size_t count, std::size_t size) {
  return first >= size ? first : first + std::min(count, size - first);
}

Cell whole(std::size_t n) {
  return Number{static_cast<double>(n), 0};
}

}  // namespace

Table fixes_table(const Log& log, std::size_t first, std::size_t count) {
  Table table{"fixes",
              {{"time", "", ColumnKind::time, time_heading(log.dated)},
               {"lat", "deg", ColumnKind::number},
               {"lon", "deg", ColumnKind::number},
               {"speed", "mps", ColumnKind::number, "speed m/s"},
               {"course", "deg", ColumnKind::number},
               {"ele", "m", ColumnKind::number},
               {"hdop", "", ColumnKind::number},
               {"satellites", "", ColumnKind::number, "sats"},
               {"speed_accuracy", "mps", ColumnKind::number, "speed sd m/s"},
               {"position_accuracy", "m", ColumnKind::number, "position sd m"},
               {"log", ""}},
              {}};
  const std::size_t end = part_end(first, count, log.fixes.size());
  for (std::size_t i = first; i < end; ++i) {
    const Fix& fix = log.fixes[i];
    table.rows.push_back({TimeCell{fix.time, log.dated}, place_number(fix.lat_deg), place_number(fix.lon_deg),
                          Number{fix.speed_mps, 3}, Number{fix.course_deg, 1}, Number{fix.ele_m, 1},
                          Number{fix.hdop, 1},
                          fix.satellites >= 0 ? Cell(Number{static_cast<double>(fix.satellites), 0}) : Cell(),
                          Number{fix.speed_sd_mps, 3}, Number{fix.position_sd_m, 2}, log.path});
  }
  return table;
}

Table stretch_table(const Stretch& stretch, std::size_t number, SpeedSource source, const std::string& path,
                    bool dated, std::size_t first, std::size_t count) {
  Table table{"speed",
              {{"time", "", ColumnKind::time, time_heading(dated)},
               {"stretch", "", ColumnKind::number},
               {"speed", "mps", ColumnKind::number, "speed m/s"},
               {"speed_sd", "mps", ColumnKind::number, "sd m/s"},
               {"east", "m", ColumnKind::number},
               {"north", "m", ColumnKind::number},
               {"ele", "m", ColumnKind::number},
               {"source", ""},
               {"log", ""},
               {"validity", ""},
               {"at_rest", "", ColumnKind::number, "at rest"}},
              {}};
  const auto at = [](const std::vector<double>& column, std::size_t i) {
    return i < column.size() ? Cell(Number{column[i], 2}) : Cell();
  };
  const std::size_t end = part_end(first, count, stretch.t_s.size());
  for (std::size_t i = first; i < end; ++i) {
    table.rows.push_back({TimeCell{shifted(stretch.start, stretch.t_s[i]), dated}, whole(number),
                          Number{stretch.v_mps[i], 3}, Number{stretch.sd_mps[i], 3}, at(stretch.east_m, i),
                          at(stretch.north_m, i), at(stretch.ele_m, i), std::string(to_string(source)), path,
                          std::string(to_string(stretch.validity[i])),
                          whole(stretch.at_rest[i] != 0 ? 1 : 0)});
  }
  return table;
}

Table runs_table(const Result& result) {
  Table table{"runs", run_columns(), {}};
  table.columns.push_back({"split", ""});
  table.columns.push_back({"", "s", ColumnKind::estimate});
  table.columns.push_back({"movement", "s", ColumnKind::estimate});
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      for (const Split& split : run.splits) {
        auto row = run_cells(result, ride, run);
        row.insert(row.end(), {split.name, chosen(split, result.clock), split.movement});
        table.rows.push_back(std::move(row));
      }
    }
  }
  return table;
}

Table wide_runs_table(const Result& result) {
  Table table{"runs", run_columns(), {}};
  for (const SplitSpec& split : result.splits) {
    table.columns.push_back({column_name(split.name), "s", ColumnKind::estimate, split.name});
  }
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      auto row = run_cells(result, ride, run);
      for (const SplitSpec& spec : result.splits) {
        const Split* split = find_split(run, spec.name);
        row.push_back(split != nullptr ? Cell(chosen(*split, result.clock)) : Cell());
      }
      table.rows.push_back(std::move(row));
    }
  }
  return table;
}

Table pairs_table(const Result& result) {
  Table table{"pairs",
              {{"pair", "", ColumnKind::number},
               {"first_run", "", ColumnKind::number},
               {"second_run", "", ColumnKind::number},
               {"overlap", "percent", ColumnKind::number, "same road"},
               {"clock", ""},
               {"split", ""},
               {"", "s", ColumnKind::estimate},
               {"plain_mean", "s", ColumnKind::number},
               {"apart", "percent", ColumnKind::number},
               {"movement", "s", ColumnKind::estimate},
               {"log", ""},
               {"split_overlap", "percent", ColumnKind::number, "same road in the split"}},
              {}};
  for (const Pair& pair : result.pairs.made) {
    for (const TwoWay& split : pair.splits) {
      table.rows.push_back(
          {Number{static_cast<double>(pair.id), 0}, Number{static_cast<double>(pair.first_run), 0},
           Number{static_cast<double>(pair.second_run), 0}, Number{pair.overlap * 100, 0}, clock_cell(result),
           split.name, chosen(split, result.clock),
           Number{plain_mean_s(result, pair, split), machine_decimals}, Number{split.apart * 100, 1},
           split.movement, result.rides.at(pair.ride).path, Number{split.overlap * 100, 0}});
    }
  }
  return table;
}

}  // namespace bothways
