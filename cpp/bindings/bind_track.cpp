#include "armwright/clearance/scene_data.hpp"
#include "armwright/studies/track/intervals.hpp"
#include "armwright/studies/track/strokes.hpp"

#include <limits>
#include <optional>
#include <tuple>

#include "convert.hpp"
#include "rooms.hpp"
#include "watch.hpp"

namespace armwright::bindings {

namespace {

using Found = std::vector<std::vector<TrackInterval>>;

// Lower and upper ends (targets, most) and postures (targets, most, joints), not numbers where a point has fewer.
std::tuple<Array, Array, Array> interval_arrays(const Found& found, std::size_t joints) {
  std::size_t most = 0;
  for (const auto& own : found) most = std::max(most, own.size());
  const auto rows = static_cast<py::ssize_t>(found.size()), columns = static_cast<py::ssize_t>(most);
  Array lower({rows, columns}), upper({rows, columns}), q({rows, columns, static_cast<py::ssize_t>(joints)});
  for (Array* array : {&lower, &upper, &q}) std::fill_n(array->mutable_data(), array->size(), std::numeric_limits<double>::quiet_NaN());
  for (std::size_t i = 0; i < found.size(); ++i)
    for (std::size_t k = 0; k < found[i].size(); ++k) {
      const std::size_t at = i * most + k;
      lower.mutable_data()[at] = found[i][k].lower;
      upper.mutable_data()[at] = found[i][k].upper;
      std::copy_n(found[i][k].q.begin(), joints, q.mutable_data() + at * joints);
    }
  return {lower, upper, q};
}

// (points, most) each, not numbers where a point has fewer.
std::vector<std::vector<Stretch>> stretches_of(const Array& lower, const Array& upper) {
  if (lower.ndim() != 2 || upper.ndim() != 2 || lower.shape(0) != upper.shape(0) || lower.shape(1) != upper.shape(1)) throw py::value_error("two arrays of one shape (points, most)");
  const auto most = static_cast<std::size_t>(lower.shape(1));
  std::vector<std::vector<Stretch>> served(static_cast<std::size_t>(lower.shape(0)));
  for (std::size_t i = 0; i < served.size(); ++i)
    for (std::size_t k = 0; k < most; ++k)
      if (lower.data()[i * most + k] <= upper.data()[i * most + k]) served[i].push_back({lower.data()[i * most + k], upper.data()[i * most + k]});
  return served;
}

}  // namespace

void bind_track(py::module_& m) {
  m.def("track_intervals", [](const std::shared_ptr<ArmInverse>& inverse, const std::optional<std::shared_ptr<Scene>>& scene, const std::vector<TargetSpec>& targets,
                              Limit limit, double margin, double turn_step, double slide_step, unsigned threads, const py::object& report) {
    TrackIntervalRequest request;
    request.limit = limit, request.margin = margin, request.turn_step = turn_step, request.slide_step = slide_step;
    const Found found = watched(report, [&](const Progress& progress) {
      return track_intervals(inverse, scene.value_or(nullptr), targets, request, threads, progress);
    });
    return interval_arrays(found, inverse->model.joint_count);
  }, py::arg("inverse"), py::arg("scene"), py::arg("targets"), py::arg("limit"), py::arg("margin"), py::arg("turn_step"), py::arg("slide_step"),
     py::arg("threads"), py::arg("report").none(true),
     "Lower and upper ends of the stretches of the track from which each work point is served, (targets, most), m, and a posture in the middle "
     "of each, (targets, most, joints); NaN where a point has fewer. No rows if it was cancelled.");

  m.def("place_stroke", [](const Array& lower, const Array& upper, double length, double first, double last) {
    const Placed found = place_stroke(stretches_of(lower, upper), length, first, last);
    return std::make_pair(found.lower, found.count);
  }, py::arg("lower"), py::arg("upper"), py::arg("length"), py::arg("first"), py::arg("last"),
     "Where a stroke of that length between first and last serves most points, m, and how many.");

  m.def("shortest_strokes", [](const Array& lower, const Array& upper) {
    const std::vector<Stroke> found = shortest_strokes(stretches_of(lower, upper));
    Array begins(lower.shape(0)), lengths(lower.shape(0));
    for (std::size_t i = 0; i < found.size(); ++i) begins.mutable_data()[i] = found[i].lower, lengths.mutable_data()[i] = found[i].length;
    return std::make_tuple(begins, lengths);
  }, py::arg("lower"), py::arg("upper"),
     "Where the shortest stroke from which 1, 2, ... all points are served begins, and its length, m; NaN where so many cannot be. "
     "The stretches of each point: (points, most), NaN where it has fewer.");
}

}  // namespace armwright::bindings
