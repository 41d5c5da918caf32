#include "truth/population/table_parts.hpp"

#include <fmt/format.h>

#include <set>

namespace bothways::population {

namespace {

struct Curve {
  const char* trait;
  std::vector<double> edges;
  bool asked;  ///< in every report
};

const std::vector<Curve>& curves() {
  static const std::vector<Curve> all{{"smoothing_s", {0.0, 1e-9, 0.1, 0.2, 0.3, 0.4}, true},
                                      {"rest_ratio", {0.02, 0.05, 0.1, 0.2, 0.5, 1.0}, true},
                                      {"tails", {0.01, 0.03, 0.05, 0.07, 0.09}, true},
                                      {"correlation", {0.0, 0.2, 0.4, 0.6, 0.9}, false},
                                      {"growth", {1.0, 1.5, 2.0, 2.5}, false},
                                      {"before_filter", {0.0, 1e-9, 0.33, 0.67, 1.0}, false},
                                      {"noise_mps", {0.02, 0.05, 0.1, 0.2, 0.45}, false},
                                      {"hold_mps", {0.0, 1e-9, 0.4, 0.7, 1.0}, false},
                                      {"speed_delay_s", {0.0, 1e-9, 0.1, 0.2, 0.3}, false},
                                      {"jitter_s", {0.0, 1e-9, 0.005, 0.015, 0.08}, false},
                                      {"speed_step_mps", {0.0, 1e-9, 0.004, 0.02, 0.06, 0.1}, false},
                                      {"wander_mps", {0.005, 0.05, 0.15, 0.4, 1.2}, false},
                                      {"position_m", {0.001, 0.01, 0.05, 0.5}, false},
                                      {"catch_up_s", {1.0, 2.0, 3.0, 4.0}, false},
                                      {"degree_step", {0.0, 5e-9, 2e-7, 2e-6, 2e-5}, false},
                                      {"whole_seconds", {0.0, 0.5, 1.0}, false},
                                      {"start_scatter", {0.005, 0.01, 0.02, 0.05}, false},
                                      {"launch_scatter", {0.03, 0.07, 0.15, 0.3}, false},
                                      {"change_on_mark", {0.0, 0.5, 1.0}, false},
                                      {"head_wind_mps", {0.0, 1.5, 3.0, 6.0}, false}};
  return all;
}

/// In bins of a number.
Table curve_table(const Population& population, const std::string& trait, const std::vector<double>& edges) {
  Table table{"Runs by " + trait, {trait, "log", "split"}, {}};
  table.head.insert(table.head.end(), summary_head().begin(), summary_head().end());
  for (int kind = 0; kind <= kinds; ++kind) {
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
      const Summary s = summary_of(population.rides, [&](const Judged& ride, const Figure& figure) {
        const double value = ride.traits.value.at(trait);
        const bool last = i + 2 == edges.size();
        return is_of(ride, kind) && figure.level == Level::run && figure.split == 0 && value >= edges[i] &&
               (value < edges[i + 1] || (last && value <= edges[i + 1]));
      });
      if (s.held.n > 0) {
        table.rows.push_back(
            {fmt::format("{:.4g} to {:.4g}", edges[i], edges[i + 1]), kind_name(kind), split_names[0]});
        append_summary(table.rows.back(), s);
      }
    }
  }
  return table;
}

/// Runs by a word that describes the ride: the vehicle, its launch.
Table word_curve(const Population& population, const std::string& title, std::string Traits::*word) {
  std::set<std::string> words;
  for (const Judged& ride : population.rides) {
    words.insert(ride.traits.*word);
  }
  Table table{"Runs by " + title, {title, "log", "split"}, {}};
  table.head.insert(table.head.end(), summary_head().begin(), summary_head().end());
  for (int kind = 0; kind <= kinds; ++kind) {
    for (const std::string& one : words) {
      const Summary s = summary_of(population.rides, [&](const Judged& ride, const Figure& figure) {
        return is_of(ride, kind) && figure.level == Level::run && figure.split == 0 &&
               ride.traits.*word == one;
      });
      if (s.held.n > 0) {
        table.rows.push_back({one, kind_name(kind), split_names[0]});
        append_summary(table.rows.back(), s);
      }
    }
  }
  return table;
}

}  // namespace

void add_curves(const Population& population, bool all_curves, std::vector<Table>& tables) {
  for (const Curve& curve : curves()) {
    if (curve.asked || all_curves) {
      tables.push_back(curve_table(population, curve.trait, curve.edges));
    }
  }
  if (all_curves) {
    tables.push_back(word_curve(population, "vehicle", &Traits::machine));
    tables.push_back(word_curve(population, "launch", &Traits::launch));
  }
}

}  // namespace bothways::population
