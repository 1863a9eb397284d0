#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/spatial/rigid.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

std::span<const double> poses_checked(const Array& poses) {
  if (poses.ndim() != 3 || poses.shape(1) != 4 || poses.shape(2) != 4) throw py::value_error("poses must have shape (rows, 4, 4)");
  return view(poses);
}

}  // namespace

void bind_inverse(py::module_& m) {
  py::enum_<ArmFamily>(m, "ArmFamily")
      .value("spherical_wrist", ArmFamily::spherical_wrist).value("spherical_shoulder", ArmFamily::spherical_shoulder)
      .value("three_parallel", ArmFamily::three_parallel).value("three_parallel_mirror", ArmFamily::three_parallel_mirror)
      .value("general", ArmFamily::general)
      .value("few_joints", ArmFamily::few_joints);

  py::class_<ArmInverse, std::shared_ptr<ArmInverse>>(m, "ArmInverse", "What the inverse of a model needs, made once.")
      .def_property_readonly("model", [](const std::shared_ptr<ArmInverse>& inverse) { return std::shared_ptr<Model>(inverse, &inverse->model); })
      .def_readonly("redundant", &ArmInverse::redundant)
      .def_property_readonly("freedoms", [](const ArmInverse& inverse) { return inverse.solved.size(); }, "How many freedoms the tool has, 1 to 6.")
      .def_property_readonly("family", [](const ArmInverse& inverse) { return inverse.usual.six ? inverse.usual.six->family : ArmFamily::few_joints; })
      .def_property_readonly("most_solutions", [](const ArmInverse& inverse) { return most_solutions(inverse); });
  m.def("redundant_joints", &redundant_joints, py::arg("model"), "Joints to be given, so that at most six are left to be solved.");
  m.def("prepare_inverse", [](const Model& model) { return std::make_shared<ArmInverse>(prepare_arm_inverse(model)); }, py::arg("model"));
  m.def("with_track_held", [](const ArmInverse& inverse) { return std::make_shared<ArmInverse>(with_track_held(inverse)); }, py::arg("inverse"),
        "The same with the track, if there is one, at the middle of its stroke.");

  m.def("all_rigid", [](const Array& poses, double tolerance, double farthest) {
    const auto in = poses_checked(poses);
    py::gil_scoped_release release;
    return all_rigid(in, tolerance, farthest);
  }, py::arg("poses"), py::arg("tolerance"), py::arg("farthest"),
     "Whether all poses (rows, 4, 4) are rigid: a right-handed rotation within the tolerance, a position within the farthest, m, a last row of 0, 0, 0, 1.");

  m.def("solve", [](const ArmInverse& inverse, const Array& poses, const std::vector<std::vector<double>>& samples, bool within_limits) {
    const auto in = poses_checked(poses);
    for (const auto& sample : samples)
      if (sample.size() != inverse.redundant.size()) throw py::value_error("a sample has one value for each redundant joint");
    const py::ssize_t rows = poses.shape(0), k = most_solutions(inverse) * static_cast<py::ssize_t>(samples.size());
    Array q = result_array({rows, k, static_cast<py::ssize_t>(inverse.model.joint_count)});
    py::array_t<bool> valid({rows, k});
    py::array_t<std::int8_t> free_joint({rows, k});
    const auto to = view(q);
    const std::span<std::uint8_t> marks{reinterpret_cast<std::uint8_t*>(valid.mutable_data()), static_cast<std::size_t>(valid.size())};
    const std::span<std::int8_t> loose{free_joint.mutable_data(), static_cast<std::size_t>(free_joint.size())};
    {
      py::gil_scoped_release release;
      solve_batch(inverse, samples, within_limits, in, to, marks, loose);
    }
    return py::make_tuple(q, valid, free_joint);
  }, py::arg("inverse"), py::arg("poses"), py::arg("samples"), py::arg("within_limits"),
     "All solutions: q (rows, k, joints), valid (rows, k), free_joint (rows, k).");
}

}  // namespace armwright::bindings
