#include "bothways/report/page/spec.hpp"

#include "bothways/report/escape.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

namespace bothways {

Json empty_spec(int height) {
  Json spec = Json::parse(R"json({
    "$schema": "https://vega.github.io/schema/vega/v5.json",
    "autosize": {"type": "fit", "contains": "padding"},
    "width": 640, "height": 0, "padding": 4,
    "signals": [], "data": [], "scales": [], "axes": [], "marks": []
  })json");
  spec["height"] = height;
  const Json colours = palettes();
  for (const auto& [name, colour] : colours["light"].items()) {
    spec["signals"].push_back({{"name", name}, {"value", colour}});
  }
  return spec;
}

void add(Json& spec, const char* list, std::string_view json) {
  spec[list].push_back(Json::parse(json));
}

void add_axis(Json& spec, const char* orient, const std::string& title, int ticks) {
  const bool upright = std::string_view(orient) == "left";
  Json axis{{"orient", orient}, {"scale", upright ? "y" : "x"}, {"title", title}, {"grid", true}};
  axis["tickCount"] = upright ? Json(ticks) : Json{{"signal", "max(3, width / 90)"}};
  spec["axes"].push_back(std::move(axis));
}

namespace {

/// Above the chart, in as many columns as the names have room for. The columns follow from the width of all
/// of it, which stays as it is: that of the inside is found with the legend in place, and its rows must not
/// change then.
void add_legend(Json& spec, const std::vector<std::string>& names, std::string_view json) {
  constexpr double letter_px = 6.8;  // of 12 px type, rather wide
  constexpr double symbol_px = 45.0;
  std::size_t longest = 1;
  for (const std::string& name : names) {
    longest = std::max(longest, display_width(name));
  }
  add(spec, "signals", R"json({"name": "across"})json");
  spec["signals"].back()["init"] = "width - 45";  // without the figures of the axis
  add(spec, "signals", R"json({"name": "legend_columns"})json");
  spec["signals"].back()["init"] =
      fmt::format("max(1, floor(across / {:.0f}))", symbol_px + letter_px * static_cast<double>(longest));
  add(spec, "legends", json);
  Json& legend = spec["legends"].back();
  legend["orient"] = "top";
  legend["direction"] = "horizontal";
  legend["columns"]["signal"] = "legend_columns";
  legend["labelLimit"]["signal"] = fmt::format("across / legend_columns - {:.0f}", symbol_px);
}

}  // namespace

void add_groups(Json& spec, const ChartPlan& plan) {
  Json dashes = Json::array();
  for (const std::string& group : plan.groups) {
    dashes.push_back(group.ends_with("back") ? Json::array({5, 3}) : Json::array({1, 0}));
  }
  Json hue = Json::parse(R"json({"name": "hue", "type": "ordinal"})json");
  hue["domain"] = plan.groups;
  hue["range"]["signal"] = plan.compared && plan.groups.size() > 2 ? "side_hues" : "way_hues";
  Json dash = Json::parse(R"json({"name": "dash", "type": "ordinal"})json");
  dash["domain"] = plan.groups;
  dash["range"] = std::move(dashes);
  spec["scales"].push_back(std::move(hue));
  spec["scales"].push_back(std::move(dash));
  add_legend(spec, plan.groups,
             R"json({"stroke": "hue", "strokeDash": "dash", "symbolType": "stroke", "symbolSize": 500})json");
}

void add_sides(Json& spec, const std::vector<std::string>& sides, const char* hues) {
  Json hue = Json::parse(R"json({"name": "hue", "type": "ordinal"})json");
  hue["domain"] = sides;
  hue["range"]["signal"] = hues;
  spec["scales"].push_back(std::move(hue));
  if (sides.size() > 1) {
    add_legend(spec, sides, R"json({"fill": "hue", "symbolType": "circle"})json");
  }
}

void add_shift(Json& spec, const std::vector<std::string>& sides, double apart) {
  Json shift = Json::parse(R"json({"name": "shift", "type": "ordinal", "range": []})json");
  shift["domain"] = sides;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const double middle = (static_cast<double>(sides.size()) - 1.0) / 2.0;
    shift["range"].push_back(apart * (static_cast<double>(i) - middle));
  }
  spec["scales"].push_back(std::move(shift));
}

std::string speed_unit(const ChartPlan& plan) {
  return plan.metric ? "km/h" : "mph";
}

std::vector<Chart> charts_of(const ChartPlan& plan) {
  std::vector<Chart> charts;
  if (!plan.groups.empty()) {
    charts.push_back(speed_chart(plan));
    charts.push_back(acceleration_chart(plan));
  }
  if (plan.has_pulls) {
    charts.push_back(pull_chart(plan));
  }
  if (plan.has_power) {
    charts.push_back(power_chart(plan));
  }
  if (plan.compared) {
    charts.push_back(difference_chart(plan));
  }
  for (std::size_t log = 0; log < plan.logs.size(); ++log) {
    charts.push_back(ride_chart(plan, log));
  }
  if (plan.map_half_m > 0.0) {
    charts.push_back(map_chart(plan));
  }
  if (plan.has_pairs) {
    charts.push_back(pair_chart(plan));
  }
  return charts;
}

Json palettes() {
  return Json::parse(R"json({
    "light": {
      "ink": "#1b1f24", "soft": "#4d5661", "rule": "#d3d9df", "paper": "#ffffff",
      "way_hues": ["#0072b2", "#b84a00"],
      "side_hues": ["#004b87", "#4a9bd4", "#a83c00", "#d98a2b", "#00664a", "#2fa57f", "#7a3a6b", "#b876a4"],
      "one_hues": ["#0072b2", "#b84a00", "#00795a", "#8c4a7c"],
      "after_hues": ["#b84a00", "#00795a", "#8c4a7c"]
    },
    "dark": {
      "ink": "#e6e9ed", "soft": "#a9b3be", "rule": "#39424c", "paper": "#161a1f",
      "way_hues": ["#56b4e9", "#f08a3c"],
      "side_hues": ["#56b4e9", "#a5d3f0", "#f08a3c", "#f5c08a", "#35c79a", "#98e0c6", "#d68ac4", "#ecc3e1"],
      "one_hues": ["#56b4e9", "#f08a3c", "#35c79a", "#d68ac4"],
      "after_hues": ["#f08a3c", "#35c79a", "#d68ac4"]
    }
  })json");
}

}  // namespace bothways
