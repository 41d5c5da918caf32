// docs/method.md, eq. (1.7): 2 D / a = spread_s2, tau = tau_s, taper = taper_s, unevenness = uneven_s2.
#include "bothways/speed/smoothing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>

namespace bothways {

namespace {

// A brake is looked at between these speeds, for its straight line, and for so long after it.
constexpr double line_from_mps = 4.0;
constexpr double line_to_mps = 1.0;
constexpr double longest_brake_s = 4.0;
constexpr double tail_s = 1.5;
constexpr double most_hold_mps = 0.3;
constexpr double least_decel_mps2 = 0.8;
constexpr std::size_t least_line_rows = 3;
constexpr double uneven_share = 0.15;  // of the travel below the line: no brake is quite even

// Smoothing of receivers (facts: raw Doppler none, one phone 0 to 0.2 s, others 0.2 to 0.7 s; loggers of
// athletes some 0.15 to 0.3 s by what they do to a sprint [HOPPE18]). Below 4 fixes a second most are phones.
constexpr std::array<double, 9> taus_s{0.0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5};
constexpr std::array<double, 9> prior_fast{0.34, 0.16, 0.12, 0.11, 0.08, 0.07, 0.06, 0.04, 0.02};
constexpr std::array<double, 9> prior_slow{0.24, 0.10, 0.10, 0.11, 0.12, 0.12, 0.09, 0.07, 0.05};
constexpr double phone_speeds_below_hz = 4.0;
// How a driver eases the brake at the end: gamma laws of the taper, of mean scale_s * shape. One of them
// holds for all stops of a log; some drivers do it each time alike (common practice, no source).
struct TaperHabit {
  double prior = 0.0;
  double shape = 1.0;
  double scale_s = 0.2;
};
constexpr std::array taper_habits{
    TaperHabit{0.20, 1.0, 0.1},    TaperHabit{0.20, 1.0, 0.2},    TaperHabit{0.12, 1.0, 0.4},
    TaperHabit{0.06, 4.0, 0.05},   TaperHabit{0.06, 4.0, 0.1},    TaperHabit{0.06, 4.0, 0.15},
    TaperHabit{0.06, 16.0, 0.012}, TaperHabit{0.06, 16.0, 0.018}, TaperHabit{0.06, 16.0, 0.025},
    TaperHabit{0.06, 16.0, 0.032}, TaperHabit{0.06, 16.0, 0.042}};
constexpr double common_uneven_s2 = 0.025;  // sd of what all brakes of a vehicle may have in common
constexpr double odd_share = 0.1;           // of brakes: anything
constexpr double odd_sd_s2 = 0.3;
constexpr double lag_is_smoothing = 0.5;  // probability that speeds late by a lag are smoothed by it
constexpr double least_lag_sd_s = 0.03;
constexpr std::array<double, 4> band_ends{0.35, 0.7, 0.9, 1.0};  // of the posterior, a candidate each
constexpr double alike_s = 1e-6;                                 // bands whose tau is the same are one

/// The straight line of a brake: v = decel (zero_s - t).
struct BrakeLine {
  double decel_mps2 = 0.0;
  double zero_s = 0.0;
  double sd_at_end_mps = 0.0;  ///< of the line's speed where it ends
};

std::optional<BrakeLine> brake_line(const Stretch& s, std::size_t begin, std::size_t end, double noise_mps) {
  const auto n = static_cast<double>(end - begin);
  double mean_t = 0.0;
  double mean_v = 0.0;
  for (std::size_t i = begin; i < end; ++i) {
    mean_t += s.t_s[i] / n;
    mean_v += s.v_mps[i] / n;
  }
  double tt = 0.0;
  double tv = 0.0;
  for (std::size_t i = begin; i < end; ++i) {
    tt += (s.t_s[i] - mean_t) * (s.t_s[i] - mean_t);
    tv += (s.t_s[i] - mean_t) * (s.v_mps[i] - mean_v);
  }
  const double decel = -tv / tt;
  if (!(decel > least_decel_mps2)) {
    return std::nullopt;
  }
  const double to_end = s.t_s[end - 1] - mean_t;
  return BrakeLine{decel, mean_t + mean_v / decel, noise_mps * std::sqrt(1.0 / n + to_end * to_end / tt)};
}

/// Speed of a reading near rest, the mean length of its noise taken off.
double above_noise(double v_mps, const Receiver& r) {
  const double mean_length = r.standing_axes == 2 ? 1.25 : 0.80;  // of normal noise, in its sd
  return v_mps < 2.5 * r.standing_sd_mps ? v_mps - mean_length * r.standing_sd_mps : v_mps;
}

/// Whether the end of a brake is written, and not held to 0 from some speed on: what is then not written is
/// just what tells of smoothing.
bool is_written_to_the_end(const Stretch& s, std::size_t from, std::size_t to, double hold_mps) {
  constexpr double hardly_moving_mps = 0.12;
  for (std::size_t i = from; i <= to && hold_mps > hardly_moving_mps; ++i) {
    if (s.v_mps[i] == 0.0) {
      return s.v_mps[i - 1] < hardly_moving_mps;
    }
  }
  return true;
}

/// The brake that comes to rest at a row, if it is straight and the vehicle then stands.
std::optional<BrakeEnd> brake_end_at(const Stretch& s, std::size_t rest, const Receiver& r, double rest_mps) {
  std::size_t end = rest;
  while (end > 0 && s.v_mps[end - 1] < line_to_mps) {
    --end;
  }
  std::size_t begin = end;
  while (begin > 0 && s.v_mps[begin - 1] > s.v_mps[begin] - 0.3 && s.v_mps[begin - 1] < line_from_mps &&
         s.t_s[rest] - s.t_s[begin - 1] < longest_brake_s) {
    --begin;
  }
  const double noise_mps = total_noise_mps(r);
  const auto line = end - begin >= least_line_rows ? brake_line(s, begin, end, noise_mps) : std::nullopt;
  if (!line || s.t_s[rest] - s.t_s[end - 1] > tail_s) {
    return std::nullopt;
  }
  double travel_m = 0.0;
  double squares = 0.0;
  std::size_t i = end - 1;
  for (; i + 1 < s.t_s.size() && s.t_s[i] < line->zero_s + tail_s; ++i) {
    const double dt_s = s.t_s[i + 1] - s.t_s[i];
    if (i >= rest && s.v_mps[i] > 2.0 * rest_mps) {
      return std::nullopt;  // it went on
    }
    travel_m += 0.5 * dt_s * (above_noise(s.v_mps[i], r) + above_noise(s.v_mps[i + 1], r));
    squares += dt_s * dt_s * noise_mps * noise_mps;
  }
  if (s.t_s[i] < line->zero_s + tail_s || !is_written_to_the_end(s, end, i, r.zero_hold_mps)) {
    return std::nullopt;
  }
  const double left_s = std::max(0.0, line->zero_s - s.t_s[end - 1]);
  const double below_m = 0.5 * line->decel_mps2 * left_s * left_s;
  const double sd_m =
      std::sqrt(squares + std::pow(left_s * line->sd_at_end_mps, 2) + std::pow(uneven_share * below_m, 2));
  return BrakeEnd{2.0 * (travel_m - below_m) / line->decel_mps2, 2.0 * sd_m / line->decel_mps2};
}

double normal_density(double off, double sd) {
  return std::exp(-0.5 * off * off / (sd * sd)) / sd;
}

constexpr std::size_t taper_steps = 32;
constexpr double longest_taper_s = 1.6;
using OverTapers = std::array<double, taper_steps>;

double taper_at(std::size_t step) {
  return longest_taper_s * (static_cast<double>(step) + 0.5) / taper_steps;
}

/// p(taper | habit) of each habit; the sum over the tapers is 1.
std::array<OverTapers, taper_habits.size()> laws_of_tapers() {
  std::array<OverTapers, taper_habits.size()> laws{};
  for (std::size_t h = 0; h < laws.size(); ++h) {
    double total = 0.0;
    for (std::size_t i = 0; i < taper_steps; ++i) {
      const double taper_s = taper_at(i);
      laws[h][i] =
          std::pow(taper_s, taper_habits[h].shape - 1.0) * std::exp(-taper_s / taper_habits[h].scale_s);
      total += laws[h][i];
    }
    for (double& p : laws[h]) {
      p /= total;
    }
  }
  return laws;
}

/// p(end of a brake | smoothing, taper, common unevenness), of each taper.
OverTapers likelihoods(const BrakeEnd& end, double tau_s, double uneven_s2) {
  OverTapers out{};
  for (std::size_t i = 0; i < taper_steps; ++i) {
    const double taper_s = taper_at(i);
    out[i] = normal_density(end.spread_s2 - tau_s * tau_s - taper_s * taper_s - uneven_s2, end.sd_s2);
  }
  return out;
}

/// log p(ends of all brakes | smoothing): one driver's habit, and all brakes of a vehicle may be uneven
/// alike.
double log_likelihood(const std::vector<BrakeEnd>& ends, double tau_s) {
  static const auto laws = laws_of_tapers();
  constexpr std::array<double, 5> offs{-2.0, -1.0, 0.0, 1.0, 2.0};
  std::vector<double> log_p;
  for (const double off : offs) {
    std::array<double, taper_habits.size()> sum{};
    for (const BrakeEnd& end : ends) {
      const OverTapers p = likelihoods(end, tau_s, off * common_uneven_s2);
      const double odd = odd_share * normal_density(end.spread_s2, odd_sd_s2);
      for (std::size_t h = 0; h < taper_habits.size(); ++h) {
        sum[h] +=
            std::log((1.0 - odd_share) * std::inner_product(p.begin(), p.end(), laws[h].begin(), 0.0) + odd);
      }
    }
    for (std::size_t h = 0; h < taper_habits.size(); ++h) {
      log_p.push_back(std::log(taper_habits[h].prior) - 0.5 * off * off + sum[h]);
    }
  }
  const double most = *std::max_element(log_p.begin(), log_p.end());
  double total = 0.0;
  for (const double l : log_p) {
    total += std::exp(l - most);
  }
  return most + std::log(total);
}

std::array<double, taus_s.size()> prior_of(const Receiver& r) {
  std::array<double, taus_s.size()> prior = r.rate_hz < phone_speeds_below_hz ? prior_slow : prior_fast;
  const double sd_s = std::max(r.lag_sd_s, least_lag_sd_s);
  if (r.lag_s < 2.0 * sd_s) {
    return prior;
  }
  double sum = 0.0;
  for (const double tau_s : taus_s) {
    sum += normal_density(r.lag_s - tau_s, sd_s);
  }
  for (std::size_t i = 0; i < taus_s.size() && sum > 0.0; ++i) {
    prior[i] = (1.0 - lag_is_smoothing) * prior[i] +
               lag_is_smoothing * normal_density(r.lag_s - taus_s[i], sd_s) / sum;
  }
  return prior;
}

/// Candidates that stand for bands of the posterior, its upper tail too, each with the root mean square tau
/// of its band: a time from rest is off by the square of tau.
std::vector<Smoothing> in_bands(const std::array<double, taus_s.size()>& weight) {
  std::vector<Smoothing> out;
  std::size_t k = 0;
  double left = weight[0];  // of the tau in hand, for the bands to come
  double begin = 0.0;
  for (const double end : band_ends) {
    double squares = 0.0;
    for (double room = end - begin; room > 0.0 && k < taus_s.size();) {
      const double taken = std::min(room, left);
      squares += taken * taus_s[k] * taus_s[k];
      room -= taken;
      left -= taken;
      if (left <= 0.0 && ++k < taus_s.size()) {
        left = weight[k];
      }
    }
    const double tau_s = std::sqrt(squares / (end - begin));
    if (out.empty() || tau_s > out.back().lag_s + alike_s) {
      out.push_back({tau_s, 0.0});
    }
    out.back().weight += end - begin;
    begin = end;
  }
  return out;
}

}  // namespace

std::vector<BrakeEnd> brake_ends(const std::vector<Stretch>& stretches, const Receiver& receiver,
                                 double rest_mps) {
  std::vector<BrakeEnd> out;
  if (receiver.zero_hold_mps > most_hold_mps) {
    return out;  // the end of a brake is not written
  }
  for (const Stretch& s : stretches) {
    bool rode = false;  // since the last rest
    for (std::size_t i = 1; i < s.t_s.size(); ++i) {
      rode = rode || s.v_mps[i] > line_from_mps;
      if (rode && s.v_mps[i] < rest_mps) {
        rode = false;
        if (const auto end = brake_end_at(s, i, receiver, rest_mps)) {
          out.push_back(*end);
        }
      }
    }
  }
  return out;
}

std::vector<Smoothing> smoothing_posterior(const std::vector<BrakeEnd>& ends, const Receiver& receiver) {
  std::array<double, taus_s.size()> log_weight{};
  const std::array<double, taus_s.size()> prior = prior_of(receiver);
  double most = -1e300;
  for (std::size_t k = 0; k < taus_s.size(); ++k) {
    log_weight[k] = std::log(prior[k]) + log_likelihood(ends, taus_s[k]);
    most = std::max(most, log_weight[k]);
  }
  double total = 0.0;
  for (double& w : log_weight) {
    w = std::exp(w - most);
    total += w;
  }
  for (double& w : log_weight) {
    w /= total;
  }
  return in_bands(log_weight);
}

}  // namespace bothways
