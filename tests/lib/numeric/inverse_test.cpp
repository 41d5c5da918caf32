#include "bothways/numeric/inverse.hpp"

#include "bothways/numeric/motion.hpp"
#include "support/simulate/random.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

StateMatrix drawn(bothways::sim::Random& random) {
  StateMatrix m;
  for (int i = 0; i < state_size; ++i) {
    for (int j = 0; j < state_size; ++j) {
      m(i, j) = random.normal();
    }
  }
  return m;
}

}  // namespace

TEST_CASE("the root of a semi-definite matrix gives it back", "[numeric]") {
  bothways::sim::Random random(11);
  for (int rank = 0; rank <= state_size; ++rank) {
    StateMatrix b = drawn(random);
    b.rightCols(state_size - rank).setZero();
    const StateMatrix m = b * b.transpose();
    const StateMatrix root = root_of(m);
    CHECK(root.isLowerTriangular());
    // A column that is left out holds at most 1e-13 of a variance, so its square root of a covariance.
    CHECK((root * root.transpose() - m).cwiseAbs().maxCoeff() <= 1e-6 * m.cwiseAbs().maxCoeff());
    if (rank == state_size) {
      CHECK((root * root.transpose() - m).cwiseAbs().maxCoeff() <= 1e-14 * m.cwiseAbs().maxCoeff());
    }
  }
  StateMatrix sure = StateMatrix::Zero();
  sure(i_a, i_a) = 9.0;
  CHECK(root_of(sure)(i_a, i_a) == 3.0);
}

TEST_CASE("the filter's inverse is as good as Eigen's, sharp readings and short steps included",
          "[numeric]") {
  // I + Q L where readings are very sharp (L to 1e6) and the noise of travel over a short step is tiny.
  bothways::sim::Random random(12);
  for (const double dt_s : {1e-3, 0.1, 1.0}) {
    for (const double sharp : {1.0, 1e3, 1e6}) {
      const StateMatrix b = drawn(random);
      const StateMatrix l = sharp * b * b.transpose();
      const Step step = step_of({4.0, 0.2, 0.05, 5.0}, dt_s);
      const StateMatrix m = StateMatrix::Identity() + step.q * l;
      const Woodbury<state_size> by(step.root, l);
      const StateMatrix inverse = StateMatrix::Identity() - by.v * by.t.transpose();
      const StateMatrix eigen = m.fullPivLu().inverse();
      const double ours = (m * inverse - StateMatrix::Identity()).cwiseAbs().maxCoeff();
      INFO("dt " << dt_s << " s, sharpness " << sharp << ": " << ours);
      CHECK(ours < 1e-13 * m.cwiseAbs().maxCoeff() + 1e-12);
      CHECK((by.v * by.v.transpose() - eigen * step.q).cwiseAbs().maxCoeff() <
            1e-9 * step.q.cwiseAbs().maxCoeff());
      CHECK_THAT(2.0 * by.half_log_det, WithinAbs(std::log(std::abs(m.fullPivLu().determinant())), 1e-6));
    }
  }
}

TEST_CASE("without the smoothed speed the first four rows are all there is", "[numeric]") {
  bothways::sim::Random random(13);
  const StateMatrix b = drawn(random);
  StateMatrix l = b * b.transpose();
  l.row(i_y).setZero();
  l.col(i_y).setZero();
  const Step step = step_of({4.0, 0.0, 0.05, 5.0}, 0.1);
  CHECK_FALSE(step.smoothed());
  const Woodbury<plain_size> four(step.root, l);
  const Woodbury<state_size> five(step.root, l);
  CHECK_THAT(four.half_log_det, WithinRel(five.half_log_det, 1e-14));
  CHECK((four.v - five.v.topLeftCorner<plain_size, plain_size>()).isZero(1e-15));
}
