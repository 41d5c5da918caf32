#pragma once

/// The map of the library, in the order in which data flow.
///
///     const bothways::Log log = bothways::read_log("ride.gpx");
///     const bothways::SpeedSeries speed = bothways::speed_series(log);
///     const auto splits = bothways::parse_splits("0-30 mph, 60 ft");
///     for (const bothways::Run& run : bothways::find_runs(speed, {.splits = splits}).accepted)
///       use(run.splits.front().rollout.value, run.splits.front().rollout.sd);
///
/// Everything is a plain value; nothing prints, exits, or keeps state. See docs/method.md for the
/// mathematics.

#include "bothways/core/air.hpp"            // air density, standard pressure
#include "bothways/core/conditions.hpp"     // Conditions: set-up, mass, weather of a ride
#include "bothways/core/error.hpp"          // LogError: an input that cannot be used
#include "bothways/core/estimate.hpp"       // Estimate: value, sd, 95 % interval
#include "bothways/core/geodesy.hpp"        // distance, bearing, local plane
#include "bothways/core/note.hpp"           // Note: left out or mended, and why
#include "bothways/core/parallel.hpp"       // for_each_index: work on several threads
#include "bothways/core/quantity.hpp"       // parse_quantity: "52 F", "3.4 L"
#include "bothways/core/rounding.hpp"       // the one place that rounds
#include "bothways/core/speed_filter.hpp"   // SpeedFilter: what may smooth speeds inside a receiver
#include "bothways/core/split_spec.hpp"     // SplitSpec: "0-30 mph", "60 ft"
#include "bothways/core/time.hpp"           // Instant: UTC, ISO 8601
#include "bothways/core/units.hpp"          // Speed, Length
#include "bothways/core/usual_splits.hpp"   // usual_splits: marks for what starts reach
#include "bothways/core/vehicle_kind.hpp"   // VehicleKind: scooter, kart, ...
#include "bothways/log/folder.hpp"          // find_logs: logs in a folder
#include "bothways/log/log.hpp"             // Log: fixes and notes
#include "bothways/log/part.hpp"            // part_of: a part of a log by time
#include "bothways/log/read.hpp"            // read_log: GPX, TCX, KML, CSV, NMEA, gzip
#include "bothways/pair/compare.hpp"        // compare: did the change make it quicker?
#include "bothways/pair/effect.hpp"         // expected_effect: what mass, air and wind may explain
#include "bothways/pair/logbook.hpp"        // make_logbook: how each set-up did over time
#include "bothways/pair/match.hpp"          // pair_runs, overall
#include "bothways/pair/pair.hpp"           // Pair, TwoWay, Overall
#include "bothways/pair/plan.hpp"           // plan_pairs: how many pairs show a difference
#include "bothways/pair/power.hpp"          // road_power: power at the road against speed
#include "bothways/pair/power_to_tell.hpp"  // plan_pairs by what pairs showed: chance that compare() tells
#include "bothways/pair/scatter.hpp"        // Scatters, ScatterPrior
#include "bothways/pair/two_way.hpp"        // two_way: the two directions of one pair averaged
#include "bothways/report/compared.hpp"     // Compared, write_compared: set-ups side by side
#include "bothways/report/conditions.hpp"   // conditions in words and as keys
#include "bothways/report/contract.hpp"     // write_result_json: the output contract
#include "bothways/report/csv.hpp"          // write_csv: a table for a spreadsheet
#include "bothways/report/escape.hpp"       // escaped: untrusted text made safe
#include "bothways/report/json.hpp"         // write_json, write_jsonl: a table for programs
#include "bothways/report/logbook.hpp"      // a logbook as text and table
#include "bothways/report/long_text.hpp"    // LongText: a long table for people, in parts
#include "bothways/report/number.hpp"       // estimates as people read them
#include "bothways/report/page/page.hpp"    // write_page, write_figure: a page with charts
#include "bothways/report/planned.hpp"      // Planned, write_planned: how many pairs, and how to ride
#include "bothways/report/power.hpp"        // write_power: power at the road in text and JSON
#include "bothways/report/record.hpp"       // Record: the figures of a result and their keys
#include "bothways/report/result.hpp"       // Result: all that is reported
#include "bothways/report/ride_lines.hpp"   // rides as lines, to be paired elsewhere
#include "bothways/report/rows.hpp"         // runs_table, pairs_table, ...: results as tables
#include "bothways/report/summary.hpp"      // write_summary: text for people
#include "bothways/report/table.hpp"        // Table: columns with name and unit, rows
#include "bothways/report/text.hpp"         // write_text: a table for a terminal
#include "bothways/report/trip.hpp"         // write_trip: a trip in text, JSON and as a table
#include "bothways/report/words.hpp"        // compass words, times of day, wrapped lines
#include "bothways/run/find.hpp"            // find_runs: starts, runs, splits
#include "bothways/run/ride.hpp"            // analyse: a log to its runs in one call
#include "bothways/run/run.hpp"             // Run, Split, Rejected
#include "bothways/run/same_ride.hpp"       // logs of one ride, and which of them counts
#include "bothways/run/trace.hpp"           // Trace: where a log was, thinly
#include "bothways/run/turns.hpp"           // number_turns: set-ups ridden in turns
#include "bothways/speed/derive.hpp"        // speed_series: speed against time, receiver noise
#include "bothways/speed/series.hpp"        // SpeedSeries, Receiver
#include "bothways/trip/trip.hpp"           // trip_of: distance, moving time, sustained speed, fuel
