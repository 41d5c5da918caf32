#include "bothways/speed/interpolation.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

constexpr double finest_step_mps = 1e-3;   // written, where the log's own step is finer than matters
constexpr double least_rows = 2.4;         // a period: three of them can lie off a line
constexpr double changing_mps2 = 0.5;      // at an even speed any three rows lie on a line
constexpr std::size_t enough_pieces = 30;  // of a period
constexpr double nearly_all = 0.96;        // of them are straight; the rest for spikes and missing rows
constexpr double most_between = 0.7;       // of those half a period off, which are straight by chance
constexpr std::size_t most_rows = 40'000;  // looked at: more tell no more
constexpr double near_deg = 0.01;          // of a row, or the meridian of 180 degrees lies between

/// The straight line of least squares through some rows.
struct Line {
  std::size_t rows = 0;
  double t_s = 0.0;  ///< mean
  double value = 0.0;
  double slope = 0.0;
  [[nodiscard]] double at(double time_s) const { return value + slope * (time_s - t_s); }
};

/// Rows begin..end-1 of one period.
struct Piece {
  std::size_t begin = 0;
  std::size_t end = 0;
  long period = 0;
};

std::vector<double> times_of(const std::vector<const Fix*>& fixes) {
  std::vector<double> t_s;
  t_s.reserve(fixes.size());
  for (const Fix* fix : fixes) {
    t_s.push_back(seconds_between(fixes.front()->time, fix->time));
  }
  return t_s;
}

template <typename Value>
Line line_through(const std::vector<double>& t_s, const Piece& piece, const Value& value) {
  Line line;
  line.rows = piece.end - piece.begin;
  const auto n = static_cast<double>(line.rows);
  for (std::size_t i = piece.begin; i < piece.end; ++i) {
    line.t_s += t_s[i] / n;
    line.value += value(i) / n;
  }
  double squares = 0.0;
  double products = 0.0;
  for (std::size_t i = piece.begin; i < piece.end; ++i) {
    squares += (t_s[i] - line.t_s) * (t_s[i] - line.t_s);
    products += (t_s[i] - line.t_s) * (value(i) - line.value);
  }
  line.slope = squares > 0.0 ? products / squares : 0.0;
  return line;
}

std::vector<Piece> pieces_of(const std::vector<double>& t_s, const Interpolation& lines, std::size_t rows) {
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < rows; ++i) {
    const long period = std::lround(std::floor((t_s[i] - lines.phase_s) / lines.period_s));
    if (pieces.empty() || pieces.back().period != period) {
      pieces.push_back({i, i, period});
    }
    pieces.back().end = i + 1;
  }
  return pieces;
}

struct Straightness {
  std::size_t pieces = 0;
  std::size_t straight = 0;
  [[nodiscard]] double share() const {
    return pieces > 0 ? static_cast<double>(straight) / static_cast<double>(pieces) : 0.0;
  }
};

Straightness straightness(const std::vector<const Fix*>& fixes, const std::vector<double>& t_s,
                          const Interpolation& lines, double step_mps) {
  Straightness out;
  const auto speed = [&](std::size_t i) { return fixes[i]->speed_mps; };
  for (const Piece& piece : pieces_of(t_s, lines, std::min(t_s.size(), most_rows))) {
    if (piece.end - piece.begin < 3) {
      continue;
    }
    const Line line = line_through(t_s, piece, speed);
    if (std::abs(line.slope) < changing_mps2) {
      continue;
    }
    double off = 0.0;
    for (std::size_t i = piece.begin; i < piece.end; ++i) {
      off = std::max(off, std::abs(speed(i) - line.at(t_s[i])));
    }
    ++out.pieces;
    out.straight += off <= step_mps + 1e-6 ? 1U : 0U;
  }
  return out;
}

/// One in five second differences of speed is within rounding, or this log is not interpolated.
bool may_be_interpolated(const std::vector<const Fix*>& fixes, double step_mps) {
  std::size_t bent = 0;
  std::size_t all = 0;
  for (std::size_t i = 1; i + 1 < std::min(fixes.size(), most_rows); ++i) {
    const double rise = fixes[i + 1]->speed_mps - fixes[i]->speed_mps;
    const double before = fixes[i]->speed_mps - fixes[i - 1]->speed_mps;
    if (rise != 0.0) {
      ++all;
      bent += std::abs(rise - before) > 2.0 * step_mps + 1e-6 ? 1U : 0U;
    }
  }
  return 5 * bent < 4 * all;
}

/// Where in the period neighbouring lines meet.
double meeting_phase_s(const std::vector<const Fix*>& fixes, const std::vector<double>& t_s,
                       const Interpolation& lines, double step_mps) {
  const auto speed = [&](std::size_t i) { return fixes[i]->speed_mps; };
  const std::vector<Piece> pieces = pieces_of(t_s, lines, std::min(t_s.size(), most_rows));
  std::vector<double> off_s;
  for (std::size_t k = 1; k < pieces.size(); ++k) {
    const Piece& a = pieces[k - 1];
    const Piece& b = pieces[k];
    if (b.period != a.period + 1 || a.end - a.begin < 2 || b.end - b.begin < 2) {
      continue;
    }
    const Line before = line_through(t_s, a, speed);
    const Line after = line_through(t_s, b, speed);
    const double bend = after.slope - before.slope;
    if (std::abs(bend) * lines.period_s > 20.0 * step_mps) {
      const double meet_s = (before.at(0.0) - after.at(0.0)) / bend;
      const double knot_s = lines.phase_s + static_cast<double>(b.period) * lines.period_s;
      if (std::abs(meet_s - knot_s) < 0.5 * lines.period_s) {
        off_s.push_back(meet_s - knot_s);
      }
    }
  }
  return off_s.empty() ? lines.phase_s : lines.phase_s + numeric::quantile(std::move(off_s), 0.5);
}

/// The phase at which most pieces of a period are straight, and how many are.
struct BestPhase {
  Interpolation lines;
  Straightness straight;
};

BestPhase best_phase(const std::vector<const Fix*>& fixes, const std::vector<double>& t_s, double period_s,
                     double row_s, double step_mps) {
  BestPhase best{{period_s, 0.0}, {}};
  const auto phases = static_cast<int>(std::ceil(2.0 * period_s / row_s));
  for (int i = 0; i < phases; ++i) {
    const Interpolation lines{period_s, period_s * (i + 0.25) / phases};
    const Straightness now = straightness(fixes, t_s, lines, step_mps);
    if (now.pieces >= enough_pieces && now.share() > best.straight.share()) {
      best = {lines, now};
    }
  }
  return best;
}

double meeting_of(const Line& before, const Line& after, double knot_s) {
  if (before.rows < 2 || after.rows < 2) {
    return before.rows < 2 ? after.at(knot_s) : before.at(knot_s);
  }
  return 0.5 * (before.at(knot_s) + after.at(knot_s));
}

}  // namespace

std::optional<Interpolation> interpolation_of(const std::vector<const Fix*>& fixes, double step_mps) {
  const double step = step_mps > 0.0 ? step_mps : finest_step_mps;
  if (fixes.size() < 3 * enough_pieces || !may_be_interpolated(fixes, step)) {
    return std::nullopt;
  }
  const std::vector<double> t_s = times_of(fixes);
  std::vector<double> rows_s;
  for (std::size_t i = 1; i < t_s.size(); ++i) {
    rows_s.push_back(t_s[i] - t_s[i - 1]);
  }
  const double row_s = std::max(numeric::quantile(std::move(rows_s), 0.5), 1e-3);
  for (const double period_s : {2.0, 1.0, 0.5, 0.25, 0.2}) {
    if (period_s < least_rows * row_s) {
      continue;
    }
    auto [lines, straight] = best_phase(fixes, t_s, period_s, row_s, step);
    if (straight.share() < nearly_all) {
      continue;
    }
    const Straightness between = straightness(fixes, t_s, {period_s, lines.phase_s + 0.5 * period_s}, step);
    if (between.pieces >= enough_pieces && between.share() <= most_between) {
      lines.phase_s = meeting_phase_s(fixes, t_s, lines, step);
      return lines;
    }
  }
  return std::nullopt;
}

std::vector<Fix> readings_at_knots(const std::vector<const Fix*>& fixes, const Interpolation& lines,
                                   double step_mps) {
  const double step = step_mps > 0.0 ? step_mps : finest_step_mps;
  const std::vector<double> t_s = times_of(fixes);
  const std::vector<Piece> pieces = pieces_of(t_s, lines, t_s.size());
  std::vector<Fix> out;
  out.reserve(pieces.size());
  for (std::size_t k = 1; k < pieces.size(); ++k) {
    const Piece& a = pieces[k - 1];
    const Piece& b = pieces[k];
    if (b.period != a.period + 1) {
      continue;
    }
    const double knot_s = lines.phase_s + static_cast<double>(b.period) * lines.period_s;
    const auto meeting = [&](const auto& value) {
      return meeting_of(line_through(t_s, a, value), line_through(t_s, b, value), knot_s);
    };
    const bool nearer = t_s[b.begin] - knot_s < knot_s - t_s[a.end - 1];
    Fix fix = *fixes[nearer ? b.begin : a.end - 1];
    fix.time = shifted(fixes.front()->time, knot_s);
    const double speed = meeting([&](std::size_t i) { return fixes[i]->speed_mps; });
    fix.speed_mps = std::max(0.0, std::round(speed / step) * step);
    const double lat = meeting([&](std::size_t i) { return fixes[i]->lat_deg; });
    const double lon = meeting([&](std::size_t i) { return fixes[i]->lon_deg; });
    if (std::abs(lat - fix.lat_deg) < near_deg &&
        std::abs(lon - fix.lon_deg) < near_deg) {  // of numbers alone
      fix.lat_deg = std::clamp(lat, -90.0, 90.0);
      fix.lon_deg = std::clamp(lon, -180.0, 180.0);
    }
    out.push_back(fix);
  }
  return out;
}

}  // namespace bothways
