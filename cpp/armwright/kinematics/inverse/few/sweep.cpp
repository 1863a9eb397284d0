#include "armwright/kinematics/inverse/few/sweep.hpp"

#include <algorithm>
#include <vector>

#include "armwright/kinematics/inverse/few/turns_onto.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

namespace {

constexpr double turn = 6.283185307179586;
constexpr int steps = 360;
constexpr double near_pose = 0.3;  // rad, or share of the size: a candidate where the rest is singular
constexpr double neighbouring = 0.25;  // rad, or share of the size

struct Tried {
  JointValues q;
  double missed;
};

double missed_by(const AxisChain& chain, const Pose& target, const JointValues& q) {
  const PoseError e = pose_error(axis_chain_end(chain, q.data()), target);
  return e.position / chain.size + e.rotation;
}

std::vector<Tried> try_at(const AxisChain& chain, std::size_t swept, const Pose& target, double value) {
  std::vector<Tried> out;
  const AxisChain rest = without(chain, swept, value);
  Candidates found;
  candidates_by_groups(rest, groups_of(rest), target, false, 0, found);
  for (int k = 0; k < found.count; ++k) {
    JointValues q = found.q[static_cast<std::size_t>(k)];
    std::copy_backward(q.begin() + static_cast<std::ptrdiff_t>(swept), q.end() - 1, q.end());
    q[swept] = value;
    out.push_back({q, missed_by(chain, target, q)});
  }
  return out;
}

// Where the outer two of the three groups left may come into line: there the rest is singular, and its turns run fast nearby.
std::array<double, 2> singular_values(const AxisChain& chain, std::size_t swept, const Pose& target) {
  const Groups groups = groups_of(chain);
  const Rotation Q = target.rotation * transpose(chain.end.rotation);
  const Vec3& axis = chain.axis[swept].direction;
  const double at = groups.of[swept] == 0 ? angle_seen_along(axis, groups.axis[1], Q * groups.axis[3])
                                          : angle_seen_along(axis, transpose(Q) * groups.axis[0], groups.axis[2]);
  return {at, at + turn / 2};
}

std::vector<double> values_to_try(const std::array<double, 2>& singular) {
  std::vector<double> values;
  for (int k = 0; k < steps; ++k) values.push_back(wrapped(turn * (k + 0.3) / steps));
  for (const double at : singular)
    for (double off = 0.02; off > 1e-5; off *= 0.5)
      for (const double side : {-off, off}) values.push_back(wrapped(at + side));
  std::sort(values.begin(), values.end());
  return values;
}

bool beaten(const AxisChain& chain, const Tried& it, const std::vector<Tried>& by) {
  return std::any_of(by.begin(), by.end(), [&](const Tried& other) {
    return other.missed < it.missed && same(chain, it.q, other.q, neighbouring);
  });
}

}  // namespace

SweptJoints swept_joints(const AxisChain& chain) {
  SweptJoints swept;
  const Groups groups = groups_of(chain);
  std::array<int, 6> members{};
  for (std::size_t i = 0; i < chain.count; ++i)
    if (groups.of[i] >= 0) ++members[static_cast<std::size_t>(groups.of[i])];
  if (groups.count != 4) return swept;
  // The first or the last, so that what is left stands in the same groups.
  for (const int group : {0, groups.count - 1}) {
    const auto g = static_cast<std::size_t>(group);
    if (members[g] != 1) continue;
    const AxisChain rest = without(chain, static_cast<std::size_t>(groups.last[g]), 0.7);
    if (fits_groups(rest, groups_of(rest))) swept.joint[static_cast<std::size_t>(swept.count++)] = groups.last[g];
  }
  return swept;
}

void candidates_by_sweep(const AxisChain& chain, int swept, const Pose& target, Candidates& out) {
  const auto which = static_cast<std::size_t>(swept);
  const auto singular = singular_values(chain, which, target);
  const std::vector<double> values = values_to_try(singular);
  std::vector<std::vector<Tried>> tried;
  for (const double value : values) tried.push_back(try_at(chain, which, target, value));
  const std::size_t count = values.size();
  for (std::size_t k = 0; k < count; ++k) {
    const auto &before = tried[(k + count - 1) % count], &after = tried[(k + 1) % count];
    for (const Tried& it : tried[k]) {
      if (beaten(chain, it, before) || beaten(chain, it, after)) continue;
      out.add(it.q);
      // Of two answers close together each is reached from its own side.
      for (const auto* beside : {&before, &after})
        for (const Tried& other : *beside)
          if (same(chain, it.q, other.q, neighbouring)) out.add(other.q);
    }
  }
  for (const double value : singular)
    for (const Tried& it : try_at(chain, which, target, value))
      if (it.missed < near_pose) out.add(it.q);
}

}  // namespace armwright
