#pragma once

#include "bothways/report/page/charts.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace bothways {

// What the specifications of the charts have in common.

using Json = nlohmann::ordered_json;

/// A specification of this height, whatever its width: the colours as signals, and no data, scales or marks
/// yet.
[[nodiscard]] Json empty_spec(int height);

/// Adds an element to one of a specification's lists: "data", "scales", "signals", "axes", "marks".
/// @param json  what is added
void add(Json& spec, const char* list, std::string_view json);

/// Adds an axis with a grid.
void add_axis(Json& spec, const char* orient, const std::string& title, int ticks = 6);

/// Adds the scales "hue" and "dash" by group, with their legend: directions by line and colour, sides by
/// colour.
void add_groups(Json& spec, const ChartPlan& plan);

/// Adds the scale "hue" by side, with a legend where there are several.
void add_sides(Json& spec, const std::vector<std::string>& sides, const char* hues);

/// Adds the scale "shift" by side: bars of one place stand beside each other.
/// @param apart  pixels from one side to the next
void add_shift(Json& spec, const std::vector<std::string>& sides, double apart = 12.0);

/// Points with bars of their intervals in the places of a band scale, those of several sides beside each
/// other.
/// @param along    channel of the figure, "x" or "y"
/// @param across   channel of the band scale
/// @param place    column that the band scale shows
void add_intervals(Json& spec, const char* data, const std::string& along, const std::string& across,
                   const char* place);

[[nodiscard]] std::string speed_unit(const ChartPlan& plan);

// The charts by where they are drawn.
[[nodiscard]] Chart speed_chart(const ChartPlan& plan);
[[nodiscard]] Chart acceleration_chart(const ChartPlan& plan);
[[nodiscard]] Chart pull_chart(const ChartPlan& plan);
[[nodiscard]] Chart power_chart(const ChartPlan& plan);
[[nodiscard]] Chart difference_chart(const ChartPlan& plan);
[[nodiscard]] Chart pair_chart(const ChartPlan& plan);
/// @param log  index in ChartPlan::logs
[[nodiscard]] Chart ride_chart(const ChartPlan& plan, std::size_t log);
[[nodiscard]] Chart map_chart(const ChartPlan& plan);

}  // namespace bothways
