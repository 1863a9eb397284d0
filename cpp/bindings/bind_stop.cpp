#include "armwright/limits/holding.hpp"
#include "armwright/motion/stop.hpp"
#include "armwright/motion/stop_postures.hpp"
#include "convert.hpp"
#include "rooms.hpp"
#include "watch.hpp"

namespace armwright::bindings {

namespace {

// The answers of a batch, a row a stop.
struct StopBatch {
  std::size_t joints = 0;
  bool complete = true;
  std::vector<StopAnswer> answers;
};

template <class Of>
Array column(const StopBatch& batch, Of of) {
  Array out(static_cast<py::ssize_t>(batch.answers.size()));
  for (std::size_t i = 0; i < batch.answers.size(); ++i) out.mutable_data()[i] = of(batch.answers[i]);
  return out;
}

Array by_joint(const StopBatch& batch, const std::array<double, max_joints> StopAnswer::* of) {
  Array out({static_cast<py::ssize_t>(batch.answers.size()), static_cast<py::ssize_t>(batch.joints)});
  for (std::size_t i = 0; i < batch.answers.size(); ++i) std::copy_n((batch.answers[i].*of).begin(), batch.joints, out.mutable_data() + i * batch.joints);
  return out;
}

Array by_stage(const StopBatch& batch, const std::array<std::array<double, max_stages>, max_joints> StopAnswer::* of) {
  Array out({static_cast<py::ssize_t>(batch.answers.size()), static_cast<py::ssize_t>(batch.joints), static_cast<py::ssize_t>(max_stages)});
  double* to = out.mutable_data();
  for (const StopAnswer& answer : batch.answers)
    for (std::size_t k = 0; k < batch.joints; ++k) to = std::copy((answer.*of)[k].begin(), (answer.*of)[k].end(), to);
  return out;
}

Array rows_of_answer(const std::vector<double>& values, std::size_t width) {
  Array out({static_cast<py::ssize_t>(values.size() / width), static_cast<py::ssize_t>(width)});
  std::copy(values.begin(), values.end(), out.mutable_data());
  return out;
}

void bind_answers(py::module_& m) {
  py::enum_<StopCategory>(m, "StopCategory").value("power_off", StopCategory::power_off).value("controlled", StopCategory::controlled);
  py::enum_<StopEnd>(m, "StopEnd").value("rest", StopEnd::rest).value("still_moving", StopEnd::still_moving)
      .value("joint_end", StopEnd::joint_end).value("no_inertia", StopEnd::no_inertia)
      .value("gave_up", StopEnd::gave_up);
  m.attr("most_stop_steps") = most_stop_steps;
  py::class_<StopOptions>(m, "StopOptions", "See cpp/armwright/motion/stop.hpp.").def(py::init<>())
      .def_readwrite("category", &StopOptions::category).def_readwrite("reaction", &StopOptions::reaction)
      .def_property("deceleration", [](const StopOptions& o) { return std::vector<double>(o.deceleration.begin(), o.deceleration.end()); },
                    [](StopOptions& o, const std::vector<double>& values) {
                      if (values.size() > max_joints) throw py::value_error("one deceleration a joint");
                      std::copy(values.begin(), values.end(), o.deceleration.begin());
                    })
      .def_readwrite("longest_control", &StopOptions::longest_control).def_readwrite("hold", &StopOptions::hold).def_readwrite("time_limit", &StopOptions::time_limit)
      .def_readwrite("tolerance", &StopOptions::tolerance).def_readwrite("row_step", &StopOptions::row_step)
      .def_readwrite("every_step", &StopOptions::every_step);
  py::class_<StopBatch>(m, "StopBatch", "Answers of many stops, a row each; see StopAnswer in cpp/armwright/motion/stop.hpp.")
      .def_readonly("complete", &StopBatch::complete)
      .def_property_readonly("end", [](const StopBatch& b) {
        std::vector<StopEnd> ends;
        for (const StopAnswer& answer : b.answers) ends.push_back(answer.end);
        return ends;
      })
      .def_property_readonly("joint", [](const StopBatch& b) {
        std::vector<int> joints;
        for (const StopAnswer& answer : b.answers) joints.push_back(answer.joint);
        return joints;
      })
      .def_property_readonly("saturated", [](const StopBatch& b) {
        std::vector<bool> flags;
        for (const StopAnswer& answer : b.answers) flags.push_back(answer.saturated);
        return flags;
      })
      .def_property_readonly("steps", [](const StopBatch& b) {
        std::vector<int> steps;
        for (const StopAnswer& answer : b.answers) steps.push_back(answer.steps);
        return steps;
      })
      .def_property_readonly("time", [](const StopBatch& b) { return column(b, [](const StopAnswer& a) { return a.time; }); })
      .def_property_readonly("power_off", [](const StopBatch& b) { return column(b, [](const StopAnswer& a) { return a.power_off; }); })
      .def_property_readonly("tool_travel", [](const StopBatch& b) { return column(b, [](const StopAnswer& a) { return a.tool_travel; }); })
      .def_property_readonly("tool_path", [](const StopBatch& b) { return column(b, [](const StopAnswer& a) { return a.tool_path; }); })
      .def_property_readonly("tool_drop", [](const StopBatch& b) { return column(b, [](const StopAnswer& a) { return a.tool_drop; }); })
      .def_property_readonly("tool_top_speed", [](const StopBatch& b) { return column(b, [](const StopAnswer& a) { return a.tool_top_speed; }); })
      .def_property_readonly("q", [](const StopBatch& b) { return by_joint(b, &StopAnswer::q); })
      .def_property_readonly("travel", [](const StopBatch& b) { return by_joint(b, &StopAnswer::travel); })
      .def_property_readonly("top_speed", [](const StopBatch& b) { return by_joint(b, &StopAnswer::top_speed); })
      .def_property_readonly("impact_speed", [](const StopBatch& b) { return by_joint(b, &StopAnswer::impact_speed); })
      .def_property_readonly("impact_time", [](const StopBatch& b) { return by_joint(b, &StopAnswer::impact_time); })
      .def_property_readonly("brake_energy", [](const StopBatch& b) { return by_joint(b, &StopAnswer::brake_energy); })
      .def_property_readonly("stage_torque", [](const StopBatch& b) { return by_stage(b, &StopAnswer::stage_torque); })
      .def_property_readonly("stage_torque_time", [](const StopBatch& b) { return by_stage(b, &StopAnswer::stage_torque_time); })
      .def("rows", [](const StopBatch& b, std::size_t i) {
        const StopRows& rows = b.answers.at(i).rows;
        return py::make_tuple(rows_of_answer(rows.time, 1), rows_of_answer(rows.q, b.joints), rows_of_answer(rows.speed, b.joints), rows_of_answer(rows.tool, 3));
      }, py::arg("stop"), "Time (rows, 1), joints and their speeds (rows, joints), tool point (rows, 3) of one stop.")
      .def("every_step", [](const StopBatch& b, std::size_t i) {
        const StopSteps& steps = b.answers.at(i).every;
        return py::make_tuple(rows_of_answer(steps.time, 1), rows_of_answer(steps.q, b.joints), rows_of_answer(steps.speed, b.joints), rows_of_answer(steps.acceleration, b.joints));
      }, py::arg("stop"), "Time (steps, 1), joints, their speeds and accelerations (steps, joints) of one stop, where it was asked for.");
}

}  // namespace

namespace {

void bind_holding(py::module_& m) {
  py::class_<WorstHolding>(m, "WorstHolding", "See cpp/armwright/limits/holding.hpp.")
      .def_readonly("bound", &WorstHolding::bound).def_readonly("found", &WorstHolding::found)
      .def_readonly("springs_counted", &WorstHolding::springs_counted).def_readonly("boxes", &WorstHolding::boxes)
      .def_property_readonly("q", [](const WorstHolding& w) { return std::vector<double>(w.q.begin(), w.q.end()); });
  m.def("worst_holding", [](const Model& model, const Inertia& load, const std::vector<std::size_t>& axes, double gap, std::int64_t most_boxes,
                            unsigned threads, const py::object& report) {
    for (const std::size_t axis : axes)
      if (axis >= model.joint_count) throw py::value_error("some of the axes");
    std::vector<WorstHolding> out;
    const bool complete = watched(report, [&](const Progress& progress) { return worst_holding(model, load, axes, {gap, 1e-5, most_boxes}, threads, progress, out); });
    return std::make_pair(complete, out);
  }, py::arg("model"), py::arg("load"), py::arg("axes"), py::arg("gap"), py::arg("most_boxes"), py::arg("threads") = 0, py::arg("report") = py::none(),
     "Whether it was complete, and for each of the axes the worst torque at rest.");
  m.def("brake_hold", [](const Model& model, std::size_t axis) -> std::optional<std::pair<double, double>> {
    if (axis >= model.joint_count) throw py::value_error("one of the axes");
    const BrakeHold hold = brake_hold(model, axis);
    if (!hold.present) return std::nullopt;
    return std::make_pair(hold.by_ratio, hold.driven_back);
  }, py::arg("model"), py::arg("axis"), "What the brake holds at its axis: by ratio, and driven back; None without one.");
  m.def("brake_energy_ratings", [](const Model& model) {
    std::vector<double> ratings(model.joint_count, std::numeric_limits<double>::infinity());
    for (std::size_t k = 0; k < model.drive.size(); ++k)
      if (model.drive[k].has_brake) ratings[k] = model.drive[k].brake.energy_per_stop;
    return ratings;
  }, py::arg("model"), "What each axis' brake bears in a stop, J; infinite without a brake or a rating.");
  m.def("closing_delays", [](const Model& model) {
    std::vector<double> delays(model.joint_count, std::numeric_limits<double>::quiet_NaN());
    for (std::size_t k = 0; k < model.drive.size(); ++k)
      if (model.drive[k].has_brake) delays[k] = model.drive[k].brake.delay;
    return delays;
  }, py::arg("model"), "How long each axis' brake takes to close, s; NaN without a brake.");
}

}  // namespace

void bind_stop(py::module_& parent) {
  py::module_ m = parent.def_submodule("stops", "Motion after a stop is asked for.");
  bind_answers(m);
  bind_holding(m);
  m.def("stops", [](const Model& model, const std::vector<Inertia>& loads, const Array& q, const Array& speed, const StopOptions& options, unsigned threads, const py::object& report) {
    const py::ssize_t rows = rows_checked(model, q);
    same_shape(q, speed);
    if (loads.size() != static_cast<std::size_t>(rows)) throw py::value_error("one load a row");
    StopBatch batch;
    batch.joints = model.joint_count;
    const auto at = view(q), v = view(speed);
    batch.complete = watched(report, [&](const Progress& progress) { return stops(model, loads, at, v, options, threads, progress, batch.answers); });
    return batch;
  }, py::arg("model"), py::arg("loads"), py::arg("q"), py::arg("speed"), py::arg("options"), py::arg("threads") = 0, py::arg("report") = py::none(),
     "One stop a row; loads in the last joint frame.");
  m.def("stop_postures", [](const Model& model, const Vec3& centre, const std::vector<double>& shares) {
    std::vector<std::pair<std::vector<double>, double>> out;
    for (const StopPosture& posture : stop_postures(model, centre, shares)) out.emplace_back(std::vector<double>(posture.q.begin(), posture.q.begin() + static_cast<std::ptrdiff_t>(model.joint_count)), posture.extension);
    return out;
  }, py::arg("model"), py::arg("centre"), py::arg("shares"), py::call_guard<py::gil_scoped_release>(), "Postures at shares of the greatest extension, each with its extension, m.");
  m.def("downward", [](const Model& model, const Vec3& centre, const std::vector<double>& q, std::size_t joint) {
    if (q.size() != model.joint_count || joint >= model.joint_count) throw py::value_error("one posture, and one of its joints");
    JointRow row{};
    std::copy(q.begin(), q.end(), row.begin());
    return downward(model, centre, row, joint);
  }, py::arg("model"), py::arg("centre"), py::arg("q"), py::arg("joint"), "Which way a joint brings the load down.");
  m.def("full_speed", [](const Model& model, std::size_t joint) {
    if (joint >= model.joint_count) throw py::value_error("one of the joints");
    return full_speed(model, joint);
  }, py::arg("model"), py::arg("joint"), "Greatest speed of a joint, rad/s (m/s).");
}

}  // namespace armwright::bindings
