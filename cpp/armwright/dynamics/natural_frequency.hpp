#pragma once

#include <span>

#include "armwright/dynamics/elastic_chain.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// Lowest natural frequencies (Hz, undamped) of the arm at rest in a posture, the drives' rotors held, small amplitudes. Rayleigh–Ritz
/// on the chain's own ways of giving way, so that a frequency is never below that of the same springs and masses told more
/// finely; beams' mass goes with their shapes under end loads (a cantilever cut in two: 0.05 % high in the first mode).
/// Neither the stiffness of counterbalances nor that of weight (pendulum) counts. `load`: in the last joint frame.
/// `frequency`: rows × modes, infinity where there are no more. `energy`: rows × modes × causes, the share of the mode's
/// strain energy. `motion`: rows × modes × 6, how the tool moves (shift of the tool point, m, and turn, rad, world axes) for a mode
/// that stores 1/2 J. Returns false if cancelled.
bool natural_frequencies(const Model& model, const ElasticChain& chain, const Inertia& load, std::size_t modes, std::span<const double> q,
                         std::span<double> frequency, std::span<double> energy, std::span<double> motion, unsigned threads,
                         const Progress& progress);

}  // namespace armwright
