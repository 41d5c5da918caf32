#include "bothways/run/pull.hpp"

#include "bothways/core/units.hpp"
#include "bothways/numeric/robust.hpp"
#include "bothways/run/road_line.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <optional>
#include <utility>

namespace bothways {

namespace {

// Common practice, no source, all of them.
constexpr double gentle_share = 0.75;  // of the log's best mean acceleration
constexpr std::size_t alike_starts = 3;
constexpr double alike_share = 0.75;
constexpr double least_compared_mps = 8.9;  // 20 mph: lower speeds are passed too quickly to tell
constexpr double clear_share = 0.03;        // of a pull: full throttle repeats to that
constexpr double below_own_top = 0.8;  // near its top speed slope and wind are all that tells starts apart
constexpr double most_of_top = 0.95;
constexpr double luck_of_best_sds = 1.0;  // of noise: the mean of the best of three
constexpr double own_luck_sds = 1.0;      // one start in six is that unlucky
constexpr double least_of_share = 0.85;   // else traffic starts count

// What a road does between its two directions.
constexpr double steepest = 0.03;       // a road that anyone tests on
constexpr double windiest_mps = 4.0;    // along it: type approval stops at 3 to 5
constexpr double air_per_m = 0.0042;    // density times drag area over mass of a moped and its rider
constexpr double least_share = 0.45;    // of the best, however weak the vehicle: less is no full throttle
constexpr double one_way_share = 0.85;  // full throttle one way repeats to 2 or 3 %, gusts and launches more
constexpr double test_top_share = 0.8;  // of the speed to which the others went: tests end at one mark
constexpr double topped_share = 0.65;   // uphill a weak vehicle has that much less
constexpr double lone_top_share = 0.9;  // nothing else speaks for a start alone

/// The log's best start over the same speeds as another's. One that stands out from three others that are
/// alike is a wild reading, and not the best.
double best_pull(const SpeedSeries& series, const std::vector<PulledStart>& all, double to_mps) {
  std::vector<double> pulls;
  for (const PulledStart& p : all) {
    if (p.start.top_mps >= to_mps && !p.hidden) {
      pulls.push_back(mean_pull_mps2(series, p.start, to_mps));
    }
  }
  std::sort(pulls.begin(), pulls.end(), std::greater<>());
  std::size_t best = 0;
  while (best + alike_starts < pulls.size() && pulls[best + 1] < alike_share * pulls[best] &&
         pulls[best + alike_starts] >= alike_share * pulls[best + 1]) {
    ++best;
  }
  return pulls.empty() ? 0.0 : pulls[best];
}

/// sd of the speed gained between two readings that the receiver's noise makes, m/s.
double gain_sd_mps(const SpeedSeries& series) {
  const Receiver& r = series.receiver;
  return std::numbers::sqrt2 *
         (series.source == SpeedSource::positions ? r.position_stray_sd_mps : total_noise_mps(r));
}

/// sd of a pull that the receiver's noise makes, as a share of it.
double pull_sd_share(const SpeedSeries& series, double to_mps) {
  return gain_sd_mps(series) / (to_mps - pull_from_mps);
}

/// What noise leaves of a share of the best pull: the best of several noisy pulls is lucky, and one's own may
/// be unlucky.
double less_luck(double share, double noise_share) {
  return share * std::max(1.0 - (luck_of_best_sds + own_luck_sds) * noise_share, least_of_share);
}

/// What slope and wind may take from a pull against one the other way, m/s^2: twice the weight along the
/// road, and the air of (v + w)^2 - (v - w)^2.
double between_ways_mps2(double to_mps) {
  return 2.0 * gravity_mps2 * steepest + 2.0 * air_per_m * windiest_mps * 0.5 * (pull_from_mps + to_mps);
}

/// Starts on the road of one of them.
struct Neighbours {
  std::vector<std::size_t> same_way;   ///< itself among them
  std::vector<std::size_t> other_way;  ///< not gentle
};

class Judge {
 public:
  Judge(const SpeedSeries& series, const std::vector<PulledStart>& starts)
      : series_(series), starts_(starts) {
    for (const PulledStart& p : starts) {
      ways_.push_back(road_line(series, p.start));
      PullVerdict v;
      v.pull_mps2 = mean_pull_mps2(series, p.start, p.to_mps);
      v.best_mps2 = best_pull(series, starts, p.to_mps);
      v.needed_share = less_luck(gentle_share, pull_sd_share(series, p.to_mps));
      v.gentle = v.best_mps2 > 0.0 && v.pull_mps2 < v.needed_share * v.best_mps2;
      verdicts_.push_back(v);
    }
  }

  [[nodiscard]] std::vector<PullVerdict> verdicts() const {
    std::vector<PullVerdict> out = verdicts_;
    for (std::size_t i = 0; i < starts_.size(); ++i) {
      if (out[i].gentle && ways_[i] && !starts_[i].hidden) {
        out[i].way_top_mps = allowed_top(i);
        out[i].gentle = out[i].way_top_mps <= 0.0;
      }
    }
    return out;
  }

 private:
  [[nodiscard]] Neighbours road_of(std::size_t i) const {
    Neighbours road;
    for (std::size_t k = 0; k < starts_.size(); ++k) {
      // Let off below the mark, or out of speed there, others like it are what it can be held against.
      const bool asked =
          starts_[k].stood && !starts_[k].hidden && (starts_[k].reached || !starts_[i].reached);
      if (!ways_[k] || !(k == i || asked) || !on_one_road(*ways_[i], *ways_[k])) {
        continue;
      }
      if (go_one_way(*ways_[i], *ways_[k])) {
        road.same_way.push_back(k);
      } else if (go_opposite_ways(*ways_[i], *ways_[k]) && !verdicts_[k].gentle) {
        road.other_way.push_back(k);
      }
    }
    return road;
  }

  /// Highest speed of the starts alike that go the way of a gentle one; 0 if slope and wind do not explain
  /// how it pulls.
  [[nodiscard]] double allowed_top(std::size_t i) const {
    const PulledStart& p = starts_[i];
    const Neighbours road = road_of(i);
    if (road.other_way.empty()) {
      return 0.0;
    }
    std::vector<double> other_tops;
    std::vector<double> other_pulls;
    for (const std::size_t k : road.other_way) {
      other_tops.push_back(starts_[k].start.top_mps);
      if (starts_[k].start.top_mps >= p.to_mps) {
        other_pulls.push_back(mean_pull_mps2(series_, starts_[k].start, p.to_mps));
      }
    }
    if (other_pulls.empty()) {
      return 0.0;
    }
    const double other = numeric::quantile(std::move(other_pulls), 0.5);
    const double pull = verdicts_[i].pull_mps2;
    if (pull < least_share * other || pull < other - between_ways_mps2(p.to_mps)) {
      return 0.0;
    }
    double best = 0.0;
    double top = 0.0;
    std::size_t alike = 0;
    const double share = less_luck(one_way_share, pull_sd_share(series_, p.to_mps));
    for (const std::size_t k : road.same_way) {
      const double its =
          starts_[k].start.top_mps >= p.to_mps ? mean_pull_mps2(series_, starts_[k].start, p.to_mps) : 0.0;
      best = std::max(best, its);
      if (std::min(its, pull) >= share * std::max(its, pull)) {
        ++alike;
        top = std::max(top, starts_[k].start.top_mps);
      }
    }
    if (pull < share * best) {
      return 0.0;
    }
    const double least = alike < 2 ? lone_top_share : p.topped ? topped_share : test_top_share;
    return p.start.top_mps >= least * numeric::quantile(std::move(other_tops), 0.5) ? top : 0.0;
  }

  const SpeedSeries& series_;
  const std::vector<PulledStart>& starts_;
  std::vector<std::optional<RoadLine>> ways_;
  std::vector<PullVerdict> verdicts_;
};

}  // namespace

double compared_up_to_mps(const SpeedSeries& series, double top_mps, double least_mps) {
  const double clear_mps = pull_from_mps + gain_sd_mps(series) / clear_share;
  const double wanted_mps =
      std::max({least_compared_mps, std::min(clear_mps, below_own_top * top_mps), least_mps});
  return std::min(wanted_mps, most_of_top * top_mps);
}

double mean_pull_mps2(const SpeedSeries& series, const StandingStart& start, double to_mps) {
  const Stretch& s = series.stretches[start.stretch];
  const double from_t = time_at_speed(s, start.rest_end, start.end, pull_from_mps);
  const double to_t = time_at_speed(s, start.rest_end, start.end, to_mps);
  return from_t >= 0.0 && to_t > from_t ? (to_mps - pull_from_mps) / (to_t - from_t) : 0.0;
}

std::vector<PullVerdict> judge_pulls(const SpeedSeries& series, const std::vector<PulledStart>& starts) {
  return Judge(series, starts).verdicts();
}

std::string gentle_words(const PullVerdict& pull) {
  constexpr double hardly = 0.1;
  const double percent = 100.0 * pull.pull_mps2 / pull.best_mps2;
  const double needed = 100.0 * pull.needed_share;
  const bool near = std::lround(percent) >= std::lround(needed);  // then never the same figure twice
  const double shown = near ? std::floor(10.0 * percent) / 10.0 : percent;
  const double least = near ? std::ceil(10.0 * needed) / 10.0 : needed;
  const int decimals = near ? 1 : 0;
  const std::string how =
      percent < 100.0 * hardly
          ? "hardly accelerated at all beside this log's best start"
          : fmt::format("accelerated {:.{}f} % as hard as this log's best start", shown, decimals);
  return fmt::format("gentle start: {}; {:.{}f} % is needed to count", how, least, decimals);
}

}  // namespace bothways
