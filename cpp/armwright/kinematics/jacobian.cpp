#include "armwright/kinematics/jacobian.hpp"

#include <Eigen/SVD>
#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/kinematics/jacobian_columns.hpp"
#include "armwright/kinematics/joint_range.hpp"
#include "armwright/support/in_fours.hpp"

namespace armwright {

namespace {

// One Jacobian row for four postures: runs of four joints at a time, the last run drawn back so as to end at the last
// joint; arms of fewer than four joints go number by number.
ARMWRIGHT_INLINE void store_row(const Lanes* row, std::size_t n, double* out, std::size_t stride) {
  if (n < 4) {
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t k = 0; k < Lanes::width; ++k) out[k * stride + i] = row[i][k];
    return;
  }
  for (std::size_t i = 0;;) {
    store_quad(row[i], row[i + 1], row[i + 2], row[i + 3], out + i, stride);
    if (i + 4 >= n) break;
    i = std::min(i + 4, n - 4);
  }
}

}  // namespace

ARMWRIGHT_BATCH void jacobians(const Model& model, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count;
  in_fours<6 * max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), 6 * n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Pose3<Lanes> frames[max_joints];
    JacobianColumn<Lanes> columns[max_joints];
    joint_frames(model, in[0], frames);
    jacobian_columns(model, frames, columns);
    Lanes rows[6][max_joints];
    for (std::size_t i = 0; i < n; ++i) {
      const auto& [linear, angular] = columns[i];
      rows[0][i] = linear.x, rows[1][i] = linear.y, rows[2][i] = linear.z;
      rows[3][i] = angular.x, rows[4][i] = angular.y, rows[5][i] = angular.z;
    }
    for (std::size_t r = 0; r < 6; ++r) store_row(rows[r], n, to + r * n, 6 * n);
  });
}

ARMWRIGHT_BATCH void manipulabilities(const Model& model, std::span<const double> q, Motion motion, std::span<double> out) {
  const std::size_t n = model.joint_count;
  in_fours<max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), 1, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Pose3<Lanes> frames[max_joints];
    JacobianColumn<Lanes> columns[max_joints];
    joint_frames(model, in[0], frames);
    jacobian_columns(model, frames, columns);
    Lanes volume;
    switch (motion) {
      case Motion::all: volume = gram_volume(columns, n, 0, 6); break;
      case Motion::translation: volume = gram_volume(columns, n, 0, 3); break;
      case Motion::rotation: volume = gram_volume(columns, n, 3, 3); break;
    }
    for (std::size_t k = 0; k < Lanes::width; ++k) to[k] = volume[k];
  });
}

void singular_values(const Model& model, std::span<const double> q, double length, std::span<double> out) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  std::array<Pose, max_joints> frames;
  std::array<JacobianColumn<double>, max_joints> columns;
  Eigen::Matrix<double, 6, Eigen::Dynamic, 0, 6, max_joints> J(6, n);
  for (std::size_t row = 0; row < rows; ++row) {
    joint_frames(model, q.data() + row * n, frames.data());
    jacobian_columns(model, frames.data(), columns.data());
    for (std::size_t i = 0; i < n; ++i) {
      const auto& [v, w] = columns[i];
      J.col(static_cast<Eigen::Index>(i)) << v.x, v.y, v.z, length * w.x, length * w.y, length * w.z;
    }
    const auto values = Eigen::JacobiSVD<Eigen::MatrixXd>(J).singularValues();
    out[2 * row] = values[values.size() - 1];
    out[2 * row + 1] = values[0];
  }
}

void limit_margins(const Model& model, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  for (std::size_t row = 0; row < rows; ++row) out[row] = limit_margin(model, q.data() + row * n);
}

}  // namespace armwright
