#include "armwright/dynamics/compliance.hpp"

#include <algorithm>


namespace armwright {

namespace {

using Six = Eigen::Matrix<double, 6, 1>;

Six wrench(const Vec3& force) {
  Six w;
  w << force.x, force.y, force.z, 0, 0, 0;
  return w;
}

// Each force's work on every coordinate.
void push_weight(const Model& model, const ElasticChain& chain, const Fastened& at, const Inertia& body, ElasticSpace& space) {
  move_with(model, chain, at, in_world(space, at.body, body.centre), space);
  space.pushed.noalias() += space.moved.transpose() * wrench(body.mass * model.gravity);
}

void push_springs(const Model& model, const ElasticChain& chain, ElasticSpace& space) {
  for (std::size_t s = 0; s < model.springs.size(); ++s) {
    const Vec3 a = in_world(space, chain.ends_a[s].at.body, chain.ends_a[s].point), b = in_world(space, chain.ends_b[s].at.body, chain.ends_b[s].point);
    const Vec3 on_a = force_on_a(model.springs[s], b - a);
    move_with(model, chain, chain.ends_a[s].at, a, space);
    space.pushed.noalias() += space.moved.transpose() * wrench(on_a);
    move_with(model, chain, chain.ends_b[s].at, b, space);
    space.pushed.noalias() -= space.moved.transpose() * wrench(on_a);
  }
}

}  // namespace

void sag_at(const Model& model, const ElasticChain& chain, const Inertia& load, const double* push, const double* q, ElasticSpace& space,
            double* by_cause) {
  place_chain(model, chain, q, space);
  space.pushed.setZero();
  for (const ElasticLump& lump : chain.lumps) push_weight(model, chain, lump.at, lump.inertia, space);
  if (load.mass > 0) push_weight(model, chain, at_tool(model, chain), load, space);
  push_springs(model, chain, space);
  move_with(model, chain, at_tool(model, chain), space.frames[model.joint_count - 1] * model.tool.position, space);
  space.pushed.noalias() += space.moved.transpose() * Eigen::Map<const Six>(push);
  std::fill_n(by_cause, chain.causes.size() * 6, 0.0);
  for (std::size_t k = 0; k < chain.coordinates(); ++k) {
    const auto at = static_cast<Eigen::Index>(k);
    Eigen::Map<Six>(by_cause + cause_of(chain, k) * 6) += space.moved.col(at) * space.pushed[at];
  }
}

void tool_sag(const Model& model, const ElasticChain& chain, const Inertia& load, std::span<const double> push, std::span<const double> q,
              std::span<double> out) {
  ElasticSpace space(chain);
  for (std::size_t row = 0; row < rows_of(model, q); ++row)
    sag_at(model, chain, load, push.data(), &q[row * model.joint_count], space, out.data() + row * chain.causes.size() * 6);
}

void tool_compliance(const Model& model, const ElasticChain& chain, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q), causes = chain.causes.size();
  const Fastened tool = at_tool(model, chain);
  ElasticSpace space(chain);
  std::fill(out.begin(), out.end(), 0.0);
  for (std::size_t row = 0; row < rows; ++row) {
    place_chain(model, chain, &q[row * n], space);
    move_with(model, chain, tool, space.frames[n - 1] * model.tool.position, space);
    for (std::size_t k = 0; k < chain.coordinates(); ++k) {
      const auto column = space.moved.col(static_cast<Eigen::Index>(k));
      Eigen::Map<Eigen::Matrix<double, 6, 6, Eigen::RowMajor>> sum(&out[(row * causes + cause_of(chain, k)) * 36]);
      sum += column * column.transpose();
    }
  }
}

}  // namespace armwright
