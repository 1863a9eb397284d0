#include "armwright/kinematics/inverse/polish.hpp"

#include <cmath>
#include <utility>

#include "armwright/kinematics/inverse/solutions.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

using Vector6 = std::array<double, 6>;
using Matrix6 = std::array<Vector6, 6>;  // rows

// The way from reached to target: a shift, and a turn as axis times angle, both in the base frame.
Vector6 way_to(const Pose& target, const Pose& reached) {
  const Vec3 shift = target.position - reached.position;
  const Rotation& A = reached.rotation;
  const Rotation& B = target.rotation;
  // Twice the sine times the axis of the turn B·Aᵀ: the sum of the cross products of the frame's axes.
  const Vec3 twice = cross(A.x, B.x) + cross(A.y, B.y) + cross(A.z, B.z);
  const double sine = 0.5 * norm(twice);
  const double cosine = 0.5 * (dot(A.x, B.x) + dot(A.y, B.y) + dot(A.z, B.z) - 1);
  const double scale = sine > 1e-12 ? 0.5 * std::atan2(sine, cosine) / sine : 0.5;
  return {shift.x, shift.y, shift.z, scale * twice.x, scale * twice.y, scale * twice.z};
}

double square(const Vector6& v) {
  double sum = 0;
  for (double x : v) sum += x * x;
  return sum;
}

Matrix6 jacobian_of(const ChainPosture& posture) {
  Matrix6 J;
  for (std::size_t i = 0; i < 6; ++i) {
    const Vec3& z = posture.axis[i].direction;
    const Vec3 v = cross(z, posture.end.position - posture.axis[i].point);
    J[0][i] = v.x;
    J[1][i] = v.y;
    J[2][i] = v.z;
    J[3][i] = z.x;
    J[4][i] = z.y;
    J[5][i] = z.z;
  }
  return J;
}

// Gauss with row exchange. False where a pivot vanishes.
bool solve_linear(Matrix6 A, Vector6 b, Vector6& x) {
  for (std::size_t k = 0; k < 6; ++k) {
    std::size_t pivot = k;
    for (std::size_t i = k + 1; i < 6; ++i) {
      if (std::fabs(A[i][k]) > std::fabs(A[pivot][k])) pivot = i;
    }
    if (std::fabs(A[pivot][k]) < 1e-14) return false;
    std::swap(A[k], A[pivot]);
    std::swap(b[k], b[pivot]);
    for (std::size_t i = k + 1; i < 6; ++i) {
      const double factor = A[i][k] / A[k][k];
      for (std::size_t j = k + 1; j < 6; ++j) A[i][j] -= factor * A[k][j];
      b[i] -= factor * b[k];
    }
  }
  for (std::size_t k = 6; k-- > 0;) {
    double sum = b[k];
    for (std::size_t j = k + 1; j < 6; ++j) sum -= A[k][j] * x[j];
    x[k] = sum / A[k][k];
  }
  return true;
}

// (JᵀJ + damping·1) x = Jᵀ e.
bool solve_damped(const Matrix6& J, const Vector6& e, double damping, Vector6& x) {
  Matrix6 A{};
  Vector6 b{};
  for (std::size_t i = 0; i < 6; ++i) {
    for (std::size_t j = 0; j < 6; ++j) {
      for (std::size_t k = 0; k < 6; ++k) A[i][j] += J[k][i] * J[k][j];
    }
    A[i][i] += damping;
    for (std::size_t k = 0; k < 6; ++k) b[i] += J[k][i] * e[k];
  }
  return solve_linear(A, b, x);
}

constexpr double longest_step = 0.3;      // rad; a plain step beyond this comes from a near-singular Jacobian
constexpr double good_enough = 1e-26;     // squared error where rounding begins
constexpr double accepted_square = 1e-18;

}  // namespace

PoseError pose_error(const Pose& reached, const Pose& target) {
  return {norm(target.position - reached.position), angle_between(reached.rotation, target.rotation)};
}

PoseError pose_error(const SixChain& chain, const Pose& target, const double* q) {
  return pose_error(chain_end(chain, q), target);
}

Pose nearest_square(Pose target) {
  make_square(target.rotation);
  return target;
}

bool polish(const SixChain& chain, const Pose& target, double* q, int most_steps) {
  Vector6 best;
  for (std::size_t i = 0; i < 6; ++i) best[i] = q[i];
  ChainPosture posture = chain_posture(chain, best.data());
  Vector6 error = way_to(target, posture.end);
  double size = square(error);
  double damping = 0;
  for (int step = 0; step < most_steps && size > good_enough; ++step) {
    const Matrix6 J = jacobian_of(posture);
    Vector6 way{};
    bool solved = damping == 0 && solve_linear(J, error, way);
    if (!solved || square(way) > longest_step * longest_step) {
      // Damping of the size of the error keeps convergence fast while it holds the step back.
      if (damping == 0) damping = std::sqrt(size);
      solved = solve_damped(J, error, damping, way);
    }
    if (!solved) break;
    Vector6 next;
    for (std::size_t i = 0; i < 6; ++i) next[i] = best[i] + way[i];
    const ChainPosture there = chain_posture(chain, next.data());
    const Vector6 left = way_to(target, there.end);
    const double new_size = square(left);
    if (new_size < size) {
      const bool little = new_size > 0.5 * size && size < accepted_square;
      best = next;
      posture = there;
      error = left;
      size = new_size;
      damping = damping > 1e-12 ? 0.1 * damping : 0;
      if (little) break;
    } else {
      if (size < accepted_square && step > 0) break;
      damping = damping == 0 ? std::sqrt(size) : 10 * damping;
      if (damping > 1e6) break;
    }
  }
  for (std::size_t i = 0; i < 6; ++i) q[i] = wrapped(best[i]);
  return accepted(pose_error(posture.end, target));
}

}  // namespace armwright
