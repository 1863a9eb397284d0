#pragma once

#include <span>

#include "armwright/dynamics/elastic_motion.hpp"

namespace armwright {

// Linear theory of small deflections: loads act where the rigid arm has them, turns add as vectors, every part answers in proportion.
// It ends where the tool turns by about 0.1 rad, or where a tube is pressed with a tenth of its Euler load (both own
// estimates: the neglected terms are then some percent). The drives' rotors are held.

/// How the tool frame sinks from where the rigid arm has it, under the weight of everything, the counterbalances and the
/// wrench `push` at the tool point (force, N, and moment, N m, world axes): shift of the tool point, m, and turn, rad, world axes, by
/// each cause. Castigliano's theorem, coordinate by coordinate. `load`: in the last joint frame, mass 0 for none. `q`: rows ×
/// joint_count. `out`: rows × causes × 6.
void tool_sag(const Model& model, const ElasticChain& chain, const Inertia& load, std::span<const double> push, std::span<const double> q,
              std::span<double> out);

/// The same of one posture, with scratch of the caller's. `by_cause`: causes × 6.
void sag_at(const Model& model, const ElasticChain& chain, const Inertia& load, const double* push, const double* q, ElasticSpace& space,
            double* by_cause);

/// Shift of the tool point and turn of the tool by a force and a moment at the tool point, world axes, by each cause:
/// m/N, rad/N, m/(N m), rad/(N m). `out`: rows × causes × 6 × 6.
void tool_compliance(const Model& model, const ElasticChain& chain, std::span<const double> q, std::span<double> out);

}  // namespace armwright
