#include "support/simulate/profile.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <fstream>
#include <stdexcept>
#include <string>

namespace bothways::sim {

namespace {

constexpr double rest_mps = 0.05;  // the reference's own noise at rest is about 0.01
constexpr double least_rest_s = 1.0;
constexpr double lost_mps = 0.5;

double number_at(const std::string& line, std::size_t begin) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(line.data() + begin, line.data() + line.size(), value);
  if (error != std::errc{}) {
    throw std::runtime_error("a profile holds a line without numbers: " + line);
  }
  return value;
}

std::vector<TruthRow> rows_of(const std::filesystem::path& path) {
  std::ifstream in(path);
  std::vector<TruthRow> rows;
  std::string line;
  std::getline(in, line);
  double first_s = 0.0;
  while (std::getline(in, line)) {
    const double t_s = number_at(line, 0);
    first_s = rows.empty() ? t_s : first_s;
    const double v_mps = number_at(line, line.find(',') + 1);
    rows.push_back({.t_s = t_s - first_s, .v_mps = v_mps < rest_mps ? 0.0 : v_mps});
  }
  if (rows.size() < 2) {
    throw std::runtime_error(path.string() + ": no speed profile");
  }
  return rows;
}

/// Slopes that keep the cubic between the rows' values (harmonic mean of the two chords, Fritsch-Butland).
void set_slopes(std::vector<TruthRow>& rows) {
  for (std::size_t i = 1; i + 1 < rows.size(); ++i) {
    const double before = (rows[i].v_mps - rows[i - 1].v_mps) / std::max(1e-6, rows[i].t_s - rows[i - 1].t_s);
    const double after = (rows[i + 1].v_mps - rows[i].v_mps) / std::max(1e-6, rows[i + 1].t_s - rows[i].t_s);
    rows[i].a_mps2 = before * after > 0.0 ? 2.0 * before * after / (before + after) : 0.0;
  }
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const double h = rows[i].t_s - rows[i - 1].t_s;
    rows[i].s_m = rows[i - 1].s_m + 0.5 * h * (rows[i].v_mps + rows[i - 1].v_mps) +
                  h * h / 12.0 * (rows[i - 1].a_mps2 - rows[i].a_mps2);
    rows[i].x_m = rows[i].s_m;
  }
}

/// The row of the highest speed before lost_mps is lost.
std::size_t top_of(const std::vector<TruthRow>& rows, std::size_t from) {
  std::size_t top = from;
  for (std::size_t i = from; i < rows.size() && rows[i].v_mps >= rows[top].v_mps - lost_mps; ++i) {
    if (i > from && rows[i].v_mps == 0.0) {
      break;
    }
    top = rows[i].v_mps > rows[top].v_mps ? i : top;
  }
  return top;
}

}  // namespace

Truth truth_of_profile(const std::filesystem::path& path, double run_mps) {
  Truth truth;
  truth.rows = rows_of(path);
  set_slopes(truth.rows);
  const auto& rows = truth.rows;
  std::size_t rest_begin = 0;
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    if (rows[i].v_mps > 0.0) {
      rest_begin = i + 1;
      continue;
    }
    if (rows[i + 1].v_mps == 0.0 || rows[i].t_s - rows[rest_begin].t_s < least_rest_s) {
      continue;
    }
    const std::size_t top = top_of(rows, i);
    if (rows[top].v_mps < 2.0) {
      continue;  // creeping forward in a queue is no start
    }
    TrueStart start{.kind = rows[top].v_mps >= run_mps ? StartKind::run : StartKind::lifted,
                    .movement_s = rows[i].t_s,
                    .lift_s = rows[top].t_s,
                    .top_mps = rows[top].v_mps,
                    .heading_deg = truth.road.heading_deg,
                    .s_m = rows[i].s_m,
                    .first_row = i,
                    .last_row = top};
    start.foot_s = crossing_s(truth, start, Length::from_m(rollout_m)).value_or(start.movement_s);
    truth.starts.push_back(start);
  }
  return truth;
}

}  // namespace bothways::sim
