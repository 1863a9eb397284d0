#pragma once

#include <span>

#include "armwright/kinematics/chain.hpp"

namespace armwright {

/// What a spring does at a length (m): the force with which it draws its ends together (N), negative where it pushes.
inline double spring_pull(const Spring& spring, double length) {
  const double pull = spring.pull + spring.rate * (length - spring.length);
  return spring.pulls_only && pull < 0 ? 0 : pull;
}

/// Work stored in a spring drawn out to a length, J, from the length at which it does nothing; from length 0 where its
/// rate is 0.
inline double spring_energy(const Spring& spring, double length) {
  const double pull = spring.pull + spring.rate * (length - spring.length);
  if (spring.pulls_only && pull < 0) return 0;
  return spring.rate != 0 ? 0.5 * pull * pull / spring.rate : pull * length;
}

/// From end a to end b in the world, m.
template <class T>
ARMWRIGHT_INLINE Vector3<T> spring_reach(const Spring& spring, const Pose3<T>* frames) {
  const auto end = [&](int frame, const Vec3& point) { return frame < 0 ? spread<T>(point) : frames[frame] * spread<T>(point); };
  return end(spring.frame_b, spring.b) - end(spring.frame_a, spring.a);
}

/// Calls take(first, last, end, force) for every spring between two links: `force` (N, world) acts at `end` (m, world) on the
/// end that is further out, and minus that on the other; only the joints from `first` to `last` lie between them.
/// The force is (pull/length) times the reach; so a spring of no free length has no bad place at length 0. Where another
/// spring's ends meet, its force has no direction and counts as its rate alone.
template <class T, class Take>
ARMWRIGHT_INLINE void each_spring_force(const Model& model, const Pose3<T>* frames, Take take) {
  for (const Spring& spring : model.springs) {
    const Vector3<T> reach = spring_reach(spring, frames);
    const T length = norm(reach);
    const double rest = spring.pull - spring.rate * spring.length;  // the pull at length 0
    T over_length(spring.rate);
    if (rest != 0) over_length = over_length + select(length > T(1e-9), T(rest) / maximum(length, T(1e-9)), T(0.0));
    if (spring.pulls_only) over_length = maximum(over_length, T(0.0));
    const bool b_is_further = spring.frame_b > spring.frame_a;
    const int first = (b_is_further ? spring.frame_a : spring.frame_b) + 1, last = b_is_further ? spring.frame_b : spring.frame_a;
    const Vec3& point = b_is_further ? spring.b : spring.a;
    if (last < first) continue;  // both on one link
    take(first, last, frames[last] * spread<T>(point), (b_is_further ? -over_length : over_length) * reach);
  }
}

/// Subtracts from every joint's torque what the springs give, told by the joint frames in the world, for one row or four:
/// what is left is for the drives. The two ends are drawn together with equal and opposite forces along one line, so
/// that only joints between the two links feel them: z · ((b − o) × f), or z · f where the joint slides.
template <class T>
ARMWRIGHT_INLINE void subtract_springs(const Model& model, const Pose3<T>* frames, T* torque) {
  each_spring_force(model, frames, [&](int first, int last, const Vector3<T>& end, const Vector3<T>& force) ARMWRIGHT_INLINE_LAMBDA {
    for (int i = first; i <= last; ++i) {
      const auto joint = static_cast<std::size_t>(i);
      const Vector3<T>& z = frames[i].rotation.z;
      const bool turns = model.step[joint].kind == JointKind::revolute;
      torque[joint] = torque[joint] - (turns ? dot(z, cross(end - frames[i].position, force)) : dot(z, force));
    }
  });
}

/// Energy in all springs at one posture, J; see spring_energy().
inline double spring_energies(const Model& model, const Pose* frames) {
  double sum = 0;
  for (const Spring& spring : model.springs) sum += spring_energy(spring, norm(spring_reach(spring, frames)));
  return sum;
}

/// Length (m) and pull (N) of every spring in every posture, rows × springs each. Lengths outside a spring's own
/// shortest and longest are told as they would be.
void spring_states(const Model& model, std::span<const double> q, std::span<double> length, std::span<double> pull);

}  // namespace armwright
