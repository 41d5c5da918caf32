#include "bothways/numeric/seen.hpp"

#include "bothways/numeric/inverse.hpp"

namespace bothways::numeric {

SeenStep seen_step(const Motion& motion, double dt_s, double jerk_factor) {
  const Step step = unrooted_step(motion, dt_s, jerk_factor);
  const StateMatrix& f = step.f;
  const StateMatrix& q = step.q;
  SeenStep out;
  out.smoothed = step.smoothed();
  out.f_va = f(i_v, i_a);
  out.f_ee = f(i_e, i_e);
  out.q.vv = q(i_v, i_v);
  out.q.va = q(i_v, i_a);
  out.q.aa = q(i_a, i_a);
  out.q.ee = q(i_e, i_e);
  if (out.smoothed) {
    out.f_yv = f(i_y, i_v);
    out.f_ya = f(i_y, i_a);
    out.f_yy = f(i_y, i_y);
    out.q.vy = q(i_v, i_y);
    out.q.ay = q(i_a, i_y);
    out.q.yy = q(i_y, i_y);
    out.jerk_y = jerk_response(motion, 1.0, dt_s)(i_y);
  }
  return out;
}

SeenStep then(const SeenStep& first, const SeenStep& second) {
  SeenStep out;
  out.smoothed = second.smoothed;
  out.f_va = first.f_va + second.f_va;
  out.f_ee = first.f_ee * second.f_ee;
  out.f_yv = second.f_yv + second.f_yy * first.f_yv;
  out.f_ya = second.f_yv * first.f_va + second.f_ya + second.f_yy * first.f_ya;
  out.f_yy = second.f_yy * first.f_yy;
  out.q = first.q;
  spread(out.q, second);
  return out;
}

double log_likelihood(const SeenBelief& b, bool smoothed, const Information& info) {
  if (smoothed) {
    Eigen::Matrix4d cov;
    cov << b.vv, b.va, b.ve, b.vy, b.va, b.aa, b.ae, b.ay, b.ve, b.ae, b.ee, b.ey, b.vy, b.ay, b.ey, b.yy;
    const Product<4> both({b.v, b.a, b.e, b.y}, cov, info.matrix.block<4, 4>(i_v, i_v),
                          info.vector.segment<4>(i_v));
    return info.constant + both.log_integral;
  }
  Eigen::Matrix3d cov;
  cov << b.vv, b.va, b.ve, b.va, b.aa, b.ae, b.ve, b.ae, b.ee;
  const Product<3> both({b.v, b.a, b.e}, cov, info.matrix.block<3, 3>(i_v, i_v), info.vector.segment<3>(i_v));
  return info.constant + both.log_integral;
}

}  // namespace bothways::numeric
