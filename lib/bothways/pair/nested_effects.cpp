// docs/method.md, eqs. (7.1) x = X mu + ...; (7.2): marginalised(), with L = matrix, n = vector.
#include "bothways/pair/nested_effects.hpp"

#include "bothways/numeric/square.hpp"

#include <Eigen/Core>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <stdexcept>
#include <tuple>

namespace bothways {

namespace {

using numeric::square;

constexpr double least_own_sd = 1e-6;  // s: a time without any error

template <int sides>
using Square = Eigen::Matrix<double, sides, sides>;

/// log p(x | mu) = -mu' L mu / 2 + n' mu + c.
template <int sides>
struct Information {
  Square<sides> matrix = Square<sides>::Zero();
  Eigen::Matrix<double, sides, 1> vector = Eigen::Matrix<double, sides, 1>::Zero();
  double constant = 0.0;
};

template <int sides>
void add(Information<sides>& to, const Information<sides>& one) {
  to.matrix += one.matrix;
  to.vector += one.vector;
  to.constant += one.constant;
}

/// The same after an effect N(0, D) on mu has been integrated out.
template <int sides>
Information<sides> marginalised(const Information<sides>& info, const Square<sides>& d) {
  if (d.isZero(0.0)) {
    return info;
  }
  const Square<sides> m = Square<sides>::Identity() + d * info.matrix;
  const Square<sides> inverse = m.inverse();
  Information<sides> out;
  out.matrix = info.matrix * inverse;
  out.vector = inverse.transpose() * info.vector;
  out.constant = info.constant - 0.5 * std::log(m.determinant()) + 0.5 * info.vector.dot(d * out.vector);
  return out;
}

using Outcomes = std::span<const Outcome>;

/// Calls action(part) for each run of outcomes with one key.
template <class Key, class Action>
void for_each_part(Outcomes outcomes, const Key& key, const Action& action) {
  for (std::size_t from = 0; from < outcomes.size();) {
    std::size_t to = from + 1;
    while (to < outcomes.size() && key(outcomes[to]) == key(outcomes[from])) {
      ++to;
    }
    action(outcomes.subspan(from, to - from));
    from = to;
  }
}

/// Mean square of a known sd over outcomes.
template <class Sd>
double mean_square(Outcomes outcomes, const Sd& sd) {
  double sum = 0.0;
  for (const Outcome& o : outcomes) {
    sum += square(sd(o));
  }
  return sum / static_cast<double>(outcomes.size());
}

/// A block at a given scatter of pairs. It is of one side, so its mean and two sums say all.
struct Block {
  int side = 0;
  double precision = 0.0;
  double mean = 0.0;
  double constant = 0.0;  ///< log p(its outcomes | its mean is right), twice and with the sign changed
};

/// A log: its blocks, and the variance that all of it shares.
struct LogGroup {
  std::vector<Outcomes> blocks;
  double shared = 0.0;
};

/// A day: its logs, and the known variances that its sides and all of it share.
struct DayGroup {
  std::vector<LogGroup> logs;
  double visit = 0.0;
  double shared = 0.0;
};

std::vector<DayGroup> days_of(const Nest& nest) {
  std::vector<DayGroup> days;
  for_each_part(
      nest.outcomes, [](const Outcome& o) { return o.day; },
      [&](Outcomes day) {
        days.push_back({{},
                        mean_square(day, [](const Outcome& o) { return o.visit_sd; }),
                        mean_square(day, [](const Outcome& o) { return o.day_sd; })});
        for_each_part(
            day, [](const Outcome& o) { return o.log; },
            [&](Outcomes log) {
              days.back().logs.push_back({{}, mean_square(log, [](const Outcome& o) { return o.log_sd; })});
              for_each_part(
                  log, [](const Outcome& o) { return o.block; },
                  [&](Outcomes block) { days.back().logs.back().blocks.push_back(block); });
            });
      });
  return days;
}

Block block_of(Outcomes outcomes, double pair_s) {
  Block block{.side = outcomes.front().side};
  double weighted = 0.0;
  double squares = 0.0;
  double log_variances = 0.0;
  for (const Outcome& o : outcomes) {
    const double variance = square(std::max(o.own_sd, least_own_sd)) + square(pair_s);
    block.precision += o.count / variance;
    weighted += o.count * o.value / variance;
    squares += (o.count * o.value * o.value + o.squares) / variance;
    log_variances += o.count * std::log(variance);
  }
  block.mean = weighted / block.precision;
  block.constant = log_variances + squares - weighted * block.mean;
  return block;
}

template <int sides>
Information<sides> block_information(const Block& block, double block_s) {
  const double variance = 1.0 / block.precision + square(block_s);
  Information<sides> info;
  info.matrix(block.side, block.side) = 1.0 / variance;
  info.vector(block.side) = block.mean / variance;
  info.constant =
      -0.5 * (block.constant + std::log(block.precision * variance) + square(block.mean) / variance);
  return info;
}

/// What each day's logs say of mu at given scatters of pairs, in `blocks`, and of blocks.
template <int sides>
std::vector<Information<sides>> day_sums(const std::vector<DayGroup>& days, const std::vector<Block>& blocks,
                                         double block_s) {
  std::vector<Information<sides>> sums;
  auto block = blocks.begin();
  for (const DayGroup& day : days) {
    sums.emplace_back();
    for (const LogGroup& log : day.logs) {
      Information<sides> of_log;
      for (std::size_t i = 0; i < log.blocks.size(); ++i) {
        add(of_log, block_information<sides>(*block++, block_s));
      }
      add(sums.back(), marginalised<sides>(of_log, log.shared * Square<sides>::Ones()));
    }
  }
  return sums;
}

template <int sides>
Solved solved(const Nest& nest, const std::vector<DayGroup>& days,
              const std::vector<Information<sides>>& sums, double day_s) {
  Information<sides> all;
  for (std::size_t k = 0; k < days.size(); ++k) {
    Square<sides> d = (square(day_s) + days[k].shared) * Square<sides>::Ones();
    d.diagonal().array() += days[k].visit;
    add(all, marginalised<sides>(sums[k], d));
  }
  const Square<sides> covariance = all.matrix.inverse();
  const Eigen::Matrix<double, sides, 1> mean = covariance * all.vector;
  Solved out;
  out.log_likelihood = all.constant + 0.5 * all.vector.dot(mean) - 0.5 * std::log(all.matrix.determinant());
  for (std::size_t i = 0; i < sides; ++i) {
    out.mean[i] = mean(static_cast<Eigen::Index>(i)) + nest.centre;
    for (std::size_t j = 0; j < sides; ++j) {
      out.covariance[i][j] = covariance(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
    }
  }
  return out;
}

template <int sides>
std::vector<Solved> solve_sides(const Nest& nest, const ScatterValues& scatters) {
  const std::vector<DayGroup> days = days_of(nest);
  std::vector<Solved> out;
  out.reserve(scatters.pair_s.size() * scatters.block_s.size() * scatters.day_s.size());
  for (const double pair_s : scatters.pair_s) {
    std::vector<Block> blocks;
    for (const DayGroup& day : days) {
      for (const LogGroup& log : day.logs) {
        std::transform(log.blocks.begin(), log.blocks.end(), std::back_inserter(blocks),
                       [&](Outcomes block) { return block_of(block, pair_s); });
      }
    }
    for (const double block_s : scatters.block_s) {
      const auto sums = day_sums<sides>(days, blocks, block_s);
      for (const double day_s : scatters.day_s) {
        out.push_back(solved<sides>(nest, days, sums, day_s));
      }
    }
  }
  return out;
}

}  // namespace

Nest nest_of(std::span<const Outcome> outcomes, int sides) {
  Nest nest{.sides = sides, .outcomes = {outcomes.begin(), outcomes.end()}};
  std::vector<bool> has(static_cast<std::size_t>(sides), false);
  for (const Outcome& o : nest.outcomes) {
    if (!std::isfinite(o.value + o.own_sd + o.log_sd + o.visit_sd + o.day_sd) || o.side < 0 ||
        o.side >= sides) {
      throw std::invalid_argument("an outcome of the mixed model is not finite, or of no side");
    }
    has[static_cast<std::size_t>(o.side)] = true;
    nest.centre += o.value / static_cast<double>(outcomes.size());
  }
  if (std::find(has.begin(), has.end(), false) != has.end()) {
    throw std::invalid_argument("a side of the mixed model has no outcome");
  }
  std::stable_sort(nest.outcomes.begin(), nest.outcomes.end(), [](const Outcome& a, const Outcome& b) {
    return std::tie(a.day, a.log, a.block) < std::tie(b.day, b.log, b.block);
  });
  for (Outcome& o : nest.outcomes) {
    o.value -= nest.centre;
  }
  return nest;
}

double spread_of(const Nest& nest) {
  return std::sqrt(mean_square(
      nest.outcomes, [](const Outcome& o) { return std::hypot(o.value, std::sqrt(o.squares / o.count)); }));
}

std::vector<Solved> solve(const Nest& nest, const ScatterValues& scatters) {
  return nest.sides == 1 ? solve_sides<1>(nest, scatters) : solve_sides<2>(nest, scatters);
}

Solved solve(const Nest& nest, const Scatters& scatter) {
  return solve(nest, ScatterValues{{scatter.pair_s}, {scatter.block_s}, {scatter.day_s}}).front();
}

}  // namespace bothways
