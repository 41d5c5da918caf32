#include "bothways/numeric/seen.hpp"

#include <catch2/catch.hpp>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

namespace {

/// At rest but for a and e, as at first movement.
Gaussian full_start() {
  Gaussian out;
  out.mean << 0.0, 0.0, 2.0, 0.03, 0.0;
  out.cov(i_a, i_a) = 1.5;
  out.cov(i_e, i_e) = 0.04;
  return out;
}

SeenBelief seen_start() {
  SeenBelief out;
  out.a = 2.0;
  out.e = 0.03;
  out.aa = 1.5;
  out.ee = 0.04;
  return out;
}

void check_same(const SeenBelief& seen, const Gaussian& full) {
  Eigen::Matrix4d cov;
  cov << seen.vv, seen.va, seen.ve, seen.vy, seen.va, seen.aa, seen.ae, seen.ay, seen.ve, seen.ae, seen.ee,
      seen.ey, seen.vy, seen.ay, seen.ey, seen.yy;
  CHECK((full.mean.tail<4>() - Eigen::Vector4d(seen.v, seen.a, seen.e, seen.y)).cwiseAbs().maxCoeff() <
        1e-13);
  CHECK((full.cov.bottomRightCorner<4, 4>() - cov).cwiseAbs().maxCoeff() < 1e-13);
}

/// z = h x + N(0, variance) taken in as a Kalman filter does.
void take_in_full(Gaussian& belief, const State& h, double z, double variance) {
  const State ph = belief.cov * h;
  const double s = h.dot(ph) + variance;
  belief.mean += ph * ((z - h.dot(belief.mean)) / s);
  belief.cov -= ph * ph.transpose() / s;
}

void take_in(SeenBelief& belief, bool smoothed, double z, double variance) {
  const SeenReading at = reading_of(belief, smoothed);
  const double s = at.variance + variance;
  take(belief, at, (z - at.mean) / s, 1.0 / s);
}

}  // namespace

TEST_CASE("without the travel a belief goes on as with it", "[numeric]") {
  for (const double lag_s : {0.0, 0.2}) {
    const Motion motion{4.0, lag_s, 0.2, 5.0};
    const State h = reading_of_speed(motion);
    Gaussian full = full_start();
    SeenBelief seen = seen_start();
    INFO("lag " << lag_s << " s");
    for (const double dt_s : {0.03, 0.1, 0.25}) {
      full = predict(full, step_of(motion, dt_s, 6.0));
      full.mean += jerk_response(motion, 3.0, dt_s);
      const SeenStep step = seen_step(motion, dt_s, 6.0);
      move_mean(seen, step, 3.0);
      spread(seen, step);
      check_same(seen, full);
      take_in_full(full, h, 0.4, 0.01);
      take_in(seen, step.smoothed, 0.4, 0.01);
      check_same(seen, full);
    }
    Information info;  // what two later speeds say
    add_reading(info, h, 1.2, 0.01);
    info = carry_back(step_of(motion, 0.1), info).before;
    add_reading(info, h, 0.9, 0.01);
    CHECK_THAT(log_likelihood(seen, lag_s > 0.0, info), WithinAbs(log_likelihood(full, info), 1e-12));
  }
}

TEST_CASE("two steps without the travel are one", "[numeric]") {
  for (const double lag_s : {0.0, 0.2}) {
    const Motion motion{4.0, lag_s, 0.2, 5.0};
    const SeenStep first = seen_step(motion, 0.07);
    const SeenStep second = seen_step(motion, 0.1, 6.0);
    const SeenStep both = then(first, second);
    SeenBelief in_two = seen_start();
    SeenBelief in_one = seen_start();
    move_mean(in_two, first, 0.0);
    spread(in_two, first);
    move_mean(in_two, second, 0.0);
    spread(in_two, second);
    move_mean(in_one, both, 0.0);
    spread(in_one, both);
    for (const auto part : std::initializer_list<double SeenBelief::*>{
             &SeenBelief::v, &SeenBelief::a, &SeenBelief::e, &SeenBelief::y, &SeenBelief::vv, &SeenBelief::va,
             &SeenBelief::ve, &SeenBelief::aa, &SeenBelief::ae, &SeenBelief::ee, &SeenBelief::vy,
             &SeenBelief::ay, &SeenBelief::ey, &SeenBelief::yy}) {
      CHECK_THAT(in_one.*part, WithinAbs(in_two.*part, 1e-14));
    }
  }
}
