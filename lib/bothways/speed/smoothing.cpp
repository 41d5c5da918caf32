// docs/method.md, eq. (1.7): tau = tau_s, taper = taper_s, unevenness = uneven_s2.
#include "bothways/speed/smoothing.hpp"

#include "bothways/speed/known_lag.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <vector>

namespace bothways {

namespace {

// Smoothing of receivers (facts: raw Doppler none, one phone 0 to 0.2 s, others 0.2 to 0.7 s; loggers of
// athletes some 0.15 to 0.3 s by what they do to a sprint [HOPPE18]). Below 4 fixes a second most are phones.
constexpr std::array<double, 11> taus_s{
    0.0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.65, longest_smoothing_s};
constexpr std::array<double, 11> prior_fast{0.34, 0.16, 0.12, 0.11, 0.08, 0.07, 0.06, 0.04, 0.02};
constexpr std::array<double, 11> prior_slow{0.23, 0.10, 0.10, 0.10, 0.11, 0.11, 0.09, 0.07, 0.05, 0.03, 0.01};
// Of receivers with the acceleration in the state of their tracker; slow logs show nothing of how one
// settles.
constexpr double tracker_share = 0.15;
constexpr std::array<double, 6> tracker_taus_s{0.1, 0.17, 0.25, 0.35, 0.47, 0.6};
constexpr std::array<double, 6> tracker_prior{0.28, 0.27, 0.22, 0.13, 0.07, 0.03};
constexpr double least_tracker_weight = 0.02;
// How a driver eases the brake at the end: gamma laws of the taper, of mean shape * scale_s. One of them
// holds for all stops of a log; some drivers do it each time alike, or from a speed on: the taper is that
// speed over the deceleration (common practice, no source).
struct TaperHabit {
  double prior = 0.0;
  double shape = 1.0;
  double scale_s = 0.2;
  double scale_mps = 0.0;  // in place of scale_s
};
constexpr std::array taper_habits{TaperHabit{0.18, 1.0, 0.1},         TaperHabit{0.18, 1.0, 0.2},
                                  TaperHabit{0.10, 1.0, 0.4},         TaperHabit{0.05, 4.0, 0.05},
                                  TaperHabit{0.05, 4.0, 0.1},         TaperHabit{0.05, 4.0, 0.15},
                                  TaperHabit{0.05, 16.0, 0.012},      TaperHabit{0.05, 16.0, 0.018},
                                  TaperHabit{0.05, 16.0, 0.025},      TaperHabit{0.05, 16.0, 0.032},
                                  TaperHabit{0.05, 16.0, 0.042},      TaperHabit{0.035, 16.0, 0.0, 0.03},
                                  TaperHabit{0.035, 16.0, 0.0, 0.05}, TaperHabit{0.035, 16.0, 0.0, 0.08},
                                  TaperHabit{0.035, 16.0, 0.0, 0.12}};
constexpr double common_uneven_s2 = 0.025;  // sd of what all brakes of a vehicle may have in common
constexpr double odd_share = 0.1;           // of brakes: anything
constexpr double odd_sd_s2 = 0.3;
constexpr double odd_rebound_sd_s2 = 0.1;
constexpr std::array<double, 4> band_ends{0.35, 0.7, 0.9, 1.0};  // of the posterior, a candidate each
constexpr double alike_s = 0.05;                                 // bands whose tau differ by less are one

double normal_density(double off, double sd) {
  return std::exp(-0.5 * off * off / (sd * sd)) / sd;
}

constexpr std::size_t taper_steps = 32;
constexpr double longest_taper_s = 1.6;
using OverTapers = std::array<double, taper_steps>;

double taper_at(std::size_t step) {
  return longest_taper_s * (static_cast<double>(step) + 0.5) / taper_steps;
}

/// p(taper | habit) of each habit, in a brake; the sum over the tapers is 1.
std::array<OverTapers, taper_habits.size()> laws_of_tapers(double decel_mps2) {
  std::array<OverTapers, taper_habits.size()> laws{};
  for (std::size_t h = 0; h < laws.size(); ++h) {
    const TaperHabit& habit = taper_habits[h];
    const double scale_s = habit.scale_mps > 0.0 ? habit.scale_mps / decel_mps2 : habit.scale_s;
    double total = 0.0;
    for (std::size_t i = 0; i < taper_steps; ++i) {
      const double x = taper_at(i) / scale_s;
      laws[h][i] = std::exp((habit.shape - 1.0) * std::log(x) - x);
      total += laws[h][i];
    }
    for (double& p : laws[h]) {
      p /= total;
    }
  }
  return laws;
}

/// What a critically damped tracker shows of a rebound after a straight taper, by integration; sampled ten
/// times a second, the lowest reading is not the lowest speed.
double rebound_of_tracker_s2(double tau_square_s2, double taper_square_s2) {
  constexpr double sampled = 0.7;
  return sampled * tau_square_s2 * std::exp(-0.03 * taper_square_s2 / tau_square_s2);
}

/// p(end of a brake | filter, taper, common unevenness), of each taper.
OverTapers likelihoods(const BrakeEnd& end, const SpeedFilter& filter, double uneven_s2) {
  const double square_s2 = filter.lag_s * filter.lag_s;
  OverTapers out{};
  for (std::size_t i = 0; i < taper_steps; ++i) {
    const double taper_s2 = taper_at(i) * taper_at(i);
    // A tracker's speed swings through zero at a stop, and as a length the swing is travel: 2 tau^2 in (1.7).
    const double spread_s2 = (filter.tracks_acceleration ? 2.0 : 1.0) * square_s2;
    const double rebound_s2 = filter.tracks_acceleration ? rebound_of_tracker_s2(square_s2, taper_s2) : 0.0;
    out[i] = normal_density(end.spread_s2 - spread_s2 - taper_s2 - uneven_s2, end.sd_s2) *
             normal_density(std::max(0.0, end.rebound.over_decel_s2) - rebound_s2, end.rebound.sd_s2);
  }
  return out;
}

struct BrakeOfHabits {
  BrakeEnd end;
  std::array<OverTapers, taper_habits.size()> laws;
};

/// log p(ends of all brakes | filter): one driver's habit, and all brakes of a vehicle may be uneven
/// alike.
double log_likelihood(const std::vector<BrakeOfHabits>& ends, const SpeedFilter& filter) {
  constexpr std::array<double, 5> offs{-2.0, -1.0, 0.0, 1.0, 2.0};
  std::vector<double> log_p;
  for (const double off : offs) {
    std::array<double, taper_habits.size()> sum{};
    for (const auto& [end, laws] : ends) {
      const OverTapers p = likelihoods(end, filter, off * common_uneven_s2);
      const double odd = odd_share * normal_density(end.spread_s2, odd_sd_s2) *
                         normal_density(end.rebound.over_decel_s2, odd_rebound_sd_s2);
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

/// Two candidates as one, with the root mean square of their time constants.
Smoothing joined(const Smoothing& a, const Smoothing& b) {
  const double weight = a.weight + b.weight;
  const double squares =
      a.weight * a.filter.lag_s * a.filter.lag_s + b.weight * b.filter.lag_s * b.filter.lag_s;
  return {{std::sqrt(squares / weight), a.filter.tracks_acceleration}, weight};
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
    const Smoothing band{{std::sqrt(squares / (end - begin))}, end - begin};
    if (out.empty() || band.filter.lag_s > out.back().filter.lag_s + alike_s) {
      out.push_back(band);
    } else {
      out.back() = joined(out.back(), band);
    }
    begin = end;
  }
  return out;
}

/// Trackers of the posterior, two and two as one.
std::vector<Smoothing> trackers(const std::array<double, tracker_taus_s.size()>& weight) {
  std::vector<Smoothing> out;
  for (std::size_t k = 0; k < weight.size(); k += 2) {
    const Smoothing both =
        joined({{tracker_taus_s[k], true}, weight[k]}, {{tracker_taus_s[k + 1], true}, weight[k + 1]});
    if (both.weight > least_tracker_weight) {
      out.push_back(both);
    }
  }
  return out;
}

std::vector<Smoothing> candidates(std::array<double, taus_s.size()> low_pass,
                                  std::array<double, tracker_taus_s.size()> tracker, double total) {
  for (double& weight : tracker) {
    weight /= total;
  }
  std::vector<Smoothing> tracking = trackers(tracker);
  const double tracked = std::accumulate(tracking.begin(), tracking.end(), 0.0,
                                         [](double sum, const Smoothing& s) { return sum + s.weight; });
  const double passed = std::accumulate(low_pass.begin(), low_pass.end(), 0.0);
  for (double& weight : low_pass) {
    weight /= passed;
  }
  std::vector<Smoothing> out = in_bands(low_pass);
  for (Smoothing& s : out) {
    s.weight *= 1.0 - tracked;
  }
  out.insert(out.end(), tracking.begin(), tracking.end());
  return out;
}

/// Adds the filters that a lag of the speeds speaks for, of which brakes tell a low pass from the others.
/// @param others      weights sum to 1
/// @param evidence    of the brakes for them
/// @param likelihood  of the brakes, of tau
template <typename Likelihood>
std::vector<Smoothing> with_known_lag(std::vector<Smoothing> others, double evidence,
                                      const Receiver& receiver, Likelihood&& likelihood) {
  std::vector<Smoothing> late = filters_of_known_lag(receiver);
  double left = 1.0;
  double low_pass = 0.0;
  for (const Smoothing& s : late) {
    left -= s.weight;
    low_pass += s.filter.feedthrough == 0.0 ? s.weight : 0.0;
  }
  double total = left * evidence;
  for (Smoothing& s : late) {
    if (s.filter.feedthrough == 0.0) {
      s.weight *= likelihood(s.filter.lag_s);
      total += s.weight;
    }
  }
  const double scale = (left + low_pass) / total;
  for (Smoothing& s : late) {
    s.weight *= s.filter.feedthrough == 0.0 ? scale : 1.0;
  }
  for (Smoothing& s : others) {
    s.weight *= left * evidence * scale;
  }
  others.insert(others.end(), late.begin(), late.end());
  return others;
}

}  // namespace

std::vector<Smoothing> smoothing_posterior(const std::vector<BrakeEnd>& ends, const Receiver& receiver) {
  std::vector<BrakeOfHabits> brakes;
  brakes.reserve(ends.size());
  for (const BrakeEnd& end : ends) {
    brakes.push_back({end, laws_of_tapers(end.decel_mps2)});
  }
  const bool slow = receiver.rate_hz < phone_speeds_below_hz;
  const double share = slow ? 0.0 : tracker_share;
  std::array<double, taus_s.size()> low_pass = slow ? prior_slow : prior_fast;
  std::array<double, tracker_taus_s.size()> tracker = tracker_prior;
  std::array<double, taus_s.size()> log_low_pass{};
  std::array<double, tracker_taus_s.size()> log_tracker{};
  for (std::size_t k = 0; k < taus_s.size(); ++k) {
    log_low_pass[k] = log_likelihood(brakes, {taus_s[k]});
  }
  for (std::size_t k = 0; k < tracker_taus_s.size(); ++k) {
    log_tracker[k] = log_likelihood(brakes, {tracker_taus_s[k], true});
  }
  const double most = std::max(*std::max_element(log_low_pass.begin(), log_low_pass.end()),
                               *std::max_element(log_tracker.begin(), log_tracker.end()));
  double total = 0.0;
  for (std::size_t k = 0; k < taus_s.size(); ++k) {
    low_pass[k] *= (1.0 - share) * std::exp(log_low_pass[k] - most);
    total += low_pass[k];
  }
  for (std::size_t k = 0; k < tracker_taus_s.size(); ++k) {
    tracker[k] *= share * std::exp(log_tracker[k] - most);
    total += tracker[k];
  }
  return with_known_lag(candidates(low_pass, tracker, total), total, receiver,
                        [&](double tau_s) { return std::exp(log_likelihood(brakes, {tau_s}) - most); });
}

}  // namespace bothways
