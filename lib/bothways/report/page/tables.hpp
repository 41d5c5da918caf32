#pragma once

#include "bothways/report/page/splits.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

namespace bothways {

// The tables that the charts draw, in the units of the page. A table is an array of blocks; a block is an
// object of columns, arrays of one length, and of values that hold for all its rows: what a run is called is
// written once.

using Json = nlohmann::ordered_json;

/// A block that grows row by row.
struct Columns {
  Json object = Json::object();
  /// What is not finite is null.
  void add(const char* name, double value, int decimals);
};

/// m/s of one km/h or mph, as the page has it.
[[nodiscard]] double per_unit_mps(const Page& page);

/// The run that "out" is told by; nullptr where no log has positions.
[[nodiscard]] const Run* first_with_heading(const std::vector<Side>& sides);

/// Which way a run went, as a chart tells it: "out", "back"; empty where the log has no positions.
[[nodiscard]] std::string way_of(const std::vector<Side>& sides, const Run& run);

/// What a chart groups by: "out", "before, back".
[[nodiscard]] std::string group_of(const std::vector<Side>& sides, const Side& side, const Run& run);

/// All groups that there are, in the order of sides and ways.
[[nodiscard]] std::vector<std::string> groups_of(const std::vector<Side>& sides);

/// "curves": t, v, lo, hi and, against speed, a, a_lo, a_hi of each run from its clock start.
[[nodiscard]] Json curves_table(const Page& page);

/// "ends": the numbers of the runs where their curves end; those that end close together in one place.
/// @param curves  curves_table()
[[nodiscard]] Json curve_ends_table(const Json& curves);

/// "pulls": acceleration and, with a mass, power against speed of each side, both ways.
[[nodiscard]] Json pulls_table(const Page& page);

/// "pairs", "differences": one row a split and pair, or a split and comparison.
/// "overall": one row a split and side.
[[nodiscard]] Json overall_table(const Page& page, const std::vector<PageSplit>& splits);
[[nodiscard]] Json pairs_table(const Page& page, const std::vector<PageSplit>& splits);
[[nodiscard]] Json differences_chart_table(const Page& page, const std::vector<PageSplit>& splits);

/// A log's picture: its speed against minutes from its beginning, its runs, its other starts, its stops.
struct RideTables {
  Json speed;
  Json runs;
  Json others;
  Json stops;
};
[[nodiscard]] RideTables ride_tables(const Page& page, const Ride& ride, const Side& side);

/// "course": where the runs went, metres east and north of the first start. Only for pages with a map.
[[nodiscard]] Json course_table(const Page& page);

}  // namespace bothways
