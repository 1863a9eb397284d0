#include "armwright/dynamics/natural_frequency.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "armwright/dynamics/elastic_motion.hpp"

namespace armwright {

namespace {

struct Shaking {
  ElasticSpace space;
  Eigen::MatrixXd mass;  // with stiffness one, its eigenvalues are 1/omega²
  ElasticColumns weighed;
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver;
  explicit Shaking(const ElasticChain& chain)
      : space(chain), mass(chain.coordinates(), chain.coordinates()), weighed(6, static_cast<Eigen::Index>(chain.coordinates())),
        solver(static_cast<Eigen::Index>(chain.coordinates())) {}
};

void add_mass(const Model& model, const ElasticChain& chain, const Fastened& at, const Inertia& body, Shaking& work) {
  move_with(model, chain, at, in_world(work.space, at.body, body.centre), work.space);
  const Inertia b = at.body < 0 ? body : work.space.frames[at.body] * body;
  Eigen::Matrix3d tensor;
  tensor << b.xx, b.xy, b.xz, b.xy, b.yy, b.yz, b.xz, b.yz, b.zz;
  work.weighed.topRows<3>() = b.mass * work.space.moved.topRows<3>();
  work.weighed.bottomRows<3>().noalias() = tensor * work.space.moved.bottomRows<3>();
  work.mass.noalias() += work.space.moved.transpose() * work.weighed;
}

}  // namespace

bool natural_frequencies(const Model& model, const ElasticChain& chain, const Inertia& load, std::size_t modes, std::span<const double> q,
                         std::span<double> frequency, std::span<double> energy, std::span<double> motion, unsigned threads,
                         const Progress& progress) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q), causes = chain.causes.size(), size = chain.coordinates();
  const Fastened tool = at_tool(model, chain);
  std::fill(frequency.begin(), frequency.end(), std::numeric_limits<double>::infinity());
  std::fill(energy.begin(), energy.end(), 0.0);
  std::fill(motion.begin(), motion.end(), 0.0);
  if (size == 0) return true;
  std::vector<Shaking> workers(worker_count(rows, threads), Shaking(chain));
  return for_each_piece(rows, threads, progress, [&](std::size_t row, std::size_t worker) {
    Shaking& work = workers[worker];
    place_chain(model, chain, &q[row * n], work.space);
    work.mass.setZero();
    for (const ElasticLump& lump : chain.lumps) add_mass(model, chain, lump.at, lump.inertia, work);
    if (load.mass > 0) add_mass(model, chain, tool, load, work);
    work.solver.compute(work.mass);
    move_with(model, chain, tool, work.space.frames[n - 1] * model.tool.position, work.space);
    const double greatest = work.solver.eigenvalues()[static_cast<Eigen::Index>(size) - 1];
    for (std::size_t k = 0; k < std::min(modes, size); ++k) {
      const auto at = static_cast<Eigen::Index>(size - 1 - k);  // eigenvalues rise
      const double slowness = work.solver.eigenvalues()[at];
      if (!(slowness > 1e-12 * greatest) || !(slowness > 0)) break;  // what has no mass of its own: rounding
      frequency[row * modes + k] = 1 / (2 * std::numbers::pi * std::sqrt(slowness));
      const auto shape = work.solver.eigenvectors().col(at);
      for (std::size_t c = 0; c < size; ++c) energy[(row * modes + k) * causes + cause_of(chain, c)] += shape[static_cast<Eigen::Index>(c)] * shape[static_cast<Eigen::Index>(c)];
      Eigen::Map<Eigen::Matrix<double, 6, 1>>(&motion[(row * modes + k) * 6]).noalias() = work.space.moved * shape;
    }
  });
}

}  // namespace armwright
