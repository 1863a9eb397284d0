#pragma once

#include "armwright/spatial/pose.hpp"

namespace armwright {

/// The tool frame's way in the world: a straight line or part of a circle for the tool point while the attitude turns evenly about
/// one axis. Told by s from 0 to `extent`.
struct ToolCurve {
  Pose from;
  Vec3 step{0, 0, 0};                  ///< line: from start to end, m
  bool round = false;                  ///< an arc
  Vec3 centre{0, 0, 0}, out{1, 0, 0}, ahead{0, 1, 0};  ///< arc: circle, unit vectors to the start and square to it
  double radius = 0, sweep = 0;        ///< arc: m, rad
  Vec3 axis{0, 0, 1};                  ///< of the turning, world
  double angle = 0;                    ///< rad, 0 to pi
  double length = 0;                   ///< of the tool point's way, m
  double extent = 0;                   ///< of s: the length, or for a turn with little way a tenth of a metre a radian; 0: no motion
};

ToolCurve tool_line(const Pose& from, const Pose& to);

/// The circle from `from` through `via` to `to`. False if the three points tell no circle.
bool tool_arc(const Pose& from, const Vec3& via, const Pose& to, ToolCurve& out);

Pose pose_at(const ToolCurve& curve, double s);

/// Derivatives by s. The turning's second derivative is zero.
struct CurveRates {
  Vec3 linear, angular, linear_next;
};
CurveRates rates_at(const ToolCurve& curve, double s);

}  // namespace armwright
