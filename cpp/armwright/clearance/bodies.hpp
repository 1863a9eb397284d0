#pragma once

#include <string>
#include <vector>

#include "armwright/model/cell_spec.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// What moves or stands as one: a link, the base, the carriage, the rails, the tool, the load or one fixture.
struct Body {
  enum class Part : std::uint8_t { rails, carriage, base, link, tool, load, fixture } part;
  std::string name;
  int frame;       ///< joint frame it moves with, -1 if it stands still
  Pose placement;  ///< what its shapes' poses are told in, seen from that joint frame or the world
  std::vector<ShapeSpec> shapes;
  int place = 0;   ///< along the chain, links without shapes not counted; of rails, base, carriage and links
};

/// All bodies of a cell, those without shapes included.
std::vector<Body> bodies_of(const CellSpec& cell, const Model& model);

/// Bodies joined so that they touch by design: next to each other on the chain (links without shapes passed over), or
/// with no motion between them.
bool are_joined(const Body& a, const Body& b);

/// Joint vectors spread evenly over the joint ranges (a turn each way where there is no limit): always the same ones.
std::vector<std::vector<double>> spread_postures(const Model& model, std::size_t count);

}  // namespace armwright
