#include "armwright/dynamics/reflected.hpp"

namespace armwright {

ReflectedInertia reflected_inertia(const Model& model) {
  const std::size_t n = model.joint_count;
  ReflectedInertia out;
  out.diagonal = model.coupling.none();
  for (std::size_t k = 0; k < n; ++k) {
    const double inertia = axis_inertia(model, k);
    if (out.diagonal) {
      out.matrix[k * n + k] = inertia;
      continue;
    }
    const double* row = model.coupling.inverse.data() + k * n;  // how axis k moves with each joint
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j) out.matrix[i * n + j] += row[i] * inertia * row[j];
  }
  return out;
}

}  // namespace armwright
