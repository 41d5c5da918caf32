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

TEST_CASE("the inverse agrees with Eigen's", "[numeric]") {
  bothways::sim::Random random(11);
  for (int i = 0; i < 200; ++i) {
    const StateMatrix m = StateMatrix::Identity() + drawn(random) * 0.5;
    const Inverse found = invert(m);
    const Eigen::FullPivLU<StateMatrix> lu(m);
    const double size = lu.inverse().cwiseAbs().maxCoeff();
    // Errors grow with the condition of the matrix.
    CHECK((found.matrix - lu.inverse()).cwiseAbs().maxCoeff() < 1e-12 * size * size);
    CHECK_THAT(found.log_abs_det, WithinAbs(std::log(std::abs(lu.determinant())), 1e-10));
  }
}

TEST_CASE("badly scaled matrices of the filter are inverted as well as Eigen inverts them", "[numeric]") {
  // I + L Q where readings are very sharp (L to 1e6) and the noise of travel over a short step is tiny.
  bothways::sim::Random random(12);
  for (const double dt_s : {1e-3, 0.1, 1.0}) {
    for (const double sharp : {1.0, 1e3, 1e6}) {
      const StateMatrix b = drawn(random);
      const StateMatrix l = sharp * b * b.transpose();
      const StateMatrix m = StateMatrix::Identity() + l * step_of({4.0, 0.2, 0.05, 5.0}, dt_s).q;
      const Inverse found = invert(m);
      const StateMatrix eigen = m.fullPivLu().inverse();
      const double ours = (m * found.matrix - StateMatrix::Identity()).cwiseAbs().maxCoeff();
      const double theirs = (m * eigen - StateMatrix::Identity()).cwiseAbs().maxCoeff();
      INFO("dt " << dt_s << " s, sharpness " << sharp << ": " << ours << ", Eigen " << theirs);
      CHECK(ours < 100.0 * theirs + 1e-12);
      CHECK_THAT(found.log_abs_det, WithinAbs(std::log(std::abs(m.fullPivLu().determinant())), 1e-6));
    }
  }
}

TEST_CASE("rows are exchanged where a pivot is zero", "[numeric]") {
  StateMatrix m = StateMatrix::Zero();  // a cyclic exchange, scaled
  for (int i = 0; i < state_size; ++i) {
    m(i, (i + 1) % state_size) = i + 2.0;
  }
  CHECK((invert(m).matrix * m).isApprox(StateMatrix::Identity(), 1e-15));
  CHECK_THAT(invert(m).log_abs_det, WithinRel(std::log(720.0), 1e-14));
}
