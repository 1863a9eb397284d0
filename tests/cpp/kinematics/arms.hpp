#pragma once

#include "kinematics/random_arms.hpp"

namespace armwright::testing {

/// An offset-elbow arm of the usual build: shoulder and elbow offset, wrist axes meeting at right angles.
inline SixChain usual_arm() {
  const double h = M_PI / 2;
  return chain_of({{{0, 0.42, 0.12, -h}, {-h, 0, 0.51, 0}, {0, 0, 0.07, -h}, {0, 0.48, 0, h}, {0, 0, 0, -h}, {0, 0.09, 0, 0}}},
                  identity_pose, {turn_about({0, 1, 0}, 0.4), {0.05, 0, 0.15}});
}

/// The ur5 of the open data sets: d1 0.089159, a2 0.42500, a3 0.39225, d4 0.10915, d5 0.09465, d6 0.08230 m. Source: the
/// maker's user manual, series 3 (manualslib.com 2610610, page 25).
inline SixChain ur5() {
  const double h = M_PI / 2;
  return chain_of({{{0, 0.089159, 0, h}, {0, 0, -0.425, 0}, {0, 0, -0.39225, 0}, {0, 0.10915, 0, h}, {0, 0.09465, 0, -h},
                    {0, 0.0823, 0, 0}}});
}

/// PUMA 560: Corke and Armstrong-Helouvry, "A search for consensus among model parameters reported for the PUMA 560
/// robot", Proc. IEEE ICRA 1994, standard Denavit-Hartenberg rows.
inline SixChain puma560() {
  const double h = M_PI / 2;
  return chain_of({{{0, 0, 0, h}, {0, 0, 0.4318, 0}, {0, 0.15005, 0.0203, -h}, {0, 0.4318, 0, h}, {0, 0, 0, -h}, {0, 0, 0, 0}}});
}

inline Pose random_end(Random& random) { return random.pose(0.8); }

/// Axes 4, 5, 6 meet, at angles of 30 to 150 degrees or at right ones; joints 1 to 3 anyhow.
inline SixChain random_spherical(Random& random, bool right_angles) {
  std::array<AxisLine, 6> axis;
  for (int i = 0; i < 3; ++i) axis[static_cast<std::size_t>(i)] = {random.uniform(0, 0.6) * random.direction(), random.direction()};
  const Vec3 centre = random.uniform(0.3, 1.0) * random.direction();
  const Vec3 z5 = random.direction();
  const auto beside = [&] {
    const double angle = right_angles ? M_PI / 2 : random.uniform(0.5, M_PI - 0.5);
    const Rotation frame = turn_about(z5, random.uniform(-3, 3)) * frame_on(z5);
    return std::cos(angle) * z5 + std::sin(angle) * frame.x;
  };
  axis[3] = {centre, beside()};
  axis[4] = {centre, z5};
  axis[5] = {centre, beside()};
  return chain_on(axis, random_end(random));
}

/// The same with axes 2 and 3 parallel (or opposite), axis 1 at any angle, with shoulder offset.
inline SixChain random_elbow(Random& random, bool right_angles) {
  SixChain chain = random_spherical(random, right_angles);
  const std::array<double, 6> zero{};
  auto axis = chain_posture(chain, zero.data()).axis;
  axis[2].direction = random.sign() * axis[1].direction;
  return chain_on(axis, random_end(random));
}

/// Axes 1 and 2 meeting, or parallel.
inline SixChain random_shoulder(Random& random, bool parallel) {
  SixChain chain = random_spherical(random, random.sign() > 0);
  const std::array<double, 6> zero{};
  auto axis = chain_posture(chain, zero.data()).axis;
  if (parallel) {
    axis[1].direction = random.sign() * axis[0].direction;
  } else {
    axis[1].point = axis[0].point + random.uniform(-0.3, 0.3) * axis[0].direction;
  }
  return chain_on(axis, random_end(random));
}

/// Axes 2, 3, 4 parallel or opposite; the others anyhow, axes 5 and 6 meeting or not.
inline SixChain random_three_parallel(Random& random, bool crossing) {
  std::array<AxisLine, 6> axis;
  for (AxisLine& a : axis) a = {random.uniform(0, 0.6) * random.direction(), random.direction()};
  for (std::size_t i : {2, 3}) axis[i].direction = random.sign() * axis[1].direction;
  if (crossing) axis[5].point = axis[4].point + random.uniform(-0.2, 0.2) * axis[4].direction;
  return chain_on(axis, random_end(random));
}

}  // namespace armwright::testing
