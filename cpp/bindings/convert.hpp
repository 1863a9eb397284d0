#pragma once

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <span>
#include <tuple>
#include <vector>

#include "armwright/model/model.hpp"
#include "armwright/spatial/inertia.hpp"
#include "result_memory.hpp"

namespace py = pybind11;

namespace armwright::bindings {

using Array = py::array_t<double, py::array::c_style | py::array::forcecast>;

inline std::span<const double> view(const Array& a) { return {a.data(), static_cast<std::size_t>(a.size())}; }
template <class Number, int flags>
std::span<Number> view(py::array_t<Number, flags>& a) { return {a.mutable_data(), static_cast<std::size_t>(a.size())}; }

/// A last guard: the Python layer has checked shapes and told the user; this keeps a wrong direct call from reading
/// past the end. Returns the number of rows.
inline py::ssize_t rows_checked(const Model& model, const Array& q) {
  if (q.ndim() != 2 || q.shape(1) != static_cast<py::ssize_t>(model.joint_count))
    throw py::value_error("joint vectors must have shape (rows, joints)");
  return q.shape(0);
}

inline void same_shape(const Array& a, const Array& b) {
  if (a.ndim() != b.ndim() || !std::equal(a.shape(), a.shape() + a.ndim(), b.shape()))
    throw py::value_error("arrays must have the same shape");
}

/// The array of a shape that `kernel(first, others..., out)` fills from its inputs, all of one shape, the GIL released.
template <class Kernel, class... Others>
Array filled(const std::vector<py::ssize_t>& shape, const Kernel& kernel, const Array& first, const Others&... others) {
  (same_shape(first, others), ...);
  Array out = result_array(shape);
  std::apply([&, to = view(out)](const auto&... in) {
    py::gil_scoped_release release;
    kernel(in..., to);
  }, std::tuple{view(first), view(others)...});
  return out;
}

}  // namespace armwright::bindings

namespace pybind11::detail {

/// A Vec3 is an array of three numbers in Python.
template <>
struct type_caster<armwright::Vec3> {
  PYBIND11_TYPE_CASTER(armwright::Vec3, const_name("numpy.typing.NDArray[numpy.float64]"));
  bool load(handle source, bool) {
    const auto a = armwright::bindings::Array::ensure(source);
    if (!a) { PyErr_Clear(); return false; }
    if (a.size() != 3) return false;
    value = {a.data()[0], a.data()[1], a.data()[2]};
    return true;
  }
  static handle cast(const armwright::Vec3& v, return_value_policy, handle) {
    armwright::bindings::Array a(3);
    a.mutable_at(0) = v.x, a.mutable_at(1) = v.y, a.mutable_at(2) = v.z;
    return a.release();
  }
};

/// A Pose is a 4×4 array in Python.
template <>
struct type_caster<armwright::Pose> {
  PYBIND11_TYPE_CASTER(armwright::Pose, const_name("numpy.typing.NDArray[numpy.float64]"));
  bool load(handle source, bool) {
    const auto a = armwright::bindings::Array::ensure(source);
    if (!a) { PyErr_Clear(); return false; }
    if (a.ndim() != 2 || a.shape(0) != 4 || a.shape(1) != 4) return false;
    value = armwright::pose_from_rows(a.data());
    return true;
  }
  static handle cast(const armwright::Pose& X, return_value_policy, handle) {
    armwright::bindings::Array a({4, 4});
    armwright::pose_to_rows(X, a.mutable_data());
    return a.release();
  }
};

}  // namespace pybind11::detail
