#include "bothways/core/units.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/page/parts.hpp"
#include "bothways/report/page/tables.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bothways {

namespace {

/// [value, sd, lo95, hi95, "4.27 ± 0.07"]: the figures of the JSON contract and the words of the text.
Json figures(const Estimate& estimate, const std::string& text) {
  if (!is_printable(estimate)) {
    return nullptr;
  }
  const Estimate e = rounded(estimate);
  return Json::array({e.value, e.sd, e.lo95, e.hi95, text});
}

template <typename Row>
Json figures_of(const std::optional<Row>& row, Clock clock, int decimals) {
  return row && is_printable(chosen(*row, clock))
             ? figures(chosen(*row, clock), plus_minus(chosen(*row, clock), decimals))
             : Json(nullptr);
}

/// What a mark is called on its own: "rest", "30 mph", "60 ft".
struct MarkNames {
  std::string from;
  std::string to;
};

MarkNames mark_names(const SplitSpec& spec) {
  const std::size_t dash = spec.name.find('-');
  if (dash == std::string::npos) {
    return {"rest", spec.name};
  }
  const std::size_t blank = spec.name.rfind(' ');
  const std::string unit = blank == std::string::npos ? "" : spec.name.substr(blank);
  return {spec.from_rest() ? "rest" : spec.name.substr(0, dash) + unit, spec.name.substr(dash + 1)};
}

Json speed_of(const Mark& mark, bool metric) {
  const auto* speed = std::get_if<Speed>(&mark);
  if (speed == nullptr || speed->mps() <= 0.0) {
    return nullptr;
  }
  return rounded(speed->mps() / (metric ? mps_per_kmh : mps_per_mph), 3);
}

Json side_json(const SideSplit& side, Clock clock) {
  Json object{{"overall", figures_of(side.overall, clock, side.decimals.overall)},
              {"count", side.overall ? side.overall->pairs : 0},
              {"pairs", Json::array()},
              {"runs", Json::array()}};
  for (const auto& pair : side.pairs) {
    object["pairs"].push_back(figures_of(pair, clock, side.decimals.pairs));
  }
  for (const auto& run : side.runs) {
    object["runs"].push_back(figures_of(run, clock, side.decimals.runs));
  }
  return object;
}

Json splits_json(const PageWork& work) {
  const Compared& compared = work.page.compared;
  Json array = Json::array();
  for (const PageSplit& split : work.splits) {
    const MarkNames names = mark_names(split.spec);
    Json object{{"name", split.spec.name}, {"asked", split.asked}, {"from", names.from}, {"to", names.to}};
    object["from_speed"] = speed_of(split.spec.from, compared.metric);
    object["to_speed"] = speed_of(split.spec.to, compared.metric);
    object["sides"] = Json::array();
    for (const SideSplit& side : split.sides) {
      object["sides"].push_back(side_json(side, compared.clock));
    }
    object["differences"] = Json::array();
    for (const auto& row : split.differences) {
      object["differences"].push_back(row && is_printable(row->difference)
                                          ? figures(row->difference, signed_plus_minus(row->difference))
                                          : Json(nullptr));
    }
    array.push_back(std::move(object));
  }
  return array;
}

/// What each comparison says of each split, in words.
Json difference_texts(const std::vector<Comparison>& comparisons) {
  Json texts = Json::array();
  for (const Comparison& comparison : comparisons) {
    for (const Difference& row : comparison.differences) {
      const bool several = comparisons.size() > 1;
      texts.push_back(
          escaped((several ? comparison.after + " against " + comparison.before + ", " : "") + row.text));
    }
  }
  return texts;
}

Json without_json(const std::vector<Without>& rows, Clock clock) {
  Json array = Json::array();
  for (const Without& row : rows) {
    std::vector<Estimate> column;
    for (const Overall& overall : row.overall) {
      column.push_back(chosen(overall, clock));
    }
    const int decimals = common_decimals(column);
    Json splits = Json::array();
    for (const Overall& overall : row.overall) {
      splits.push_back({{"name", overall.spec.name},
                        {"figures", figures_of(std::optional(overall), clock, decimals)},
                        {"pairs", overall.pairs}});
    }
    array.push_back({{"run", row.run},
                     {"pairs", row.pairs},
                     {"splits", std::move(splits)},
                     {"differences", difference_texts(row.comparisons)}});
  }
  return array;
}

Json sides_json(const PageWork& work) {
  Json array = Json::array();
  for (std::size_t i = 0; i < work.page.compared.sides.size(); ++i) {
    const Side& side = work.page.compared.sides[i];
    Json runs = Json::array();
    for (const Ride& ride : side.rides) {
      for (const Run& run : ride.runs.accepted) {
        runs.push_back({{"id", run.id},
                        {"way", way_of(work.page.compared.sides, run)},
                        {"pair", pair_of(work.results[i], run.id)}});
      }
    }
    Json pairs = Json::array();
    for (const Pair& pair : side.pairs.made) {
      pairs.push_back({{"id", pair.id}, {"runs", {pair.first_run, pair.second_run}}});
    }
    array.push_back({{"name", escaped(side.name)},
                     {"runs", std::move(runs)},
                     {"pairs", std::move(pairs)},
                     {"without", without_json(work.without[i], work.page.compared.clock)}});
  }
  return array;
}

Json tables_json(const PageWork& work) {
  const Page& page = work.page;
  Json curves = curves_table(page);
  Json ends = curve_ends_table(curves);
  Json tables{{"curves", std::move(curves)},
              {"ends", std::move(ends)},
              {"pulls", pulls_table(page)},
              {"overall", overall_table(page, work.splits)},
              {"pairs", pairs_table(page, work.splits)}};
  if (!page.compared.comparisons.empty()) {
    tables["differences"] = differences_chart_table(page, work.splits);
  }
  std::size_t n = 0;
  for (const Side& side : page.compared.sides) {
    for (const Ride& ride : side.rides) {
      if (n < work.plan.logs.size()) {
        RideTables rides = ride_tables(page, ride, side);
        const std::string number = std::to_string(n++);
        tables["ride" + number] = std::move(rides.speed);
        tables["ride_runs" + number] = std::move(rides.runs);
        tables["ride_others" + number] = std::move(rides.others);
        tables["ride_stops" + number] = std::move(rides.stops);
      }
    }
  }
  if (page.with_map) {
    tables["course"] = course_table(page);
  }
  return tables;
}

/// The middle of the course and how far it reaches, with some room.
void place_map(const Page& page, ChartPlan& plan) {
  double x[2] = {std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  double y[2] = {x[0], x[1]};
  for (const Json& block : course_table(page)) {
    for (std::size_t i = 0; i < block["x"].size(); ++i) {
      x[0] = std::min(x[0], block["x"][i].get<double>());
      x[1] = std::max(x[1], block["x"][i].get<double>());
      y[0] = std::min(y[0], block["y"][i].get<double>());
      y[1] = std::max(y[1], block["y"][i].get<double>());
    }
  }
  if (x[0] <= x[1]) {
    plan.map_x_m = (x[0] + x[1]) / 2.0;
    plan.map_y_m = (y[0] + y[1]) / 2.0;
    plan.map_half_m = std::max({10.0, 0.55 * (x[1] - x[0]), 1.1 * (y[1] - y[0])});
  }
}

ChartPlan plan_of(const PageWork& work) {
  constexpr std::size_t most_rides = 12;
  const Page& page = work.page;
  ChartPlan plan{.metric = page.compared.metric, .compared = !page.compared.comparisons.empty()};
  plan.groups = groups_of(page.compared.sides);
  for (const Side& side : page.compared.sides) {
    plan.runs += count_runs(side.rides);
  }
  for (const Side& side : page.compared.sides) {
    plan.sides.push_back(escaped(side.name));
    plan.has_pairs = plan.has_pairs || !side.pairs.made.empty();
    for (const Ride& ride : side.rides) {
      if (plan.logs.size() < most_rides) {
        plan.logs.push_back(escaped((side.name.empty() ? "" : side.name + ", ") + file_name_of(ride.path)));
      }
    }
  }
  for (const PowerResult& result : page.power) {
    plan.has_pulls = plan.has_pulls || !result.power.rows.empty();
    plan.has_power = plan.has_power || (!result.power.rows.empty() && !result.mass_from.empty());
  }
  if (page.with_map) {
    place_map(page, plan);
  }
  return plan;
}

}  // namespace

PageWork work_of(const Page& page) {
  PageWork work{.page = page};
  for (std::size_t i = 0; i < page.compared.sides.size(); ++i) {
    work.results.push_back(side_result(page.compared, i));
  }
  work.without = without_each_run(page.compared);
  work.splits = page_splits(page);
  work.plan = plan_of(work);
  work.charts = charts_of(work.plan);
  return work;
}

std::string page_data(const PageWork& work) {
  const Compared& compared = work.page.compared;
  Json object{{"schema", json_schema},
              {"version", work.page.version},
              {"clock", to_string(compared.clock)},
              {"clock_text", describe(compared.clock)},
              {"speed_unit", compared.metric ? "km/h" : "mph"}};
  object["sides"] = sides_json(work);
  object["splits"] = splits_json(work);
  object["tables"] = tables_json(work);
  object["palettes"] = palettes();
  object["charts"] = Json::object();
  for (const Chart& chart : work.charts) {
    object["charts"][chart.id] = chart.spec;
  }
  return object.dump(-1, ' ', true, Json::error_handler_t::replace);
}

std::string page_data(const Page& page) {
  return page_data(work_of(page));
}

}  // namespace bothways
