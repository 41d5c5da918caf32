#pragma once

#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"
#include "bothways/trip/trip.hpp"

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// What `bothways trip` found.
struct TripResult {
  std::vector<Trip> trips;  ///< one a log
  std::optional<Consumption> consumption;
  bool metric = false;  ///< text in km and km/h, else in miles and mph
};

/// What the interval of a consumption leaves out, or why there is none: one sentence or two.
[[nodiscard]] std::string fuel_words(const Consumption& fuel);

/// Text for people: each log, then all of them where there are several, then the fuel.
void write_trip(std::ostream& out, const TripResult& result, const SummaryOptions& options);

/// A row per log, and one called "all" where there are several; the fuel in the last row. Channels come as
/// three columns for each state and five for the drift, named after the channel.
[[nodiscard]] Table trip_table(const TripResult& result);

/// One object with `trips`, `all` and `fuel` (docs/formats.md).
void write_trip_json(std::ostream& out, const TripResult& result);

/// One line per log, then one with `all` and `fuel`.
void write_trip_jsonl(std::ostream& out, const TripResult& result);

}  // namespace bothways
