// The peer for inverse solutions: eaik, compiled from its published sources. All solutions of each pose, one thread.
#include "EAIK.h"
#include "clock.hpp"

using RowMajor4 = Eigen::Matrix<double, 4, 4, Eigen::RowMajor>;

extern "C" {

/// H: six unit axes (row by row), P: seven offsets between them (row by row), in the base frame at zero; R: the turn
/// of the end frame at zero, 3x3 row-major.
void* eaik_open(const double* H, const double* P, const double* R) {
  const Eigen::MatrixXd axes = Eigen::Map<const Eigen::Matrix<double, 3, 6>>(H);
  const Eigen::MatrixXd offsets = Eigen::Map<const Eigen::Matrix<double, 3, 7>>(P);
  const Eigen::Matrix3d turn = Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>>(R);
  return new EAIK::Robot(axes, offsets, turn);
}

void eaik_close(void* handle) { delete static_cast<EAIK::Robot*>(handle); }

/// Solutions into q (count x 16 x 6) and counts; least-squares answers, which do not reach the pose, are left out.
double eaik_solve(void* handle, long count, const double* poses, double* q, int* counts) {
  const auto& arm = *static_cast<const EAIK::Robot*>(handle);
  const double start = now();
  for (long k = 0; k < count; ++k) {
    const IKS::Homogeneous_T target = Eigen::Map<const RowMajor4>(poses + 16 * k);
    const IKS::IK_Solution found = arm.calculate_IK(target);
    int kept = 0;
    for (std::size_t i = 0; i < found.Q.size() && kept < 16; ++i) {
      if (found.is_LS_vec[i]) continue;
      std::copy_n(found.Q[i].data(), 6, q + (k * 16 + kept++) * 6);
    }
    counts[k] = kept;
  }
  return seconds_since(start);
}
}
