#include <pybind11/typing.h>

#include <algorithm>
#include <cmath>

#include "armwright/limits/drive_check.hpp"
#include "armwright/limits/power.hpp"
#include "armwright/limits/setpoints.hpp"
#include "armwright/limits/slowing.hpp"
#include "convert.hpp"
#include "rooms.hpp"
#include "watch.hpp"

namespace armwright::bindings {

namespace {

using Integers = py::array_t<std::int32_t, py::array::c_style | py::array::forcecast>;
using Loads = std::vector<Inertia>;
using Arrays = py::typing::Dict<py::str, Array>;
using Numbers = py::typing::Dict<py::str, py::float_>;
using Words = py::typing::Dict<py::str, py::object>;

template <class T>
py::array_t<T> shaped(const std::vector<T>& values, std::vector<py::ssize_t> shape) { return py::array_t<T>(std::move(shape), values.data()); }

std::shared_ptr<TimedMotion> make_timed_motion(const Array& time, const Array& q, const Array& speed, const Array& acceleration, const Integers& load, const Integers& move) {
  if (time.ndim() != 1 || q.ndim() != 2 || q.shape(0) != time.size() || q.shape(1) < 1 || load.size() != time.size() || move.size() != time.size())
    throw py::value_error("a motion has a time, a load and a move for every row of q");
  same_shape(q, speed);
  same_shape(q, acceleration);
  const auto copy = [](const auto& from) { return std::vector(from.data(), from.data() + from.size()); };
  auto motion = std::make_shared<TimedMotion>();
  motion->joint_count = static_cast<std::size_t>(q.shape(1));
  motion->time = copy(time);
  motion->q = copy(q), motion->speed = copy(speed), motion->acceleration = copy(acceleration);
  motion->load = copy(load), motion->move = copy(move);
  motion->limit.assign(motion->time.size(), 0);
  motion->limit_axis.assign(motion->time.size(), -1);
  return motion;
}

// A last guard, as rows_checked(): loads that exist, rows in time, a step that ends.
void check_motion(const Model& model, const Loads& loads, const TimedMotion& motion, double step) {
  if (motion.joint_count != model.joint_count || motion.time.empty()) throw py::value_error("a motion of this arm, with rows");
  for (const std::int32_t load : motion.load)
    if (load < -1 || load >= static_cast<std::int32_t>(loads.size())) throw py::value_error("a row's load exists");
  for (std::size_t r = 1; r < motion.time.size(); ++r)
    if (!(motion.time[r] >= motion.time[r - 1])) throw py::value_error("time never falls");
  const auto moves = [&](std::size_t row) {
    const auto from = motion.speed.begin() + static_cast<std::ptrdiff_t>(row * motion.joint_count);
    return std::any_of(from, from + static_cast<std::ptrdiff_t>(2 * motion.joint_count), [](double speed) { return speed != 0; });
  };
  double moving = 0;  // what stands is not cut into steps
  for (std::size_t r = 0; r + 1 < motion.time.size(); ++r) moving += moves(r) ? motion.time[r + 1] - motion.time[r] : 0;
  if (!(step > 0) || !(moving / step < 1e8)) throw py::value_error("a step that makes fewer than 1e8 rows");
}

auto told(const Violation& v) { return py::make_tuple(v.at, v.axis, static_cast<int>(v.part), static_cast<int>(v.limit), v.time); }
auto told(const Share& s) { return py::make_tuple(s.share, s.axis, static_cast<int>(s.part), static_cast<int>(s.limit), s.time); }
auto told(const SlowedLoad& p) { return py::make_tuple(p.duration, p.peak, p.continuous, told(p.least)); }

template <class Item>
auto told_all(const std::vector<Item>& items) {
  py::typing::List<decltype(told(items[0]))> out;
  for (const Item& item : items) out.append(told(item));
  return out;
}

Arrays motors_of(const DriveCheck& check) {
  Arrays out;
  const auto n = static_cast<py::ssize_t>(check.axis.size());
  const auto put = [&](const char* name, auto value) {
    Array a(n);
    for (py::ssize_t k = 0; k < n; ++k) a.mutable_at(k) = static_cast<double>(value(check.axis[static_cast<std::size_t>(k)].motor));
    out[name] = a;
  };
  put("peak_torque", [](const MotorCheck& m) { return m.peak_torque; });
  put("rms_torque", [](const MotorCheck& m) { return m.rms_torque; });
  put("mean_speed", [](const MotorCheck& m) { return m.mean_speed; });
  put("rms_speed", [](const MotorCheck& m) { return m.rms_speed; });
  put("greatest_speed", [](const MotorCheck& m) { return m.greatest_speed; });
  put("worst_time", [](const MotorCheck& m) { return m.worst_time; });
  put("continuous_torque", [](const MotorCheck& m) { return m.continuous_torque; });
  put("inertia_ratio_least", [](const MotorCheck& m) { return m.least_inertia_ratio; });
  put("inertia_ratio_greatest", [](const MotorCheck& m) { return m.greatest_inertia_ratio; });
  put("duty_type", [](const MotorCheck& m) { return static_cast<int>(m.duty.type) + 1; });
  put("duration_factor", [](const MotorCheck& m) { return m.duty.duration_factor; });
  return out;
}

Arrays stages_of(const Model& model, const DriveCheck& check) {
  Arrays out;
  const auto n = static_cast<py::ssize_t>(check.axis.size());
  const auto put = [&](const char* name, auto value) {
    Array a({n, static_cast<py::ssize_t>(max_stages)});
    for (py::ssize_t k = 0; k < n; ++k)
      for (std::size_t s = 0; s < max_stages; ++s) {
        const bool there = !model.drive.empty() && s < model.drive[static_cast<std::size_t>(k)].stage_count;
        a.mutable_at(k, static_cast<py::ssize_t>(s)) = there ? static_cast<double>(value(check.axis[static_cast<std::size_t>(k)].stage[s])) : std::nan("");
      }
    out[name] = a;
  };
  put("peak_torque", [](const StageCheck& s) { return s.peak_torque; });
  put("rms_torque", [](const StageCheck& s) { return s.rms_torque; });
  put("mean_torque", [](const StageCheck& s) { return s.mean_torque; });
  put("mean_input_speed", [](const StageCheck& s) { return s.mean_input_speed; });
  put("greatest_input_speed", [](const StageCheck& s) { return s.greatest_input_speed; });
  put("life", [](const StageCheck& s) { return s.life; });
  put("past_peak_time", [](const StageCheck& s) { return s.past_peak_time; });
  put("past_peaks", [](const StageCheck& s) { return s.past_peaks; });
  put("allowed_peaks", [](const StageCheck& s) { return s.allowed_peaks; });
  return out;
}

void bind_course(py::module_& m) {
  py::class_<DrivenMotion>(m, "DrivenMotion", "A motion with the torques that it takes; see cpp/armwright/limits/driven_motion.hpp.")
      .def_property_readonly("time", [](const DrivenMotion& d) { return shaped(d.motion.time, {static_cast<py::ssize_t>(d.motion.rows())}); })
      .def_property_readonly("move", [](const DrivenMotion& d) { return shaped(d.motion.move, {static_cast<py::ssize_t>(d.motion.rows())}); })
      .def_property_readonly("load", [](const DrivenMotion& d) { return shaped(d.motion.load, {static_cast<py::ssize_t>(d.motion.rows())}); })
      .def("of_joints", [](const DrivenMotion& d, const std::string& name) {
        const std::vector<double>* found = name == "q" ? &d.motion.q : name == "speed" ? &d.motion.speed : name == "acceleration" ? &d.motion.acceleration
            : name == "joint_torque" ? &d.joint_torque : name == "axis_torque" ? &d.axis_torque : name == "axis_speed" ? &d.motion.axis_speed
            : name == "motor_torque" ? &d.motor_torque : name == "motor_speed" ? &d.motor_speed : nullptr;
        if (!found) throw py::value_error("no such course: " + name);
        return shaped(*found, {static_cast<py::ssize_t>(d.motion.rows()), static_cast<py::ssize_t>(d.motion.joint_count)});
      }, py::arg("name"), "q, speed, acceleration, joint_torque, axis_torque, axis_speed, motor_torque or motor_speed, (rows, joints).")
      .def("of_stages", [](const DrivenMotion& d, const std::string& name) {
        if (name != "torque" && name != "speed") throw py::value_error("no such course: " + name);
        return shaped(name == "torque" ? d.stage_torque : d.stage_speed, {static_cast<py::ssize_t>(d.motion.rows()), static_cast<py::ssize_t>(d.motion.joint_count), static_cast<py::ssize_t>(max_stages)});
      }, py::arg("name"), "torque (at the output) or speed (at the input), (rows, joints, stages).")
      .def_property_readonly("motor_peak_torque", [](const DrivenMotion& d) {
        std::vector<double> out(d.motor_speed.size());
        for (std::size_t i = 0; i < out.size(); ++i) out[i] = curve_torque(d.drives[i % d.motion.joint_count].peak, d.motor_speed[i]);
        return shaped(out, {static_cast<py::ssize_t>(d.motion.rows()), static_cast<py::ssize_t>(d.motion.joint_count)});
      }, "The peak curve at the speed of each instant, (rows, joints).");
  m.def("driven_motion", [](const Model& model, const Loads& loads, const TimedMotion& motion, double step) {
    check_motion(model, loads, motion, step);
    const py::gil_scoped_release release;
    return driven_motion(model, loads, motion, step);
  }, py::arg("model"), py::arg("loads"), py::arg("motion"), py::arg("step"), "Loads in the last joint frame; rows at most `step` s apart.");
  m.def("setpoints", [](const Model& model, const Loads& loads, const TimedMotion& motion, double rate) {
    if (!(rate > 0)) throw py::value_error("a rate above 0");
    check_motion(model, loads, motion, 1 / rate);
    Setpoints points = [&] {
      const py::gil_scoped_release release;
      return setpoints(model, loads, motion, rate);
    }();
    const std::vector<py::ssize_t> shape{static_cast<py::ssize_t>(points.driven.motion.rows()), static_cast<py::ssize_t>(model.joint_count)};
    const auto position = shaped(points.motor_position, shape), fastest = shaped(points.greatest_motor_speed, {shape[1]});
    return py::make_tuple(std::move(points.driven), position, fastest);
  }, py::arg("model"), py::arg("loads"), py::arg("motion"), py::arg("rate"), "The motion at a rate, 1/s: its course, motor positions (rows, joints), greatest motor speeds (joints,).");
}

void bind_check(py::module_& m) {
  m.def("drive_check", [](const Model& model, const Loads& loads, const DrivenMotion& driven, bool repeated) {
    const DriveCheck check = [&] {
      const py::gil_scoped_release release;
      return drive_check(model, driven, axis_inertias(model, loads, driven.motion), repeated);
    }();
    return py::make_tuple(motors_of(check), stages_of(model, check), told_all(check.shares), check.weakest);
  }, py::arg("model"), py::arg("loads"), py::arg("driven"), py::arg("repeated"),
     "Figures of motors (joints,), of stages (joints, stages), shares (share, axis, part, limit, time), and the place of the greatest.");
  py::class_<ScaledTorques>(m, "ScaledTorques", "Torques of a cycle by weight, inertia and load; see cpp/armwright/limits/scaled_torques.hpp.");
  m.def("scaled_torques", [](const Model& model, const Loads& loads, const TimedMotion& motion, double step) {
    check_motion(model, loads, motion, step);
    const py::gil_scoped_release release;
    return scaled_torques(model, loads, motion, step);
  }, py::arg("model"), py::arg("loads"), py::arg("motion"), py::arg("step"));
  m.def("greatest_load", [](const ScaledTorques& torques, double speed_factor, double cap) {
    return told([&] {
      const py::gil_scoped_release release;
      return greatest_load(torques, speed_factor, cap).least();
    }());
  }, py::arg("torques"), py::arg("speed_factor"), py::arg("cap"), "Factor on all loads, axis, part, limit, time.");
  m.def("greatest_speed_factor", [](const Model& model, const ScaledTorques& torques, double cap) {
    return told([&] {
      const py::gil_scoped_release release;
      return greatest_speed_factor(model, torques, cap);
    }());
  }, py::arg("model"), py::arg("torques"), py::arg("cap"), "How many times faster, axis, part, limit, time.");
  m.def("payload_against_slowing", [](const Model& model, const ScaledTorques& torques, const std::vector<double>& slowing, double cap, unsigned threads, const py::object& report) {
    for (const double k : slowing)
      if (!(k > 0)) throw py::value_error("a slowing above 0");
    const SlowedLoads answer = watched(report, [&](const Progress& progress) { return payload_against_slowing(model, torques, slowing, cap, threads, progress); });
    return py::make_tuple(answer.complete, told_all(answer.points));
  }, py::arg("model"), py::arg("torques"), py::arg("slowing"), py::arg("cap"), py::arg("threads"), py::arg("report"),
     "Whether it came to its end; and by slowing: duration, factors by peak and continuous limits, what holds it.");
}

void bind_power(py::module_& m) {
  py::class_<SupplySpec>(m, "SupplySpec", "See cpp/armwright/limits/power.hpp.").def(py::init<>())
      .def_readwrite("mains_voltage", &SupplySpec::mains_voltage).def_readwrite("phases", &SupplySpec::phases)
      .def_readwrite("power_factor", &SupplySpec::power_factor).def_readwrite("efficiency", &SupplySpec::efficiency)
      .def_readwrite("standing_power", &SupplySpec::standing_power).def_readwrite("rest_voltage", &SupplySpec::rest_voltage)
      .def_readwrite("resistor_voltage", &SupplySpec::resistor_voltage).def_readwrite("capacitance", &SupplySpec::capacitance)
      .def_readwrite("resistor_power", &SupplySpec::resistor_power).def_readwrite("resistance", &SupplySpec::resistance)
      .def_readwrite("breaker_current", &SupplySpec::breaker_current).def_readwrite("continuous", &SupplySpec::continuous);
  m.def("power", [](const Model& model, const DrivenMotion& driven, const SupplySpec& supply) {
    PowerCourse course;
    const PowerCheck check = [&] {
      const py::gil_scoped_release release;
      course = power_course(model, driven);
      return power_check(model, driven, course, supply);
    }();
    const std::vector<py::ssize_t> shape{static_cast<py::ssize_t>(driven.motion.rows()), static_cast<py::ssize_t>(model.joint_count)};
    Arrays courses, currents;
    Numbers numbers;
    courses["mechanical"] = shaped(course.mechanical, shape);
    courses["winding"] = shaped(course.winding, shape);
    courses["friction"] = shaped(course.friction, shape);
    courses["electrical"] = shaped(course.electrical, {shape[0]});
    const std::pair<const char*, double> told_numbers[] = {
        {"electrical_peak", check.electrical_peak}, {"electrical_rms", check.electrical_rms}, {"electrical_mean", check.electrical_mean},
        {"return_peak", check.return_peak}, {"returned_energy", check.bus.returned}, {"resistor_energy", check.bus.burnt},
        {"resistor_peak", check.bus.burn_peak}, {"resistor_time", check.bus.burn_time}, {"resistor_mean", check.resistor_mean},
        {"resistor_needed", check.resistor_needed}, {"stored_energy", check.bus.most_stored}, {"bus_greatest_voltage", check.bus_greatest_voltage},
        {"mains_energy", check.bus.from_mains}, {"mains_peak", check.mains_peak}, {"mains_mean", check.mains_mean}, {"mains_rms", check.mains_rms},
        {"current_peak", check.current_peak}, {"current_rms", check.current_rms}, {"branch_share", check.branch_share}};
    for (const auto& [name, value] : told_numbers) numbers[name] = value;
    currents["rms"] = shaped(check.motor_current_rms, {shape[1]});
    currents["peak"] = shaped(check.motor_current_peak, {shape[1]});
    return py::make_tuple(courses, numbers, currents);
  }, py::arg("model"), py::arg("driven"), py::arg("supply"), "Courses by name, numbers by name, motor currents.");
}

void bind_torques(py::module_& m) {
  m.def("make_timed_motion", &make_timed_motion, py::arg("time"), py::arg("q"), py::arg("speed"), py::arg("acceleration"), py::arg("load"), py::arg("move"));
  m.def("motor_torques", [](const Model& model, const Inertia& load, const Array& q, const Array& speed, const Array& acceleration) {
    Array out({rows_checked(model, q), q.shape(1)});
    same_shape(q, speed);
    same_shape(q, acceleration);
    const auto in = view(q), v = view(speed), a = view(acceleration);
    const auto to = view(out);
    {
      const py::gil_scoped_release release;
      motor_torques(model, load, in, v, a, to);
    }
    return out;
  }, py::arg("model"), py::arg("load"), py::arg("q"), py::arg("speed"), py::arg("acceleration"), "Torques of the motors for a motion, (rows, joints).");
  m.def("drive_parts", [](const Model& model) {
    py::typing::List<Words> out;
    for (std::size_t k = 0; k < model.joint_count; ++k) {
      Words part;
      const bool there = !model.drive.empty() && model.drive[k].present;
      part["present"] = there;
      part["stages"] = py::list();
      if (there) {
        const Drive& drive = model.drive[k];
        const auto curve = [](const TorqueSpeedCurve& c) {
          return py::make_tuple(std::vector<double>(c.speed.begin(), c.speed.begin() + static_cast<std::ptrdiff_t>(c.count)),
                                std::vector<double>(c.torque.begin(), c.torque.begin() + static_cast<std::ptrdiff_t>(c.count)));
        };
        py::list stages, peaks;
        for (std::size_t s = 0; s < drive.stage_count; ++s) stages.append(drive.stage[s].name), peaks.append(drive.stage[s].momentary_peak_torque);
        part["stages"] = stages, part["momentary_peaks"] = peaks;
        part["continuous"] = curve(drive.continuous), part["peak"] = curve(drive.peak);
        part["encoder_counts"] = drive.encoder_counts, part["ratio"] = drive.ratio;
      }
      out.append(part);
    }
    return out;
  }, py::arg("model"), "What each axis' drive is made of: present, stages' names and momentary_peaks, curves (speeds, torques), encoder_counts, ratio.");
}

}  // namespace

void bind_driven(py::module_& parent) {
  py::module_ motion = parent.attr("motion"), limits = parent.attr("limits");
  bind_torques(motion);
  bind_course(limits);
  bind_check(limits);
  bind_power(limits);
}

}  // namespace armwright::bindings
