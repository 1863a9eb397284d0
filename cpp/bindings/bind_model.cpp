#include "armwright/model/compile.hpp"
#include "armwright/model/target_spec.hpp"
#include "armwright/support/refused.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

Array tensor_of(const Inertia& b) {
  Array t({3, 3});
  const double rows[9] = {b.xx, b.xy, b.xz, b.xy, b.yy, b.yz, b.xz, b.yz, b.zz};
  std::copy(rows, rows + 9, t.mutable_data());
  return t;
}

Inertia make_inertia(double mass, const Vec3& centre, const Array& tensor) {
  if (tensor.ndim() != 2 || tensor.shape(0) != 3 || tensor.shape(1) != 3) throw py::value_error("an inertia tensor must have shape (3, 3)");
  const double* t = tensor.data();
  return {mass, centre, t[0], t[4], t[8], 0.5 * (t[1] + t[3]), 0.5 * (t[2] + t[6]), 0.5 * (t[5] + t[7])};
}

std::vector<double> row(const std::array<double, max_joints>& a, const Model& model) { return {a.begin(), a.begin() + static_cast<std::ptrdiff_t>(model.joint_count)}; }

// Its arguments: what was wrong, what it was, what would be taken.
void bind_refused(py::module_& m) {
  static py::exception<Refused> type(m, "Refused", PyExc_ValueError);
  py::register_local_exception_translator([](std::exception_ptr p) {
    try {
      if (p) std::rethrow_exception(p);
    } catch (const Refused& refused) {
      const py::tuple arguments = py::make_tuple(refused.key(), refused.value(), refused.expected());
      PyErr_SetObject(type.ptr(), arguments.ptr());
    }
  });
}

void bind_shapes(py::module_& m) {
  py::enum_<ShapeKind>(m, "ShapeKind")
      .value("box", ShapeKind::box).value("cylinder", ShapeKind::cylinder).value("capsule", ShapeKind::capsule)
      .value("sphere", ShapeKind::sphere).value("half_space", ShapeKind::half_space)
      .value("convex_hull", ShapeKind::convex_hull).value("mesh", ShapeKind::mesh);
  py::class_<ShapeSpec>(m, "ShapeSpec", "A solid; see cpp/armwright/model/shape_spec.hpp.")
      .def(py::init<>())
      .def_readwrite("kind", &ShapeSpec::kind).def_readwrite("name", &ShapeSpec::name).def_readwrite("pose", &ShapeSpec::pose)
      .def_readwrite("size", &ShapeSpec::size).def_readwrite("radius", &ShapeSpec::radius).def_readwrite("length", &ShapeSpec::length)
      .def_readwrite("clearance", &ShapeSpec::clearance)
      .def("set_points", [](ShapeSpec& s, const Array& points) {
        if (points.ndim() != 2 || points.shape(1) != 3) throw py::value_error("points must have shape (n, 3)");
        s.points.resize(static_cast<std::size_t>(points.shape(0)));
        for (std::size_t i = 0; i < s.points.size(); ++i) s.points[i] = {points.data()[3 * i], points.data()[3 * i + 1], points.data()[3 * i + 2]};
      }, py::arg("points"))
      .def("set_triangles", [](ShapeSpec& s, const py::array_t<std::int32_t, py::array::c_style | py::array::forcecast>& t) {
        if (t.ndim() != 2 || t.shape(1) != 3) throw py::value_error("triangles must have shape (n, 3)");
        s.triangles.resize(static_cast<std::size_t>(t.shape(0)));
        for (std::size_t i = 0; i < s.triangles.size(); ++i) s.triangles[i] = {t.data()[3 * i], t.data()[3 * i + 1], t.data()[3 * i + 2]};
      }, py::arg("triangles"));
}

void bind_specs(py::module_& m) {
  py::class_<Inertia>(m, "Inertia", "Mass (kg), centre of gravity (m), inertia tensor about it (kg m²), in one frame.")
      .def(py::init<>())
      .def(py::init(&make_inertia), py::arg("mass"), py::arg("centre"), py::arg("tensor"))
      .def_readwrite("mass", &Inertia::mass).def_readwrite("centre", &Inertia::centre)
      .def_property_readonly("tensor", &tensor_of);
  py::enum_<JointKind>(m, "JointKind").value("revolute", JointKind::revolute).value("prismatic", JointKind::prismatic);
  py::class_<JointSpec>(m, "JointSpec").def(py::init<>())
      .def_readwrite("name", &JointSpec::name).def_readwrite("kind", &JointSpec::kind)
      .def_readwrite("placement", &JointSpec::placement).def_readwrite("axis", &JointSpec::axis)
      .def_readwrite("lower", &JointSpec::lower).def_readwrite("upper", &JointSpec::upper)
      .def_readwrite("torque_continuous", &JointSpec::torque_continuous).def_readwrite("torque_peak", &JointSpec::torque_peak)
      .def_readwrite("speed", &JointSpec::speed).def_readwrite("acceleration", &JointSpec::acceleration).def_readwrite("jerk", &JointSpec::jerk)
      .def_readwrite("drive", &JointSpec::drive);
  py::class_<LinkSpec>(m, "LinkSpec").def(py::init<>())
      .def_readwrite("name", &LinkSpec::name).def_readwrite("told_frame", &LinkSpec::told_frame).def_readwrite("inertia", &LinkSpec::inertia).def_readwrite("shapes", &LinkSpec::shapes);
  py::class_<ArmSpec>(m, "ArmSpec").def(py::init<>())
      .def_readwrite("name", &ArmSpec::name).def_readwrite("base_link", &ArmSpec::base_link)
      .def_readwrite("joints", &ArmSpec::joints).def_readwrite("links", &ArmSpec::links).def_readwrite("flange", &ArmSpec::flange)
      .def_readwrite("coupling", &ArmSpec::coupling).def_readwrite("springs", &ArmSpec::springs);
  py::class_<TrackSpec>(m, "TrackSpec").def(py::init<>())
      .def_readwrite("pose", &TrackSpec::pose).def_readwrite("axis", &TrackSpec::axis)
      .def_readwrite("lower", &TrackSpec::lower).def_readwrite("upper", &TrackSpec::upper)
      .def_readwrite("carriage", &TrackSpec::carriage).def_readwrite("rails", &TrackSpec::rails)
      .def_readwrite("force_continuous", &TrackSpec::force_continuous).def_readwrite("force_peak", &TrackSpec::force_peak)
      .def_readwrite("speed", &TrackSpec::speed).def_readwrite("acceleration", &TrackSpec::acceleration).def_readwrite("jerk", &TrackSpec::jerk)
      .def_readwrite("drive", &TrackSpec::drive);
  py::class_<ToolSpec>(m, "ToolSpec").def(py::init<>())
      .def_readwrite("name", &ToolSpec::name).def_readwrite("tool_point", &ToolSpec::tool_point)
      .def_readwrite("inertia", &ToolSpec::inertia).def_readwrite("shapes", &ToolSpec::shapes);
  py::class_<LoadSpec>(m, "LoadSpec").def(py::init<>())
      .def_readwrite("name", &LoadSpec::name).def_readwrite("inertia", &LoadSpec::inertia).def_readwrite("shapes", &LoadSpec::shapes);
  py::class_<TargetSpec>(m, "TargetSpec").def(py::init<>())
      .def_readwrite("name", &TargetSpec::name).def_readwrite("pose", &TargetSpec::pose)
      .def_readwrite("free_spin", &TargetSpec::free_spin).def_readwrite("tilt", &TargetSpec::tilt).def_readwrite("tolerance", &TargetSpec::tolerance)
      .def_readwrite("mass", &TargetSpec::mass).def_readwrite("load_centre", &TargetSpec::load_centre);
  py::class_<CellSpec>(m, "CellSpec").def(py::init<>())
      .def_readwrite("arm", &CellSpec::arm).def_readwrite("track", &CellSpec::track).def_readwrite("mount", &CellSpec::mount)
      .def_readwrite("tool", &CellSpec::tool).def_readwrite("load", &CellSpec::load).def_readwrite("fixtures", &CellSpec::fixtures)
      .def_readwrite("gravity", &CellSpec::gravity).def_readwrite("ignored_pairs", &CellSpec::ignored_pairs);
}

}  // namespace

void bind_model(py::module_& parent) {
  bind_refused(parent);
  py::module_ m = parent.def_submodule("model", "Specifications, and the constant Model made of them.");
  bind_shapes(m);
  bind_drive(m);
  bind_specs(m);
  py::class_<Model, std::shared_ptr<Model>>(m, "Model", "What the kernels compute on: SI, checked, constant.")
      .def_readonly("joint_count", &Model::joint_count).def_readonly("has_track", &Model::has_track)
      .def_readonly("base", &Model::base).def_readonly("tool", &Model::tool).def_readonly("flange", &Model::flange)
      .def_readonly("gravity", &Model::gravity).def_readonly("load", &Model::load)
      .def_readonly("mount", &Model::mount).def_readonly("base_link", &Model::base_link)
      .def_property_readonly("joint_kinds", [](const Model& model) {
        std::vector<JointKind> kinds;
        for (std::size_t i = 0; i < model.joint_count; ++i) kinds.push_back(model.step[i].kind);
        return kinds;
      })
      .def_readonly("joint_names", &Model::joint_names).def_readonly("link_names", &Model::link_names)
      .def_property_readonly("link_frames", [](const Model& model) { return std::vector<Pose>(model.link_frame.begin(), model.link_frame.begin() + static_cast<std::ptrdiff_t>(model.joint_count)); })
      .def_property_readonly("lower", [](const Model& model) { return row(model.lower, model); })
      .def_property_readonly("upper", [](const Model& model) { return row(model.upper, model); })
      .def_property_readonly("torque_continuous", [](const Model& model) { return row(model.torque_continuous, model); })
      .def_property_readonly("torque_peak", [](const Model& model) { return row(model.torque_peak, model); })
      .def_property_readonly("speed", [](const Model& model) { return row(model.speed, model); })
      .def_property_readonly("acceleration", [](const Model& model) { return row(model.acceleration, model); })
      .def_property_readonly("jerk", [](const Model& model) { return row(model.jerk, model); })
      .def_property_readonly("continuous_parts", [](const Model& model) { return std::vector<std::string>(model.continuous_part.begin(), model.continuous_part.begin() + static_cast<std::ptrdiff_t>(model.joint_count)); })
      .def_property_readonly("peak_parts", [](const Model& model) { return std::vector<std::string>(model.peak_part.begin(), model.peak_part.begin() + static_cast<std::ptrdiff_t>(model.joint_count)); })
      .def_property_readonly("spring_names", [](const Model& model) {
        std::vector<std::string> names;
        for (const Spring& spring : model.springs) names.push_back(spring.name);
        return names;
      })
      .def_property_readonly("spring_ranges", [](const Model& model) {
        std::vector<std::pair<double, double>> ranges;
        for (const Spring& spring : model.springs) ranges.emplace_back(spring.shortest, spring.longest);
        return ranges;
      }, "Shortest and longest that each spring may be, m.")
      .def_property_readonly("has_drives", [](const Model& model) { return !model.drive.empty(); })
      .def_property_readonly("is_coupled", [](const Model& model) { return !model.coupling.none(); });
  m.def("compile", [](const CellSpec& cell) { return std::make_shared<Model>(compile(cell)); }, py::arg("cell"),
        "Checks a cell and turns it into a Model; raises Refused with key, value and what was expected.");
  m.def("held_on_track", [](const Model& model, double at) { return std::make_shared<Model>(held_on_track(model, at)); },
        py::arg("model"), py::arg("at"), "The model with its track, if it has one, held at one place, m.");
  m.def("load_in_last_joint", [](const Model& model, const Inertia& load) { return model.tool * load; }, py::arg("model"), py::arg("load"),
        "A load told in the tool frame, told in the last joint frame, where the kernels want it.");
}

}  // namespace armwright::bindings
