#include "armwright/kinematics/inverse/branches.hpp"

#include <cmath>

namespace armwright {

std::array<Turn<double>, 6> turns_of_value(const JointAngles& joints, double value) {
  std::array<Turn<double>, 6> turns;
  for (std::size_t i = 0; i < 6; ++i) {
    const double angle = joints.sign[i] * value + joints.shift[i];
    turns[i] = {std::cos(angle), std::sin(angle)};
  }
  return turns;
}

}  // namespace armwright
