#pragma once

#include "bothways/run/ride.hpp"

#include <concepts>
#include <type_traits>

namespace bothways {

// The fields of a ride, once for writing and for reading: visit(f, x) calls f(key, field) for each. The names
// between brackets must be as many as the struct has fields, so a new one does not compile until it is here.

template <typename T, typename Struct>
concept is_a = std::same_as<std::remove_const_t<T>, Struct>;

template <typename F>
void visit(F& f, is_a<Note> auto& note) {
  auto& [code, text, line] = note;
  f("code", code), f("text", text), f("line", line);
}

template <typename F>
void visit(F& f, is_a<Smoothing> auto& smoothing) {
  auto& [filter, weight] = smoothing;
  auto& [lag_s, tracks_acceleration, feedthrough, fades_by_mps] = filter;
  f("lag_s", lag_s), f("weight", weight), f("tracks_acceleration", tracks_acceleration);
  f("feedthrough", feedthrough), f("fades_by_mps", fades_by_mps);
}

template <typename F>
void visit(F& f, is_a<Receiver> auto& receiver) {
  auto& [rate_hz, white_sd_mps, slow_sd_mps, slow_time_s, standing_axes, standing_sd_mps, resolution_mps,
         zero_hold_mps, zero_hold_width_mps, lag_s, lag_sd_s, smoothing, position_white_sd_m,
         position_drift_sd_m, position_drift_time_s, position_stray_sd_mps, whole_second_stamps] = receiver;
  f("rate_hz", rate_hz), f("white_sd_mps", white_sd_mps), f("slow_sd_mps", slow_sd_mps);
  f("slow_time_s", slow_time_s), f("standing_axes", standing_axes), f("standing_sd_mps", standing_sd_mps);
  f("resolution_mps", resolution_mps), f("zero_hold_mps", zero_hold_mps);
  f("zero_hold_width_mps", zero_hold_width_mps), f("lag_s", lag_s), f("lag_sd_s", lag_sd_s);
  f("smoothing", smoothing), f("position_white_sd_m", position_white_sd_m);
  f("position_drift_sd_m", position_drift_sd_m), f("position_drift_time_s", position_drift_time_s);
  f("position_stray_sd_mps", position_stray_sd_mps), f("whole_second_stamps", whole_second_stamps);
}

template <typename F>
void visit(F& f, is_a<Conditions> auto& conditions) {
  auto& [file, setup, vehicle, kind, note, rider_mass_kg, total_mass_kg, temperature_degc, pressure_pa,
         sea_level_pressure_pa, station_height_m, humidity, wind_mps] = conditions;
  f("file", file), f("setup", setup), f("vehicle", vehicle), f("kind", kind), f("note", note);
  f("rider_mass_kg", rider_mass_kg), f("total_mass_kg", total_mass_kg);
  f("temperature_degc", temperature_degc), f("pressure_pa", pressure_pa);
  f("sea_level_pressure_pa", sea_level_pressure_pa), f("station_height_m", station_height_m);
  f("humidity", humidity), f("wind_mps", wind_mps);
}

template <typename F>
void visit(F& f, is_a<Split> auto& split) {
  auto& [spec, rollout, movement, speed_mps, rollout_shared_s, movement_shared_s, crossing_shared_s] = split;
  f("split", spec), f("rollout", rollout), f("movement", movement), f("speed_mps", speed_mps);
  f("rollout_shared_s", rollout_shared_s), f("movement_shared_s", movement_shared_s);
  f("crossing_shared_s", crossing_shared_s);
}

/// All but the curve and the further splits, which only pages and power need.
template <typename F>
void visit(F& f, is_a<Run> auto& run) {
  auto& [id, movement, movement_sd_s, clock_start, clock_sd_s, heading_deg, start, end, stop, length_m,
         top_speed_mps, splits, edges, curve, more_splits, more_edges, gentle, notes] = run;
  f("movement", movement), f("movement_sd_s", movement_sd_s), f("clock_start", clock_start);
  f("clock_sd_s", clock_sd_s), f("heading_deg", heading_deg), f("start", start), f("end", end);
  f("stop", stop), f("length_m", length_m), f("top_speed_mps", top_speed_mps), f("splits", splits);
  f("edges", edges), f("gentle", gentle), f("notes", notes);
}

template <typename F>
void visit(F& f, is_a<Rejected> auto& rejected) {
  auto& [time, place, code, text] = rejected;
  f("time", time), f("place", place), f("code", code), f("text", text);
}

template <typename F>
void visit(F& f, is_a<Runs> auto& runs) {
  auto& [accepted, rejected, notes] = runs;
  f("accepted", accepted), f("rejected", rejected), f("notes", notes);
}

template <typename F>
void visit(F& f, is_a<Trace> auto& trace) {
  auto& [path, format, dated, source, step_s, fixes, points] = trace;
  f("path", path), f("format", format), f("dated", dated), f("source", source), f("step_s", step_s);
  f("fixes", fixes), f("points", points);
}

template <typename F>
void visit(F& f, is_a<PartOfLog> auto& part) {
  auto& [from, until] = part;
  f("from", from), f("until", until);
}

/// All but the profile, which is for a page.
template <typename F>
void visit(F& f, is_a<Ride> auto& ride) {
  auto& [path, format, dated, fixes, readings, moved_only, first, last, source, receiver, top_speed_mps,
         timed_up_to_mps, part, turn, conditions, notes, runs, profile, trace] = ride;
  f("path", path), f("format", format), f("dated", dated), f("fixes", fixes);
  f("readings", readings), f("moved_only", moved_only), f("first", first), f("last", last),
      f("source", source), f("receiver", receiver), f("top_speed_mps", top_speed_mps);
  f("timed_up_to_mps", timed_up_to_mps), f("part", part), f("turn", turn), f("conditions", conditions);
  f("notes", notes), f("runs", runs);
  f("trace", trace);
}

}  // namespace bothways
