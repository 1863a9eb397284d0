#include <cmath>
#include <optional>

#include "armwright/motion/cycle.hpp"
#include "armwright/motion/profile_jerk.hpp"
#include "armwright/motion/profile_trapezoid.hpp"
#include "armwright/motion/sample.hpp"
#include "armwright/motion/synchronised.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

// Numbers of an object as an array that keeps the object alive and writes nothing.
template <class T>
py::array view_of(const py::object& owner, const std::vector<T>& values, std::vector<py::ssize_t> shape) {
  py::array a(py::dtype::of<T>(), std::move(shape), values.data(), owner);
  py::detail::array_proxy(a.ptr())->flags &= ~py::detail::npy_api::NPY_ARRAY_WRITEABLE_;
  return a;
}

template <class T>
auto column(std::vector<T> TimedMotion::*member) {
  return [member](const py::object& self) {
    const std::vector<T>& values = self.cast<const TimedMotion&>().*member;
    return py::array_t<T>(view_of(self, values, {static_cast<py::ssize_t>(values.size())}));
  };
}
auto joints(std::vector<double> TimedMotion::*member) {
  return [member](const py::object& self) {
    const auto& motion = self.cast<const TimedMotion&>();
    const std::vector<double>& values = motion.*member;
    const auto columns = static_cast<py::ssize_t>(motion.joint_count);
    return py::array_t<double>(view_of(self, values, {static_cast<py::ssize_t>(values.size()) / columns, columns}));
  };
}

void bind_moves(py::module_& m) {
  py::enum_<MoveKind>(m, "MoveKind").value("joints", MoveKind::joints).value("line", MoveKind::line).value("arc", MoveKind::arc).value("dwell", MoveKind::dwell);
  py::enum_<TrackOrder>(m, "TrackOrder").value("with_arm", TrackOrder::with_arm).value("before_arm", TrackOrder::before_arm);
  py::enum_<Timing>(m, "Timing").value("time_optimal", Timing::time_optimal).value("trapezoidal", Timing::trapezoidal).value("jerk_limited", Timing::jerk_limited);
  py::class_<ToolLimits>(m, "ToolLimits", "Of the tool point (m/s, m/s², m/s³) and its turning (rad/s, rad/s²); infinite: none.").def(py::init<>())
      .def_readwrite("speed", &ToolLimits::speed).def_readwrite("acceleration", &ToolLimits::acceleration).def_readwrite("jerk", &ToolLimits::jerk)
      .def_readwrite("turn_speed", &ToolLimits::turn_speed).def_readwrite("turn_acceleration", &ToolLimits::turn_acceleration);
  py::class_<MoveSpec>(m, "MoveSpec", "A move; see cpp/armwright/model/cycle_spec.hpp.").def(py::init<>())
      .def_readwrite("name", &MoveSpec::name).def_readwrite("kind", &MoveSpec::kind).def_readwrite("q", &MoveSpec::q)
      .def_readwrite("to", &MoveSpec::to).def_readwrite("via", &MoveSpec::via).def_readwrite("track_to", &MoveSpec::track_to)
      .def_readwrite("track_order", &MoveSpec::track_order).def_readwrite("blend", &MoveSpec::blend).def_readwrite("duration", &MoveSpec::duration)
      .def_readwrite("load", &MoveSpec::load).def_readwrite("timing", &MoveSpec::timing).def_readwrite("speed_share", &MoveSpec::speed_share)
      .def_readwrite("tool", &MoveSpec::tool);
  py::class_<CycleSpec>(m, "CycleSpec", "Moves one after the other from a posture; loads in the tool frame.").def(py::init<>())
      .def_readwrite("start", &CycleSpec::start).def_readwrite("moves", &CycleSpec::moves).def_readwrite("loads", &CycleSpec::loads)
      .def_readwrite("period", &CycleSpec::period);
}

void bind_timed_motion(py::module_& m) {
  py::enum_<MotionLimit>(m, "MotionLimit")
      .value("none", MotionLimit::none).value("joint_speed", MotionLimit::joint_speed).value("joint_acceleration", MotionLimit::joint_acceleration)
      .value("joint_jerk", MotionLimit::joint_jerk).value("tool_speed", MotionLimit::tool_speed).value("tool_acceleration", MotionLimit::tool_acceleration)
      .value("tool_jerk", MotionLimit::tool_jerk).value("tool_turn_speed", MotionLimit::tool_turn_speed)
      .value("tool_turn_acceleration", MotionLimit::tool_turn_acceleration).value("motor_speed", MotionLimit::motor_speed)
      .value("motor_torque", MotionLimit::motor_torque).value("stage_torque", MotionLimit::stage_torque).value("stage_speed", MotionLimit::stage_speed)
      .value("duration", MotionLimit::duration);
  py::class_<TimedMotion, std::shared_ptr<TimedMotion>>(m, "TimedMotion", "A motion row by row; see cpp/armwright/motion/timed_motion.hpp. Arrays are views, not to be written.")
      .def_readonly("joint_count", &TimedMotion::joint_count)
      .def_property_readonly("time", column(&TimedMotion::time)).def_property_readonly("q", joints(&TimedMotion::q))
      .def_property_readonly("speed", joints(&TimedMotion::speed)).def_property_readonly("acceleration", joints(&TimedMotion::acceleration))
      .def_property_readonly("move", column(&TimedMotion::move)).def_property_readonly("load", column(&TimedMotion::load))
      .def_property_readonly("limit", column(&TimedMotion::limit)).def_property_readonly("limit_axis", column(&TimedMotion::limit_axis));
  m.def("sample_motion", [](const TimedMotion& motion, double rate) {
    if (!(rate > 0) || !std::isfinite(rate)) throw py::value_error("a rate is positive and finite");
    return std::make_shared<TimedMotion>(sample_motion(motion, rate));
  }, py::arg("motion"), py::arg("rate"), "The motion at a fixed rate, 1/s, and at its end.");
  m.def("motion_at", [](const TimedMotion& motion, const std::vector<double>& times) { return std::make_shared<TimedMotion>(motion_at(motion, times)); },
        py::arg("motion"), py::arg("times"), "The motion at rising times, s.");
}

// A last guard, as rows_checked(): vectors of the right length, indices that exist.
void check_cycle(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle) {
  if (cycle.start.size() != model.joint_count) throw py::value_error("the start posture has one value a joint");
  if (cycle.moves.empty()) throw py::value_error("a cycle has a move");
  for (const MoveSpec& move : cycle.moves) {
    if (move.kind == MoveKind::joints && move.q.size() != model.joint_count) throw py::value_error("a joint move has one value a joint");
    if (move.load >= static_cast<std::int32_t>(cycle.loads.size())) throw py::value_error("a move's load exists");
    if ((move.kind == MoveKind::line || move.kind == MoveKind::arc) && !inverse) throw py::value_error("a tool move needs the inverse");
    if (!model.has_track && !std::isnan(move.track_to)) throw py::value_error("a track is sent somewhere where there is a track");
    if (!(move.speed_share > 0)) throw py::value_error("a share of speed is positive");
  }
}

void bind_plan(py::module_& m) {
  py::enum_<PlanProblem>(m, "PlanProblem")
      .value("none", PlanProblem::none).value("joint_range", PlanProblem::joint_range).value("out_of_reach", PlanProblem::out_of_reach)
      .value("singular", PlanProblem::singular).value("branch_lost", PlanProblem::branch_lost).value("no_circle", PlanProblem::no_circle)
      .value("cannot_stand", PlanProblem::cannot_stand).value("cannot_move", PlanProblem::cannot_move).value("too_much", PlanProblem::too_much)
      .value("no_limit", PlanProblem::no_limit).value("mixed_timing", PlanProblem::mixed_timing).value("duration", PlanProblem::duration)
      .value("period", PlanProblem::period).value("not_closed", PlanProblem::not_closed);
  py::class_<PlanRefusal>(m, "PlanRefusal", "Why a cycle cannot be planned; see cpp/armwright/motion/cycle.hpp.")
      .def_readonly("problem", &PlanRefusal::problem).def_readonly("move", &PlanRefusal::move).def_readonly("axis", &PlanRefusal::axis)
      .def_readonly("limit", &PlanRefusal::limit).def_readonly("value", &PlanRefusal::value).def_readonly("allowed", &PlanRefusal::allowed)
      .def_readonly("share", &PlanRefusal::share);
  py::class_<CyclePlan, std::shared_ptr<CyclePlan>>(m, "CyclePlan")
      .def_property_readonly("motion", [](const std::shared_ptr<CyclePlan>& plan) { return std::shared_ptr<TimedMotion>(plan, &plan->motion); })
      .def_readonly("move_start", &CyclePlan::move_start).def_readonly("move_end", &CyclePlan::move_end).def_readonly("refusal", &CyclePlan::refusal);
  m.def("plan_cycle", [](const Model& model, const CycleSpec& cycle, std::optional<std::shared_ptr<ArmInverse>> held, int leg_intervals, int corner_intervals) {
    const ArmInverse* inverse = held ? held->get() : nullptr;
    check_cycle(model, inverse, cycle);
    py::gil_scoped_release release;
    return std::make_shared<CyclePlan>(plan_cycle(model, inverse, cycle, {{std::max(2, leg_intervals), std::max(4, corner_intervals)}}));
  }, py::arg("model"), py::arg("cycle"), py::arg("inverse") = py::none(), py::arg("leg_intervals") = PathGrid{}.leg,
     py::arg("corner_intervals") = PathGrid{}.blend, "Plans all moves; `inverse` of the same model is needed for tool moves.");
  m.def("time_path", [](const Model& model, const Array& s, const Array& q, const Array& first, const Array& second, const MoveSpec& move, const std::vector<Inertia>& loads) {
    const auto rows = static_cast<std::size_t>(rows_checked(model, q));
    same_shape(q, first), same_shape(q, second);
    if (static_cast<std::size_t>(s.size()) != rows || rows < 2) throw py::value_error("s has one value a row, two rows at least");
    PathRows path{model.joint_count, {}, {}, {}, {}, std::vector<std::int32_t>(rows, 0)};
    const auto copy = [](const Array& from) { return std::vector<double>(from.data(), from.data() + from.size()); };
    path.s = copy(s), path.q = copy(q), path.first = copy(first), path.second = copy(second);
    CycleSpec cycle;
    cycle.moves = {move}, cycle.loads = loads;
    PathTiming timing;
    const TimingStop stop = time_optimal(path_limits(model, path, cycle), path.s, timing);
    if (!stop.good()) throw py::value_error("the path cannot be timed");
    return py::make_tuple(Array(static_cast<py::ssize_t>(timing.x.size()), timing.x.data()), Array(static_cast<py::ssize_t>(timing.u.size()), timing.u.data()), timing.duration);
  }, py::arg("model"), py::arg("s"), py::arg("q"), py::arg("first"), py::arg("second"), py::arg("move"), py::arg("loads") = std::vector<Inertia>{},
     "Time-optimal along given rows of a path (q by s with two derivatives), by the limits of `move`: squared rate of s at the rows, its "
     "change between them, and the duration, s.");
}

void bind_profiles(py::module_& m) {
  py::class_<Profile>(m, "Profile", "From rest to rest along one axis; see cpp/armwright/motion/profile.hpp.")
      .def_readonly("distance", &Profile::distance).def_readonly("ramp", &Profile::ramp).def_readonly("accelerating", &Profile::accelerating)
      .def_readonly("cruise", &Profile::cruise).def_readonly("speed", &Profile::speed).def_readonly("acceleration", &Profile::acceleration)
      .def_readonly("jerk", &Profile::jerk).def_property_readonly("duration", &Profile::duration)
      .def("at", [](const Profile& profile, double time) {
        const ProfileState state = state_at(profile, time);
        return py::make_tuple(state.position, state.speed, state.acceleration, state.jerk);
      }, py::arg("time"), "Position, speed, acceleration and jerk at a time, s.")
      .def("stretched", &stretched, py::arg("duration"));
  m.def("trapezoid", &trapezoid, py::arg("distance"), py::arg("speed"), py::arg("acceleration"));
  m.def("double_s", &double_s, py::arg("distance"), py::arg("speed"), py::arg("acceleration"), py::arg("jerk"));
  m.def("synchronised", [](const std::vector<double>& from, const std::vector<double>& to, const std::vector<double>& speed,
                           const std::vector<double>& acceleration, const std::vector<double>& jerk) {
    if (to.size() != from.size() || speed.size() != from.size() || acceleration.size() != from.size() || (!jerk.empty() && jerk.size() != from.size()))
      throw py::value_error("one value a joint");
    const Synchronised found = synchronised(from, to, speed, acceleration, jerk);
    return py::make_tuple(found.share, found.limit, found.axis);
  }, py::arg("start"), py::arg("end"), py::arg("speed"), py::arg("acceleration"), py::arg("jerk") = std::vector<double>{},
     "Joints in step: the profile of the share 0 to 1, the limit that decides and its joint.");
}

}  // namespace

void bind_motion(py::module_& parent) {
  py::module_ m = parent.def_submodule("motion", "Profiles, ways and timing of moves; SI.");
  bind_moves(m);
  bind_timed_motion(m);
  bind_profiles(m);
  bind_plan(m);
}

}  // namespace armwright::bindings
