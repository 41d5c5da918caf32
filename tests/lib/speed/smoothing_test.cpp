#include "bothways/speed/smoothing.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

Receiver quiet_logger() {
  Receiver r;
  r.rate_hz = 10.0;
  r.white_sd_mps = 0.02;
  r.slow_sd_mps = 0.01;
  r.standing_axes = 2;
  r.standing_sd_mps = 0.02;
  return r;
}

/// A brake of 3 m/s^2 from 10 m/s that ends sharply, seen through smoothing of first order, without noise:
/// the reading is v(t - lag) in the brake and decays after it.
Stretch brake_through(double lag_s) {
  constexpr double decel_mps2 = 3.0;
  constexpr double stop_s = 5.0;
  Stretch s;
  for (int i = 0; i <= 120; ++i) {
    const double t_s = 0.1 * i;
    const double left_s = stop_s - t_s;
    double v_mps = std::min(10.0, decel_mps2 * (left_s + lag_s));
    if (left_s < 0.0) {
      v_mps = lag_s > 0.0 ? decel_mps2 * lag_s * std::exp(left_s / lag_s) : 0.0;
    }
    s.t_s.push_back(t_s);
    s.v_mps.push_back(v_mps + (t_s > stop_s + 1.0 ? 0.025 : 0.0));  // the mean length of the noise at rest
    s.sd_mps.push_back(0.02);
  }
  return s;
}

/// The same brake, the driver easing it evenly over the last taper_s, seen through the critically damped
/// tracker, as a length.
Stretch brake_through_tracker(double tau_s, double taper_s) {
  constexpr double decel_mps2 = 3.0;
  constexpr double stop_s = 5.0;
  constexpr double dt_s = 0.001;
  Stretch s;
  double once = 10.0;   // through one low pass
  double twice = 10.0;  // and another
  for (int i = 0; i <= 12000; ++i) {
    const double left_s = stop_s - dt_s * i;
    const double eased =
        left_s > 0.5 * taper_s ? left_s : 0.5 * std::pow(std::max(0.0, left_s + 0.5 * taper_s), 2) / taper_s;
    const double v_mps = std::min(10.0, decel_mps2 * (taper_s > 0.0 ? eased : std::max(0.0, left_s)));
    once += (v_mps - once) * dt_s / tau_s;
    twice += (once - twice) * dt_s / tau_s;
    if (i % 100 == 0) {
      s.t_s.push_back(dt_s * i);
      s.v_mps.push_back(std::abs(2.0 * once - twice));
      s.sd_mps.push_back(0.02);
    }
  }
  return s;
}

double mean_square_lag(const std::vector<Smoothing>& all) {
  double sum = 0.0;
  for (const Smoothing& s : all) {
    sum += s.weight * s.filter.lag_s * s.filter.lag_s;
  }
  return sum;
}

}  // namespace

TEST_CASE("a sharp brake shows the square of the time constant, and none without smoothing", "[speed]") {
  for (const double lag_s : {0.0, 0.2, 0.3, 0.4}) {
    const auto ends = brake_ends({brake_through(lag_s)}, quiet_logger(), 0.15);
    REQUIRE(ends.size() == 1);
    CAPTURE(lag_s);
    CHECK_THAT(ends[0].spread_s2, WithinAbs(lag_s * lag_s, 0.03));
    CHECK(ends[0].sd_s2 > 0.0);
    CHECK(ends[0].sd_s2 < 0.1);
  }
}

TEST_CASE("a tracker swings back after a stop by the square of its time constant, a low pass does not",
          "[speed]") {
  for (const double tau_s : {0.2, 0.3, 0.4}) {
    for (const double taper_s : {0.0, 0.3, 0.6}) {
      const auto ends = brake_ends({brake_through_tracker(tau_s, taper_s)}, quiet_logger(), 0.15);
      REQUIRE(ends.size() == 1);
      CAPTURE(tau_s, taper_s);
      CHECK_THAT(ends[0].rebound.over_decel_s2, WithinAbs(0.7 * tau_s * tau_s, 0.35 * tau_s * tau_s));
      CHECK(ends[0].rebound.sd_s2 < 0.06);
      const auto all = smoothing_posterior(std::vector<BrakeEnd>(8, ends[0]), quiet_logger());
      double tracking = 0.0;
      for (const Smoothing& s : all) {
        tracking += s.filter.tracks_acceleration ? s.weight : 0.0;
        CHECK((!s.filter.tracks_acceleration || s.weight < 0.1 || std::abs(s.filter.lag_s - tau_s) < 0.08));
      }
      CHECK(tracking > 0.9);
    }
  }
  for (const double lag_s : {0.0, 0.2, 0.4}) {
    const auto ends = brake_ends({brake_through(lag_s)}, quiet_logger(), 0.15);
    CAPTURE(lag_s);
    CHECK(ends.at(0).rebound.over_decel_s2 < 0.02);
  }
}

TEST_CASE("a rebound is not looked for where the vehicle does not stand after it", "[speed]") {
  Stretch s = brake_through_tracker(0.3, 0.0);
  const auto cut = static_cast<std::ptrdiff_t>(60);  // a second after the stop
  s.t_s.erase(s.t_s.begin() + cut, s.t_s.end());
  s.v_mps.erase(s.v_mps.begin() + cut, s.v_mps.end());
  const Rebound rebound = rebound_after(s, 45, 5.0);
  CHECK(rebound.over_decel_s2 == 0.0);
  CHECK(rebound.sd_s2 == 1.0);
}

TEST_CASE("the weights of the smoothing sum to 1, four low passes and three trackers at most", "[speed]") {
  for (const double rate_hz : {1.0, 10.0}) {
    Receiver r = quiet_logger();
    r.rate_hz = rate_hz;
    const auto all = smoothing_posterior({}, r);
    CHECK(all.size() <= 7);
    double sum = 0.0;
    for (const Smoothing& s : all) {
      sum += s.weight;
    }
    CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
  }
}

TEST_CASE("the upper tenth of the smoothing is a candidate of its own", "[speed]") {
  Receiver r = quiet_logger();
  r.rate_hz = 10.0;
  const auto all = smoothing_posterior({}, r);  // the prior: 0.06 of it at 0.4 and 0.5 s, the next at 0.3
  const auto upper =
      std::find_if(all.begin(), all.end(), [](const Smoothing& s) { return s.filter.lag_s > 0.35; });
  REQUIRE(upper != all.end());
  CHECK_FALSE(upper->filter.tracks_acceleration);
  CHECK_THAT(upper->weight, WithinAbs(0.865 * 0.1, 1e-12));  // the rest are trackers
  CHECK_THAT(upper->filter.lag_s,
             WithinAbs(std::sqrt((0.04 * 0.16 + 0.02 * 0.25 + 0.04 * 0.09) / 0.1), 1e-9));
  CHECK(all.front().filter.lag_s < 0.02);
}

TEST_CASE("a fast receiver may track acceleration until its stops are seen to be sharp", "[speed]") {
  const auto tracking = [](const std::vector<BrakeEnd>& ends, double rate_hz) {
    Receiver r = quiet_logger();
    r.rate_hz = rate_hz;
    double sum = 0.0;
    for (const Smoothing& s : smoothing_posterior(ends, r)) {
      sum += s.filter.tracks_acceleration ? s.weight : 0.0;
    }
    return sum;
  };
  CHECK_THAT(tracking({}, 10.0), WithinAbs(0.135, 1e-12));  // the longest are too rare to count
  CHECK(tracking({}, 1.0) == 0.0);
  CHECK(tracking(std::vector<BrakeEnd>(12, {0.0, 0.02}), 10.0) < 0.1);
  CHECK(tracking(std::vector<BrakeEnd>(12, {0.18, 0.02}), 10.0) > 0.15);  // 2 x 0.3^2
}

TEST_CASE("sharp stops leave no smoothing, soft ones leave the prior", "[speed]") {
  const double prior = mean_square_lag(smoothing_posterior({}, quiet_logger()));
  const std::vector<BrakeEnd> sharp(12, {0.0, 0.02});
  CHECK(mean_square_lag(smoothing_posterior(sharp, quiet_logger())) < 0.4 * prior);
  const std::vector<BrakeEnd> soft(3, {0.5, 0.1});
  CHECK(mean_square_lag(smoothing_posterior(soft, quiet_logger())) > 0.8 * prior);
}

TEST_CASE("the sharpest stop decides", "[speed]") {
  std::vector<BrakeEnd> ends{{0.1, 0.02}, {0.16, 0.02}, {0.25, 0.02}, {0.4, 0.02}};
  const double soft = mean_square_lag(smoothing_posterior(ends, quiet_logger()));
  ends.push_back({0.0, 0.02});
  CHECK(mean_square_lag(smoothing_posterior(ends, quiet_logger())) < 0.8 * soft);
}

TEST_CASE("a driver who eases each brake alike is not taken for a receiver that smooths", "[speed]") {
  std::vector<BrakeEnd> ends;  // tapers of 0.36 to 0.61 s
  for (const double spread_s2 : {0.13, 0.15, 0.15, 0.16, 0.18, 0.2, 0.23, 0.23, 0.27, 0.32, 0.37}) {
    ends.push_back({spread_s2, 0.03});
  }
  double sharp = 0.0;
  for (const Smoothing& s : smoothing_posterior(ends, quiet_logger())) {
    sharp += s.filter.lag_s < 0.15 ? s.weight : 0.0;
  }
  CHECK(sharp > 0.25);
  CHECK(sharp < 0.95);  // nor is it ruled out
}

TEST_CASE("tapers that go with the deceleration are the driver's, for a filter's do not", "[speed]") {
  std::vector<BrakeEnd> eased_at_a_speed;
  std::vector<BrakeEnd> the_same_mixed;
  for (const double decel_mps2 : {1.4, 1.7, 2.0, 2.4, 2.8, 3.3, 3.7, 3.8, 3.9, 4.0, 4.0, 4.1}) {
    const double taper_s = 1.3 / decel_mps2;
    eased_at_a_speed.push_back({taper_s * taper_s, 0.02, decel_mps2});
    the_same_mixed.push_back({taper_s * taper_s, 0.02, 2.6});
  }
  CHECK(mean_square_lag(smoothing_posterior(eased_at_a_speed, quiet_logger())) <
        0.9 * mean_square_lag(smoothing_posterior(the_same_mixed, quiet_logger())));
}

TEST_CASE("speeds of a slow log that come late may be a mean over the last readings", "[speed]") {
  const auto mean_of = [](double rate_hz, double lag_s) {
    Receiver r = quiet_logger();
    r.rate_hz = rate_hz;
    r.lag_s = lag_s;
    r.lag_sd_s = 0.01;
    Smoothing mean{{}, 0.0};
    double sum = 0.0;
    for (const Smoothing& s : smoothing_posterior({}, r)) {
      sum += s.weight;
      mean = s.filter.feedthrough > 0.0 ? s : mean;
    }
    CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
    return mean;
  };
  for (const double lag_s : {0.4, 1.1}) {
    const Smoothing mean = mean_of(1.0, lag_s);
    CHECK_THAT(mean.weight, WithinAbs(0.5, 1e-12));
    CHECK_THAT(mean.filter.delay_s(), WithinAbs(lag_s, 1e-12));
    // Each reading has the same share less than the one after it: of those before the last, a second's delay.
    CHECK_THAT(mean.filter.feedthrough, WithinAbs(1.0 / (1.0 + lag_s), 1e-12));
  }
  CHECK(mean_of(1.0, 0.2).weight == 0.0);
  CHECK(mean_of(10.0, 0.4).weight == 0.0);
}

TEST_CASE("a lag too long for any smoothing expected leaves the other candidates as they were", "[speed]") {
  Receiver late = quiet_logger();
  late.rate_hz = 1.0;
  const auto usual = smoothing_posterior({}, late);
  late.lag_s = 1.0;
  late.lag_sd_s = 0.01;
  const auto all = smoothing_posterior({}, late);
  REQUIRE(all.size() == usual.size() + 1);
  for (std::size_t i = 0; i < usual.size(); ++i) {
    CHECK(all[i].filter == usual[i].filter);
    CHECK_THAT(all[i].weight, WithinAbs(0.5 * usual[i].weight, 1e-12));
  }
}

TEST_CASE("speeds that are late against the positions are smoothed with half of the belief or more",
          "[speed]") {
  Receiver r = quiet_logger();
  r.lag_s = 0.3;
  r.lag_sd_s = 0.01;
  double near = 0.0;
  for (const Smoothing& s : smoothing_posterior({}, r)) {
    near += s.filter.lag_s > 0.2 ? s.weight : 0.0;
  }
  CHECK(near > 0.5);
  CHECK(near < 0.9);  // a delay alone looks alike
}
