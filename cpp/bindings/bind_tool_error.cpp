#include "armwright/kinematics/tool_error.hpp"
#include "armwright/spatial/signed_sum.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

void bind_tool_error(py::module_& kinematics) {
  py::class_<SmallMove>(kinematics, "SmallMove", "A cause that the tool stands elsewhere than it should.")
      .def(py::init<>())
      .def_readwrite("frame", &SmallMove::frame).def_readwrite("point", &SmallMove::point)
      .def_readwrite("shift", &SmallMove::shift).def_readwrite("turn", &SmallMove::turn)
      .def_property("joints", [](const SmallMove& move) { return std::vector<double>(move.joints.begin(), move.joints.end()); },
                    [](SmallMove& move, const std::vector<double>& joints) {
                      if (joints.size() > max_joints) throw py::value_error("more joints than an arm has");
                      move.joints = {};
                      std::copy(joints.begin(), joints.end(), move.joints.begin());
                    });

  kinematics.def("tool_errors", [](const Model& model, const std::vector<SmallMove>& moves, const Array& q) {
    for (const SmallMove& move : moves)
      if (move.frame < -1 || move.frame >= static_cast<std::int32_t>(model.joint_count)) throw py::value_error("no such joint frame");
    return filled({rows_checked(model, q), static_cast<py::ssize_t>(moves.size()), 6}, [&](auto in, auto to) { tool_errors(model, moves, in, to); }, q);
  }, py::arg("model"), py::arg("moves"), py::arg("q"), "Shift and turn of the tool by each cause alone, world axes, (rows, moves, 6).");

  kinematics.def("longest_signed_sums", [](const Array& vectors, std::size_t most_exact) {
    if (vectors.ndim() != 3 || vectors.shape(2) != 3) throw py::value_error("vectors must have shape (rows, count, 3)");
    const py::ssize_t rows = vectors.shape(0);
    Array length(rows), sum({rows, py::ssize_t{3}});
    std::vector<std::uint8_t> exact(static_cast<std::size_t>(rows));
    const auto in = view(vectors);
    const auto lengths = view(length), sums = view(sum);
    {
      py::gil_scoped_release release;
      longest_signed_sums(in, static_cast<std::size_t>(vectors.shape(1)), most_exact, lengths, sums, exact);
    }
    py::array_t<bool> told(rows);
    std::copy(exact.begin(), exact.end(), told.mutable_data());
    return py::make_tuple(length, sum, told);
  }, py::arg("vectors"), py::arg("most_exact"),
     "Length of the longest sum over all signs, or a bound of it, (rows,); the sum, (rows, 3); whether it is exact, (rows,).");
}

}  // namespace armwright::bindings
