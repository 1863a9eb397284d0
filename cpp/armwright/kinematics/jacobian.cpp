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

// One row of the Jacobian in each lane: runs of four joints at a time, the last run drawn back so as to end at the last
// joint; arms of fewer than four joints go number by number.
template <class T>
ARMWRIGHT_INLINE void store_row(const T* row, std::size_t n, double* out, std::size_t stride) {
  if (n < 4) {
    for (std::size_t i = 0; i < n; ++i) store_rows(row[i], out, stride, i);
    return;
  }
  for (std::size_t i = 0;;) {
    store_quad(row[i], row[i + 1], row[i + 2], row[i + 3], out + i, stride);
    if (i + 4 >= n) break;
    i = std::min(i + 4, n - 4);
  }
}

// Calls each(columns, out) with the Jacobian's columns of every pack of rows; `size` numbers a row go out.
template <class T, std::size_t Widest, class Each>
ARMWRIGHT_INLINE void each_jacobian(const Model& model, std::span<const double> q, std::span<double> out, std::size_t size, const Each& each) {
  in_packs<T, Widest, 1>(rows_of(model, q), {q.data()}, {model.joint_count}, out.data(), size, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Pose3<T> frames[max_joints];
    JacobianColumn<T> columns[max_joints];
    joint_frames(model, in[0], frames);
    jacobian_columns(model, frames, columns);
    each(columns, to);
  });
}

}  // namespace

void jacobians(const Model& model, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    each_jacobian<T, 6 * max_joints>(model, q, out, 6 * n, [&](const JacobianColumn<T>* columns, double* to) ARMWRIGHT_INLINE_LAMBDA {
      T rows[6][max_joints];
      for (std::size_t i = 0; i < n; ++i) {
        const auto& [linear, angular] = columns[i];
        rows[0][i] = linear.x, rows[1][i] = linear.y, rows[2][i] = linear.z;
        rows[3][i] = angular.x, rows[4][i] = angular.y, rows[5][i] = angular.z;
      }
      for (std::size_t r = 0; r < 6; ++r) store_row(rows[r], n, to + r * n, 6 * n);
    });
  });
}

void manipulabilities(const Model& model, std::span<const double> q, Motion motion, std::span<double> out) {
  const std::size_t first = motion == Motion::rotation ? 3 : 0, count = motion == Motion::all ? 6 : 3;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    each_jacobian<T, max_joints>(model, q, out, 1, [&](const JacobianColumn<T>* columns, double* to) ARMWRIGHT_INLINE_LAMBDA {
      store_rows(gram_volume(columns, model.joint_count, first, count), to, 1, 0);
    });
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
