#pragma once

#include "armwright/kinematics/inverse/general.hpp"

namespace armwright {

/// What is to be thought of the answers of one way.
enum class Outcome {
  sure,     ///< only clear roots, each with its answer
  fair,     ///< some roots touch: answers near a singular posture
  doubted,  ///< a root without an answer
  lost      ///< a curve of answers, or a determinant drowned in rounding
};

/// The ring of the arm holding the target (told in the chain's base frame).
Loop loop_for(const GeneralSetup& setup, const Pose& target);

/// The answers that one way of cutting the ring finds, by its rank in the setup.
Outcome search_ring(const GeneralSetup& setup, std::size_t rank, const Loop& loop, const Pose& target, Solutions& out);

/// The largest sample of one way's determinant.
double determinant_size(const GeneralSetup& setup, const Labelling& way, const Pose& target);

/// Postures spread evenly, the same every time: equal steps of an irrational turn.
std::array<double, 6> trial_posture(const GeneralSetup& setup, int index);

}  // namespace armwright
