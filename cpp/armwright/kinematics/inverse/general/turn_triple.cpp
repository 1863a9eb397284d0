#include "armwright/kinematics/inverse/general/turn_triple.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/inverse/general/loop.hpp"

namespace armwright {

namespace {

Rotation motion_of(const JointStep& step, double q) {
  if (step.kind == JointKind::prismatic) return no_rotation;  // its constant turn is in the link
  return turn_z(std::cos(q + step.zero), std::sin(q + step.zero));
}

// What stands between the three turns.
std::array<Rotation, 4> parts_between(const SixChain& chain, const TurnTriple& triple, const std::array<double, 6>& q) {
  std::array<Rotation, 4> part;
  part.fill(no_rotation);
  part[0] = chain.base.rotation;
  std::size_t k = 0;
  for (std::size_t i = 0; i < 6; ++i) {
    part[k] = part[k] * link_of(chain.step[i]).rotation;
    if (k < 3 && i == triple.joint[k]) {
      ++k;
    } else {
      part[k] = part[k] * motion_of(chain.step[i], q[i]);
    }
  }
  part[3] = part[3] * chain.end.rotation;
  return part;
}

double angle_from(const Vec3& a, const Vec3& b) { return std::atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y); }

}  // namespace

double command_of(const SixChain& chain, const TurnTriple& triple, const std::array<double, 6>& q) {
  const auto A = parts_between(chain, triple, q);
  return std::hypot(A[1].z.x, A[1].z.y) * std::hypot(A[2].z.x, A[2].z.y);
}

TurnAnswers solve_turns(const SixChain& chain, const TurnTriple& triple, const Rotation& attitude,
                        const std::array<double, 6>& q, double slack) {
  const auto A = parts_between(chain, triple, q);
  const Rotation W = transpose(A[0]) * attitude * transpose(A[3]);  // Rz(t1) A1 Rz(t2) A2 Rz(t3)
  TurnAnswers out;
  const Vec3 a = transpose_times(A[1], Vec3{0, 0, 1}), b = A[2].z;
  const double P = a.x * b.x + a.y * b.y, Q = a.y * b.x - a.x * b.y, size = std::hypot(P, Q);
  if (size < 1e-9) return out;
  const double cosine = (W.z.z - a.z * b.z) / size;
  if (!(std::fabs(cosine) <= 1 + slack)) return out;
  const double half = std::acos(std::clamp(cosine, -1.0, 1.0)), middle = std::atan2(Q, P);
  for (const double side : {1.0, -1.0}) {
    auto& answer = out.q[static_cast<std::size_t>(out.count)];
    answer = q;
    const double t2 = middle + side * half;
    const Rotation inner = A[1] * turn_z(std::cos(t2), std::sin(t2)) * A[2];
    const bool in_line = std::hypot(W.z.x, W.z.y) < 1e-9 || std::hypot(inner.z.x, inner.z.y) < 1e-9;
    const JointStep& first = chain.step[triple.joint[0]];
    const double t1 = in_line ? q[triple.joint[0]] + first.zero : angle_from(inner.z, W.z);
    const Rotation rest = transpose(turn_z(std::cos(t1), std::sin(t1)) * inner) * W;  // Rz(t3)
    const double t3 = std::atan2(rest.x.y - rest.y.x, rest.x.x + rest.y.y);
    answer[triple.joint[0]] = t1 - first.zero;
    answer[triple.joint[1]] = t2 - chain.step[triple.joint[1]].zero;
    answer[triple.joint[2]] = t3 - chain.step[triple.joint[2]].zero;
    out.free = out.free || in_line;
    ++out.count;
  }
  return out;
}

}  // namespace armwright
