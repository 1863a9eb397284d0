#include <pybind11/typing.h>

#include "armwright/elements/bearing_life.hpp"
#include "armwright/elements/bearing_pair.hpp"
#include "armwright/elements/slewing_bearing.hpp"
#include "armwright/limits/bearing_duty.hpp"
#include "convert.hpp"
#include "rooms.hpp"

namespace armwright::bindings {

namespace {

using Arrays = py::typing::Dict<py::str, Array>;
using Factors = std::tuple<double, double, double, double, double>;

Factors told(const LoadFactors& f) { return {f.e, f.x_below, f.y_below, f.x_above, f.y_above}; }
LoadFactors factors_of(const Factors& f) { return {std::get<0>(f), std::get<1>(f), std::get<2>(f), std::get<3>(f), std::get<4>(f)}; }

void bind_kinds(py::module_& m) {
  py::enum_<BearingKind>(m, "BearingKind").value("deep_groove", BearingKind::deep_groove).value("angular_contact", BearingKind::angular_contact)
      .value("tapered", BearingKind::tapered).value("four_point", BearingKind::four_point).value("crossed_roller", BearingKind::crossed_roller);
  py::enum_<Arrangement>(m, "Arrangement").value("face_to_face", Arrangement::face_to_face).value("back_to_back", Arrangement::back_to_back)
      .value("fixed_near", Arrangement::fixed_near).value("fixed_far", Arrangement::fixed_far);
  py::enum_<MovedRing>(m, "MovedRing").value("unknown", MovedRing::unknown).value("inner", MovedRing::inner).value("outer", MovedRing::outer);
  py::class_<RollingBearing>(m, "RollingBearing", "One bearing as it is calculated; NaN: not told, or the standard's. See cpp/armwright/elements/rolling_bearing.hpp.")
      .def(py::init([](BearingKind kind, double angle, double dynamic, double fixed, const Factors& own, std::pair<double, double> own_static, double f0) {
             return RollingBearing{kind, angle, dynamic, fixed, factors_of(own), {own_static.first, own_static.second}, f0};
           }), py::arg("kind"), py::arg("contact_angle"), py::arg("dynamic_rating"), py::arg("static_rating"), py::arg("own_factors") = told(RollingBearing{}.own),
           py::arg("own_static_factors") = std::pair<double, double>(RollingBearing::untold, RollingBearing::untold), py::arg("f0") = RollingBearing::untold)
      .def_readonly("kind", &RollingBearing::kind).def_readonly("contact_angle", &RollingBearing::contact_angle)
      .def_readonly("dynamic_rating", &RollingBearing::dynamic_rating).def_readonly("static_rating", &RollingBearing::static_rating);
  py::class_<SlewingBearing>(m, "SlewingBearing", "One bearing that takes a tilting moment too.")
      .def(py::init([](const RollingBearing& rolling, double diameter, double moment_rating) { return SlewingBearing{rolling, diameter, moment_rating}; }),
           py::arg("rolling"), py::arg("pitch_diameter"), py::arg("moment_rating") = RollingBearing::untold)
      .def_readonly("rolling", &SlewingBearing::rolling).def_readonly("pitch_diameter", &SlewingBearing::pitch_diameter);
  py::class_<BearingPair>(m, "BearingPair", "Two bearings on one axis, near and far; see cpp/armwright/elements/bearing_pair.hpp.")
      .def(py::init([](const RollingBearing& near, const RollingBearing& far, Arrangement arrangement, MovedRing ring, double span, double centre, double preload) {
             return BearingPair{{near, far}, arrangement, ring, span, centre, preload};
           }), py::arg("near"), py::arg("far"), py::arg("arrangement"), py::arg("moved_ring"), py::arg("span"), py::arg("pressure_centre"), py::arg("preload"))
      .def_property_readonly("effective_span", &effective_span).def_readonly("span", &BearingPair::span);
}

void bind_numbers(py::module_& m) {
  m.def("contact_angles", [](BearingKind kind) { const AngleRange r = contact_angles(kind); return std::pair(r.least, r.greatest); }, py::arg("kind"));
  m.def("life_exponent", &life_exponent, py::arg("kind"));
  m.def("load_factors", [](const RollingBearing& bearing, double axial) { return told(load_factors(bearing, axial)); }, py::arg("bearing"), py::arg("axial"),
        "e, X and Y up to it, X and Y beyond it.");
  m.def("static_factors", [](const RollingBearing& bearing) { const StaticFactors f = static_factors(bearing); return std::pair(f.x, f.y); }, py::arg("bearing"));
  m.def("equivalent_load", [](const RollingBearing& bearing, double radial, double axial) { return equivalent_load(load_factors(bearing, axial), radial, axial); },
        py::arg("bearing"), py::arg("radial"), py::arg("axial"));
  m.def("static_equivalent_load", [](const RollingBearing& bearing, double radial, double axial) {
    return static_equivalent_load(static_factors(bearing), radial, axial);
  }, py::arg("bearing"), py::arg("radial"), py::arg("axial"));
  m.def("tilted_radial_load", &tilted_radial_load, py::arg("radial"), py::arg("moment"), py::arg("pitch_diameter"));
  m.def("induced_axial_load", &induced_axial_load, py::arg("bearing"), py::arg("radial"));
  m.def("pair_radial", [](double fx, double fy, double mx, double my, double span) {
    const PairRadial r = pair_radial(fx, fy, mx, my, span);
    return std::pair(std::pair(r.x[0], r.y[0]), std::pair(r.x[1], r.y[1]));
  }, py::arg("force_x"), py::arg("force_y"), py::arg("moment_x"), py::arg("moment_y"), py::arg("effective_span"), "Forces on near and far, each x and y.");
  m.def("pair_axial", [](double pressed, double other, double external, double preload, double share) {
    const PairAxial a = pair_axial(pressed, other, external, preload, share);
    return std::pair(a.pressed, a.other);
  }, py::arg("induced_pressed"), py::arg("induced_other"), py::arg("external"), py::arg("preload"), py::arg("share"));
  m.def("reliability_factor", &reliability_factor, py::arg("reliability"));
  m.def("rating_life", &rating_life, py::arg("dynamic_rating"), py::arg("equivalent_load"), py::arg("exponent"));
  m.def("needed_rating", &needed_rating, py::arg("equivalent_load"), py::arg("revolutions"), py::arg("exponent"), py::arg("reliability_factor"));
  m.def("mean_equivalent_load", &mean_equivalent_load, py::arg("wear"), py::arg("turned"), py::arg("exponent"));
  m.def("greatest_life_load", &greatest_life_load, py::arg("kind"), py::arg("dynamic_rating"), py::arg("static_rating"));
  m.def("advised_static_safety", &advised_static_safety, py::arg("kind"));
  m.def("limit_line_safety", [](const std::vector<double>& force, const std::vector<double>& moment, const Array& axial, const Array& tilting) {
    if (force.empty() || force.size() != moment.size()) throw py::value_error("a line has one moment a force");
    same_shape(axial, tilting);
    Array out(axial.size());
    for (py::ssize_t i = 0; i < axial.size(); ++i) out.mutable_at(i) = limit_line_safety(force, moment, axial.data()[i], tilting.data()[i]);
    return out;
  }, py::arg("line_force"), py::arg("line_moment"), py::arg("axial"), py::arg("moment"));
  m.def("critical_swing", &critical_swing, py::arg("kind"), py::arg("element_count"));
}

py::ssize_t wrench_rows(const Array& wrench) {
  if (wrench.ndim() != 2 || wrench.shape(1) != 6) throw py::value_error("wrenches must have shape (rows, 6)");
  return wrench.shape(0);
}

Arrays load_arrays(const std::vector<BearingLoads>& loads, py::ssize_t rows, py::ssize_t places) {
  Arrays out;
  const auto put = [&](const char* name, double BearingLoads::*what) {
    Array a({rows, places});
    for (std::size_t i = 0; i < loads.size(); ++i) a.mutable_data()[i] = loads[i].*what;
    out[name] = a;
  };
  put("radial", &BearingLoads::radial), put("axial", &BearingLoads::axial), put("moment", &BearingLoads::moment);
  put("equivalent", &BearingLoads::equivalent), put("static_equivalent", &BearingLoads::static_equivalent);
  return out;
}

/// Loads of every row and what the duty does to each place.
template <class Rows>
std::pair<Arrays, std::vector<BearingDuty>> borne(Rows fill, py::ssize_t places, double exponent, const Array& wrench, const Array& angle, const Array& speed, const Array& duty) {
  const py::ssize_t rows = wrench_rows(wrench);
  if (angle.size() != rows || speed.size() != rows || duty.size() != rows) throw py::value_error("one angle, one speed and one duty a row");
  std::vector<BearingLoads> loads(static_cast<std::size_t>(rows * places));
  std::vector<BearingDuty> sums(static_cast<std::size_t>(places));
  const auto w = view(wrench), q = view(angle), qd = view(speed), t = view(duty);
  {
    py::gil_scoped_release release;
    fill(w, std::span(loads));
    for (std::size_t k = 0; k < sums.size(); ++k) sums[k] = bearing_duty(loads, k, sums.size(), q, qd, t, exponent);
  }
  return {load_arrays(loads, rows, places), sums};
}

}  // namespace

void bind_bearings(py::module_& elements) {
  bind_kinds(elements);
  bind_numbers(elements);
}

void bind_bearing_duty(py::module_& m) {
  py::class_<BearingDuty>(m, "BearingDuty", "What a duty does to one bearing; see cpp/armwright/limits/bearing_duty.hpp.")
      .def_readonly("time", &BearingDuty::time).def_readonly("turned", &BearingDuty::turned).def_readonly("wear", &BearingDuty::wear)
      .def_readonly("greatest_equivalent", &BearingDuty::greatest_equivalent).def_readonly("greatest_speed", &BearingDuty::greatest_speed)
      .def_property_readonly("swing", [](const BearingDuty& sum) { return sum.greatest_angle - sum.least_angle; })
      .def_readonly("beyond_table", &BearingDuty::beyond_table);
  m.def("slewing_duty", [](const SlewingBearing& bearing, const Vec3& axis, double offset, const Array& wrench, const Array& angle, const Array& speed, const Array& duty) {
    return borne([&](auto w, auto out) { slewing_rows(bearing, {axis, offset}, w, out); }, 1, life_exponent(bearing.rolling.kind), wrench, angle, speed, duty);
  }, py::arg("bearing"), py::arg("axis"), py::arg("offset"), py::arg("wrench"), py::arg("angle"), py::arg("speed"), py::arg("duty"),
     "Loads (rows, 1), and what the duty does; see cpp/armwright/limits/bearing_duty.hpp.");
  m.def("pair_duty", [](const BearingPair& pair, const Vec3& axis, double offset, const Array& wrench, const Array& angle, const Array& speed, const Array& duty) {
    return borne([&](auto w, auto out) { pair_rows(pair, {axis, offset}, w, out); }, 2, life_exponent(pair.bearing[0].kind), wrench, angle, speed, duty);
  }, py::arg("pair"), py::arg("axis"), py::arg("offset"), py::arg("wrench"), py::arg("angle"), py::arg("speed"), py::arg("duty"), "Loads (rows, 2): near and far; and each one's duty.");
  m.def("needed_span", [](const BearingPair& pair, const Vec3& axis, double offset, const Array& wrench, double wanted) {
    wrench_rows(wrench);
    const auto w = view(wrench);
    py::gil_scoped_release release;
    return needed_span(pair, {axis, offset}, w, wanted);
  }, py::arg("pair"), py::arg("axis"), py::arg("offset"), py::arg("wrench"), py::arg("wanted_safety"));
  m.def("greatest_moment", py::overload_cast<const SlewingBearing&, double, double, double>(&greatest_moment), py::arg("bearing"), py::arg("radial"), py::arg("axial"), py::arg("wanted_safety"));
  m.def("greatest_moment", py::overload_cast<const BearingPair&, double, double, double>(&greatest_moment), py::arg("pair"), py::arg("radial"), py::arg("axial"), py::arg("wanted_safety"));
}

}  // namespace armwright::bindings
