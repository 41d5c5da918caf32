#pragma once

#include <nlohmann/json.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace bothways {

/// One chart of the page: what it is called, what it shows in a sentence (also for who cannot see it), and
/// how it is drawn: a specification in the language of Vega 5. Its data sets are tables of the page, by name.
struct Chart {
  std::string id;
  std::string title;
  std::string caption;
  nlohmann::ordered_json spec;
};

/// What decides which charts there are and what their axes show.
struct ChartPlan {
  bool metric = false;
  bool compared = false;
  bool has_power = false;  ///< a mass is known
  bool has_pulls = false;  ///< any pair
  bool has_pairs = false;
  std::size_t runs = 0;
  std::vector<std::string> groups;  ///< groups_of()
  std::vector<std::string> sides;
  std::vector<std::string> logs;  ///< those with a picture of their own: what each is called
  double map_half_m = 0.0;  ///< the map shows so far left and right of its middle, half as far up; 0: none
  double map_x_m = 0.0;
  double map_y_m = 0.0;
};

/// All charts, in the order of the page.
[[nodiscard]] std::vector<Chart> charts_of(const ChartPlan& plan);

/// Colours by name for paper and for a dark screen, which the charts name as signals: "ink", "way_hues".
/// Blue against orange, and lines unlike each other, for who does not see all colours.
[[nodiscard]] nlohmann::ordered_json palettes();

}  // namespace bothways
