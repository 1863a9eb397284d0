#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/limits/drive_check.hpp"

namespace armwright {

std::vector<double> axis_inertias(const Model& model, std::span<const Inertia> loads, const RefinedMotion& motion) {
  const std::size_t n = model.joint_count;
  std::vector<double> out(motion.q.size()), M;
  for (std::size_t from = 0, to = 0; from < motion.rows(); from = to) {
    for (to = from; to < motion.rows() && motion.load[to] == motion.load[from]; ++to) {}
    M.resize((to - from) * n * n);
    const Inertia load = motion.load[from] < 0 ? Inertia{} : loads[static_cast<std::size_t>(motion.load[from])];
    mass_matrices(model, load, {&motion.q[from * n], (to - from) * n}, M);
    for (std::size_t row = from; row < to; ++row) {
      const double* m = &M[(row - from) * n * n];
      for (std::size_t k = 0; k < n; ++k) {
        double& sum = out[row * n + k] = m[k * n + k];
        if (model.coupling.none()) continue;
        const std::vector<double>& C = model.coupling.matrix;
        sum = 0;
        for (std::size_t i = 0; i < n; ++i)
          for (std::size_t j = 0; j < n; ++j) sum += C[i * n + k] * m[i * n + j] * C[j * n + k];
      }
    }
  }
  return out;
}

}  // namespace armwright
