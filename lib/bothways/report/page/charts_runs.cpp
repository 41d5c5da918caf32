// Charts of the runs: speed against time, acceleration and power against speed.
#include "bothways/report/page/spec.hpp"

#include <algorithm>
#include <cstddef>

namespace bothways {

namespace {

/// A curve with its band for each run, from the table "curves".
/// @param columns  of x, y, and the ends of the band
/// @param runs      the more there are, the paler each band
Json curves(const char* x, const char* y, const char* lo, const char* hi, std::size_t runs) {
  Json group = Json::parse(R"json({
    "type": "group",
    "from": {"facet": {"name": "series", "data": "curves", "groupby": "key"}},
    "clip": true,
    "encode": {"update": {"width": {"signal": "width"}, "height": {"signal": "height"}}},
    "marks": [
      {"type": "area", "from": {"data": "series"}, "interactive": false,
       "encode": {"update": {
         "x": {"scale": "x"}, "y": {"scale": "y"}, "y2": {"scale": "y"},
         "fill": {"scale": "hue", "field": "group"}, "fillOpacity": {}}}},
      {"type": "line", "from": {"data": "series"},
       "encode": {
         "update": {
           "x": {"scale": "x"}, "y": {"scale": "y"},
           "stroke": {"scale": "hue", "field": "group"}, "strokeDash": {"scale": "dash", "field": "group"},
           "strokeWidth": {"value": 1.6}, "tooltip": {"signal": "'run ' + datum.run + ', ' + datum.group"}},
         "hover": {"strokeWidth": {"value": 3.2}}}}
    ]
  })json");
  Json& area = group["marks"][0]["encode"]["update"];
  area["fillOpacity"]["value"] = std::clamp(1.0 / static_cast<double>(runs), 0.02, 0.16);
  area["x"]["field"] = x;
  area["y"]["field"] = lo;
  area["y2"]["field"] = hi;
  Json& line = group["marks"][1]["encode"]["update"];
  line["x"]["field"] = x;
  line["y"]["field"] = y;
  return group;
}

/// Lines at the marks that are chosen on the page, which sets the signals; null: none.
void add_mark_lines(Json& spec, bool across) {
  for (const std::string name : {"from_mark", "to_mark"}) {
    spec["signals"].push_back({{"name", name}, {"value", nullptr}});
    Json rule = Json::parse(R"json({"type": "rule", "interactive": false, "encode": {"update": {
      "stroke": {"signal": "ink"}, "strokeDash": {"value": [2, 2]}}}})json");
    Json& update = rule["encode"]["update"];
    update["opacity"]["signal"] = "isValid(" + name + ") ? 0.8 : 0";
    update[across ? "x" : "y"]["value"] = 0;
    update[across ? "x2" : "y2"]["signal"] = across ? "width" : "height";
    update[across ? "y" : "x"] = {{"scale", across ? "y" : "x"}, {"signal", name}};
    spec["marks"].push_back(std::move(rule));
  }
}

/// The numbers of the runs at the ends of their curves, from the table "ends".
void add_run_numbers(Json& spec) {
  add(spec, "data", R"json({"name": "ends"})json");
  add(spec, "marks",
      R"json({"type": "text", "from": {"data": "ends"}, "interactive": false, "encode": {"update": {
    "x": {"scale": "x", "field": "t"}, "y": {"scale": "y", "field": "v"}, "dx": {"value": 2},
    "dy": {"signal": "-8 - 12 * max(0, indexof(domain('hue'), datum.group))"},
    "align": {"value": "right"}, "fill": {"scale": "hue", "field": "group"}, "fontSize": {"value": 11},
    "text": {"field": "text"}}}})json");
}

/// Points of the table "pulls" with bars of their intervals, against speed.
Json pull_spec(const ChartPlan& plan, const std::string& column, const std::string& unit) {
  Json spec = empty_spec(260);
  add(spec, "data", R"json({"name": "pulls"})json");
  spec["signals"].push_back({{"name", "speed_unit"}, {"value", speed_unit(plan)}});
  spec["signals"].push_back({{"name", "unit"}, {"value", unit}});
  add(spec, "scales", R"json({"name": "x", "type": "linear", "range": "width", "nice": true, "zero": true,
    "domain": {"data": "pulls", "field": "v"}})json");
  Json y = Json::parse(
      R"json({"name": "y", "type": "linear", "range": "height", "nice": true, "zero": true})json");
  y["domain"] = {{"data", "pulls"}, {"fields", {column + "_lo", column + "_hi"}}};
  spec["scales"].push_back(std::move(y));
  add_shift(spec, plan.sides, 9.0);
  add_sides(spec, plan.sides, "one_hues");
  add_axis(spec, "bottom", speed_unit(plan));
  add_axis(spec, "left", unit);
  Json bar = Json::parse(
      R"json({"type": "rule", "from": {"data": "pulls"}, "interactive": false, "encode": {"update": {
    "x": {"scale": "x", "field": "v", "offset": {"scale": "shift", "field": "side"}}, "y": {"scale": "y"},
    "y2": {"scale": "y"}, "stroke": {"scale": "hue", "field": "side"}, "strokeWidth": {"value": 2}}}})json");
  bar["encode"]["update"]["y"]["field"] = column + "_lo";
  bar["encode"]["update"]["y2"]["field"] = column + "_hi";
  Json point = Json::parse(R"json({"type": "symbol", "from": {"data": "pulls"}, "encode": {"update": {
    "x": {"scale": "x", "field": "v", "offset": {"scale": "shift", "field": "side"}}, "y": {"scale": "y"},
    "size": {"value": 45},
    "fill": {"scale": "hue", "field": "side"}}}})json");
  point["encode"]["update"]["y"]["field"] = column;
  point["encode"]["update"]["tooltip"]["signal"] = "datum.v + ' ' + speed_unit + ': ' + datum." + column +
                                                   "_text + ' ' + unit + ', ' + datum.pairs + ' pairs'";
  spec["marks"].push_back(std::move(bar));
  spec["marks"].push_back(std::move(point));
  return spec;
}

}  // namespace

Chart speed_chart(const ChartPlan& plan) {
  Json spec = empty_spec(380);
  add(spec, "data", R"json({"name": "curves"})json");
  add(spec, "scales", R"json({"name": "x", "type": "linear", "range": "width", "nice": false, "zero": false,
    "domain": {"data": "curves", "field": "t"}})json");
  add(spec, "scales", R"json({"name": "y", "type": "linear", "range": "height", "nice": true, "zero": true,
    "domain": {"data": "curves", "fields": ["v", "hi"]}})json");
  add_groups(spec, plan);
  add_axis(spec, "bottom", "s after the clock start");
  add_axis(spec, "left", speed_unit(plan));
  spec["marks"].push_back(curves("t", "v", "lo", "hi", plan.runs));
  add_mark_lines(spec, true);
  if (!plan.compared) {
    add_run_numbers(spec);
  }
  return {"speed", "Speed against time",
          std::string(
              "Every run from its clock start; the band is the 95 % interval of its speed. Dotted: the marks "
              "chosen.") +
              (plan.compared ? "" : " At the ends: the numbers of the runs."),
          std::move(spec)};
}

Chart acceleration_chart(const ChartPlan& plan) {
  Json spec = empty_spec(300);
  add(spec, "data", R"json({"name": "curves"})json");
  add(spec, "scales", R"json({"name": "x", "type": "linear", "range": "width", "nice": true, "zero": true,
    "domain": {"data": "curves", "field": "v"}})json");
  add(spec, "scales", R"json({"name": "y", "type": "linear", "range": "height", "nice": true, "zero": true,
    "domain": {"data": "curves", "field": "a"}})json");
  add_groups(spec, plan);
  add_axis(spec, "bottom", speed_unit(plan));
  add_axis(spec, "left", "m/s²");
  spec["marks"].push_back(curves("v", "a", "a_lo", "a_hi", plan.runs));
  add_mark_lines(spec, false);
  return {"acceleration", "Acceleration against speed, run by run",
          "Each line is a run, with its 95 % band. A slope or a wind sets the two directions apart.",
          std::move(spec)};
}

Chart pull_chart(const ChartPlan& plan) {
  return {"pull", "Acceleration against speed, both ways",
          "The two directions of each pair averaged, so that slope drops out; then the pairs. Bars are 95 % "
          "intervals.",
          pull_spec(plan, "a", "m/s²")};
}

Chart power_chart(const ChartPlan& plan) {
  return {"power", "Power at the road against speed, both ways",
          "At the road, not at the crank: what the drive train takes is not in it. Bars are 95 % intervals, "
          "and hold "
          "what is not known of mass, drag, rolling, air and wind.",
          pull_spec(plan, "kw", "kW")};
}

}  // namespace bothways
