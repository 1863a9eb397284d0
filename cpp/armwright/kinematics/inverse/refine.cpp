#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/inverse/branches.hpp"

namespace armwright {

namespace {

struct LanePosture {
  Vector3<Lanes> point[6], axis[6];
  Pose3<Lanes> end;
};

ARMWRIGHT_INLINE LanePosture posture_of(const SixChain& chain, const Lanes* q) {
  LanePosture r;
  Pose3<Lanes> frame = spread<Lanes>(chain.base);
  for (std::size_t i = 0; i < 6; ++i) {
    advance(chain.step[i], q[i], frame);
    r.point[i] = frame.position;
    r.axis[i] = frame.rotation.z;
  }
  r.end = frame * spread<Lanes>(chain.end);
  return r;
}

// Shift and turn (axis times sine) from reached to target, in the base frame.
ARMWRIGHT_INLINE void way_to(const Pose& target, const Pose3<Lanes>& reached, Lanes* way) {
  const Vector3<Lanes> shift = spread<Lanes>(target.position) - reached.position;
  const Rotation3<Lanes> B = spread<Lanes>(target.rotation);
  const Rotation3<Lanes>& A = reached.rotation;
  const Vector3<Lanes> turn = Lanes(0.5) * (cross(A.x, B.x) + cross(A.y, B.y) + cross(A.z, B.z));
  way[0] = shift.x;
  way[1] = shift.y;
  way[2] = shift.z;
  way[3] = turn.x;
  way[4] = turn.y;
  way[5] = turn.z;
}

// x with JᵀJ x = Jᵀ e, by LDLᵀ. The columns of J are the joints. Where J is nearly singular the step is poor; the misfit that
// is left shows it.
ARMWRIGHT_INLINE void least_squares(const Lanes (&J)[6][6], const Lanes* e, Lanes* x) {
  Lanes L[6][6], D[6];
  for (std::size_t i = 0; i < 6; ++i) {
    Lanes b(0.0);
    for (std::size_t k = 0; k < 6; ++k) b += J[i][k] * e[k];
    for (std::size_t j = 0; j <= i; ++j) {
      Lanes sum(0.0);
      for (std::size_t k = 0; k < 6; ++k) sum += J[i][k] * J[j][k];
      for (std::size_t k = 0; k < j; ++k) sum -= L[i][k] * L[j][k] * D[k];
      if (j < i) {
        L[i][j] = sum / D[j];
      } else {
        D[i] = maximum(sum, Lanes(1e-14));
      }
    }
    for (std::size_t k = 0; k < i; ++k) b -= L[i][k] * x[k];
    x[i] = b;
  }
  for (std::size_t i = 6; i-- > 0;) {
    x[i] = x[i] / D[i];
    for (std::size_t k = i + 1; k < 6; ++k) x[i] -= L[k][i] * x[k];
  }
}

ARMWRIGHT_INLINE Lanes square_of(const Lanes* v) {
  Lanes sum(0.0);
  for (std::size_t i = 0; i < 6; ++i) sum += v[i] * v[i];
  return sum;
}

constexpr double longest_step = 1e-3;  // rad; a longer one comes from a nearly singular Jacobian

}  // namespace

ARMWRIGHT_BATCH void refine_pack(const SixChain& chain, const Pose& target, bool mirrored, Branches::Pack& pack) {
  Lanes q[6], way[6], left[6], step[6], J[6][6];
  for (std::size_t i = 0; i < 6; ++i) {
    const auto& from = pack.q[mirrored ? 5 - i : i];
    for (std::size_t k = 0; k < 4; ++k) q[i].set(k, from[k]);
  }
  const LanePosture at = posture_of(chain, q);
  way_to(target, at.end, way);
  for (std::size_t i = 0; i < 6; ++i) {
    const Vector3<Lanes> v = cross(at.axis[i], at.end.position - at.point[i]);
    J[i][0] = v.x;
    J[i][1] = v.y;
    J[i][2] = v.z;
    J[i][3] = at.axis[i].x;
    J[i][4] = at.axis[i].y;
    J[i][5] = at.axis[i].z;
  }
  least_squares(J, way, step);
  Lanes next[6];
  for (std::size_t i = 0; i < 6; ++i) next[i] = q[i] + step[i];
  way_to(target, posture_of(chain, next).end, left);
  const Lanes before = square_of(way), after = square_of(left);
  const auto better = (after < before) & (square_of(step) < Lanes(longest_step * longest_step));
  store(select(better, after, before), pack.miss);
  pack.refined = true;
  const Lanes turn(6.283185307179586476925);
  for (std::size_t i = 0; i < 6; ++i) {
    const Lanes best = select(better, next[i], q[i]);
    store(best - turn * detail::nearest(best / turn), pack.q[mirrored ? 5 - i : i]);
  }
}

}  // namespace armwright
