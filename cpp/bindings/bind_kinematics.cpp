#include "armwright/kinematics/forward.hpp"
#include "armwright/kinematics/free_wrist.hpp"
#include "armwright/kinematics/jacobian.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

void bind_kinematics(py::module_& parent) {
  py::module_ m = parent.def_submodule("kinematics", "Poses, Jacobians, margins: batches over joint vectors (rows, joints).");

  m.def("tool_poses", [](const Model& model, const Array& q) {
    return filled({rows_checked(model, q), 4, 4}, [&](auto in, auto to) { tool_poses(model, in, to); }, q);
  }, py::arg("model"), py::arg("q"), "Tool poses in the world, (rows, 4, 4).");

  m.def("link_poses", [](const Model& model, const Array& q) {
    return filled({rows_checked(model, q), q.shape(1), 4, 4}, [&](auto in, auto to) { link_poses(model, in, to); }, q);
  }, py::arg("model"), py::arg("q"), "Link frames in the world, (rows, joints, 4, 4).");

  m.def("jacobians", [](const Model& model, const Array& q) {
    return filled({rows_checked(model, q), 6, q.shape(1)}, [&](auto in, auto to) { jacobians(model, in, to); }, q);
  }, py::arg("model"), py::arg("q"), "Jacobians of the tool point in world axes, (rows, 6, joints).");

  py::enum_<Motion>(m, "Motion").value("all", Motion::all).value("translation", Motion::translation).value("rotation", Motion::rotation);

  m.def("manipulabilities", [](const Model& model, const Array& q, Motion motion) {
    return filled({rows_checked(model, q)}, [&](auto in, auto to) { manipulabilities(model, in, motion, to); }, q);
  }, py::arg("model"), py::arg("q"), py::arg("motion"), "Yoshikawa's manipulability, (rows,).");

  m.def("singular_values", [](const Model& model, const Array& q, double length) {
    return filled({rows_checked(model, q), 2}, [&](auto in, auto to) { singular_values(model, in, length, to); }, q);
  }, py::arg("model"), py::arg("q"), py::arg("length"), "Least and greatest singular value of the Jacobian, angular rows times length, (rows, 2).");

  m.def("limit_margins", [](const Model& model, const Array& q) {
    return filled({rows_checked(model, q)}, [&](auto in, auto to) { limit_margins(model, in, to); }, q);
  }, py::arg("model"), py::arg("q"), "Distance to the joint limits as a share of half the range, (rows,).");
  m.def("with_free_wrist", [](const Model& model) { return std::make_shared<Model>(with_free_wrist(model)); }, py::arg("model"),
        "The model with three endless joints in its tool point: a target then asks for a position alone.");
  bind_inverse(m);
  bind_tool_error(m);
}

}  // namespace armwright::bindings
