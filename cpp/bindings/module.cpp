#include <pybind11/stl.h>

#include "armwright/clearance/scene.hpp"
#include "armwright/support/all_within.hpp"
#include "convert.hpp"
#include "rooms.hpp"

PYBIND11_MODULE(_core, m) {
  m.doc() = "The C++ core of armwright, a submodule a room.";
  armwright::bindings::bind_model(m);
  armwright::bindings::bind_kinematics(m);
  armwright::bindings::bind_elements(m);
  armwright::bindings::bind_dynamics(m);
  armwright::bindings::bind_stop(m);
  armwright::bindings::bind_motion(m);
  armwright::bindings::bind_limits(m);
  armwright::bindings::bind_driven(m);
  armwright::bindings::bind_guide(m);
  armwright::bindings::bind_clearance(m);
  armwright::bindings::bind_studies(m);
  m.def("all_within", [](const armwright::bindings::Array& numbers, double limit) {
    const auto in = armwright::bindings::view(numbers);
    py::gil_scoped_release release;
    return armwright::all_within(in, limit);
  }, py::arg("numbers"), py::arg("limit"), "Whether every number is at most limit in size; one that is not a number is not.");
  m.def("check_build", &armwright::self_test, "What is wrong with the libraries that this module runs on; \"\" if nothing is.");
}
