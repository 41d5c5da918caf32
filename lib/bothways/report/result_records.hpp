#pragma once

#include "bothways/report/record.hpp"
#include "bothways/report/result.hpp"

#include <string>
#include <vector>

namespace bothways {

/// Of a place in degrees: a centimetre on the ground.
inline constexpr int degrees_decimals = 7;

// The figures of one call's result, each listed here and nowhere else (docs/formats.md).

/// Adds the components of an uncertainty to a JSON record, sds in s: "receiver_sd_s" and so on.
void add_budget(Record& record, const Budget& budget);

/// A log, without what was found in it.
[[nodiscard]] Record log_record(const Ride& ride, bool places = true);

/// A start that does not count.
/// @param places  Result::places
[[nodiscard]] Record rejected_record(const Rejected& start, bool places);

/// A run without its splits.
[[nodiscard]] Record run_record(const Result& result, const Ride& ride, const Run& run);

/// One split of a run: the time of the clock asked for, then both clocks by name.
[[nodiscard]] Record split_record(const Split& split, Clock clock);

/// A pair without its splits.
[[nodiscard]] Record pair_record(const Pair& pair, Clock clock);

/// One split of a pair.
/// @param path          of the log that holds its first run
/// @param plain_mean_s  plain_mean_s()
[[nodiscard]] Record two_way_record(const TwoWay& split, Clock clock, const std::string& path,
                                    double plain_mean_s);

/// All pairs of one split taken together.
[[nodiscard]] Record overall_record(const Overall& row, Clock clock);

/// What a row of a table that is kept tells of where it comes from: day, set-up, masses and weather, as far
/// as all these rides have the same.
[[nodiscard]] Record origin_record(const std::vector<const Ride*>& rides);

}  // namespace bothways
