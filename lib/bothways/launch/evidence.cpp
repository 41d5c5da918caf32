#include "bothways/launch/evidence.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace bothways {

namespace {

constexpr double launch_span_s = 2.5;  // after the first moving reading
constexpr std::size_t least_launch_readings = 6;
constexpr double tempering_exponent = 0.35;  // the shapes are crude: about a third of what the evidence says
constexpr double smoothing_exponent = 0.25;  // of what is left, for the receiver's smoothing
constexpr double unlike_share = 0.25;        // probability that the launches are like none of the shapes
constexpr double least_of_best = 0.02;       // less likely hypotheses are not even stood for
constexpr double least_weight = 0.01;
constexpr double out_of_reach = 25.0;  // in log evidence behind the best: 9 for good, and one odd start
constexpr double near_best = 6.0;      // of the same smoothing: still tried
constexpr double hopeless = -600.0;    // exp of it still is a number
constexpr double ruled_out = -std::numeric_limits<double>::infinity();

/// Readings that tell launches apart: later ones say the same under every hypothesis.
LaunchWindow launch_part(const LaunchWindow& window) {
  LaunchWindow out{{}, window.range, window.at_rest};
  for (const Reading& reading : window.readings) {
    if (reading.t_s <= window.range.latest_s + launch_span_s || out.readings.size() < least_launch_readings) {
      out.readings.push_back(reading);
    }
  }
  return out;
}

double best_log_evidence(const std::vector<Evidence>& all) {
  double best = ruled_out;
  for (const Evidence& e : all) {
    best = std::max(best, e.log_evidence);
  }
  return best;
}

/// Adds one start's evidence to that of the hypotheses not yet ruled out.
void add_start(const std::vector<LaunchHypothesis>& hypotheses, const LaunchModel& model,
               const LaunchWindow& window, const LaunchGrid& grid, std::vector<Evidence>& evidence) {
  std::vector<LaunchHypothesis> tried;
  std::vector<std::size_t> at;
  for (std::size_t i = 0; i < hypotheses.size(); ++i) {
    if (evidence[i].log_evidence != ruled_out) {
      tried.push_back(hypotheses[i]);
      at.push_back(i);
    }
  }
  const std::vector<InstantPosterior> posteriors =
      instant_posteriors(launch_part(window), model, tried, grid);
  for (std::size_t i = 0; i < at.size(); ++i) {
    evidence[at[i]].log_evidence += posteriors[i].log_evidence;
    evidence[at[i]].clock_s.push_back(posteriors[i].mean_s() + tried[i].foot_s + tried[i].filter.delay_s());
  }
}

/// Those out of reach of the best, but for the best ones of each smoothing.
void rule_out(const std::vector<LaunchHypothesis>& hypotheses, std::vector<Evidence>& evidence) {
  const double best_of_all = best_log_evidence(evidence);
  std::map<SpeedFilter, double> best;
  for (std::size_t i = 0; i < hypotheses.size(); ++i) {
    const auto at = best.try_emplace(hypotheses[i].filter, ruled_out).first;
    at->second = std::max(at->second, evidence[i].log_evidence);
  }
  for (std::size_t i = 0; i < hypotheses.size(); ++i) {
    const double behind = best[hypotheses[i].filter] - evidence[i].log_evidence;
    if (behind > near_best && evidence[i].log_evidence < best_of_all - out_of_reach) {
      evidence[i].log_evidence = ruled_out;
    }
  }
}

/// A hypothesis in the mixture that is being reduced.
struct Component {
  std::size_t index = 0;
  double weight = 0.0;
  double own_weight = 0.0;
};

/// What it costs in spread to let one of two components stand for both.
double loss_of(const Component& a, const Component& b, const std::vector<Evidence>& evidence) {
  const std::vector<double>& one = evidence[a.index].clock_s;
  const std::vector<double>& other = evidence[b.index].clock_s;
  double squares = 0.0;
  for (std::size_t i = 0; i < one.size(); ++i) {
    squares += (one[i] - other[i]) * (one[i] - other[i]);
  }
  return squares * a.weight * b.weight / (a.weight + b.weight);
}

/// Mixture reduction: of the two components whose loss costs the least spread the likelier stands for both,
/// until `most` are left [WARD63].
std::vector<Component> reduced(std::vector<Component> all, const std::vector<Evidence>& evidence,
                               std::size_t most) {
  while (all.size() > most) {
    std::size_t one = 0;
    std::size_t other = 1;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < all.size(); ++i) {
      for (std::size_t k = i + 1; k < all.size(); ++k) {
        const double loss = loss_of(all[i], all[k], evidence);
        if (loss < least) {
          least = loss;
          one = i;
          other = k;
        }
      }
    }
    if (all[one].own_weight < all[other].own_weight) {
      std::swap(one, other);
    }
    all[one].weight += all[other].weight;
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(other));
  }
  return all;
}

double heaviest(const std::vector<Component>& all) {
  double best = 0.0;
  for (const Component& c : all) {
    best = std::max(best, c.weight);
  }
  return best;
}

/// Without those lighter than `least`; the weights of the others sum to 1.
std::vector<Component> normalised(const std::vector<Component>& all, double least) {
  std::vector<Component> out;
  double total = 0.0;
  for (const Component& c : all) {
    if (c.weight >= least) {
      out.push_back(c);
      total += c.weight;
    }
  }
  for (Component& c : out) {
    c.weight /= total;
  }
  return out;
}

/// Takes the launches' say on the smoothing back in part: a soft launch looks like a smoothed one, and the
/// shapes are crude. With a probability a launch is like none of them, and then says nothing of the
/// smoothing.
void temper_smoothing(const std::vector<LaunchHypothesis>& hypotheses, std::vector<Component>& components) {
  std::map<SpeedFilter, double> prior;
  std::map<SpeedFilter, double> posterior;
  double all_prior = 0.0;
  double all_posterior = 0.0;
  for (const Component& c : components) {
    const LaunchHypothesis& h = hypotheses[c.index];
    prior[h.filter] += h.prior;
    posterior[h.filter] += c.weight;
    all_prior += h.prior;
    all_posterior += c.weight;
  }
  double all_tempered = 0.0;
  std::map<SpeedFilter, double> tempered;
  for (const auto& [filter, p] : posterior) {
    const double odds = p / all_posterior / (prior[filter] / all_prior);
    tempered[filter] = p > 0.0 ? prior[filter] / all_prior * std::pow(odds, smoothing_exponent) : 0.0;
    all_tempered += tempered[filter];
  }
  for (Component& c : components) {
    const SpeedFilter& filter = hypotheses[c.index].filter;
    const double p =
        (1.0 - unlike_share) * tempered[filter] / all_tempered + unlike_share * prior[filter] / all_prior;
    c.weight = posterior[filter] > 0.0 ? c.weight / posterior[filter] * p : 0.0;
  }
}

}  // namespace

std::vector<Evidence> evidence_of(const std::vector<LaunchHypothesis>& hypotheses, const LaunchModel& model,
                                  const std::vector<LaunchWindow>& windows, const LaunchGrid& grid) {
  std::vector<Evidence> evidence(hypotheses.size());
  for (const LaunchWindow& window : windows) {
    add_start(hypotheses, model, window, grid, evidence);
    rule_out(hypotheses, evidence);
  }
  return evidence;
}

std::vector<WeightedHypothesis> weighted_hypotheses(const std::vector<LaunchHypothesis>& hypotheses,
                                                    const std::vector<Evidence>& evidence, std::size_t most) {
  const double best = best_log_evidence(evidence);
  std::vector<Component> components;
  for (std::size_t i = 0; i < hypotheses.size(); ++i) {
    if (evidence[i].log_evidence == ruled_out) {
      continue;
    }
    const double behind = tempering_exponent * (evidence[i].log_evidence - best);
    const double weight = hypotheses[i].prior * std::exp(std::max(behind, hopeless));
    components.push_back({i, weight, 0.0});
  }
  temper_smoothing(hypotheses, components);
  components = normalised(components, least_of_best * heaviest(components));
  for (Component& c : components) {
    c.own_weight = c.weight;
  }
  components = reduced(std::move(components), evidence, most);
  components = normalised(components, std::min(least_weight, heaviest(components)));
  std::stable_sort(components.begin(), components.end(),
                   [](const Component& a, const Component& b) { return a.own_weight > b.own_weight; });
  std::vector<WeightedHypothesis> out;
  out.reserve(components.size());
  for (const Component& c : components) {
    out.push_back({hypotheses[c.index], c.weight, c.own_weight, out.size()});
  }
  return out;
}

}  // namespace bothways
