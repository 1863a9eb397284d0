#include <pybind11/eigen.h>

#include <map>
#include <string>
#include <tuple>

#include "armwright/elements/feed.hpp"
#include "armwright/limits/guide_duty.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

void bind_feed(py::module_& m) {
  py::enum_<ScrewEnds>(m, "ScrewEnds").value("fixed_free", ScrewEnds::fixed_free).value("supported_supported", ScrewEnds::supported_supported)
      .value("fixed_supported", ScrewEnds::fixed_supported).value("fixed_fixed", ScrewEnds::fixed_fixed);
  m.def("rack_forces", [](double force, double pressure_angle, double helix) {
    const RackForces f = rack_forces(force, pressure_angle, helix);
    return py::make_tuple(f.tangential, f.radial, f.axial, f.resultant);
  }, py::arg("force"), py::arg("pressure_angle"), py::arg("helix"), "Tangential, radial, axial; across the shaft.");
  m.def("pinion_diameter", &pinion_diameter, py::arg("module"), py::arg("teeth"), py::arg("helix"));
  m.def("pinion_bending", [](double force, double pressure_angle, double helix, double diameter, double overhang) {
    return pinion_bending(rack_forces(force, pressure_angle, helix), diameter, overhang);
  }, py::arg("force"), py::arg("pressure_angle"), py::arg("helix"), py::arg("diameter"), py::arg("overhang"));
  m.def("lewis_factor", &lewis_factor, py::arg("teeth"));
  m.def("tooth_foot_stress", &tooth_foot_stress, py::arg("force"), py::arg("face_width"), py::arg("module"), py::arg("teeth"), py::arg("helix"));
  m.def("belt_stiffness", &belt_stiffness, py::arg("specific_stiffness"), py::arg("length"));
  m.def("belt_tensions", [](double force, double preload, double share) {
    const BeltTensions t = belt_tensions(force, preload, share);
    return py::make_tuple(t.tight, t.slack);
  }, py::arg("force"), py::arg("preload"), py::arg("share"), "Tight strand, slack strand.");
  m.def("buckling_force", &buckling_force, py::arg("diameter"), py::arg("free_length"), py::arg("modulus"), py::arg("ends"));
  m.def("slenderness", &slenderness, py::arg("diameter"), py::arg("free_length"), py::arg("ends"));
  m.def("strut_force", &strut_force, py::arg("diameter"), py::arg("free_length"), py::arg("modulus"), py::arg("yield_strength"), py::arg("ends"));
  m.def("whirling_speed", &whirling_speed, py::arg("diameter"), py::arg("length"), py::arg("modulus"), py::arg("density"), py::arg("ends"));
}

Guide guide_of(const Array& places, double feed_across, double feed_up, const std::array<double, 6>& factors, double preload, bool roller) {
  if (places.ndim() != 2 || places.shape(1) != 3 || places.shape(0) < 1) throw py::value_error("places must have shape (blocks, 3)");
  std::vector<BlockPlace> at;
  for (py::ssize_t i = 0; i < places.shape(0); ++i) at.push_back({places.at(i, 0), places.at(i, 1), places.at(i, 2)});
  return {block_map(at, feed_across, feed_up), {factors[0], factors[1], factors[2], factors[3], factors[4], factors[5]}, preload, roller};
}

using Rows = py::array_t<std::int64_t>;

// A figure of every block, an array.
template <class Value>
py::array_t<Value> of_blocks(const std::vector<BlockDuty>& blocks, Value BlockDuty::*member) {
  py::array_t<Value> values(static_cast<py::ssize_t>(blocks.size()));
  for (std::size_t b = 0; b < blocks.size(); ++b) values.mutable_at(b) = blocks[b].*member;
  return values;
}

using DutyFigures = std::tuple<Array, Array, std::map<std::string, Array>, std::map<std::string, Rows>>;

DutyFigures run_guide_duty(const Guide& guide, const Array& wrench, const Array& speed, const Array& duty) {
  const py::ssize_t rows = speed.size(), count = guide.layout.map.rows() / 5;
  if (wrench.ndim() != 2 || wrench.shape(1) != 6 || wrench.shape(0) != rows || duty.size() != rows) throw py::value_error("wrench (rows, 6), speed and duty (rows,)");
  Array loads({rows, count, py::ssize_t{5}}), equivalent({rows, count});
  std::vector<BlockDuty> blocks(static_cast<std::size_t>(count));
  const auto w = view(wrench), v = view(speed), t = view(duty);
  const auto out = view(loads), counts = view(equivalent);
  {
    py::gil_scoped_release release;
    guide_duty(guide, w, v, t, out, counts, blocks);
  }
  std::map<std::string, Array> figures;
  figures["radial_greatest"] = of_blocks(blocks, &BlockDuty::radial_greatest);
  figures["radial_least"] = of_blocks(blocks, &BlockDuty::radial_least);
  figures["lateral_greatest"] = of_blocks(blocks, &BlockDuty::lateral_greatest);
  figures["equivalent_greatest"] = of_blocks(blocks, &BlockDuty::equivalent_greatest);
  figures["mean"] = of_blocks(blocks, &BlockDuty::mean);
  figures["travel_greatest"] = of_blocks(blocks, &BlockDuty::travel_greatest);
  std::map<std::string, Rows> at;
  at["radial_greatest"] = of_blocks(blocks, &BlockDuty::radial_greatest_row);
  at["radial_least"] = of_blocks(blocks, &BlockDuty::radial_least_row);
  at["lateral_greatest"] = of_blocks(blocks, &BlockDuty::lateral_row);
  at["equivalent_greatest"] = of_blocks(blocks, &BlockDuty::equivalent_row);
  return {loads, equivalent, figures, at};
}

void bind_blocks(py::module_& m) {
  py::class_<Guide>(m, "Guide", "Blocks on a carriage; see cpp/armwright/limits/guide_duty.hpp.")
      .def(py::init(&guide_of), py::arg("places"), py::arg("feed_across"), py::arg("feed_up"), py::arg("factors"), py::arg("preload"), py::arg("roller"),
           "places: (blocks, 3) along, across, up; factors: pressed, lifted, lateral, and N per N m of roll, pitch, yaw (NaN: not known).")
      .def_property_readonly("map", [](const Guide& guide) { return Eigen::MatrixXd(guide.layout.map); }, "(5 blocks, 6): radial, lateral, roll, pitch, yaw of each, from a wrench.")
      .def_property_readonly("own_moments", [](const Guide& guide) { return py::make_tuple(guide.layout.roll, guide.layout.pitch, guide.layout.yaw); },
                             "Whether blocks bear a moment of their own about each axis.");
  m.def("guide_duty", &run_guide_duty, py::arg("guide"), py::arg("wrench"), py::arg("speed"), py::arg("duty"), "Loads (rows, blocks, 5), equivalent loads (rows, blocks); of each block its figures, and the rows of its extremes.");
  py::class_<RailBending>(m, "RailBending")
      .def_readonly("deflection", &RailBending::deflection).def_readonly("deflection_place", &RailBending::deflection_place).def_readonly("deflection_row", &RailBending::deflection_row)
      .def_readonly("moment", &RailBending::moment).def_readonly("moment_place", &RailBending::moment_place).def_readonly("moment_row", &RailBending::moment_row);
  m.def("worst_rail_bending", [](double stiffness, double span, int spans, bool built_in, const std::vector<double>& train, const Array& loads, const std::vector<double>& places) {
    if (spans < 1 || train.empty() || loads.ndim() != 2 || loads.shape(1) != static_cast<py::ssize_t>(train.size())) throw py::value_error("loads must have shape (rows, blocks)");
    RailBending worst;
    const auto all = view(loads);
    {
      py::gil_scoped_release release;
      worst = worst_rail_bending({stiffness, span, spans, built_in}, train, all, places);
    }
    return worst;
  }, py::arg("stiffness"), py::arg("span"), py::arg("spans"), py::arg("built_in"), py::arg("train"), py::arg("loads"), py::arg("places"));
}

}  // namespace

void bind_guide(py::module_& m) {
  py::module_ elements = m.attr("elements"), limits = m.attr("limits");
  bind_feed(elements);
  elements.def("equivalent_block_load", [](const std::array<double, 5>& load, const std::array<double, 6>& f) {
    return equivalent_block_load({load[0], load[1], load[2], load[3], load[4]}, {f[0], f[1], f[2], f[3], f[4], f[5]});
  }, py::arg("load"), py::arg("factors"));
  elements.def("preloaded_block_load", &preloaded_block_load, py::arg("load"), py::arg("preload"), py::arg("roller"));
  elements.def("guide_life", &guide_life, py::arg("rating"), py::arg("distance"), py::arg("mean_load"), py::arg("roller"));
  elements.def("rating_at_distance", &rating_at_distance, py::arg("rating"), py::arg("distance"), py::arg("wanted"), py::arg("roller"));
  elements.def("guide_static_safety", &guide_static_safety, py::arg("static_rating"), py::arg("static_load"));
  elements.attr("guide_life_holds") = guide_life_holds;
  bind_blocks(limits);
}

}  // namespace armwright::bindings
