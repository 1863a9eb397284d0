#include "armwright/clearance/scene_data.hpp"
#include "armwright/clearance/work_point.hpp"
#include "armwright/kinematics/attitudes.hpp"
#include "armwright/spatial/grid.hpp"
#include "armwright/studies/motion_clearance.hpp"
#include "armwright/studies/outlines.hpp"
#include "armwright/studies/payload.hpp"
#include "armwright/studies/reach.hpp"
#include "armwright/studies/sag.hpp"
#include "armwright/studies/speed_payload.hpp"
#include "armwright/studies/targets.hpp"

#include <optional>

#include "convert.hpp"
#include "moving.hpp"
#include "rooms.hpp"
#include "watch.hpp"

namespace armwright::bindings {

namespace {

template <class T>
py::array_t<T> as_array(const std::vector<T>& values) { return py::array_t<T>(static_cast<py::ssize_t>(values.size()), values.data()); }

Array as_array(const std::vector<Point2>& points) {
  Array out({static_cast<py::ssize_t>(points.size()), py::ssize_t{2}});
  for (std::size_t i = 0; i < points.size(); ++i) std::copy(points[i].begin(), points[i].end(), out.mutable_data() + 2 * i);
  return out;
}

std::vector<Vec3> vectors_of(const Array& a) {
  if (a.ndim() != 2 || a.shape(1) != 3) throw py::value_error("vectors must have shape (n, 3)");
  std::vector<Vec3> out(static_cast<std::size_t>(a.shape(0)));
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = {a.data()[3 * i], a.data()[3 * i + 1], a.data()[3 * i + 2]};
  return out;
}

// The array's own numbers, row by row.
std::span<const Vec3> positions_in(const Array& a) {
  static_assert(sizeof(Vec3) == 3 * sizeof(double));
  if (a.ndim() != 2 || a.shape(1) != 3) throw py::value_error("vectors must have shape (n, 3)");
  return {reinterpret_cast<const Vec3*>(a.data()), static_cast<std::size_t>(a.shape(0))};
}

// A property that tells a vector of a result as it stands there: the array keeps the result alive, nothing is copied.
template <class Result, class T>
auto as_held(std::vector<T> Result::*values) {
  return [values](const py::object& self) {
    const std::vector<T>& held = self.cast<const Result&>().*values;
    return py::array_t<T>(static_cast<py::ssize_t>(held.size()), held.data(), self);
  };
}

std::vector<Rotation> rotations_of(const Array& a) {
  if (a.ndim() != 3 || a.shape(1) != 3 || a.shape(2) != 3) throw py::value_error("rotations must have shape (n, 3, 3)");
  std::vector<Rotation> out(static_cast<std::size_t>(a.shape(0)));
  for (std::size_t i = 0; i < out.size(); ++i) {
    const double* m = a.data() + 9 * i;
    out[i] = {{m[0], m[3], m[6]}, {m[1], m[4], m[7]}, {m[2], m[5], m[8]}};
  }
  return out;
}

Array rotations_to(const std::vector<Rotation>& rotations) {
  Array out({static_cast<py::ssize_t>(rotations.size()), py::ssize_t{3}, py::ssize_t{3}});
  double* m = out.mutable_data();
  for (const Rotation& R : rotations)
    for (const double x : {R.x.x, R.y.x, R.z.x, R.x.y, R.y.y, R.z.y, R.x.z, R.y.z, R.z.z}) *m++ = x;
  return out;
}

Array vectors_to(const std::vector<Vec3>& vectors) {
  Array out({static_cast<py::ssize_t>(vectors.size()), py::ssize_t{3}});
  double* m = out.mutable_data();
  for (const Vec3& v : vectors)
    for (const double x : {v.x, v.y, v.z}) *m++ = x;
  return out;
}

void bind_attitudes(py::module_& m) {
  m.def("spread_directions", [](std::size_t count) { return vectors_to(spread_directions(count)); }, py::arg("count"),
        "Unit vectors spread nearly evenly over the sphere, (count, 3).");
  m.def("attitudes_along", [](const Array& directions, std::size_t spins) { return rotations_to(attitudes_along(vectors_of(directions), spins)); },
        py::arg("directions"), py::arg("spins"), "Tool attitudes with z along each direction at each spin, (n, 3, 3).");
}

void bind_search(py::module_& m) {
  py::class_<PostureSearch>(m, "PostureSearch", "What a search for postures keeps to.")
      .def_readonly("samples_track", &PostureSearch::samples_track);
  m.def("longest_reach", &longest_reach, py::arg("model"), "Farthest that a tool point can be from the first arm axis' frame, m.");
  m.def("arm_root", &arm_root, py::arg("model"), py::arg("track"), "Where that frame stands when the track is there, (3,).");
  m.def("make_search", [](const std::shared_ptr<ArmInverse>& inverse, const std::optional<std::shared_ptr<Scene>>& scene, double margin, double slide_step, double turn_step) {
    return make_search(inverse, scene.value_or(nullptr), margin, slide_step, turn_step);
  }, py::arg("inverse"), py::arg("scene"), py::arg("margin"), py::arg("slide_step"), py::arg("turn_step"),
     "A search over redundant joints at most that far apart (m, rad); scene None: clearance does not count.");
  m.def("tilt_rings", [](const TargetSpec& target, double step) {
    std::vector<Array> rings;
    std::vector<Vec3> ring;
    const Vec3& axis = target.pose.rotation.z;
    const auto lean = [&](const Vec3& direction) { return std::acos(std::clamp(dot(direction, axis), -1.0, 1.0)); };
    for (const Vec3& direction : cone_directions(axis, target.tilt, step)) {
      if (!ring.empty() && lean(direction) > lean(ring.back()) + 1e-6) rings.push_back(vectors_to(ring)), ring.clear();
      ring.push_back(direction);
    }
    rings.push_back(vectors_to(ring));
    return rings;
  }, py::arg("target"), py::arg("step"), "Directions of the tool's axis within a work point's cone, ring by ring from the middle, at most that far apart, rad.");
  m.def("tilted_pose", [](const TargetSpec& target, const Vec3& direction) { return chosen_pose(target, direction, 0); }, py::arg("target"),
        py::arg("direction"), "The work point's pose, tilted by the least turn to have the tool's axis along a direction.");
  m.def("work_point_postures", [](const PostureSearch& search, const TargetSpec& target, const Array& directions, double step) {
    const auto along = vectors_of(directions);
    std::vector<double> rows;
    {
      py::gil_scoped_release release;
      const auto spun = spun_arm(*search.inverse);
      rows = work_point_postures({search, spun.get(), target}, along, step);
    }
    const auto n = static_cast<py::ssize_t>(search.model->joint_count);
    Array q({static_cast<py::ssize_t>(rows.size()) / n, n});
    std::copy(rows.begin(), rows.end(), q.mutable_data());
    return q;
  }, py::arg("search"), py::arg("target"), py::arg("directions"), py::arg("step"),
     "Postures within the joint limits at a work point, its tool's axis along one of the directions, spins at most a step apart, (rows, joints).");
}

void bind_maps(py::module_& m) {
  py::class_<Grid>(m, "Grid", "Positions origin + spacing (i, j, k).")
      .def(py::init([](const Vec3& origin, double spacing, std::array<std::size_t, 3> count) { return Grid{origin, spacing, count}; }),
           py::arg("origin"), py::arg("spacing"), py::arg("count"));
  m.def("counted_volume", [](const Grid& grid, const py::array_t<std::uint8_t, py::array::c_style | py::array::forcecast>& marked) {
    if (static_cast<std::size_t>(marked.size()) != grid.size()) throw py::value_error("one mark for each grid position");
    const CountedVolume v = counted_volume(grid, {marked.data(), grid.size()});
    return std::make_pair(v.volume, v.error);
  }, py::arg("grid"), py::arg("marked"), "Volume of the marked positions and its error, m³.");

  py::class_<ReachMap>(m, "ReachMap", "A value for each position.")
      .def_property_readonly("attitudes_reached", as_held(&ReachMap::attitudes_reached))
      .def_property_readonly("limit_margin", as_held(&ReachMap::limit_margin))
      .def_property_readonly("manipulability", as_held(&ReachMap::manipulability))
      .def_property_readonly("clearance", as_held(&ReachMap::clearance))
      .def_property_readonly("track_lower", as_held(&ReachMap::track_lower))
      .def_property_readonly("track_upper", as_held(&ReachMap::track_upper))
      .def_readonly("complete", &ReachMap::complete);
  m.def("reach_map", [](const PostureSearch& search, const Array& positions, const Array& attitudes, unsigned threads, const py::object& report) {
    const auto at = positions_in(positions);
    const auto tried = rotations_of(attitudes);
    return watched(report, [&](const Progress& progress) { return reach_map(search, at, tried, threads, progress); });
  }, py::arg("search"), py::arg("positions"), py::arg("attitudes"), py::arg("threads"), py::arg("report").none(true));

  py::class_<PayloadMap>(m, "PayloadMap", "A value for each position.")
      .def_property_readonly("mass_greatest", as_held(&PayloadMap::mass_greatest))
      .def_property_readonly("mass_least", as_held(&PayloadMap::mass_least))
      .def_property_readonly("limiting_joint", as_held(&PayloadMap::limiting_joint))
      .def_property_readonly("limiting_joint_least", as_held(&PayloadMap::limiting_joint_least))
      .def_readonly("complete", &PayloadMap::complete);
  m.def("payload_map", [](const PostureSearch& search, const Array& positions, const Array& attitudes, const Vec3& centre, Limit limit,
                          unsigned threads, const py::object& report) {
    const auto at = positions_in(positions);
    const auto tried = rotations_of(attitudes);
    return watched(report, [&](const Progress& progress) {
      return payload_map(search, at, tried, {centre, limit}, threads, progress);
    });
  }, py::arg("search"), py::arg("positions"), py::arg("attitudes"), py::arg("centre"), py::arg("limit"), py::arg("threads"),
     py::arg("report").none(true));

  m.def("sag_map", [](const PostureSearch& search, const ElasticChain& chain, const Inertia& load, const Array& positions, const Array& attitudes,
                      unsigned threads, const py::object& report) {
    const auto at = vectors_of(positions);
    const auto tried = rotations_of(attitudes);
    const SagMap map = watched(report, [&](const Progress& progress) { return sag_map(search, chain, load, at, tried, threads, progress); });
    Array q = as_array(map.q).reshape({positions.shape(0), static_cast<py::ssize_t>(search.model->joint_count)});
    return py::make_tuple(map.complete, as_array(map.least), as_array(map.greatest), as_array(map.lowest), as_array(map.cause), as_array(map.cause_share), q);
  }, py::arg("search"), py::arg("chain"), py::arg("load"), py::arg("positions"), py::arg("attitudes"), py::arg("threads"), py::arg("report").none(true),
     "Whether it was not cancelled; of each position the least and greatest shift, how much lower, the main cause and its share, and the posture.");

  py::class_<SpeedPayloadMap>(m, "SpeedPayloadMap", "A value for each position, at rest and in motion; of masses in motion what moving_payloads tells.")
      .def_property_readonly("rest_greatest", [](const SpeedPayloadMap& map) { return as_array(map.rest_greatest); })
      .def_property_readonly("rest_least", [](const SpeedPayloadMap& map) { return as_array(map.rest_least); })
      .def_property_readonly("rest_joint", [](const SpeedPayloadMap& map) { return as_array(map.rest_joint); })
      .def_property_readonly("rest_joint_least", [](const SpeedPayloadMap& map) { return as_array(map.rest_joint_least); })
      .def_property_readonly("greatest", [](const SpeedPayloadMap& map) { return moving_arrays(map.greatest); })
      .def_property_readonly("least", [](const SpeedPayloadMap& map) { return moving_arrays(map.least); })
      .def_readonly("complete", &SpeedPayloadMap::complete);
  m.def("speed_payload_map", [](const PostureSearch& search, const MovingSetup& setup, const Array& positions, const Array& attitudes, Limit rest,
                                unsigned threads, const py::object& report) {
    const auto at = vectors_of(positions);
    const auto tried = rotations_of(attitudes);
    return watched(report, [&](const Progress& progress) { return speed_payload_map(search, setup, at, tried, rest, threads, progress); });
  }, py::arg("search"), py::arg("setup"), py::arg("positions"), py::arg("attitudes"), py::arg("rest"), py::arg("threads"), py::arg("report").none(true));

  m.def("outlines", [](const PostureSearch& search, double spacing, std::size_t directions, std::size_t spins, unsigned threads, const py::object& report) {
    const Outlines drawn = watched(report, [&](const Progress& progress) {
      return outlines(search, {spacing, directions, spins}, threads, progress);
    });
    return py::make_tuple(as_array(drawn.section), as_array(drawn.plan), drawn.complete);
  }, py::arg("search"), py::arg("spacing"), py::arg("directions"), py::arg("spins"), py::arg("threads"), py::arg("report").none(true));
  m.def("at_wrist_centre", [](const Model& model) { return std::make_shared<Model>(at_wrist_centre(model)); }, py::arg("model"),
        "The model with its tool point at the wrist centre.");
}

void bind_targets(py::module_& m) {
  py::enum_<Merit>(m, "Merit").value("limit_margin", Merit::limit_margin).value("clearance", Merit::clearance)
      .value("payload", Merit::payload).value("manipulability", Merit::manipulability)
      .value("clearance_spare", Merit::clearance_spare);
  py::enum_<Outcome>(m, "Outcome").value("out_of_reach", Outcome::out_of_reach).value("beyond_limits", Outcome::beyond_limits)
      .value("obstructed", Outcome::obstructed).value("overloaded", Outcome::overloaded).value("served", Outcome::served);
  py::class_<TargetAnswer>(m, "TargetAnswer")
      .def_readonly("outcome", &TargetAnswer::outcome).def_readonly("q", &TargetAnswer::q).def_readonly("has_posture", &TargetAnswer::has_posture)
      .def_readonly("limit_margin", &TargetAnswer::limit_margin).def_readonly("manipulability", &TargetAnswer::manipulability)
      .def_readonly("postures", &TargetAnswer::postures).def_readonly("shortfall", &TargetAnswer::shortfall)
      .def_readonly("too_near", &TargetAnswer::too_near).def_readonly("limit_joint", &TargetAnswer::limit_joint)
      .def_readonly("excess", &TargetAnswer::excess)
      .def_property_readonly("free_joint", [](const TargetAnswer& a) { return static_cast<int>(a.free_joint); })
      .def_property_readonly("distance", [](const TargetAnswer& a) { return a.clearance.distance; })
      .def_property_readonly("solid_a", [](const TargetAnswer& a) { return a.clearance.solid_a; })
      .def_property_readonly("solid_b", [](const TargetAnswer& a) { return a.clearance.solid_b; })
      .def_property_readonly("obstacle_distance", [](const TargetAnswer& a) { return a.obstacle.clearance.distance; })
      .def_property_readonly("obstacle_required", [](const TargetAnswer& a) { return a.obstacle.required; })
      .def_property_readonly("obstacle_a", [](const TargetAnswer& a) { return a.obstacle.clearance.solid_a; })
      .def_property_readonly("obstacle_b", [](const TargetAnswer& a) { return a.obstacle.clearance.solid_b; })
      .def_property_readonly("payload", [](const TargetAnswer& a) { return a.payload.mass; })
      .def_property_readonly("payload_joint", [](const TargetAnswer& a) { return a.payload.joint; })
      .def_property_readonly("holds_itself", [](const TargetAnswer& a) { return a.payload.holds_itself; });
  m.def("check_targets", [](const PostureSearch& search, const std::vector<TargetSpec>& targets, Limit limit,
                            double angle_step, const std::vector<Merit>& order, unsigned threads, const py::object& report) {
    return watched(report, [&](const Progress& progress) {
      return check_targets(search, targets, {limit, angle_step, order}, threads, progress);
    });
  }, py::arg("search"), py::arg("targets"), py::arg("limit"), py::arg("angle_step"), py::arg("order"),
     py::arg("threads"), py::arg("report").none(true));
}

void bind_motion_clearance(py::module_& m) {
  m.def("motion_clearance", [](const Model& model, const std::vector<std::shared_ptr<Scene>>& scenes, const TimedMotion& motion, std::size_t moves,
                               double tolerance, unsigned threads, const py::object& report) {
    const std::vector<std::shared_ptr<const Scene>> solids(scenes.begin(), scenes.end());
    const MotionClearance found = watched(report, [&](const Progress& progress) {
      return motion_clearance(model, solids, motion, moves, tolerance, threads, progress);
    });
    const auto size = static_cast<py::ssize_t>(found.least.size());
    Array least(size), proven(size);
    for (py::ssize_t i = 0; i < size; ++i) {
      const ClearanceAlong& along = found.least[static_cast<std::size_t>(i)];
      least.mutable_at(i) = along.least, proven.mutable_at(i) = along.proven;
    }
    return std::make_tuple(as_array(found.distance), least, proven, as_array(found.least_time), found.between, as_array(found.kept));
  }, py::arg("model"), py::arg("scenes"), py::arg("motion"), py::arg("moves"), py::arg("tolerance"), py::arg("threads"), py::arg("report").none(true),
     "Least distance at each row; of each move the least, its proven lower bound, when, the names of the two solids, and whether every "
     "pair keeps what it asks for. Empty if it was cancelled.");
}

}  // namespace

void bind_studies(py::module_& parent) {
  py::module_ m = parent.def_submodule("studies", "Sweeps. Threaded, with progress, stopped by Ctrl-C; the same bits for any number of threads.");
  bind_attitudes(m);
  bind_search(m);
  bind_maps(m);
  bind_targets(m);
  bind_motion_clearance(m);
  bind_track(m);
  bind_placement(m);
}

}  // namespace armwright::bindings
