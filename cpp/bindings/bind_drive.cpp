#include "armwright/model/cell_spec.hpp"
#include "armwright/model/drive.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

using Points = std::vector<std::pair<double, double>>;

Points points_of(const std::vector<CurvePoint>& curve) {
  Points points;
  for (const CurvePoint& p : curve) points.emplace_back(p.speed, p.torque);
  return points;
}

std::vector<CurvePoint> curve_of(const Points& points) {
  std::vector<CurvePoint> curve;
  for (const auto& [speed, torque] : points) curve.push_back({speed, torque});
  return curve;
}

void bind_parts(py::module_& m) {
  py::class_<MotorSpec>(m, "MotorSpec", "See cpp/armwright/model/drive_spec.hpp; curves are (rad/s, N m) pairs.").def(py::init<>())
      .def_readwrite("name", &MotorSpec::name)
      .def_property("continuous", [](const MotorSpec& s) { return points_of(s.continuous); }, [](MotorSpec& s, const Points& p) { s.continuous = curve_of(p); })
      .def_property("peak", [](const MotorSpec& s) { return points_of(s.peak); }, [](MotorSpec& s, const Points& p) { s.peak = curve_of(p); })
      .def_readwrite("rotor_inertia", &MotorSpec::rotor_inertia).def_readwrite("winding_loss", &MotorSpec::winding_loss)
      .def_readwrite("torque_constant", &MotorSpec::torque_constant).def_readwrite("encoder_counts", &MotorSpec::encoder_counts);
  py::class_<StageSpec>(m, "StageSpec").def(py::init<>())
      .def_readwrite("name", &StageSpec::name).def_readwrite("ratio", &StageSpec::ratio)
      .def_readwrite("efficiency", &StageSpec::efficiency).def_readwrite("efficiency_back", &StageSpec::efficiency_back)
      .def_readwrite("inertia", &StageSpec::inertia).def_readwrite("rated_torque", &StageSpec::rated_torque)
      .def_readwrite("repeated_peak_torque", &StageSpec::repeated_peak_torque).def_readwrite("momentary_peak_torque", &StageSpec::momentary_peak_torque)
      .def_readwrite("max_input_speed", &StageSpec::max_input_speed).def_readwrite("mean_input_speed", &StageSpec::mean_input_speed)
      .def_readwrite("stiffness", &StageSpec::stiffness).def_readwrite("backlash", &StageSpec::backlash)
      .def_readwrite("rated_life", &StageSpec::rated_life).def_readwrite("rated_input_speed", &StageSpec::rated_input_speed)
      .def_readwrite("life_exponent", &StageSpec::life_exponent);
  py::enum_<BrakeSide>(m, "BrakeSide").value("motor", BrakeSide::motor).value("joint", BrakeSide::joint);
  py::class_<BrakeSpec>(m, "BrakeSpec").def(py::init<>())
      .def_readwrite("torque", &BrakeSpec::torque).def_readwrite("side", &BrakeSpec::side)
      .def_readwrite("delay", &BrakeSpec::delay).def_readwrite("energy_per_stop", &BrakeSpec::energy_per_stop);
  py::class_<FrictionSpec>(m, "FrictionSpec").def(py::init<>())
      .def_readwrite("coulomb_forward", &FrictionSpec::coulomb_forward).def_readwrite("coulomb_backward", &FrictionSpec::coulomb_backward)
      .def_readwrite("viscous", &FrictionSpec::viscous);
}

}  // namespace

void bind_drive(py::module_& m) {
  bind_parts(m);
  py::class_<DriveSpec>(m, "DriveSpec").def(py::init<>())
      .def_readwrite("motor", &DriveSpec::motor).def_readwrite("stages", &DriveSpec::stages).def_readwrite("brake", &DriveSpec::brake)
      .def_readwrite("motor_friction", &DriveSpec::motor_friction).def_readwrite("joint_friction", &DriveSpec::joint_friction);
  py::class_<SpringSpec>(m, "SpringSpec").def(py::init<>())
      .def_readwrite("name", &SpringSpec::name).def_readwrite("link_a", &SpringSpec::link_a).def_readwrite("link_b", &SpringSpec::link_b)
      .def_readwrite("point_a", &SpringSpec::point_a).def_readwrite("point_b", &SpringSpec::point_b)
      .def_readwrite("length", &SpringSpec::length).def_readwrite("pull", &SpringSpec::pull).def_readwrite("rate", &SpringSpec::rate)
      .def_readwrite("pulls_only", &SpringSpec::pulls_only).def_readwrite("shortest", &SpringSpec::shortest).def_readwrite("longest", &SpringSpec::longest);
}

}  // namespace armwright::bindings
