#pragma once

#include "bothways/pair/compare.hpp"
#include "bothways/pair/logbook.hpp"
#include "bothways/report/ride_fields.hpp"
#include "cli/ride_store.hpp"

namespace bothways {

// The fields of what a logbook is made of and remembers, as report/ride_fields.hpp has those of a ride.

template <typename F>
void visit(F& f, is_a<cli::LogExtent> auto& extent) {
  auto& [dated, first, last] = extent;
  f("dated", dated), f("first", first), f("last", last);
}

template <typename F>
void visit(F& f, is_a<cli::LogSummary> auto& summary) {
  auto& [extent, notes] = summary;
  f("extent", extent), f("notes", notes);
}

template <typename F>
void visit(F& f, is_a<TwoWay> auto& split) {
  auto& [spec, rollout, movement, as_ridden, as_ridden_movement, wind_s, wind_sd_s, bands, drive_s, gust_s,
         budget, plain_mean_s, apart, overlap] = split;
  f("split", spec), f("rollout", rollout), f("movement", movement), f("as_ridden", as_ridden);
  f("as_ridden_movement", as_ridden_movement), f("wind_s", wind_s), f("wind_sd_s", wind_sd_s);
  f("bands", bands), f("drive_s", drive_s), f("gust_s", gust_s), f("budget", budget);
  f("plain_mean_s", plain_mean_s), f("apart", apart), f("overlap", overlap);
}

template <typename F>
void visit(F& f, is_a<Pair> auto& pair) {
  auto& [id, ride, other_ride, first_run, second_run, overlap, splits, notes] = pair;
  f("id", id), f("ride", ride), f("other_ride", other_ride), f("first_run", first_run);
  f("second_run", second_run), f("overlap", overlap), f("splits", splits), f("notes", notes);
}

template <typename F>
void visit(F& f, is_a<Single> auto& single) {
  auto& [ride, run, code, text] = single;
  f("ride", ride), f("run", run), f("code", code), f("text", text);
}

template <typename F>
void visit(F& f, is_a<DayWind> auto& wind) {
  auto& [first_pair, pairs, heading_deg, along_mps, told, square_mps2, square_sd_mps2, drag_per_m, gust_mps] =
      wind;
  f("first_pair", first_pair), f("pairs", pairs), f("heading_deg", heading_deg), f("along_mps", along_mps);
  f("told", told), f("square_mps2", square_mps2), f("square_sd_mps2", square_sd_mps2);
  f("drag_per_m", drag_per_m), f("gust_mps", gust_mps);
}

template <typename F>
void visit(F& f, is_a<Pairs> auto& pairs) {
  auto& [made, single, winds] = pairs;
  f("made", made), f("single", single), f("winds", winds);
}

template <typename F>
void visit(F& f, is_a<Overall> auto& row) {
  auto& [spec, pairs, days, rollout, movement, as_ridden_s, as_ridden_movement_s, budget, budget_movement,
         scatter_s, best_one_way_s, best_one_way_movement_s] = row;
  f("split", spec), f("pairs", pairs), f("days", days), f("rollout", rollout), f("movement", movement);
  f("as_ridden_s", as_ridden_s), f("as_ridden_movement_s", as_ridden_movement_s), f("budget", budget);
  f("budget_movement", budget_movement), f("scatter_s", scatter_s), f("best_one_way_s", best_one_way_s);
  f("best_one_way_movement_s", best_one_way_movement_s);
}

template <typename F>
void visit(F& f, is_a<LogbookDay> auto& day) {
  auto& [pairs, overall] = day;
  f("pairs", pairs), f("overall", overall);
}

template <typename F>
void visit(F& f, is_a<Plan> auto& plan) {
  auto& [difference_s, scatter_s, pairs, power, text] = plan;
  f("difference_s", difference_s), f("scatter_s", scatter_s), f("pairs", pairs), f("power", power);
  f("text", text);
}

template <typename F>
void visit(F& f, is_a<Difference> auto& row) {
  auto& [spec, before, after, difference, budget, p_value, pairs_before, pairs_after, days_before, days_after,
         main, allowance_s, largest, scatter_s, verdict, ridden, more, more_pairs, text, notes] = row;
  f("split", spec), f("before", before), f("after", after), f("difference", difference);
  f("budget", budget), f("p_value", p_value), f("pairs_before", pairs_before);
  f("pairs_after", pairs_after), f("days_before", days_before), f("days_after", days_after);
  f("main", main), f("allowance_s", allowance_s), f("largest", largest), f("scatter_s", scatter_s);
  f("verdict", verdict), f("ridden", ridden), f("more", more), f("more_pairs", more_pairs);
  f("text", text), f("notes", notes);
}

template <typename F>
void visit(F& f, is_a<Comparison> auto& comparison) {
  auto& [before, after, clock, differences, warnings] = comparison;
  f("before", before), f("after", after), f("clock", clock), f("differences", differences);
  f("warnings", warnings);
}

}  // namespace bothways
