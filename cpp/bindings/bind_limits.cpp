#include "armwright/limits/static_payload.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

void bind_limits(py::module_& parent) {
  py::module_ m = parent.def_submodule("limits", "What gives out first.");
  py::enum_<Limit>(m, "Limit").value("continuous", Limit::continuous).value("peak", Limit::peak);

  m.def("static_payloads", [](const Model& model, const Vec3& centre, Limit limit, const Array& q) {
    const py::ssize_t rows = rows_checked(model, q);
    std::vector<StaticPayload> answers(static_cast<std::size_t>(rows));
    Array by_joint({rows, q.shape(1)});
    const auto in = view(q);
    const auto each = view(by_joint);
    {
      py::gil_scoped_release release;
      static_payloads(model, centre, limit, in, answers, each);
    }
    Array mass(rows);
    py::array_t<std::int32_t> joint(rows);
    py::array_t<bool> holds(rows);
    for (py::ssize_t i = 0; i < rows; ++i) {
      const StaticPayload& answer = answers[static_cast<std::size_t>(i)];
      mass.mutable_at(i) = answer.mass;
      joint.mutable_at(i) = answer.joint;
      holds.mutable_at(i) = answer.holds_itself;
    }
    return py::make_tuple(mass, joint, holds, by_joint);
  }, py::arg("model"), py::arg("centre"), py::arg("limit"), py::arg("q"),
     "Largest mass (rows,), limiting joint (rows,) or -1, whether the arm holds itself (rows,), and the mass by joint (rows, joints). centre in the last joint frame.");
}

}  // namespace armwright::bindings
