#include "armwright/kinematics/inverse/branches.hpp"

#include <cmath>

#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

constexpr double holds = 1e-10 * 1e-10;     // m², rad²
constexpr double worth_polishing = 1e-3 * 1e-3;

}  // namespace

std::array<Turn<double>, 6> turns_of_value(const JointAngles& joints, double value) {
  std::array<Turn<double>, 6> turns;
  for (std::size_t i = 0; i < 6; ++i) {
    const double angle = joints.sign[i] * value + joints.shift[i];
    turns[i] = {std::cos(angle), std::sin(angle)};
  }
  return turns;
}

bool settle(const Branches& branches, const SixChain& chain, const Pose& target, bool exact, bool mirrored,
            Solutions& out) {
  bool distinct = !branches.may_coincide, near = false;
  for (std::size_t p = 0; p < branches.count; ++p) {
    const Branches::Pack& pack = branches.pack[p];
    for (std::size_t k = 0; k < 4; ++k) {
      if (!(pack.miss[k] < worth_polishing)) continue;
      near = branches.may_coincide;
      Solution s;
      for (std::size_t i = 0; i < 6; ++i) s.q[mirrored ? 5 - i : i] = pack.q[i][k];
      const std::int8_t free = pack.free_joint[k];
      s.free_joint = mirrored && free >= 0 ? static_cast<std::int8_t>(5 - free) : free;
      if (!exact || !(pack.miss[k] < holds)) {
        if (!polish(chain, target, s.q.data())) continue;
        distinct = false;
      }
      if (distinct) {
        out.add(s);
      } else {
        add_distinct(out, s);
      }
    }
  }
  return near;
}

}  // namespace armwright
