#include "armwright/dynamics/gravity.hpp"
#include "armwright/dynamics/inverse_dynamics.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

void bind_dynamics(py::module_& parent) {
  py::module_ m = parent.def_submodule("dynamics", "Joint torques: batches over joint vectors (rows, joints). Loads are told in the last joint frame.");

  m.def("gravity_torques", [](const Model& model, const Inertia& load, const Array& q) {
    Array out({rows_checked(model, q), q.shape(1)});
    const auto in = view(q);
    const auto to = view(out);
    {
      py::gil_scoped_release release;
      gravity_torques(model, load, in, to);
    }
    return out;
  }, py::arg("model"), py::arg("load"), py::arg("q"), "Torques held against gravity, (rows, joints).");

  m.def("inverse_dynamics", [](const Model& model, const Inertia& load, const Array& q, const Array& speed, const Array& acceleration) {
    Array out({rows_checked(model, q), q.shape(1)});
    same_shape(q, speed);
    same_shape(q, acceleration);
    const auto in = view(q), v = view(speed), a = view(acceleration);
    const auto to = view(out);
    {
      py::gil_scoped_release release;
      inverse_dynamics(model, load, in, v, a, to);
    }
    return out;
  }, py::arg("model"), py::arg("load"), py::arg("q"), py::arg("speed"), py::arg("acceleration"), "Torques of a motion, (rows, joints).");

  m.def("mass_matrices", [](const Model& model, const Inertia& load, const Array& q) {
    Array out({rows_checked(model, q), q.shape(1), q.shape(1)});
    const auto in = view(q);
    const auto to = view(out);
    {
      py::gil_scoped_release release;
      mass_matrices(model, load, in, to);
    }
    return out;
  }, py::arg("model"), py::arg("load"), py::arg("q"), "Joint-space mass matrices, (rows, joints, joints).");
}

}  // namespace armwright::bindings
