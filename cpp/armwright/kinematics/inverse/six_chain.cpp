#include "armwright/kinematics/inverse/six_chain.hpp"

#include "armwright/kinematics/chain.hpp"

namespace armwright {

namespace {

// Rx(pi) v. Turning by pi about x turns a step about -z into one about +z: Rz(-t) = Rx(pi) Rz(t) Rx(pi).
Vec3 half_turn(const Vec3& v) { return {v.x, -v.y, -v.z}; }

constexpr Rotation half_turn_about_x{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}};

// Rx(-alpha) v.
Vec3 turn_back(const JointStep& step, const Vec3& v) {
  return {v.x, step.cos_alpha * v.y + step.sin_alpha * v.z, step.cos_alpha * v.z - step.sin_alpha * v.y};
}

}  // namespace

Pose chain_end(const SixChain& chain, const double* q) {
  Pose frame = chain.base;
  for (std::size_t i = 0; i < 6; ++i) advance(chain.step[i], q[i], frame);
  return frame * chain.end;
}

ChainPosture chain_posture(const SixChain& chain, const double* q) {
  ChainPosture posture;
  Pose frame = chain.base;
  for (std::size_t i = 0; i < 6; ++i) {
    advance(chain.step[i], q[i], frame);
    posture.axis[i] = {frame.position, frame.rotation.z};
  }
  posture.end = frame * chain.end;
  return posture;
}

// The inverse is end^-1 Rz(-t6) Rx(-a6) T(-o6) Rz(-t5) ... Rz(-t1) Rx(-a1) T(-o1) base^-1. With Rz(-t) written as
// above, what stands between two turns becomes Rx(pi) Rx(-a) T(-o) Rx(pi) = T(-Rx(-a) Rx(pi) o) Rx(-a), a step again.
SixChain reversed(const SixChain& chain) {
  SixChain result;
  const Pose half{half_turn_about_x, {0, 0, 0}};
  result.base = inverse(chain.end) * half;
  for (std::size_t i = 0; i < 6; ++i) {
    JointStep& step = result.step[i];
    step = chain.step[5 - i];  // keeps the joint's own zero
    if (i == 0) {
      step.offset = {0, 0, 0};
      step.cos_alpha = 1;
      step.sin_alpha = 0;
      continue;
    }
    const JointStep& before = chain.step[6 - i];
    step.offset = -turn_back(before, half_turn(before.offset));
    step.cos_alpha = before.cos_alpha;
    step.sin_alpha = -before.sin_alpha;
  }
  const JointStep& first = chain.step[0];
  const Pose last{{{1, 0, 0}, {0, first.cos_alpha, -first.sin_alpha}, {0, first.sin_alpha, first.cos_alpha}},
                  -turn_back(first, first.offset)};
  result.end = half * last * inverse(chain.base);
  return result;
}

}  // namespace armwright
