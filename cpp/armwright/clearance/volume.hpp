#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/model/cell_spec.hpp"

namespace armwright {

/// Room that has to be free beside a link, as the way out of a motor: solids that move with that link and are held against all
/// else in the cell: the other links, the next ones too, base, rails, tool, load and fixtures. Against the link itself they are
/// not held: no posture changes that. Constant once built; shared by threads.
struct Volume {
  std::vector<std::string> names;
  std::vector<Solid> own, others;
};

/// `link`: the name of the base, the carriage or a link. `shapes`: their poses in that link's frame. Throws Refused for a link that
/// is not there and for what build_scene() refuses of a shape; half-spaces cannot move.
std::shared_ptr<const Volume> build_volume(const CellSpec& cell, const Model& model, const std::string& link, std::span<const ShapeSpec> shapes);

std::span<const std::string> solid_names(const Volume& volume);

/// Least distance in each posture, row by row, m: negative where something stands in the volume; +infinity, with indices -1, with
/// nothing else in the cell. `solid_a` is of the volume, `solid_b` what comes nearest: indices into solid_names().
void volume_distances(const Volume& volume, const Model& model, std::span<const double> q, std::span<Clearance> out);

}  // namespace armwright
