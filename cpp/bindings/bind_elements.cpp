#include <array>

#include "armwright/elements/bus.hpp"
#include "armwright/elements/duty_type.hpp"
#include "armwright/elements/inertia_ratio.hpp"
#include "armwright/elements/mains.hpp"
#include "armwright/elements/pulse_rate.hpp"
#include "armwright/elements/reducer_life.hpp"
#include "armwright/elements/root_mean.hpp"
#include "armwright/elements/separation.hpp"
#include "armwright/elements/stage.hpp"
#include "armwright/elements/stop_distance.hpp"
#include "armwright/elements/torque_speed_curve.hpp"
#include "armwright/elements/winding.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

void bind_drives(py::module_& m) {
  m.def("curve_value", [](const std::vector<double>& speed, const std::vector<double>& torque, double at) {
    if (speed.size() != torque.size()) throw py::value_error("a curve has one torque a speed");
    return curve_value(speed, torque, at);
  }, py::arg("speed"), py::arg("torque"), py::arg("at"));
  m.def("stage_input_torque", [](double torque, double direction, double ratio, double efficiency, double efficiency_back) {
    return stage_input_torque(stage_gains(ratio, efficiency, efficiency_back), torque, direction);
  }, py::arg("torque"), py::arg("direction"), py::arg("ratio"), py::arg("efficiency"), py::arg("efficiency_back"));
  m.def("winding_loss_factor", &winding_loss_factor, py::arg("phase_resistance"), py::arg("torque_constant"));
  m.def("square_integral", &square_integral, py::arg("a"), py::arg("b"), py::arg("time"));
  m.def("wear_integral", &wear_integral, py::arg("torque_a"), py::arg("torque_b"), py::arg("speed_a"), py::arg("speed_b"), py::arg("exponent"), py::arg("time"));
  m.def("mean_powered_torque", &mean_powered_torque, py::arg("wear"), py::arg("turned"), py::arg("exponent"));
  m.def("reducer_life", &reducer_life, py::arg("rated_life"), py::arg("rated_speed"), py::arg("rated_torque"), py::arg("mean_speed"), py::arg("mean_torque"), py::arg("exponent"));
  m.def("momentary_peaks", &momentary_peaks, py::arg("input_speed"), py::arg("time"));
  m.def("inertia_ratio", &inertia_ratio, py::arg("load_inertia"), py::arg("ratio"), py::arg("motor_inertia"));
  m.def("pulse_rate", &pulse_rate, py::arg("motor_speed"), py::arg("counts_a_turn"));
  m.def("duty_type", [](const Array& spans, bool repeated) {
    if (spans.ndim() != 2 || spans.shape(1) != 5) throw py::value_error("spans must have shape (n, 5)");
    std::vector<DutySpan> history;
    for (py::ssize_t i = 0; i < spans.shape(0); ++i) history.push_back({spans.at(i, 0), spans.at(i, 1), spans.at(i, 2), spans.at(i, 3), spans.at(i, 4)});
    const Duty duty = duty_of(history, repeated);
    return py::make_tuple(static_cast<int>(duty.type) + 1, duty.duration_factor, duty.rms_torque, duty.rms_speed, duty.mean_speed);
  }, py::arg("spans"), py::arg("repeated"), "Spans of time, torque from and to, speed from and to. Number of the duty type, duration factor, RMS torque, RMS and mean speed.");
}

}  // namespace

void bind_elements(py::module_& parent) {
  py::module_ m = parent.def_submodule("elements", "Machine elements: formulas on numbers, SI; see cpp/armwright/elements.");
  bind_drives(m);
  bind_base(m);
  bind_sections(m);
  bind_bearings(m);
  m.def("capacitor_energy", &capacitor_energy, py::arg("capacitance"), py::arg("start"), py::arg("end"));
  m.def("kinetic_energy", &kinetic_energy, py::arg("inertia"), py::arg("speed"));
  m.def("mains_current", &mains_current, py::arg("power"), py::arg("voltage"), py::arg("phases"), py::arg("power_factor"));
  m.def("branch_share", &branch_share, py::arg("current"), py::arg("breaker_current"), py::arg("continuous"));
  m.def("separation_light_curtain", &separation_light_curtain, py::arg("stop_time"), py::arg("resolution"));
  m.def("separation_arm", &separation_arm, py::arg("stop_time"));
  m.def("separation_along", &separation_along, py::arg("stop_time"), py::arg("height"));
  m.def("coarsest_resolution", &coarsest_resolution, py::arg("height"));
  m.def("separation_two_hand", &separation_two_hand, py::arg("stop_time"));
  m.def("separation_guard", &separation_guard, py::arg("stop_time"), py::arg("reach_through"));
  m.def("stop_distance", &stop_distance, py::arg("speed"), py::arg("reaction_time"), py::arg("deceleration"));
  m.def("stop_places", [](double controlled, double brake, double error, double reserve) {
    const StopPlaces places = stop_places(controlled, brake, error, reserve);
    return py::make_tuple(places.limit_switch, places.soft_limit);
  }, py::arg("controlled_travel"), py::arg("brake_travel"), py::arg("switch_error"), py::arg("reserve"),
     "How far before a hard stop the limit switch and the soft limit stand.");
}

}  // namespace armwright::bindings
