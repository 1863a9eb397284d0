#include "armwright/limits/speed_payload.hpp"
#include "armwright/limits/static_payload.hpp"
#include "convert.hpp"
#include "moving.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

MotionDemand demand_of(const Model& model, double tool, double turn, const Array& acceleration, const Array& speed) {
  const auto n = static_cast<py::ssize_t>(model.joint_count);
  if (acceleration.size() != n || speed.size() != n) throw py::value_error("one joint acceleration and one joint speed a joint");
  MotionDemand demand;
  demand.tool_acceleration = tool, demand.turn_acceleration = turn;
  std::copy_n(acceleration.data(), n, demand.joint_acceleration.begin());
  std::copy_n(speed.data(), n, demand.joint_speed.begin());
  return demand;
}

void bind_moving(py::module_& m) {
  py::enum_<Demand>(m, "Demand").value("rest", Demand::rest).value("tool_acceleration", Demand::tool_acceleration)
      .value("joint_acceleration", Demand::joint_acceleration).value("joint_speed", Demand::joint_speed);
  py::enum_<MovingLimit>(m, "MovingLimit").value("stated_torque", MovingLimit::stated_torque).value("motor_torque", MovingLimit::motor_torque)
      .value("stage_torque", MovingLimit::stage_torque).value("motor_speed", MovingLimit::motor_speed).value("stage_speed", MovingLimit::stage_speed)
      .value("joint_acceleration", MovingLimit::joint_acceleration).value("singular", MovingLimit::singular);
  py::class_<MovingSetup>(m, "MovingSetup", "What is asked of a model in motion; see cpp/armwright/limits/speed_payload.hpp.")
      .def_property_readonly("moves_tool_all_ways", [](const MovingSetup& setup) { return setup.all_freedoms; })
      .def_property_readonly("part_names", [](const MovingSetup& setup) {
        std::vector<std::vector<std::string>> names(setup.model->joint_count);
        for (std::size_t k = 0; k < names.size(); ++k)
          for (int part = part_stated; part < static_cast<int>(setup.drives[k].stage_count); ++part) names[k].push_back(part_name(*setup.model, k, static_cast<std::int8_t>(part)));
        return names;
      }, "Of each axis: what is stated, the motor, the stages; a part's place is its code and 2.")
      .def_property_readonly("greatest_speed_share", [](const MovingSetup& setup) {
        const SpeedShare most = greatest_speed_share(setup);
        return std::tuple<double, int, std::string>(most.share, most.axis, most.axis < 0 ? "" : part_name(*setup.model, static_cast<std::size_t>(most.axis), most.part));
      }, "Share of the joint speeds asked that motors and stages stand, and by whom: (share, axis, part).");
  m.def("prepare_moving", [](std::shared_ptr<Model> model, const Inertia& unit_load, double tool, double turn, const Array& acceleration, const Array& speed) {
    const MotionDemand demand = demand_of(*model, tool, turn, acceleration, speed);
    return prepare_moving(std::move(model), unit_load, demand);
  }, py::arg("model"), py::arg("unit_load"), py::arg("tool_acceleration"), py::arg("turn_acceleration"), py::arg("joint_acceleration"), py::arg("joint_speed"),
     "unit_load: of 1 kg, in the tool frame.");
  m.def("greatest_axis_speeds", [](const Model& model) {
    std::vector<double> speeds;
    for (const AxisDrive& drive : axis_drives(model)) speeds.push_back(greatest_axis_speed(drive).speed);
    return speeds;
  }, py::arg("model"), "What motor and stages of each axis may turn at, told at the axis; infinite without a drive.");
  m.def("moving_payloads", [](const MovingSetup& setup, const Array& q) {
    std::vector<MovingPayload> answers(static_cast<std::size_t>(rows_checked(*setup.model, q)));
    const auto in = view(q);
    {
      py::gil_scoped_release release;
      moving_payloads(setup, in, answers);
    }
    return moving_arrays(answers);
  }, py::arg("setup"), py::arg("q"), "(rows,) each: mass, axis or -1, part's code, MovingLimit, Demand, and whether the arm moves itself.");
}

}  // namespace

void bind_limits(py::module_& parent) {
  py::module_ m = parent.def_submodule("limits", "What gives out first.");
  py::enum_<Limit>(m, "Limit").value("continuous", Limit::continuous).value("peak", Limit::peak);

  m.def("static_payloads", [](const Model& model, const Vec3& centre, Limit limit, const Array& q) {
    const py::ssize_t rows = rows_checked(model, q);
    Array mass = result_array({rows}), by_joint = result_array({rows, q.shape(1)});
    py::array_t<std::int32_t> joint(rows);
    py::array_t<bool> holds(rows);
    const auto in = view(q);
    const StaticPayloads out{view(mass), view(joint), view(holds), view(by_joint)};
    {
      py::gil_scoped_release release;
      static_payloads(model, centre, limit, in, out);
    }
    return py::make_tuple(mass, joint, holds, by_joint);
  }, py::arg("model"), py::arg("centre"), py::arg("limit"), py::arg("q"),
     "Largest mass (rows,), limiting joint (rows,) or -1, whether the arm holds itself (rows,), and the mass by joint (rows, joints). centre in the last joint frame.");
  bind_moving(m);
  bind_bearing_duty(m);
}

}  // namespace armwright::bindings
