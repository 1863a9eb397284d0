#pragma once

#include <array>

#include "armwright/model/model.hpp"

namespace armwright {

/// Inertia of rotors and stages as the joints feel it: R = C⁻ᵀ diag(J N²) C⁻¹, with J at each motor's shaft, N its ratio to
/// its axis and C the coupling of axes to joints. The gyroscopic torque of a rotor that is carried round is left out.
struct ReflectedInertia {
  bool diagonal = true;
  std::array<double, max_joints * max_joints> matrix{};  ///< row-major, joint_count × joint_count
};

ReflectedInertia reflected_inertia(const Model& model);

/// J N² of one axis at its output, kg m² (kg where it slides); 0 without a drive.
inline double axis_inertia(const Model& model, std::size_t axis) {
  if (model.drive.empty() || !model.drive[axis].present) return 0;
  return model.drive[axis].inertia * model.drive[axis].ratio * model.drive[axis].ratio;
}

}  // namespace armwright
