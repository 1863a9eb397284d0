#include <pybind11/stl.h>

#include "armwright/elements/bolt.hpp"
#include "armwright/elements/bolt_group.hpp"
#include "armwright/elements/bolt_slip.hpp"
#include "armwright/elements/footing.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

std::vector<Point2> points_of(const Array& a) {
  if (a.size() && (a.ndim() != 2 || a.shape(1) != 2)) throw py::value_error("points must have shape (n, 2)");
  std::vector<Point2> points;
  for (py::ssize_t i = 0; i + 1 < a.size(); i += 2) points.push_back({a.data()[i], a.data()[i + 1]});
  return points;
}

std::vector<FaceLoad> loads_of(const Array& a) {
  if (a.ndim() != 2 || a.shape(1) != 6) throw py::value_error("loads must have shape (rows, 6)");
  std::vector<FaceLoad> loads;
  for (const double* p = a.data(); p != a.data() + a.size(); p += 6) loads.push_back({p[0], p[1], p[2], p[3], p[4], p[5]});
  return loads;
}

// One row of `width` numbers a load, by `fill(load, row)`.
template <class Fill>
Array each(const Array& loads, std::size_t width, const Fill& fill) {
  const std::vector<FaceLoad> rows = loads_of(loads);
  Array out({static_cast<py::ssize_t>(rows.size()), static_cast<py::ssize_t>(width)});
  const std::span<double> to = view(out);
  py::gil_scoped_release release;
  for (std::size_t i = 0; i < rows.size(); ++i) fill(rows[i], to.subspan(i * width, width));
  return out;
}

void bind_group(py::module_& m) {
  py::class_<BoltGroup>(m, "BoltGroup", "Points of equal bolts (n, 2) and the plate's outline (m, 2; empty: none told), m.")
      .def(py::init([](const Array& points, const Array& plate) { return bolt_group(points_of(points), points_of(plate)); }), py::arg("points"), py::arg("plate"))
      .def_property_readonly("in_line", &in_line)
      .def("elastic", [](const BoltGroup& group, const Array& loads) {
        return each(loads, group.points.size(), [&](const FaceLoad& load, std::span<double> to) { elastic_tensions(group, load, to); });
      }, py::arg("loads"), "Tension of each bolt (rows, n), the group about its centroid; loads (rows, 6).")
      .def("pivot", [](const BoltGroup& group, const Array& loads) {
        return each(loads, group.points.size(), [&](const FaceLoad& load, std::span<double> to) { pivot_tensions(group, load, to); });
      }, py::arg("loads"), "The same, the plate tilting about the edge or corner that comes to rest.")
      .def("far", [](const BoltGroup& group, const Array& loads) {
        return each(loads, group.points.size(), [&](const FaceLoad& load, std::span<double> to) { far_tensions(group, load, to); });
      }, py::arg("loads"), "The same, about an edge with the farthest bolts alone.")
      .def("shear", [](const BoltGroup& group, const Array& loads) {
        return each(loads, 2 * group.points.size(), [&](const FaceLoad& load, std::span<double> to) { bolt_shears(group, load, to); })
            .reshape({-1, static_cast<int>(group.points.size()), 2});
      }, py::arg("loads"), "Shear of each bolt (rows, n, 2), N.")
      .def("slip", [](const BoltGroup& group, const Array& loads, const Array& clamps, double friction) {
        const std::size_t n = group.points.size();
        if (clamps.ndim() != 2 || static_cast<std::size_t>(clamps.shape(1)) != n || clamps.shape(0) != loads.shape(0))
          throw py::value_error("clamps must have shape (rows, bolts)");
        std::span<const double> from = view(clamps);
        return each(loads, 2, [&](const FaceLoad& load, std::span<double> to) {
          const SlipSafety found = slip_safety(group, from.first(n), friction, load);
          to[0] = found.safe, to[1] = found.bound;
          from = from.subspan(n);
        });
      }, py::arg("loads"), py::arg("clamps"), py::arg("friction"), "Safety against slipping and a bound above it (rows, 2).");
}

void bind_bolt(py::module_& m) {
  py::class_<PropertyClass>(m, "PropertyClass")
      .def_readonly("tensile", &PropertyClass::tensile)
      .def_readonly("nominal", &PropertyClass::nominal)
      .def_readonly("yield_strength", &PropertyClass::yield)
      .def_readonly("proof", &PropertyClass::proof)
      .def_readonly("shear_share", &PropertyClass::shear_share)
      .def_readonly("in_standard", &PropertyClass::in_standard)
      .def_readonly("in_joints", &PropertyClass::in_joints);
  m.def("property_class", &property_class, py::arg("name"), py::arg("diameter"));
  m.def("stress_area", &stress_area, py::arg("diameter"), py::arg("pitch"));
  m.def("bolt_force", py::vectorize([](double tension, double preload, double share) { return bolt_force({tension, 0, preload, share}); }),
        py::arg("tension"), py::arg("preload"), py::arg("load_share"));
  m.def("proof_safety", py::vectorize([](double proof, double area, double tension, double shear, double preload, double share) {
    return proof_safety(proof, area, {tension, shear, preload, share});
  }), py::arg("proof_stress"), py::arg("area"), py::arg("tension"), py::arg("shear"), py::arg("preload"), py::arg("load_share"));
  m.def("load_factor", py::vectorize([](double proof, double area, double tension, double preload, double share) {
    return load_factor(proof, area, {tension, 0, preload, share});
  }), py::arg("proof_stress"), py::arg("area"), py::arg("tension"), py::arg("preload"), py::arg("load_share"));
  m.def("joint_safety", [](const PropertyClass& property, double area, const py::array_t<double>& tension, const py::array_t<double>& shear) {
    return py::vectorize([&](double t, double v) { return joint_safety(property, area, t, v); })(tension, shear);
  }, py::arg("property"), py::arg("area"), py::arg("tension"), py::arg("shear"));
  m.def("told_safety", py::vectorize(&told_safety), py::arg("tension"), py::arg("shear"), py::arg("allowed_tension"), py::arg("allowed_shear"));
}

void bind_footing(py::module_& m) {
  m.def("footings", [](const Array& outline, const Array& loads) {
    const std::vector<Point2> points = points_of(outline);
    return each(loads, 5, [&](const FaceLoad& load, std::span<double> to) {
      const Footing f = footing(points, load);
      to[0] = f.a, to[1] = f.b, to[2] = f.c, to[3] = f.greatest, to[4] = f.contact;
    });
  }, py::arg("outline"), py::arg("loads"), "Pressure a + b x + c y where positive, the greatest (NaN: does not rest so), share in contact: (rows, 5).");
  m.def("feet_forces", [](const Array& feet, const Array& loads) {
    const std::vector<Point2> points = points_of(feet);
    return each(loads, points.size(), [&](const FaceLoad& load, std::span<double> to) { on_feet(points, load, to); });
  }, py::arg("feet"), py::arg("loads"), "Force on each of equally stiff feet (rows, n), N; NaN: does not rest.");
  m.def("convex_hull", [](const Array& points) {
    const std::vector<Point2> hull = convex_hull(points_of(points));
    Array out({static_cast<py::ssize_t>(hull.size()), py::ssize_t{2}});
    for (std::size_t i = 0; i < hull.size(); ++i) out.mutable_data()[2 * i] = hull[i].x, out.mutable_data()[2 * i + 1] = hull[i].y;
    return out;
  }, py::arg("points"), "Convex hull (n, 2), counter-clockwise.");
  m.def("tipping_moments", [](const Array& hull, const Array& loads) {
    const std::vector<Edge> edges = edges_of(points_of(hull));
    return each(loads, edges.size(), [&](const FaceLoad& load, std::span<double> to) {
      for (std::size_t i = 0; i < edges.size(); ++i) to[i] = tipping_moment(edges[i], load);
    });
  }, py::arg("hull"), py::arg("loads"), "Moment about each edge of a hull (rows, n); positive: tips over it.");
}

}  // namespace

void bind_base(py::module_& elements) {
  bind_group(elements);
  bind_bolt(elements);
  bind_footing(elements);
}

}  // namespace armwright::bindings
