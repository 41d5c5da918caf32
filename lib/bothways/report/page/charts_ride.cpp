// Charts of the whole ride: its speed with what became of each start, and the course of the runs.
#include "bothways/report/page/spec.hpp"

namespace bothways {

namespace {

Json with_data(const char* json, const std::string& data) {
  Json mark = Json::parse(json);
  mark["from"]["data"] = data;
  return mark;
}

void add_range(Json& spec, const char* name, const char* range, double lo, double hi) {
  spec["scales"].push_back(
      {{"name", name}, {"type", "linear"}, {"range", range}, {"domain", {lo, hi}}, {"zero", false}});
}

}  // namespace

Chart ride_chart(const ChartPlan& plan, std::size_t log) {
  const std::string speed = "ride" + std::to_string(log);
  const std::string runs = "ride_runs" + std::to_string(log);
  const std::string others = "ride_others" + std::to_string(log);
  Json spec = empty_spec(220);
  const std::string stops = "ride_stops" + std::to_string(log);
  for (const std::string& name : {speed, runs, others, stops}) {
    spec["data"].push_back({{"name", name}});
  }
  Json x = Json::parse(
      R"json({"name": "x", "type": "linear", "range": "width", "nice": false, "zero": false})json");
  x["domain"] = {{"data", speed}, {"field", "m"}};
  Json y = Json::parse(
      R"json({"name": "y", "type": "linear", "range": "height", "nice": true, "zero": true})json");
  y["domain"] = {{"data", speed}, {"field", "v"}};
  spec["scales"].push_back(std::move(x));
  spec["scales"].push_back(std::move(y));
  add_groups(spec, plan);
  add_axis(spec, "bottom", "min from the beginning of the log");
  add_axis(spec, "left", speed_unit(plan), 4);
  spec["marks"].push_back(with_data(R"json({"type": "rect", "encode": {"update": {
    "x": {"scale": "x", "field": "from"}, "x2": {"scale": "x", "field": "to"},
    "y": {"value": 0}, "y2": {"signal": "height"},
    "fill": {"scale": "hue", "field": "group"}, "fillOpacity": {"value": 0.22}, "tooltip": {"field": "text"}}}})json",
                                    runs));
  spec["marks"].push_back(with_data(R"json({"type": "line", "interactive": false, "encode": {"update": {
    "x": {"scale": "x", "field": "m"}, "y": {"scale": "y", "field": "v"},
    "defined": {"signal": "isValid(datum.v)"}, "stroke": {"signal": "ink"}, "strokeWidth": {"value": 1}}}})json",
                                    speed));
  spec["marks"].push_back(with_data(R"json({"type": "rect", "encode": {"update": {
    "x": {"scale": "x", "field": "from"}, "x2": {"scale": "x", "field": "to"},
    "y": {"signal": "height - 4"}, "y2": {"signal": "height"}, "fill": {"signal": "soft"}, "tooltip": {"field": "text"}}}})json",
                                    stops));
  spec["marks"].push_back(with_data(R"json({"type": "text", "interactive": false, "encode": {"update": {
    "x": {"scale": "x", "field": "from"}, "dx": {"value": 3}, "y": {"value": 3}, "baseline": {"value": "top"},
    "fill": {"signal": "ink"}, "fontSize": {"value": 11}, "fontWeight": {"value": "bold"},
    "text": {"field": "run"}}}})json",
                                    runs));
  spec["marks"].push_back(with_data(R"json({"type": "symbol", "encode": {
    "update": {
      "x": {"scale": "x", "field": "m"}, "y": {"signal": "height - 8"}, "shape": {"value": "triangle"},
      "size": {"value": 110}, "fill": {"signal": "paper"}, "stroke": {"signal": "ink"},
      "strokeWidth": {"value": 1.4}, "tooltip": {"field": "text"}},
    "hover": {"fill": {"signal": "soft"}}}})json",
                                    others));
  return {
      speed, plan.logs.size() > 1 ? "Speed over the ride: " + plan.logs[log] : "Speed over the ride",
      "Shaded: the runs, by number. Thick along the bottom: stops. Triangles: starts that do not count; the "
      "reason stands in the list below, and shows when the pointer rests on one.",
      std::move(spec)};
}

Chart map_chart(const ChartPlan& plan) {
  Json spec = empty_spec(0);
  spec["autosize"] = "none";  // so that a metre is as long up as it is across
  // The legend lies in the padding: as many rows as groups on a phone.
  spec["padding"] = Json::parse(R"json({"left": 60, "right": 20, "bottom": 50})json");
  spec["padding"]["top"] = 24 + 17 * plan.groups.size();
  spec.erase("height");
  add(spec, "signals", R"json({"name": "height", "update": "width / 2"})json");
  add(spec, "data", R"json({"name": "course"})json");
  add_range(spec, "x", "width", plan.map_x_m - plan.map_half_m, plan.map_x_m + plan.map_half_m);
  add_range(spec, "y", "height", plan.map_y_m - plan.map_half_m / 2.0, plan.map_y_m + plan.map_half_m / 2.0);
  add_groups(spec, plan);
  add_axis(spec, "bottom", "m east of the first start");
  add_axis(spec, "left", "m north");
  add(spec, "marks", R"json({
    "type": "group",
    "from": {"facet": {"name": "series", "data": "course", "groupby": "key"}},
    "marks": [{"type": "line", "from": {"data": "series"}, "encode": {"update": {
      "x": {"scale": "x", "field": "x"}, "y": {"scale": "y", "field": "y"},
      "stroke": {"scale": "hue", "field": "group"}, "strokeDash": {"scale": "dash", "field": "group"},
      "strokeWidth": {"value": 2}, "tooltip": {"signal": "'run ' + datum.run + ', ' + datum.group"}}}}]
  })json");
  return {"map", "The course of the runs", "Places as the log has them, with no map below. North is up.",
          std::move(spec)};
}

}  // namespace bothways
