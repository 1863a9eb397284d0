#include "armwright/dynamics/forward_dynamics.hpp"
#include "armwright/dynamics/gravity.hpp"
#include "armwright/dynamics/hanging.hpp"
#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/dynamics/joint_wrenches.hpp"
#include "armwright/dynamics/springs.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

void bind_hanging(py::module_& m) {
  m.def("hang", [](const Model& model, const Inertia& still, std::int32_t frame, const Vec3& point, const Vec3& up, const Array& q) {
    const py::ssize_t rows = rows_checked(model, q);
    if (frame < -1 || frame >= static_cast<std::int32_t>(model.joint_count)) throw py::value_error("no such joint frame");
    Array tilt(rows), centre({rows, py::ssize_t{3}}), at({rows, py::ssize_t{3}}), torque({rows, q.shape(1)});
    const auto in = view(q);
    const HangingRows out{view(tilt), view(centre), view(at), view(torque)};
    {
      py::gil_scoped_release release;
      hang(model, still, {frame, point}, up, in, out);
    }
    return py::make_tuple(tilt, centre, at, torque);
  }, py::arg("model"), py::arg("still"), py::arg("frame"), py::arg("point"), py::arg("up"), py::arg("q"),
     "An arm hung by one point: tilt (rows,), centre of gravity and point in the world as it stands (rows, 3), holding torques (rows, joints).");
}

}  // namespace

void bind_dynamics(py::module_& parent) {
  py::module_ m = parent.def_submodule("dynamics", "Joint torques: batches over joint vectors (rows, joints). Loads are told in the last joint frame.");

  m.def("gravity_torques", [](const Model& model, const Inertia& load, const Array& q) {
    return filled({rows_checked(model, q), q.shape(1)}, [&](auto in, auto to) { gravity_torques(model, load, in, to); }, q);
  }, py::arg("model"), py::arg("load"), py::arg("q"), "Torques held against gravity, (rows, joints).");

  m.def("inverse_dynamics", [](const Model& model, const Inertia& load, const Array& q, const Array& speed, const Array& acceleration, bool drives) {
    return filled({rows_checked(model, q), q.shape(1)}, [&](auto in, auto v, auto a, auto to) { inverse_dynamics(model, load, in, v, a, to, drives); }, q, speed, acceleration);
  }, py::arg("model"), py::arg("load"), py::arg("q"), py::arg("speed"), py::arg("acceleration"), py::arg("drives") = false, "Torques of a motion, (rows, joints); with drives those that accelerate rotors and stages too.");

  m.def("base_wrenches", [](const Model& model, const Inertia& load, const Array& q, const Array& speed, const Array& acceleration) {
    return filled({rows_checked(model, q), 6}, [&](auto in, auto v, auto a, auto to) { base_wrenches(model, load, in, v, a, to); }, q, speed, acceleration);
  }, py::arg("model"), py::arg("load"), py::arg("q"), py::arg("speed"), py::arg("acceleration"),
     "Force and moment on what the arm stands on, about the world's origin, world axes, (rows, 6).");

  m.def("joint_wrenches", [](const Model& model, const Inertia& load, const Array& q, const Array& speed, const Array& acceleration) {
    return filled({rows_checked(model, q), q.shape(1), 6}, [&](auto in, auto v, auto a, auto to) { joint_wrenches(model, load, in, v, a, to); }, q, speed, acceleration);
  }, py::arg("model"), py::arg("load"), py::arg("q"), py::arg("speed"), py::arg("acceleration"),
     "Force and moment that every joint gives to the link that it moves, in that link's described frame about its origin, (rows, joints, 6).");

  m.def("mount_wrenches", [](const Model& model, const Inertia& load, const Array& q, const Array& speed, const Array& acceleration) {
    return filled({rows_checked(model, q), 6}, [&](auto in, auto v, auto a, auto to) { mount_wrenches(model, load, in, v, a, to); }, q, speed, acceleration);
  }, py::arg("model"), py::arg("load"), py::arg("q"), py::arg("speed"), py::arg("acceleration"),
     "Force and moment that the arm with its base link puts on what it is bolted to, in the mount's frame about its origin, (rows, 6).");

  m.def("mass_matrices", [](const Model& model, const Inertia& load, const Array& q, bool drives) {
    return filled({rows_checked(model, q), q.shape(1), q.shape(1)}, [&](auto in, auto to) { mass_matrices(model, load, in, to, drives); }, q);
  }, py::arg("model"), py::arg("load"), py::arg("q"), py::arg("drives") = false, "Joint-space mass matrices, (rows, joints, joints).");

  m.def("forward_dynamics", [](const Model& model, const Inertia& load, bool drives, const Array& q, const Array& speed, const Array& torque) {
    const py::ssize_t rows = rows_checked(model, q);
    Array out({rows, q.shape(1)});
    py::array_t<std::int32_t> loose(rows);
    same_shape(q, speed);
    same_shape(q, torque);
    const auto in = view(q), v = view(speed), t = view(torque);
    const auto to = view(out);
    const std::span<std::int32_t> lost{loose.mutable_data(), static_cast<std::size_t>(rows)};
    {
      py::gil_scoped_release release;
      forward_dynamics(model, load, drives, in, v, t, to, lost);
    }
    return py::make_tuple(out, loose);
  }, py::arg("model"), py::arg("load"), py::arg("drives"), py::arg("q"), py::arg("speed"), py::arg("torque"),
     "Joint accelerations (rows, joints), and for each row a joint without inertia or -1.");

  m.def("spring_states", [](const Model& model, const Array& q) {
    const py::ssize_t rows = rows_checked(model, q), springs = static_cast<py::ssize_t>(model.springs.size());
    Array length({rows, springs}), pull({rows, springs});
    const auto in = view(q);
    spring_states(model, in, view(length), view(pull));
    return py::make_tuple(length, pull);
  }, py::arg("model"), py::arg("q"), "Length, m, and pull, N, of every spring, (rows, springs) each.");
  bind_hanging(m);
  bind_structure(m);
}

}  // namespace armwright::bindings
