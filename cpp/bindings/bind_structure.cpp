#include "armwright/dynamics/compliance.hpp"
#include "armwright/dynamics/natural_frequency.hpp"
#include "armwright/dynamics/section_wrenches.hpp"
#include "armwright/elements/tube_section.hpp"
#include "convert.hpp"
#include "rooms.hpp"
#include "watch.hpp"

namespace armwright::bindings {

namespace {

void six_columns(const Array& a) {
  if (a.ndim() != 2 || a.shape(1) != 6) throw py::value_error("wrenches must have shape (rows, 6)");
}

void bind_chain(py::module_& m) {
  py::class_<StageSpring>(m, "StageSpring").def(py::init<>())
      .def_readwrite("axis", &StageSpring::axis).def_readwrite("compliance", &StageSpring::compliance).def_readwrite("cause", &StageSpring::cause);
  py::class_<RoundSpring>(m, "RoundSpring").def(py::init<>())
      .def_readwrite("link", &RoundSpring::link).def_readwrite("point", &RoundSpring::point).def_readwrite("axis", &RoundSpring::axis)
      .def_readwrite("along", &RoundSpring::along).def_readwrite("across", &RoundSpring::across)
      .def_readwrite("tilt", &RoundSpring::tilt).def_readwrite("twist", &RoundSpring::twist).def_readwrite("cause", &RoundSpring::cause);
  py::class_<LinkBeam>(m, "LinkBeam").def(py::init<>())
      .def_readwrite("link", &LinkBeam::link).def_readwrite("start", &LinkBeam::start).def_readwrite("end", &LinkBeam::end).def_readwrite("up", &LinkBeam::up)
      .def_readwrite("beam", &LinkBeam::beam).def_readwrite("mass", &LinkBeam::mass)
      .def_readwrite("spin_x", &LinkBeam::spin_x).def_readwrite("spin_y", &LinkBeam::spin_y).def_readwrite("spin_z", &LinkBeam::spin_z)
      .def_readwrite("cause", &LinkBeam::cause);
  py::class_<ElasticSpec>(m, "ElasticSpec", "What gives way in an arm; see cpp/armwright/dynamics/elastic_spec.hpp.").def(py::init<>())
      .def_readwrite("stages", &ElasticSpec::stages).def_readwrite("springs", &ElasticSpec::springs).def_readwrite("beams", &ElasticSpec::beams)
      .def_readwrite("causes", &ElasticSpec::causes).def_readwrite("pieces", &ElasticSpec::pieces);
  py::class_<ElasticChain, std::shared_ptr<ElasticChain>>(m, "ElasticChain", "What gives way and what weighs on it, from the base out: constant.")
      .def_readonly("causes", &ElasticChain::causes)
      .def_property_readonly("coordinates", &ElasticChain::coordinates)
      .def_property_readonly("tube_frames", [](const ElasticChain& chain) {
        std::vector<std::pair<int, Pose>> frames;
        for (const ElasticSpan& span : chain.spans) frames.emplace_back(span.body, span.start);
        return frames;
      }, "Of every tube: the joint whose frame it moves with (-1: none), and in it the frame at its near end, x along it, z along its height.");
  m.def("elastic_chain", [](const CellSpec& cell, const Model& model, const ElasticSpec& spec) { return std::make_shared<ElasticChain>(elastic_chain(cell, model, spec)); },
        py::arg("cell"), py::arg("model"), py::arg("spec"));
  m.def("referred_compliance", &referred_compliance, py::arg("stiffness"), py::arg("ratio_beyond"), "A stage's compliance at the axis, 1/(k N²).");
}

void bind_statics(py::module_& m) {
  m.def("tool_sag", [](const Model& model, const ElasticChain& chain, const Inertia& load, const std::array<double, 6>& push, const Array& q) {
    return filled({rows_checked(model, q), static_cast<py::ssize_t>(chain.causes.size()), 6}, [&](auto in, auto to) { tool_sag(model, chain, load, push, in, to); }, q);
  }, py::arg("model"), py::arg("chain"), py::arg("load"), py::arg("push"), py::arg("q"), "Shift and turn of the tool by each cause, (rows, causes, 6).");
  m.def("tool_compliance", [](const Model& model, const ElasticChain& chain, const Array& q) {
    return filled({rows_checked(model, q), static_cast<py::ssize_t>(chain.causes.size()), 6, 6}, [&](auto in, auto to) { tool_compliance(model, chain, in, to); }, q);
  }, py::arg("model"), py::arg("chain"), py::arg("q"), "Shift and turn of the tool by a unit force or moment there, by each cause, (rows, causes, 6, 6).");
  m.def("section_wrenches", [](const Model& model, const ElasticChain& chain, const Inertia& load, const std::vector<std::size_t>& spans, const std::vector<double>& stations, const Array& q, const Array& speed, const Array& acceleration) {
    if (spans.size() != stations.size()) throw py::value_error("as many stations as spans");
    std::vector<TubeCut> cuts;
    for (std::size_t i = 0; i < spans.size(); ++i) {
      if (spans[i] >= chain.spans.size()) throw py::index_error("no such span");
      cuts.push_back({spans[i], stations[i]});
    }
    return filled({rows_checked(model, q), static_cast<py::ssize_t>(cuts.size()), 6}, [&](auto in, auto v, auto a, auto to) { section_wrenches(model, chain, load, cuts, in, v, a, to); }, q, speed, acceleration);
  }, py::arg("model"), py::arg("chain"), py::arg("load"), py::arg("spans"), py::arg("stations"), py::arg("q"), py::arg("speed"), py::arg("acceleration"),
     "Force and moment in cuts through tubes (span, station 0 to 1), along the tube, its width and its height, (rows, cuts, 6).");
}

void bind_modes(py::module_& m) {
  m.def("natural_frequencies", [](const Model& model, const ElasticChain& chain, const Inertia& load, std::size_t modes, const Array& q, unsigned threads, const py::object& report) {
    const py::ssize_t rows = rows_checked(model, q), count = static_cast<py::ssize_t>(modes);
    Array frequency({rows, count}), energy({rows, count, static_cast<py::ssize_t>(chain.causes.size())}), motion({rows, count, py::ssize_t{6}});
    const auto in = view(q);
    const auto f = view(frequency), e = view(energy), d = view(motion);
    const bool complete = watched(report, [&](const Progress& progress) { return natural_frequencies(model, chain, load, modes, in, f, e, d, threads, progress); });
    return py::make_tuple(complete, frequency, energy, motion);
  }, py::arg("model"), py::arg("chain"), py::arg("load"), py::arg("modes"), py::arg("q"), py::arg("threads") = 0, py::arg("report") = py::none(),
     "Whether it was not cancelled; frequencies (rows, modes) Hz; shares of strain energy (rows, modes, causes); the tool's motion (rows, modes, 6).");
}

}  // namespace

void bind_sections(py::module_& m) {
  py::enum_<TubeShape>(m, "TubeShape").value("round", TubeShape::round).value("rectangular", TubeShape::rectangular);
  py::class_<TubeSection>(m, "TubeSection").def(py::init<>())
      .def_readwrite("shape", &TubeSection::shape).def_readwrite("width", &TubeSection::width).def_readwrite("height", &TubeSection::height)
      .def_readwrite("wall", &TubeSection::wall).def_readwrite("outer_radius", &TubeSection::outer_radius).def_readwrite("inner_radius", &TubeSection::inner_radius);
  py::class_<SectionNumbers>(m, "SectionNumbers")
      .def_readonly("area", &SectionNumbers::area).def_readonly("moment_y", &SectionNumbers::moment_y).def_readonly("moment_z", &SectionNumbers::moment_z)
      .def_readonly("torsion", &SectionNumbers::torsion).def_readonly("torsion_modulus", &SectionNumbers::torsion_modulus)
      .def_readonly("shear_area_y", &SectionNumbers::shear_area_y).def_readonly("shear_area_z", &SectionNumbers::shear_area_z);
  py::class_<Beam>(m, "Beam").def(py::init<>())
      .def_readwrite("length", &Beam::length).def_readwrite("along", &Beam::along).def_readwrite("bending_y", &Beam::bending_y).def_readwrite("bending_z", &Beam::bending_z)
      .def_readwrite("torsion", &Beam::torsion).def_readwrite("shear_y", &Beam::shear_y).def_readwrite("shear_z", &Beam::shear_z);
  m.def("section_numbers", &section_numbers, py::arg("tube"), py::arg("poisson"));
  m.def("wall_slenderness", &wall_slenderness, py::arg("tube"), py::arg("yield_strength"), py::arg("elastic_modulus"));
  m.def("section_stresses", [](const TubeSection& tube, double poisson, const Array& wrenches) {
    six_columns(wrenches);
    const SectionNumbers numbers = section_numbers(tube, poisson);
    Array out({wrenches.shape(0), py::ssize_t{3}});
    for (py::ssize_t i = 0; i < wrenches.shape(0); ++i) {
      const double* w = wrenches.data(i, 0);
      const SectionStress stress = section_stress(tube, numbers, {w[0], w[1], w[2], w[3], w[4], w[5]});
      out.mutable_at(i, 0) = stress.normal, out.mutable_at(i, 1) = stress.shear, out.mutable_at(i, 2) = stress.von_mises;
    }
    return out;
  }, py::arg("tube"), py::arg("poisson"), py::arg("wrenches"), "Normal, shear and von Mises stress, Pa, (rows, 3), by force and moment in the section (rows, 6).");
}

void bind_structure(py::module_& dynamics) {
  bind_chain(dynamics);
  bind_statics(dynamics);
  bind_modes(dynamics);
}

}  // namespace armwright::bindings
