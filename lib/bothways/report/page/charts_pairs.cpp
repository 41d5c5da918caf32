// Charts of two-way times: differences between sides, and pairs in the order ridden.
#include "bothways/report/page/spec.hpp"

namespace bothways {

void add_intervals(Json& spec, const char* data, const std::string& along, const std::string& across,
                   const char* place) {
  Json bar = Json::parse(R"json({"type": "rule", "interactive": false, "encode": {"update": {
    "stroke": {"scale": "hue", "field": "side"}, "strokeWidth": {"value": 2.4}}}})json");
  Json point = Json::parse(R"json({"type": "symbol", "encode": {"update": {
    "fill": {"scale": "hue", "field": "side"}, "size": {"value": 70},
    "tooltip": {"signal": "datum.split + ': ' + datum.text"}}}})json");
  Json middle = Json::parse(R"json({"band": 0.5, "offset": {"scale": "shift", "field": "side"}})json");
  middle["scale"] = across;
  middle["field"] = place;
  for (Json* mark : {&bar, &point}) {
    (*mark)["from"]["data"] = data;
    (*mark)["encode"]["update"][across] = middle;
  }
  bar["encode"]["update"][along] = {{"scale", along}, {"field", "lo"}};
  bar["encode"]["update"][along + "2"] = {{"scale", along}, {"field", "hi"}};
  point["encode"]["update"][along] = {{"scale", along}, {"field", "value"}};
  spec["marks"].push_back(std::move(bar));
  spec["marks"].push_back(std::move(point));
}

Chart difference_chart(const ChartPlan& plan) {
  const std::vector<std::string> after(plan.sides.begin() + 1, plan.sides.end());
  Json spec = empty_spec(60 + 32 * (3 + static_cast<int>(after.size())));
  add(spec, "signals", R"json({"name": "chosen", "value": ""})json");
  add(spec, "data", R"json({"name": "differences", "transform": [
    {"type": "filter", "expr": "datum.asked || datum.split == chosen"}]})json");
  add(spec, "scales", R"json({"name": "x", "type": "linear", "range": "width", "zero": true, "nice": true,
    "domain": {"data": "differences", "fields": ["lo", "hi"]}})json");
  add(spec, "scales", R"json({"name": "y", "type": "band", "range": "height",
    "domain": {"data": "differences", "field": "split"}})json");
  add_shift(spec, after);
  add_sides(spec, after, "after_hues");
  add_axis(spec, "bottom", "s, below zero quicker");
  add(spec, "axes", R"json({"orient": "left", "scale": "y", "ticks": false, "domain": false})json");
  add(spec, "marks", R"json({"type": "rule", "interactive": false, "encode": {"update": {
    "x": {"scale": "x", "value": 0}, "y": {"value": 0}, "y2": {"signal": "height"},
    "stroke": {"signal": "ink"}, "strokeWidth": {"value": 1.2}}}})json");
  add_intervals(spec, "differences", "x", "y", "split");
  add(spec, "marks", R"json({"type": "text", "from": {"data": "differences"}, "interactive": false,
    "encode": {"update": {
      "x": {"scale": "x", "field": "value"}, "dy": {"value": -8}, "align": {"value": "center"},
      "y": {"scale": "y", "field": "split", "band": 0.5, "offset": {"scale": "shift", "field": "side"}},
      "fill": {"signal": "ink"}, "fontSize": {"value": 11}, "text": {"field": "text"}}}})json");
  return {"difference", "Differences of the two-way times",
          "A bar that leaves zero out would be a difference if this were the only split looked at; the "
          "sentences at "
          "the top allow for several.",
          std::move(spec)};
}

Chart pair_chart(const ChartPlan& plan) {
  Json spec = empty_spec(240);
  add(spec, "signals", R"json({"name": "chosen", "value": ""})json");
  add(spec, "data",
      R"json({"name": "pairs", "transform": [{"type": "filter", "expr": "datum.split == chosen"}]})json");
  add(spec, "data",
      R"json({"name": "overall", "transform": [{"type": "filter", "expr": "datum.split == chosen"}]})json");
  add(spec, "scales", R"json({"name": "x", "type": "band", "range": "width",
    "domain": {"data": "pairs", "field": "pair", "sort": true}})json");
  add(spec, "scales", R"json({"name": "y", "type": "linear", "range": "height", "zero": false, "nice": true,
    "domain": {"fields": [{"data": "pairs", "field": "lo"}, {"data": "pairs", "field": "hi"},
                          {"data": "overall", "field": "lo"}, {"data": "overall", "field": "hi"}]}})json");
  add_shift(spec, plan.sides);
  add_sides(spec, plan.sides, "one_hues");
  add(spec, "axes",
      R"json({"orient": "bottom", "scale": "x", "title": "pair, in the order ridden", "labelOverlap": true,
    "labelAngle": 0})json");
  add_axis(spec, "left", "s");
  add(spec, "marks",
      R"json({"type": "rect", "from": {"data": "overall"}, "interactive": false, "encode": {"update": {
    "x": {"value": 0}, "x2": {"signal": "width"}, "y": {"scale": "y", "field": "lo"}, "y2": {"scale": "y", "field": "hi"},
    "fill": {"scale": "hue", "field": "side"}, "fillOpacity": {"value": 0.1}}}})json");
  add(spec, "marks",
      R"json({"type": "rule", "from": {"data": "overall"}, "interactive": false, "encode": {"update": {
    "x": {"value": 0}, "x2": {"signal": "width"}, "y": {"scale": "y", "field": "value"},
    "stroke": {"scale": "hue", "field": "side"}, "strokeDash": {"value": [6, 3]}}}})json");
  add_intervals(spec, "pairs", "y", "x", "pair");
  return {"pairs", "Pairs in the order ridden",
          "The two-way time of each pair between the marks chosen, with the 95 % interval of its "
          "measurement; dashed "
          "and shaded the result of all pairs with its own. A drift over the day shows as a slope.",
          std::move(spec)};
}

}  // namespace bothways
