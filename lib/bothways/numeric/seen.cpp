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
  out.q_vv = q(i_v, i_v);
  out.q_va = q(i_v, i_a);
  out.q_aa = q(i_a, i_a);
  out.q_ee = q(i_e, i_e);
  if (out.smoothed) {
    out.f_yv = f(i_y, i_v);
    out.f_ya = f(i_y, i_a);
    out.f_yy = f(i_y, i_y);
    out.q_vy = q(i_v, i_y);
    out.q_ay = q(i_a, i_y);
    out.q_yy = q(i_y, i_y);
    out.jerk_y = jerk_response(motion, 1.0, dt_s)(i_y);
  }
  return out;
}

SeenStep then(const SeenStep& first, const SeenStep& second) {
  SeenBelief noise;
  noise.vv = first.q_vv;
  noise.va = first.q_va;
  noise.aa = first.q_aa;
  noise.ee = first.q_ee;
  noise.vy = first.q_vy;
  noise.ay = first.q_ay;
  noise.yy = first.q_yy;
  spread(noise, second);
  SeenStep out;
  out.smoothed = second.smoothed;
  out.f_va = first.f_va + second.f_va;
  out.f_ee = first.f_ee * second.f_ee;
  out.f_yv = second.f_yv + second.f_yy * first.f_yv;
  out.f_ya = second.f_yv * first.f_va + second.f_ya + second.f_yy * first.f_ya;
  out.f_yy = second.f_yy * first.f_yy;
  out.q_vv = noise.vv;
  out.q_va = noise.va;
  out.q_aa = noise.aa;
  out.q_ee = noise.ee;
  out.q_vy = noise.vy;
  out.q_ay = noise.ay;
  out.q_yy = noise.yy;
  return out;
}

void move_mean(SeenBelief& b, const SeenStep& step, double jerk) {
  if (step.smoothed) {
    b.y = step.f_yv * b.v + step.f_ya * b.a + step.f_yy * b.y + step.jerk_y * jerk;
  }
  b.v += step.f_va * (b.a + 0.5 * step.f_va * jerk);
  b.a += step.f_va * jerk;  // f_va is the length of the step
  b.e *= step.f_ee;
}

void spread(SeenBelief& b, const SeenStep& step) {
  if (step.smoothed) {  // f_y P f_y' + q of row y, before the rows it is made of change
    const double yv = step.f_yv * b.vv + step.f_ya * b.va + step.f_yy * b.vy;
    const double ya = step.f_yv * b.va + step.f_ya * b.aa + step.f_yy * b.ay;
    const double ye = step.f_yv * b.ve + step.f_ya * b.ae + step.f_yy * b.ey;
    const double yy = step.f_yv * b.vy + step.f_ya * b.ay + step.f_yy * b.yy;
    b.yy = step.f_yv * yv + step.f_ya * ya + step.f_yy * yy + step.q_yy;
    b.vy = yv + step.f_va * ya + step.q_vy;
    b.ay = ya + step.q_ay;
    b.ey = step.f_ee * ye;
  }
  const double va = b.va + step.f_va * b.aa;
  b.vv += step.f_va * (b.va + va) + step.q_vv;
  b.ve = step.f_ee * (b.ve + step.f_va * b.ae);
  b.va = va + step.q_va;
  b.aa += step.q_aa;
  b.ae *= step.f_ee;
  b.ee = step.f_ee * step.f_ee * b.ee + step.q_ee;
}

SeenReading reading_of(const SeenBelief& b, bool smoothed) {
  if (smoothed) {
    return {b.y + b.e, b.yy + 2.0 * b.ey + b.ee, b.vy + b.ve, b.ay + b.ae, b.ey + b.ee, b.yy + b.ey};
  }
  return {b.v + b.e, b.vv + 2.0 * b.ve + b.ee, b.vv + b.ve, b.va + b.ae, b.ve + b.ee, 0.0};
}

void take(SeenBelief& b, const SeenReading& at, double shift, double loss) {
  b.v += at.v * shift;
  b.a += at.a * shift;
  b.e += at.e * shift;
  b.y += at.y * shift;
  b.vv -= loss * at.v * at.v;
  b.va -= loss * at.v * at.a;
  b.ve -= loss * at.v * at.e;
  b.aa -= loss * at.a * at.a;
  b.ae -= loss * at.a * at.e;
  b.ee -= loss * at.e * at.e;
  b.vy -= loss * at.v * at.y;
  b.ay -= loss * at.a * at.y;
  b.ey -= loss * at.e * at.y;
  b.yy -= loss * at.y * at.y;
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
