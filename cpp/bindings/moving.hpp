#pragma once

#include <tuple>
#include <vector>

#include "armwright/limits/speed_payload.hpp"
#include "convert.hpp"

namespace armwright::bindings {

/// Mass, axis, part's code, limit, demand, and whether the arm moves itself: an array each.
using MovingArrays = std::tuple<Array, py::array_t<std::int32_t>, py::array_t<std::int32_t>, py::array_t<std::int32_t>, py::array_t<std::int32_t>, py::array_t<bool>>;
inline MovingArrays moving_arrays(const std::vector<MovingPayload>& answers) {
  const auto size = static_cast<py::ssize_t>(answers.size());
  Array mass(size);
  py::array_t<std::int32_t> axis(size), part(size), limit(size), demand(size);
  py::array_t<bool> moves(size);
  for (py::ssize_t i = 0; i < size; ++i) {
    const MovingPayload& answer = answers[static_cast<std::size_t>(i)];
    mass.mutable_at(i) = answer.mass;
    axis.mutable_at(i) = answer.axis;
    part.mutable_at(i) = answer.part;
    limit.mutable_at(i) = static_cast<std::int32_t>(answer.limit);
    demand.mutable_at(i) = static_cast<std::int32_t>(answer.demand);
    moves.mutable_at(i) = answer.moves_itself;
  }
  return {mass, axis, part, limit, demand, moves};
}

}  // namespace armwright::bindings
