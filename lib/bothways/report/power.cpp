#include "bothways/report/power.hpp"

#include "bothways/core/units.hpp"
#include "bothways/report/contract_parts.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ostream>
#include <string>
#include <vector>

namespace bothways {

namespace {

Estimate scaled(Estimate e, double factor) {
  for (double* figure : {&e.value, &e.sd, &e.lo95, &e.hi95}) {
    *figure *= factor;
  }
  return e;
}

Table table_for_people(const PowerResult& result) {
  Table table{
      "power",
      {{"speed", "", ColumnKind::number, result.metric ? "km/h" : "mph"},
       {"pairs", "", ColumnKind::number},
       {"acceleration", "", ColumnKind::estimate, result.metric ? "acceleration m/s²" : "acceleration ft/s²"},
       {"kw", "", ColumnKind::estimate, "power kW"},
       {"hp", "", ColumnKind::estimate, "hp"}},
      {}};
  for (const PowerRow& row : result.power.rows) {
    table.rows.push_back({Number{row.v_mps / (result.metric ? mps_per_kmh : mps_per_mph), 0},
                          Number{static_cast<double>(row.pairs), 0},
                          scaled(row.a_mps2, result.metric ? 1.0 : 1.0 / m_per_foot),
                          scaled(row.power_w, 0.001), scaled(row.power_w, 1.0 / w_per_hp)});
  }
  return table;
}

std::string range_words(const Range& range, int decimals) {
  const std::string lo = fixed(range.lo, decimals);
  const std::string hi = fixed(range.hi, decimals);
  return lo == hi ? lo : lo + " to " + hi;
}

double half_of(const Estimate& e) {
  return std::max(e.hi95 - e.value, e.value - e.lo95);
}

/// The row of the deepest dip of the acceleration between two better ones, if it is a tenth and more than its
/// own interval: what gear changes leave. The first row where there is none.
std::size_t deepest_dip(const std::vector<PowerRow>& rows) {
  constexpr double least_dip = 0.1;
  std::size_t deepest = 0;
  double most = least_dip;
  for (std::size_t i = 1; i + 1 < rows.size(); ++i) {
    double before = rows[i - 1].a_mps2.value;
    double after = rows[i + 1].a_mps2.value;
    for (std::size_t k = 0; k < rows.size(); ++k) {
      double& side = k < i ? before : after;
      side = k == i ? side : std::max(side, rows[k].a_mps2.value);
    }
    const double dip = std::min(before, after) - rows[i].a_mps2.value;
    if (dip > most * rows[i].a_mps2.value && dip > half_of(rows[i].a_mps2)) {
      most = dip / rows[i].a_mps2.value;
      deepest = i;
    }
  }
  return deepest;
}

/// "Highest power: 8.9 ± 0.4 kW, 12.0 ± 0.5 hp, at 35 mph"; the highest row, which chance lifts a little.
std::string most_words(const PowerResult& result) {
  const auto& rows = result.power.rows;
  const auto most = std::max_element(rows.begin(), rows.end(), [](const PowerRow& a, const PowerRow& b) {
    return a.power_w.value < b.power_w.value;
  });
  if (most == rows.end()) {
    return "";
  }
  return "Highest power: " + plus_minus(scaled(most->power_w, 0.001)) + " kW, " +
         plus_minus(scaled(most->power_w, 1.0 / w_per_hp)) + " hp, at " +
         fixed(most->v_mps / (result.metric ? mps_per_kmh : mps_per_mph), 0) +
         (result.metric ? " km/h." : " mph.");
}

/// Why the figures go up and down, where they do.
std::string gears_words(const PowerResult& result) {
  const std::size_t dip = deepest_dip(result.power.rows);
  if (dip == 0) {
    return "";
  }
  const double v_mps = result.power.rows[dip].v_mps;
  return "The figures fall and rise again, at " +
         (result.metric ? fixed(v_mps / mps_per_kmh, 0) + " km/h" : fixed(v_mps / mps_per_mph, 0) + " mph") +
         " for example, as gear changes make them: nothing drives while the gear is changed, and each gear "
         "pulls best in a part of its range. Where the runs change gear at different speeds the ± is wide.";
}

Record power_record(const PowerRow& row) {
  Record record{{"speed_mps", Number{row.v_mps, 4}}, {"pairs", row.pairs}};
  add_estimate(record, quantity_key("acceleration", "mps2"), row.a_mps2);
  add_estimate(record, quantity_key("power", "w"), row.power_w, 0);
  return record;
}

Record load_record(const RoadLoad& load) {
  return {{"mass_lo_kg", Number{load.mass_kg.lo, 1}},
          {"mass_hi_kg", Number{load.mass_kg.hi, 1}},
          {"rotating_lo", Number{load.rotating.lo, 3}},
          {"rotating_hi", Number{load.rotating.hi, 3}},
          {"drag_area_lo_m2", Number{load.drag_area_m2.lo, 3}},
          {"drag_area_hi_m2", Number{load.drag_area_m2.hi, 3}},
          {"rolling_lo", Number{load.rolling.lo, 4}},
          {"rolling_hi", Number{load.rolling.hi, 4}},
          {"air_density_kg_m3", Number{load.air_kg_m3.value, 4}},
          {"air_density_sd_kg_m3", Number{load.air_kg_m3.sd, 4}},
          {"wind_lo_mps", Number{load.wind_mps.lo, 2}},
          {"wind_hi_mps", Number{load.wind_mps.hi, 2}}};
}

}  // namespace

std::vector<std::string> load_words(const PowerResult& result) {
  constexpr double kg_per_lb = 0.45359237;
  constexpr double kg_m3_per_lb_ft3 = kg_per_lb / (m_per_foot * m_per_foot * m_per_foot);
  const RoadLoad& load = result.power.load;
  const auto in = [&](const Range& si, double unit) {
    return result.metric ? si : Range{si.lo / unit, si.hi / unit};
  };
  const bool metric = result.metric;
  return {
      "total mass " + range_words(in(load.mass_kg, kg_per_lb), 0) + (metric ? " kg (" : " lb (") +
          result.mass_from + "), assumed right to 1 %; wheels and what turns with them count as " +
          range_words({load.rotating.lo * 100.0, load.rotating.hi * 100.0}, 0) + " % more",
      "drag area " + range_words(in(load.drag_area_m2, m_per_foot * m_per_foot), metric ? 2 : 1) +
          (metric ? " m² (" : " ft² (") + result.drag_from + ")",
      "rolling resistance " + range_words(load.rolling, 3) + " of the weight (" + result.rolling_from + ")",
      "air " + plus_minus(scaled(load.air_kg_m3, metric ? 1.0 : 1.0 / kg_m3_per_lb_ft3)) +
          (metric ? " kg/m³ (" : " lb/ft³ (") + result.air_from + ")",
      "wind " + range_words(in(load.wind_mps, mps_per_mph), 0) + (metric ? " m/s (" : " mph (") +
          result.wind_from + ")"};
}

void write_power(std::ostream& out, const PowerResult& result, const SummaryOptions& options) {
  const auto say = [&](const std::string& text) {
    out << wrapped(escaped(text), options.width, "  ", "    ") << '\n';
  };
  if (const std::string most = most_words(result); !most.empty()) {
    out << wrapped(most, options.width) << "\n\n";
  }
  out << "Power at the road at full throttle, both directions averaged\n";
  write_text(out, table_for_people(result), {.width = options.width});
  out << wrapped(
             "An estimate at the road, not at the crank: what the drive train takes is not in it. ± is the "
             "95 % interval: of the acceleration, how much the pairs differ, and the measurement; of the "
             "power also how far mass, drag, rolling, air and wind may be from what is assumed below, so the "
             "power may be known less well than the acceleration.",
             options.width)
      << '\n';
  if (const std::string gears = gears_words(result); !gears.empty()) {
    out << wrapped(gears, options.width) << '\n';
  }
  for (const Note& note : result.notes) {
    write_warning(out, note.text, options);
  }
  write_heading(out, "What it rests on", options);
  for (const std::string& text : load_words(result)) {
    say(text);
  }
}

Table power_table(const PowerResult& result) {
  std::vector<Record> rows;
  for (const PowerRow& row : result.power.rows) {
    rows.push_back(power_record(row));
  }
  return table_of("power", power_record({}), rows);
}

void write_power_json(std::ostream& out, const PowerResult& result) {
  Json object{{"schema", json_schema}};
  put(object, load_record(result.power.load));
  object["text"] = "an estimate at the road, not at the crank";
  if (!result.notes.empty()) {
    object["notes"] = notes_json(result.notes);
  }
  object["rows"] = Json::array();
  for (const PowerRow& row : result.power.rows) {
    object["rows"].push_back(to_json(power_record(row)));
  }
  out << object.dump(1) << '\n';
}

}  // namespace bothways
