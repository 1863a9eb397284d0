#pragma once

#include <pybind11/pybind11.h>

namespace armwright::bindings {

void bind_model(pybind11::module_& m);
void bind_drive(pybind11::module_& model);
void bind_kinematics(pybind11::module_& m);
void bind_dynamics(pybind11::module_& m);
void bind_inverse(pybind11::module_& kinematics);
void bind_tool_error(pybind11::module_& kinematics);
void bind_clearance(pybind11::module_& m);
void bind_studies(pybind11::module_& m);
void bind_track(pybind11::module_& studies);
void bind_placement(pybind11::module_& studies);
void bind_stop(pybind11::module_& m);
void bind_limits(pybind11::module_& m);
void bind_motion(pybind11::module_& m);
void bind_elements(pybind11::module_& m);
void bind_base(pybind11::module_& elements);
void bind_driven(pybind11::module_& m);
void bind_sections(pybind11::module_& elements);
void bind_structure(pybind11::module_& dynamics);
void bind_guide(pybind11::module_& m);
void bind_bearings(pybind11::module_& elements);
void bind_bearing_duty(pybind11::module_& limits);

}  // namespace armwright::bindings
