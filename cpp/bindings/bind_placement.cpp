#include "armwright/studies/placement.hpp"

#include <tuple>

#include "convert.hpp"
#include "rooms.hpp"
#include "watch.hpp"

namespace armwright::bindings {

namespace {

std::vector<Place> places_of(const Array& shifts, const Array& tracks) {
  if (shifts.ndim() != 3 || shifts.shape(1) != 4 || shifts.shape(2) != 4 || tracks.ndim() != 1 || tracks.shape(0) != shifts.shape(0))
    throw py::value_error("shifts must have shape (n, 4, 4), tracks (n,)");
  std::vector<Place> places(static_cast<std::size_t>(shifts.shape(0)));
  for (std::size_t i = 0; i < places.size(); ++i) places[i] = {pose_from_rows(shifts.data() + 16 * i), tracks.data()[i]};
  return places;
}

std::tuple<py::array_t<std::int32_t>, Array, Array> score_arrays(const std::vector<PlaceScore>& scores) {
  const auto rows = static_cast<py::ssize_t>(scores.size());
  py::array_t<std::int32_t> served(rows);
  Array lacking(rows), worst({rows, py::ssize_t{measure_count}, py::ssize_t{measure_count}});
  for (std::size_t i = 0; i < scores.size(); ++i) {
    served.mutable_data()[i] = scores[i].served, lacking.mutable_data()[i] = scores[i].lacking;
    for (std::size_t m = 0; m < measure_count; ++m)
      std::copy(scores[i].worst[m].begin(), scores[i].worst[m].end(), worst.mutable_data() + (i * measure_count + m) * measure_count);
  }
  return {served, lacking, worst};
}

}  // namespace

void bind_placement(py::module_& m) {
  py::class_<PlaceSetup>(m, "PlaceSetup", "What all places to be scored share.")
      .def_property_readonly("reach", [](const PlaceSetup& setup) { return setup.search.reach; });
  m.def("make_place_setup", [](const std::shared_ptr<ArmInverse>& inverse, const std::vector<std::shared_ptr<Scene>>& scenes, const std::vector<TargetSpec>& targets,
                               const std::vector<ShapeSpec>& zones, const std::vector<std::string>& going_along, const std::array<bool, measure_count>& wanted,
                               Limit limit, double margin, double turn_step, double slide_step, bool parked) {
    const std::vector<std::shared_ptr<const Scene>> solids(scenes.begin(), scenes.end());
    return make_place_setup(inverse, solids, targets, zones, going_along, {limit, margin, turn_step, slide_step, parked, wanted});
  }, py::arg("inverse"), py::arg("scenes"), py::arg("targets"), py::arg("zones"), py::arg("going_along"), py::arg("wanted"), py::arg("limit"), py::arg("margin"),
     py::arg("turn_step"), py::arg("slide_step"), py::arg("parked"),
     "`scenes`: for each target the solids, with what is carried there; `wanted`: which of limit margin, clearance and payload.");
  m.def("score_places", [](const PlaceSetup& setup, const Array& shifts, const Array& tracks, double angle_step, bool thorough, unsigned threads, const py::object& report) {
    const std::vector<Place> places = places_of(shifts, tracks);
    return score_arrays(watched(report, [&](const Progress& progress) { return score_places(setup, places, angle_step, thorough, threads, progress); }));
  }, py::arg("setup"), py::arg("shifts"), py::arg("tracks"), py::arg("angle_step"), py::arg("thorough"), py::arg("threads"), py::arg("report").none(true),
     "Of each place the number of points served (-1: no place to stand), how much those not served lack, and the worst (n, 3, 3): of each measure, "
     "postures chosen by each. No rows if it was cancelled.");
}

}  // namespace armwright::bindings
