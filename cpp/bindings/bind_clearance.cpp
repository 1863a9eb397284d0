#include "armwright/clearance/bodies.hpp"
#include "armwright/clearance/scene_data.hpp"
#include "armwright/clearance/volume.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

// Distances, nearest points twice, and the two solids.
auto told(std::span<const Clearance> found) {
  const auto rows = static_cast<py::ssize_t>(found.size());
  Array distance(rows), a({rows, py::ssize_t{3}}), b({rows, py::ssize_t{3}});
  py::array_t<std::int32_t> solids({rows, py::ssize_t{2}});
  for (py::ssize_t i = 0; i < rows; ++i) {
    const Clearance& c = found[static_cast<std::size_t>(i)];
    distance.mutable_at(i) = c.distance;
    const double points[6] = {c.point_a.x, c.point_a.y, c.point_a.z, c.point_b.x, c.point_b.y, c.point_b.z};
    std::copy(points, points + 3, a.mutable_data() + 3 * i);
    std::copy(points + 3, points + 6, b.mutable_data() + 3 * i);
    solids.mutable_at(i, 0) = c.solid_a;
    solids.mutable_at(i, 1) = c.solid_b;
  }
  return py::make_tuple(distance, a, b, solids);
}

void bind_volume(py::module_& m) {
  py::class_<Volume, std::shared_ptr<Volume>>(m, "Volume", "Room that has to be free beside a link.")
      .def_property_readonly("solid_names", [](const Volume& volume) {
        const auto names = solid_names(volume);
        return std::vector<std::string>(names.begin(), names.end());
      });
  m.def("build_volume", [](const CellSpec& cell, const Model& model, const std::string& link, const std::vector<ShapeSpec>& shapes) {
    return std::const_pointer_cast<Volume>(build_volume(cell, model, link, shapes));
  }, py::arg("cell"), py::arg("model"), py::arg("link"), py::arg("shapes"), "Raises Refused as build_scene does, and for a link that is not there.");
  m.def("volume_distances", [](const Volume& volume, const Model& model, const Array& q) {
    std::vector<Clearance> found(static_cast<std::size_t>(rows_checked(model, q)));
    const auto in = view(q);
    {
      py::gil_scoped_release release;
      volume_distances(volume, model, in, found);
    }
    return told(found);
  }, py::arg("volume"), py::arg("model"), py::arg("q"),
     "Least distance to anything but its own link (rows,), nearest points (rows, 3) twice, and the two solids' places in solid_names (rows, 2).");
  m.def("spread_postures", [](const Model& model, std::size_t count) {
    Array out({static_cast<py::ssize_t>(count), static_cast<py::ssize_t>(model.joint_count)});
    double* to = out.mutable_data();
    for (const auto& q : spread_postures(model, count)) to = std::copy(q.begin(), q.end(), to);
    return out;
  }, py::arg("model"), py::arg("count"), "Joint vectors spread evenly over the joint ranges, always the same ones, (count, joints).");
}

}  // namespace

void bind_clearance(py::module_& parent) {
  py::module_ m = parent.def_submodule("clearance", "Distances between the arm and everything else.");
  py::class_<Scene, std::shared_ptr<Scene>>(m, "Scene", "All solids of a cell, made ready for distances.")
      .def_property_readonly("solid_names", [](const Scene& scene) {
        const auto names = solid_names(scene);
        return std::vector<std::string>(names.begin(), names.end());
      })
      .def_property_readonly("touching_pairs", [](const Scene& scene) { return touching_pairs(scene); });
  m.def("build_scene", [](const CellSpec& cell, const Model& model) {
    return std::const_pointer_cast<Scene>(build_scene(cell, model));
  }, py::arg("cell"), py::arg("model"), "Raises Refused for a solid without volume, an open mesh, numbers that are not finite.");

  m.def("spare_scene", [](const Scene& scene, double margin) { return std::const_pointer_cast<Scene>(spare_scene(scene, margin)); },
        py::arg("scene"), py::arg("margin"),
        "The same solids, with every distance told less what its pair is to keep. For least_distances alone.");
  m.def("least_distances", [](const Scene& scene, const Model& model, const Array& q) {
    std::vector<Clearance> found(static_cast<std::size_t>(rows_checked(model, q)));
    const auto in = view(q);
    {
      py::gil_scoped_release release;
      least_distances(scene, model, in, found);
    }
    return told(found);
  }, py::arg("scene"), py::arg("model"), py::arg("q"),
     "Least distance (rows,), nearest points (rows, 3) twice, and the two solids' places in solid_names (rows, 2).");

  m.def("are_clear", [](const Scene& scene, const Model& model, const Array& q, double margin) {
    py::array_t<bool> out(rows_checked(model, q));
    const auto in = view(q);
    std::vector<std::uint8_t> clear(static_cast<std::size_t>(out.size()));
    {
      py::gil_scoped_release release;
      are_clear(scene, model, in, margin, clear);
    }
    std::copy(clear.begin(), clear.end(), out.mutable_data());
    return out;
  }, py::arg("scene"), py::arg("model"), py::arg("q"), py::arg("margin"), "Whether every pair keeps its distance, (rows,).");
  bind_volume(m);
}

}  // namespace armwright::bindings
