#include "bothways/speed/interpolation.hpp"

#include "bothways/numeric/polynomial.hpp"
#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>

namespace bothways {

namespace {

constexpr double finest_step_mps = 1e-3;  // written, where the log's own step is finer than matters
constexpr double least_rows = 2.4;        // a period: three of them can lie off a line
constexpr double least_rows_of_cubic = 4.8;
constexpr double changing_mps2 = 0.5;      // at an even speed any rows lie on one piece
constexpr std::size_t enough_pieces = 30;  // of a period
// How many of them fit, at least, and of those half a period off, by chance, at most: spikes, bends and
// missing rows make some bad, and in turns the length of a straight velocity is no straight line.
constexpr double nearly_all = 0.96;
constexpr double most_between = 0.7;
constexpr double many = 0.8;
constexpr double few_between = 0.3;
constexpr std::size_t most_rows = 40'000;  // looked at: more tell no more
constexpr double near_deg = 0.01;          // of a row, or the meridian of 180 degrees lies between
constexpr double jump_of_bend = 0.5;       // of what the slope changes in a period: lines that do not meet

/// Rows begin..end-1 of one period.
struct Piece {
  std::size_t begin = 0;
  std::size_t end = 0;
  long period = 0;
  [[nodiscard]] std::size_t rows() const { return end - begin; }
};

/// Times and speeds of the rows.
struct Rows {
  std::vector<double> t_s;
  std::vector<double> v_mps;
  [[nodiscard]] numeric::Polynomial through(const Piece& piece, int degree) const {
    return {std::span(t_s).subspan(piece.begin, piece.rows()),
            std::span(v_mps).subspan(piece.begin, piece.rows()), degree};
  }
};

Rows rows_of(const std::vector<const Fix*>& fixes) {
  Rows rows;
  rows.t_s.reserve(fixes.size());
  rows.v_mps.reserve(fixes.size());
  for (const Fix* fix : fixes) {
    rows.t_s.push_back(seconds_between(fixes.front()->time, fix->time));
    rows.v_mps.push_back(fix->speed_mps);
  }
  return rows;
}

std::vector<Piece> pieces_of(const Rows& rows, const Upsampling& upsampling, std::size_t most) {
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < std::min(rows.t_s.size(), most); ++i) {
    const long period = std::lround(std::floor((rows.t_s[i] - upsampling.phase_s) / upsampling.period_s));
    if (pieces.empty() || pieces.back().period != period) {
      pieces.push_back({i, i, period});
    }
    pieces.back().end = i + 1;
  }
  return pieces;
}

struct Fitting {
  std::size_t pieces = 0;
  std::size_t fit = 0;
  [[nodiscard]] double share() const {
    return pieces > 0 ? static_cast<double>(fit) / static_cast<double>(pieces) : 0.0;
  }
};

Fitting fitting(const Rows& rows, const Upsampling& upsampling, double step_mps) {
  Fitting out;
  for (const Piece& piece : pieces_of(rows, upsampling, most_rows)) {
    if (piece.rows() < static_cast<std::size_t>(upsampling.degree) + 2) {
      continue;
    }
    const std::size_t last = piece.end - 1;
    if (std::abs(rows.v_mps[last] - rows.v_mps[piece.begin]) <
        changing_mps2 * (rows.t_s[last] - rows.t_s[piece.begin])) {
      continue;
    }
    const numeric::Polynomial through = rows.through(piece, upsampling.degree);
    double off = 0.0;
    for (std::size_t i = piece.begin; i < piece.end; ++i) {
      off = std::max(off, std::abs(rows.v_mps[i] - through.at(rows.t_s[i])));
    }
    ++out.pieces;
    out.fit += off <= step_mps + 1e-6 ? 1U : 0U;
  }
  return out;
}

/// One in five differences of the order above the degree is within rounding, or these rows are not of it.
bool may_be_of_degree(const Rows& rows, int degree, double step_mps) {
  const std::array<double, 5> weights =
      degree == 1 ? std::array{1.0, -2.0, 1.0, 0.0, 0.0} : std::array{1.0, -4.0, 6.0, -4.0, 1.0};
  const std::size_t points = static_cast<std::size_t>(degree) + 2;
  const double rounding_mps = (degree == 1 ? 2.0 : 8.0) * step_mps;  // half a step each
  std::size_t off = 0;
  std::size_t all = 0;
  for (std::size_t i = 0; i + points <= std::min(rows.v_mps.size(), most_rows); ++i) {
    if (rows.v_mps[i + points - 1] == rows.v_mps[i + points - 2]) {
      continue;
    }
    double difference = 0.0;
    for (std::size_t k = 0; k < points; ++k) {
      difference += weights[k] * rows.v_mps[i + k];
    }
    ++all;
    off += std::abs(difference) > rounding_mps + 1e-6 ? 1U : 0U;
  }
  return 5 * off < 4 * all;
}

/// How straight lines of neighbouring periods go on: where in the period they meet, if they do.
struct Joints {
  std::vector<double> meeting_s;  ///< after the begin of the later one
  std::vector<double> jump;       ///< at its first row, over what the slope changes in a period
};

Joints joints_of(const Rows& rows, const Upsampling& upsampling, double step_mps) {
  const std::vector<Piece> pieces = pieces_of(rows, upsampling, most_rows);
  Joints out;
  for (std::size_t k = 1; k < pieces.size(); ++k) {
    const Piece& a = pieces[k - 1];
    const Piece& b = pieces[k];
    if (b.period != a.period + 1 || a.rows() < 2 || b.rows() < 2) {
      continue;
    }
    const numeric::Polynomial before = rows.through(a, 1);
    const numeric::Polynomial after = rows.through(b, 1);
    const double bend = (after.at(1.0) - after.at(0.0)) - (before.at(1.0) - before.at(0.0));
    if (std::abs(bend) * upsampling.period_s > 20.0 * step_mps) {
      const double knot_s = upsampling.phase_s + static_cast<double>(b.period) * upsampling.period_s;
      const double meet_s = (before.at(0.0) - after.at(0.0)) / bend - knot_s;
      if (std::abs(meet_s) < 0.5 * upsampling.period_s) {
        out.meeting_s.push_back(meet_s);
      }
      const double first_s = rows.t_s[b.begin];
      out.jump.push_back(std::abs(after.at(first_s) - before.at(first_s)) /
                         (std::abs(bend) * upsampling.period_s));
    }
  }
  return out;
}

/// The phase at which most pieces of a period fit, and how many do.
struct BestPhase {
  Upsampling upsampling;
  Fitting fitting;
};

BestPhase best_phase(const Rows& rows, double period_s, int degree, double row_s, double step_mps) {
  BestPhase best{{period_s, 0.0, degree}, {}};
  const auto phases = static_cast<int>(std::ceil(2.0 * period_s / row_s));
  for (int i = 0; i < phases; ++i) {
    const Upsampling upsampling{period_s, period_s * (i + 0.25) / phases, degree};
    const Fitting now = fitting(rows, upsampling, step_mps);
    if (now.pieces >= enough_pieces && now.share() > best.fitting.share()) {
      best = {upsampling, now};
    }
  }
  return best;
}

/// Rows between readings a period apart, if these are.
std::optional<Upsampling> with_period(const Rows& rows, double period_s, int degree, double row_s,
                                      double step_mps) {
  auto [upsampling, fits] = best_phase(rows, period_s, degree, row_s, step_mps);
  if (fits.share() < many) {
    return std::nullopt;
  }
  Upsampling half_off = upsampling;
  half_off.phase_s += 0.5 * period_s;
  const Fitting off = fitting(rows, half_off, step_mps);
  const double most = fits.share() < nearly_all ? few_between : most_between;
  if (off.pieces < enough_pieces || off.share() > most) {
    return std::nullopt;
  }
  if (degree == 1) {
    Joints joints = joints_of(rows, upsampling, step_mps);
    upsampling.extrapolated =
        !joints.jump.empty() && numeric::quantile(std::move(joints.jump), 0.5) > jump_of_bend;
    if (!upsampling.extrapolated && !joints.meeting_s.empty()) {
      upsampling.phase_s += numeric::quantile(std::move(joints.meeting_s), 0.5);
    }
  }
  return upsampling;
}

/// Value of two neighbouring pieces where they meet; of the longer one where the other is too short to tell.
template <typename Value>
double meeting_of(const Rows& rows, const Piece& a, const Piece& b, int degree, double knot_s,
                  const Value& value) {
  const auto at_knot = [&](const Piece& piece) {
    std::vector<double> y;
    for (std::size_t i = piece.begin; i < piece.end; ++i) {
      y.push_back(value(i));
    }
    return numeric::Polynomial(std::span(rows.t_s).subspan(piece.begin, piece.rows()), y, degree).at(knot_s);
  };
  const auto enough = static_cast<std::size_t>(degree) + 1;
  if (a.rows() < enough || b.rows() < enough) {
    return at_knot(a.rows() < b.rows() ? b : a);
  }
  return 0.5 * (at_knot(a) + at_knot(b));
}

}  // namespace

std::optional<Upsampling> upsampling_of(const std::vector<const Fix*>& fixes, double step_mps) {
  const double step = step_mps > 0.0 ? step_mps : finest_step_mps;
  if (fixes.size() < 3 * enough_pieces) {
    return std::nullopt;
  }
  const Rows rows = rows_of(fixes);
  std::vector<double> rows_s;
  for (std::size_t i = 1; i < rows.t_s.size(); ++i) {
    rows_s.push_back(rows.t_s[i] - rows.t_s[i - 1]);
  }
  const double row_s = std::max(numeric::quantile(std::move(rows_s), 0.5), 1e-3);
  for (const int degree : {1, 3}) {
    if (!may_be_of_degree(rows, degree, step)) {
      continue;
    }
    for (const double period_s : {2.0, 1.0, 0.5, 0.25, 0.2}) {
      if (period_s >= (degree == 1 ? least_rows : least_rows_of_cubic) * row_s) {
        if (const auto found = with_period(rows, period_s, degree, row_s, step)) {
          return found;
        }
      }
    }
  }
  return std::nullopt;
}

std::vector<Fix> readings_of(const std::vector<const Fix*>& fixes, const Upsampling& upsampling,
                             double step_mps) {
  const double step = step_mps > 0.0 ? step_mps : finest_step_mps;
  const Rows rows = rows_of(fixes);
  const std::vector<Piece> pieces = pieces_of(rows, upsampling, rows.t_s.size());
  std::vector<Fix> out;
  out.reserve(pieces.size());
  for (std::size_t k = upsampling.extrapolated ? 0 : 1; k < pieces.size(); ++k) {
    const Piece& b = pieces[k];
    if (upsampling.extrapolated) {
      out.push_back(*fixes[b.begin]);
      continue;
    }
    const Piece& a = pieces[k - 1];
    if (b.period != a.period + 1) {
      continue;
    }
    const double knot_s = upsampling.phase_s + static_cast<double>(b.period) * upsampling.period_s;
    const auto meeting = [&](const auto& value) {
      return meeting_of(rows, a, b, upsampling.degree, knot_s, value);
    };
    const bool nearer = rows.t_s[b.begin] - knot_s < knot_s - rows.t_s[a.end - 1];
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
