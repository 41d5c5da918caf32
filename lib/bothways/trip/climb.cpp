// docs/method.md, eq. (12.1): max(5 m, w) = turn_m, e = sd_m, n = count.
#include "bothways/trip/climb.hpp"

#include "bothways/core/estimate.hpp"
#include "bothways/core/units.hpp"
#include "bothways/numeric/robust.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr double least_turn_m = 5.0;  // heights wander by metres; a smaller rise may be nothing
constexpr double most_wander_m = 10.0;
constexpr double wander_share = 0.75;  // of the stands
constexpr double least_wander_s = 5.0;
constexpr double wander_sds = 3.0;  // highest less lowest of a stand, in sd; common practice, no source
constexpr double height_mean_s = 5.0;
constexpr double lowest_m = -500.0;
constexpr double highest_m = 9000.0;
constexpr double steepest = 0.2;  // of a street; common practice, no source
constexpr double steep_slack_m = 2.0;
constexpr double most_steep = 0.05;
constexpr std::size_t least_steep = 3;
constexpr double longest_change_s = 30.0;
constexpr double least_height_sd_m = 1.0;  // slow error that neither stands nor steps show
constexpr double one_sd = 0.6827;          // share of a normal law within one sd

/// Mean of the heights of some seconds.
struct Height {
  double t_s = 0.0;
  double at_m = 0.0;  ///< along the road
  double height_m = 0.0;
};

/// Height of a row; unknown where there is none, or none on earth.
double height_of(const SpeedSeries& series, const ValidSample& row) {
  const double height_m = series.stretches[row.stretch].ele_m[row.row];
  return height_m >= lowest_m && height_m <= highest_m ? height_m : unknown;
}

/// How far heights wander while the vehicle stands; 0 where it never stands for long.
double wander_m(const SpeedSeries& series, const ValidSamples& samples) {
  std::vector<double> ranges;
  double begin_s = 0.0;
  double lo = unknown;
  double hi = unknown;
  for (std::size_t i = 0; i < samples.rows.size(); ++i) {
    const double height_m = height_of(series, samples.rows[i]);
    if (samples.moving[i] != 0) {
      if (is_known(lo) && samples.rows[i].t_s - begin_s >= least_wander_s) {
        ranges.push_back(hi - lo);
      }
      lo = hi = unknown;
    } else if (is_known(height_m)) {
      begin_s = is_known(lo) ? begin_s : samples.rows[i].t_s;
      lo = is_known(lo) ? std::min(lo, height_m) : height_m;
      hi = is_known(hi) ? std::max(hi, height_m) : height_m;
    }
  }
  return numeric::quantile(std::move(ranges), wander_share);
}

/// The heights while moving, averaged; nothing where fewer than one in twenty moving rows has one.
std::vector<Height> mean_heights(const SpeedSeries& series, const ValidSamples& samples) {
  std::vector<Height> means;
  std::size_t moving = 0;
  std::size_t known = 0;
  double n = 0.0;
  double begin_s = 0.0;
  double at_m = 0.0;
  for (std::size_t i = 0; i < samples.rows.size(); ++i) {
    const double t_s = samples.rows[i].t_s;
    const double height_m = height_of(series, samples.rows[i]);
    at_m += i > 0 ? samples.travel_m[i - 1] : 0.0;
    moving += samples.moving[i] != 0 ? 1U : 0U;
    if (samples.moving[i] == 0 || !is_known(height_m)) {
      continue;
    }
    ++known;
    if (means.empty() || t_s - begin_s > height_mean_s) {
      means.emplace_back();
      begin_s = t_s;
      n = 0.0;
    }
    Height& mean = means.back();
    n += 1.0;
    mean.t_s += (t_s - mean.t_s) / n;
    mean.at_m += (at_m - mean.at_m) / n;
    mean.height_m += (height_m - mean.height_m) / n;
  }
  return known * 20 >= moving ? means : std::vector<Height>{};
}

/// True if the heights change faster than any street climbs, too often for a slip.
bool is_steep(const std::vector<Height>& heights) {
  std::size_t changes = 0;
  std::size_t steep = 0;
  for (std::size_t i = 1; i < heights.size(); ++i) {
    if (heights[i].t_s - heights[i - 1].t_s > longest_change_s) {
      continue;
    }
    const double road_m = std::abs(heights[i].at_m - heights[i - 1].at_m);
    ++changes;
    steep +=
        std::abs(heights[i].height_m - heights[i - 1].height_m) > steepest * road_m + steep_slack_m ? 1U : 0U;
  }
  return steep >= least_steep && static_cast<double>(steep) > most_steep * static_cast<double>(changes);
}

/// sd of a mean height, from how unevenly one follows the other.
double uneven_m(const std::vector<Height>& heights) {
  std::vector<double> bends;
  for (std::size_t i = 2; i < heights.size(); ++i) {
    bends.push_back(std::abs(heights[i].height_m - 2.0 * heights[i - 1].height_m + heights[i - 2].height_m) /
                    std::sqrt(6.0));
  }
  return numeric::quantile(std::move(bends), one_sd);
}

/// Adds up rises between turns of at least so many metres.
class Rises {
 public:
  explicit Rises(double turn_m) : turn_m_(turn_m) {}

  void take(double height_m) {
    if (!is_known(low_m_)) {
      low_m_ = high_m_ = height_m;
    }
    high_m_ = std::max(high_m_, height_m);
    if (high_m_ - low_m_ >= turn_m_ && high_m_ - height_m >= turn_m_) {  // over the top
      end();
      low_m_ = high_m_ = height_m;
    } else if (high_m_ - low_m_ < turn_m_ && height_m < low_m_) {
      low_m_ = high_m_ = height_m;
    }
  }
  /// Counts the rise that is under way.
  void end() {
    if (high_m_ - low_m_ >= turn_m_) {
      sum_m_ += high_m_ - low_m_;
      ++count_;
    }
  }
  [[nodiscard]] double sum_m() const { return sum_m_; }
  [[nodiscard]] double count() const { return count_; }

 private:
  double turn_m_;
  double low_m_ = unknown;
  double high_m_ = unknown;
  double sum_m_ = 0.0;
  double count_ = 0.0;
};

}  // namespace

Climb climb_of(const SpeedSeries& series, const ValidSamples& samples) {
  const double wander = wander_m(series, samples);
  Climb climb;
  climb.turn_m = std::max(least_turn_m, wander);
  const std::vector<Height> heights = mean_heights(series, samples);
  if (heights.empty()) {
    return climb;
  }
  if (wander > most_wander_m) {
    climb.why_not = fmt::format("the heights wander by {:.0f} m ({:.0f} ft) while the vehicle stands", wander,
                                wander / m_per_foot);
    return climb;
  }
  if (is_steep(heights)) {
    climb.why_not = "the heights change faster than any street climbs";
    return climb;
  }
  Rises rises(climb.turn_m);
  for (const Height& height : heights) {
    rises.take(height.height_m);
  }
  rises.end();
  const double sd_m = std::max({least_height_sd_m, wander / wander_sds, uneven_m(heights)});
  const double half_m = climb.turn_m + 2.0 * sd_m * rises.count();
  const double sum_m = rises.sum_m();
  climb.climb_m = {sum_m, half_m / half95, std::max(0.0, sum_m - half_m), sum_m + half_m};
  return climb;
}

}  // namespace bothways
