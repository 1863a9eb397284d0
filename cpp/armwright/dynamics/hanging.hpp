#pragma once

#include <cstdint>
#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// Where a hoist takes hold.
struct LiftingPoint {
  std::int32_t frame = -1;  ///< joint frame F(i); -1: the base
  Vec3 point{0, 0, 0};      ///< in that frame, or in the world, m
};

/// Per row of a batch; see hang().
struct HangingRows {
  std::span<double> tilt;    ///< rows: rad in [0, pi], from `up` to where up points once it hangs
  std::span<double> centre;  ///< rows × 3: common centre of gravity in the world, m, as the arm stands, not as it hangs
  std::span<double> point;   ///< rows × 3: lifting point in the world, m, likewise
  std::span<double> torque;  ///< rows × joint_count: what each joint holds as it hangs, N m (N)
};

/// An arm loose from its foot, its joints held, hung by one point P with its base body `still` (in the world). It hangs with the
/// centre of gravity C straight below P, so that it turns by the angle between P -> C and -up, `up` being the direction (of
/// length 1, in the world as it stands) that is upright; C above P hangs as well once it has turned over. All weight, M g, is
/// taken in P: joint j holds the slope of the potential energy -M g |C - P| with q_j,
///   tau_j = -M g u · d(C - P)/dq_j,  u = (C - P) / |C - P|,
/// less what counterbalance springs give. Where C lies in P, to 1 mm (own estimate of how well places are
/// known), any attitude may be at rest: tilt and torques are NaN. Statics; own derivation.
/// The model's gravity counts by its size alone. `model.load` does not count.
void hang(const Model& model, const Inertia& still, const LiftingPoint& point, const Vec3& up, std::span<const double> q, const HangingRows& out);

}  // namespace armwright
