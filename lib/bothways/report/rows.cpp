#include "bothways/report/rows.hpp"

#include "bothways/report/result_records.hpp"

#include <algorithm>

namespace bothways {

namespace {

Cell place_number(double deg) {
  return Number{deg, degrees_decimals};
}

/// Without a day it may be any clock, or seconds from the start.
std::string time_heading(bool dated) {
  return dated ? "time (UTC)" : "time";
}

/// "0-30_mph"
std::string column_name(std::string split) {
  std::replace(split.begin(), split.end(), ' ', '_');
  return split;
}

/// One past the last of `count` rows from `first`, of `size` in all.
std::size_t part_end(std::size_t first, std::size_t count, std::size_t size) {
  return first >= size ? first : first + std::min(count, size - first);
}

Cell whole_cell(std::size_t n) {
  return Number{static_cast<double>(n), 0};
}

}  // namespace

Table fixes_table(const Log& log, std::size_t first, std::size_t count) {
  Table table{"fixes",
              {{"time", "", ColumnKind::time, time_heading(log.dated)},
               {"lat", "deg", ColumnKind::number, "", "lat"},
               {"lon", "deg", ColumnKind::number, "", "lon"},
               {"speed", "mps", ColumnKind::number, "speed m/s"},
               {"course", "deg", ColumnKind::number},
               {"ele", "m", ColumnKind::number},
               {"hdop", "", ColumnKind::number},
               {"satellites", "", ColumnKind::number, "sats"},
               {"speed_accuracy", "mps", ColumnKind::number, "speed sd m/s"},
               {"position_accuracy", "m", ColumnKind::number, "position sd m"},
               {"log", "", ColumnKind::text, "", "path"}},
              {}};
  const std::size_t end = part_end(first, count, log.fixes.size());
  table.rows.reserve(end - first);
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
               {"source", "", ColumnKind::text, "", "speed_source"},
               {"log", "", ColumnKind::text, "", "path"},
               {"validity", ""},
               {"at_rest", "", ColumnKind::number, "at rest"}},
              {}};
  const auto at = [](const std::vector<double>& column, std::size_t i) {
    return i < column.size() ? Cell(Number{column[i], 2}) : Cell();
  };
  const std::size_t end = part_end(first, count, stretch.t_s.size());
  table.rows.reserve(end - first);
  for (std::size_t i = first; i < end; ++i) {
    table.rows.push_back({TimeCell{shifted(stretch.start, stretch.t_s[i]), dated}, whole_cell(number),
                          Number{stretch.v_mps[i], 3}, Number{stretch.sd_mps[i], 3}, at(stretch.east_m, i),
                          at(stretch.north_m, i), at(stretch.ele_m, i), std::string(to_string(source)), path,
                          std::string(to_string(stretch.validity[i])),
                          whole_cell(stretch.at_rest[i] != 0 ? 1 : 0)});
  }
  return table;
}

Table runs_table(const Result& result) {
  const auto row_of = [&](const Ride& ride, const Run& run, const Split& split) {
    Record row = run_record(result, ride, run);
    append(row, split_record(split, result.clock));
    return row;
  };
  std::vector<Record> rows;
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      for (const Split& split : run.splits) {
        rows.push_back(row_of(ride, run, split));
      }
    }
  }
  return table_of("runs", row_of({}, {}, {}), rows);
}

Table wide_runs_table(const Result& result) {
  const auto row_of = [&](const Ride& ride, const Run& run) {
    Record row = run_record(result, ride, run);
    for (const SplitSpec& spec : result.splits) {
      const Split* split = find_split(run, spec.name);
      const Estimate none{unknown, unknown, unknown, unknown};
      add_estimate(row, time_key(column_name(spec.name)),
                   split != nullptr ? chosen(*split, result.clock) : none);
    }
    return row;
  };
  std::vector<Record> rows;
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      rows.push_back(row_of(ride, run));
    }
  }
  return table_of("runs", row_of({}, {}), rows);
}

Table pairs_table(const Result& result) {
  const auto row_of = [&](const Pair& pair, const TwoWay& split, const std::string& path, double mean_s) {
    Record row = pair_record(pair, result.clock);
    append(row, two_way_record(split, result.clock, path, mean_s));
    return row;
  };
  std::vector<Record> rows;
  for (const Pair& pair : result.pairs.made) {
    for (const TwoWay& split : pair.splits) {
      rows.push_back(row_of(pair, split, result.rides.at(pair.ride).path, plain_mean_s(result, pair, split)));
    }
  }
  return table_of("pairs", row_of({}, {}, "", 0.0), rows,
                  {"pair", "first_run", "second_run", "overlap_percent", "clock", "split", "time_s", "sd_s",
                   "lo95_s", "hi95_s", "plain_mean_s", "apart_percent"});
}

namespace {

Record kind_record(const char* kind) {
  return {{"kind", std::string(kind)}};
}

Record joined(Record record, const std::vector<Record>& more) {
  for (const Record& other : more) {
    append(record, other);
  }
  return record;
}

}  // namespace

Table results_table(const Result& result, bool runs) {
  const Clock clock = result.clock;
  const auto run_row = [&](const Ride& ride, const Run& run, const Split& split) {
    return joined(kind_record("run"),
                  {split_record(split, clock), run_record(result, ride, run), origin_record({&ride})});
  };
  const auto pair_row = [&](const Pair& pair, const TwoWay& split, double mean_s, const std::string& path,
                            const std::vector<const Ride*>& rides) {
    return joined(kind_record("pair"), {two_way_record(split, clock, path, mean_s), pair_record(pair, clock),
                                        origin_record(rides)});
  };
  const auto overall_row = [&](const Overall& row, const std::vector<const Ride*>& rides) {
    return joined(
        kind_record("overall"),
        {overall_record(row, clock), {{"clock", std::string(to_string(clock))}}, origin_record(rides)});
  };
  std::vector<Record> rows;
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      for (const Split& split : runs ? run.splits : std::vector<Split>{}) {
        rows.push_back(run_row(ride, run, split));
      }
    }
  }
  for (const Pair& pair : result.pairs.made) {
    const Ride& ride = result.rides.at(pair.ride);
    for (const TwoWay& split : pair.splits) {
      rows.push_back(pair_row(pair, split, plain_mean_s(result, pair, split), ride.path,
                              {&ride, &result.rides.at(pair.other_ride)}));
    }
  }
  for (const Overall& row : result.overall) {
    rows.push_back(overall_row(row, rides_with_pairs(result, row.spec)));
  }
  const Ride nowhere;
  std::vector<Record> kinds{pair_row({}, {}, 0.0, "", {&nowhere}), overall_row({}, {&nowhere})};
  if (runs) {
    kinds.insert(kinds.begin(), run_row(nowhere, {}, {}));
  }
  return table_of_kinds("results", kinds, rows);
}

}  // namespace bothways
