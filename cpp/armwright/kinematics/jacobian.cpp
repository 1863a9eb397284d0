#include "armwright/kinematics/jacobian.hpp"

#include <Eigen/SVD>
#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/kinematics/jacobian_columns.hpp"
#include "armwright/kinematics/joint_range.hpp"
#include "armwright/support/in_packs.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

template <std::size_t First, std::size_t Count>
void volumes(const Model& model, std::span<const double> q, std::span<double> out) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_packs<T, max_joints, 1>(rows_of(model, q), {q.data()}, {model.joint_count}, out.data(), 1, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      JacobianColumn<T> columns[max_joints];
      joint_frames(model, in[0], frames);
      jacobian_columns(model, frames, columns);
      store_rows(gram_volume<First, Count>(columns, model.joint_count), to, 1, 0);
    });
  });
}

}  // namespace

void jacobians(const Model& model, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_packs<T, 6 * max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), 6 * n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      joint_frames(model, in[0], frames);
      const Vector3<T> tool = frames[n - 1] * spread<T>(model.tool.position);
      T J[6 * max_joints];  // row by row
      for (std::size_t i = 0; i < n; ++i) {
        const auto [linear, angular] = jacobian_column(model.step[i].kind, frames[i], tool);
        J[i] = linear.x, J[n + i] = linear.y, J[2 * n + i] = linear.z;
        J[3 * n + i] = angular.x, J[4 * n + i] = angular.y, J[5 * n + i] = angular.z;
      }
      store_rows(J, 6 * n, to, 6 * n);
    });
  });
}

void manipulabilities(const Model& model, std::span<const double> q, Motion motion, std::span<double> out) {
  switch (motion) {
    case Motion::all: return volumes<0, 6>(model, q, out);
    case Motion::translation: return volumes<0, 3>(model, q, out);
    case Motion::rotation: return volumes<3, 3>(model, q, out);
  }
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
