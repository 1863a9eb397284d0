#pragma once

#include "armwright/model/model.hpp"

namespace armwright {

/// The same arm with three endless joints of no mass and no torque limit behind its last, their axes meeting in the tool
/// point: they let the tool frame turn as it likes, so that a target asks for a position alone. Tool, load and all
/// solids stay fixed to the joint frames that they were fixed to; frames of the given model keep their places, so that
/// a scene built for it serves both. For models of at most max_joints - 3 joints.
Model with_free_wrist(const Model& model);

}  // namespace armwright
