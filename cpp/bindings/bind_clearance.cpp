#include "armwright/clearance/bodies.hpp"
#include "armwright/clearance/capsule_boxes.hpp"
#include "armwright/clearance/scene_data.hpp"
#include "armwright/clearance/volume.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

// Distances, nearest points twice, and the two solids.
struct Told {
  Array distance, a, b;
  py::array_t<std::int32_t> solids;
  double *to_distance, *to_a, *to_b;
  std::int32_t* to_solids;

  explicit Told(py::ssize_t rows)
      : distance(rows), a({rows, py::ssize_t{3}}), b({rows, py::ssize_t{3}}), solids({rows, py::ssize_t{2}}),
        to_distance(distance.mutable_data()), to_a(a.mutable_data()), to_b(b.mutable_data()), to_solids(solids.mutable_data()) {}
  void add(std::span<const Clearance> found) {
    for (const Clearance& c : found) {
      *to_distance++ = c.distance;
      *to_a++ = c.point_a.x, *to_a++ = c.point_a.y, *to_a++ = c.point_a.z;
      *to_b++ = c.point_b.x, *to_b++ = c.point_b.y, *to_b++ = c.point_b.z;
      *to_solids++ = c.solid_a, *to_solids++ = c.solid_b;
    }
  }
  auto arrays() const { return py::make_tuple(distance, a, b, solids); }
};

void bind_capsule_boxes(py::module_& m) {
  m.def("capsule_box_distances", [](const Array& capsules, const Array& boxes) {
    if (capsules.ndim() != 2 || capsules.shape(1) != 7) throw py::value_error("capsules must have shape (rows, 7)");
    if (boxes.ndim() != 2 || boxes.shape(1) != 15) throw py::value_error("boxes must have shape (boxes, 15)");
    Array out({capsules.shape(0), boxes.shape(0)});
    const auto from = view(capsules), to = view(boxes);
    const auto found = view(out);
    {
      py::gil_scoped_release release;
      capsule_box_distances(from, to, found);
    }
    return out;
  }, py::arg("capsules"), py::arg("boxes"),
     "Signed distances of capsules (rows, 7: both ends of the core, the radius) from boxes (boxes, 15: centre, three axes, half edges), (rows, boxes).");
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
    Told told(static_cast<py::ssize_t>(found.size()));
    told.add(found);
    return told.arrays();
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
    Told told(rows_checked(model, q));
    const auto in = view(q);
    {
      py::gil_scoped_release release;
      least_distances(scene, model, in, [&](std::size_t, std::span<const Clearance> found) { told.add(found); });
    }
    return told.arrays();
  }, py::arg("scene"), py::arg("model"), py::arg("q"),
     "Least distance (rows,), nearest points (rows, 3) twice, and the two solids' places in solid_names (rows, 2).");

  m.def("are_clear", [](const Scene& scene, const Model& model, const Array& q, double margin) {
    py::array_t<bool> out(rows_checked(model, q));
    const auto in = view(q);
    static_assert(sizeof(bool) == sizeof(std::uint8_t));
    const std::span<std::uint8_t> clear(reinterpret_cast<std::uint8_t*>(out.mutable_data()), static_cast<std::size_t>(out.size()));
    {
      py::gil_scoped_release release;
      are_clear(scene, model, in, margin, clear);
    }
    return out;
  }, py::arg("scene"), py::arg("model"), py::arg("q"), py::arg("margin"), "Whether every pair keeps its distance, (rows,).");
  bind_capsule_boxes(m);
  bind_volume(m);
}

}  // namespace armwright::bindings
