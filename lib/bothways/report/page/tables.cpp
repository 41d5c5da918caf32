#include "bothways/report/page/tables.hpp"

#include "bothways/core/units.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/number.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>
#include <utility>

namespace bothways {

namespace {

constexpr std::size_t most_points = 160;

Json curve_block(const Page& page, const Side& side, const Run& run) {
  const auto& c = run.curve;
  const double unit = per_unit_mps(page);
  Columns block{{{"key", escaped(side.name) + "#" + std::to_string(run.id)},
                 {"side", escaped(side.name)},
                 {"run", run.id},
                 {"group", group_of(page.compared.sides, side, run)}}};
  for (const char* name : {"t", "v", "lo", "hi", "a", "a_lo", "a_hi"}) {
    block.object[name] = Json::array();
  }
  const std::size_t stride = std::max<std::size_t>(1, c.t_s.size() / most_points);
  for (std::size_t i = 0; i < c.t_s.size(); i += stride) {
    const double band = half95 * c.sd_mps[i];
    block.add("t", c.t_s[i], 2);
    block.add("v", std::max(0.0, c.v_mps[i]) / unit, 2);
    block.add("lo", std::max(0.0, c.v_mps[i] - band) / unit, 2);
    block.add("hi", std::max(0.0, c.v_mps[i] + band) / unit, 2);
    block.add("a", c.a_mps2[i], 2);
    block.add("a_lo", c.a_mps2[i] - half95 * c.sd_mps2[i], 2);
    block.add("a_hi", c.a_mps2[i] + half95 * c.sd_mps2[i], 2);
  }
  return std::move(block.object);
}

void add_interval(Columns& block, Estimate e, double factor, int decimals, const std::string& prefix) {
  for (double* figure : {&e.value, &e.sd, &e.lo95, &e.hi95}) {
    *figure *= factor;
  }
  block.add(prefix.c_str(), e.value, decimals);
  block.add((prefix + "_lo").c_str(), e.lo95, decimals);
  block.add((prefix + "_hi").c_str(), e.hi95, decimals);
  block.object[prefix + "_text"].push_back(is_printable(e) ? Json(plus_minus(e)) : Json(nullptr));
}

/// Where curves end.
struct End {
  double t_s = 0.0;
  double v = 0.0;  ///< km/h or mph
  std::string group;
  std::vector<int> runs;
};

/// "1, 3, 5", or how many there are.
std::string runs_text(const std::vector<int>& runs) {
  constexpr std::size_t most_named = 6;
  if (runs.size() > most_named) {
    return std::to_string(runs.size()) + " runs";
  }
  std::string text;
  for (const int run : runs) {
    text += (text.empty() ? "" : ", ") + std::to_string(run);
  }
  return text;
}

void add_time(Json& row, const Estimate& estimate) {
  const Estimate e = rounded(estimate);
  row["value"] = e.value;
  row["lo"] = e.lo95;
  row["hi"] = e.hi95;
  row["text"] = plus_minus(estimate) + " s";
}

}  // namespace

double per_unit_mps(const Page& page) {
  return page.compared.metric ? mps_per_kmh : mps_per_mph;
}

void Columns::add(const char* name, double value, int decimals) {
  object[name].push_back(std::isfinite(value) ? Json(rounded(value, decimals)) : Json(nullptr));
}

const Run* first_with_heading(const std::vector<Side>& sides) {
  for (const Side& side : sides) {
    for (const Ride& ride : side.rides) {
      for (const Run& run : ride.runs.accepted) {
        if (std::isfinite(heading_deg(run))) {
          return &run;
        }
      }
    }
  }
  return nullptr;
}

std::string way_of(const std::vector<Side>& sides, const Run& run) {
  const Run* first = first_with_heading(sides);
  const double heading = heading_deg(run);
  if (first == nullptr || !std::isfinite(heading)) {
    return "";
  }
  return angle_between_deg(heading, first->heading_deg) <= 90.0 ? "out" : "back";
}

std::string group_of(const std::vector<Side>& sides, const Side& side, const Run& run) {
  const std::string way = way_of(sides, run);
  if (side.name.empty()) {
    return way.empty() ? "runs" : way;
  }
  return escaped(side.name) + (way.empty() ? "" : ", " + way);
}

std::vector<std::string> groups_of(const std::vector<Side>& sides) {
  std::vector<std::string> all;
  for (const Side& side : sides) {
    std::set<std::string> there;
    for (const Ride& ride : side.rides) {
      for (const Run& run : ride.runs.accepted) {
        there.insert(group_of(sides, side, run));
      }
    }
    all.insert(all.end(), there.rbegin(), there.rend());  // "out" before "back"
  }
  return all;
}

Json curves_table(const Page& page) {
  Json blocks = Json::array();
  for (const Side& side : page.compared.sides) {
    for (const Ride& ride : side.rides) {
      for (const Run& run : ride.runs.accepted) {
        blocks.push_back(curve_block(page, side, run));
      }
    }
  }
  return blocks;
}

Json curve_ends_table(const Json& curves) {
  std::vector<End> ends;
  double last_s = 0.0;
  for (const Json& block : curves) {
    if (!block["t"].empty()) {
      ends.push_back({block["t"].back(), block["v"].back(), block["group"], {block["run"]}});
      last_s = std::max(last_s, ends.back().t_s);
    }
  }
  std::stable_sort(ends.begin(), ends.end(), [](const End& a, const End& b) {
    return a.group != b.group ? a.group < b.group : a.t_s < b.t_s;
  });
  constexpr double close = 0.04;  // of the width: as wide as a number with its comma
  std::vector<End> joined;
  for (End& end : ends) {
    if (joined.empty() || joined.back().group != end.group || end.t_s - joined.back().t_s > close * last_s) {
      joined.push_back(std::move(end));
    } else {
      joined.back().runs.push_back(end.runs.front());
      joined.back().t_s = end.t_s;
      joined.back().v = std::max(joined.back().v, end.v);
    }
  }
  Json rows = Json::array();
  for (End& end : joined) {
    std::sort(end.runs.begin(), end.runs.end());
    rows.push_back({{"t", end.t_s}, {"v", end.v}, {"group", end.group}, {"text", runs_text(end.runs)}});
  }
  return rows;
}

Json pulls_table(const Page& page) {
  Json blocks = Json::array();
  for (std::size_t i = 0; i < page.power.size(); ++i) {
    const PowerResult& result = page.power[i];
    Columns block{{{"side", escaped(page.compared.sides[i].name)}}};
    for (const PowerRow& row : result.power.rows) {
      block.add("v", row.v_mps / per_unit_mps(page), 1);
      block.add("pairs", row.pairs, 0);
      add_interval(block, row.a_mps2, 1.0, 3, "a");
      if (!result.mass_from.empty()) {
        add_interval(block, row.power_w, 0.001, 3, "kw");
      }
    }
    if (!result.power.rows.empty()) {
      blocks.push_back(std::move(block.object));
    }
  }
  return blocks;
}

Json pairs_table(const Page& page, const std::vector<PageSplit>& splits) {
  Json rows = Json::array();
  for (const PageSplit& split : splits) {
    for (std::size_t i = 0; i < split.sides.size(); ++i) {
      const Side& side = page.compared.sides[i];
      for (std::size_t k = 0; k < split.sides[i].pairs.size(); ++k) {
        const auto& pair = split.sides[i].pairs[k];
        if (!pair || !is_printable(chosen(*pair, page.compared.clock))) {
          continue;
        }
        Json row{{"split", split.spec.name}, {"side", escaped(side.name)}, {"pair", side.pairs.made[k].id}};
        add_time(row, chosen(*pair, page.compared.clock));
        rows.push_back(std::move(row));
      }
    }
  }
  return rows;
}

Json overall_table(const Page& page, const std::vector<PageSplit>& splits) {
  Json rows = Json::array();
  for (const PageSplit& split : splits) {
    for (std::size_t i = 0; i < split.sides.size(); ++i) {
      const auto& overall = split.sides[i].overall;
      if (overall && is_printable(chosen(*overall, page.compared.clock))) {
        Json row{{"split", split.spec.name}, {"side", escaped(page.compared.sides[i].name)}};
        add_time(row, chosen(*overall, page.compared.clock));
        rows.push_back(std::move(row));
      }
    }
  }
  return rows;
}

Json differences_chart_table(const Page& page, const std::vector<PageSplit>& splits) {
  Json rows = Json::array();
  for (const PageSplit& split : splits) {
    for (std::size_t c = 0; c < split.differences.size(); ++c) {
      const auto& row = split.differences[c];
      if (row && is_printable(row->difference)) {
        const Estimate e = rounded(row->difference);
        rows.push_back({{"split", split.spec.name},
                        {"asked", split.asked},
                        {"side", escaped(page.compared.comparisons[c].after)},
                        {"value", e.value},
                        {"lo", e.lo95},
                        {"hi", e.hi95},
                        {"text", signed_plus_minus(row->difference) + " s"}});
      }
    }
  }
  return rows;
}

}  // namespace bothways
