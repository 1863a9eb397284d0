#pragma once

#include <span>
#include <vector>

#include "armwright/elements/polygon.hpp"

namespace armwright {

/// How a stiff plate or stand that can press but not pull rests on its ground: pressure a + b x + c y where that is positive, none
/// where it is not (elastic ground, plane sections: the usual footing).
struct Footing {
  double a = 0, b = 0, c = 0;  ///< Pa and Pa/m; N and N/m where it stands on feet
  double greatest = 0;         ///< greatest pressure, Pa; NaN where it cannot rest so
  double contact = 0;          ///< share of the face, or of the feet, that presses
  bool rests = false;          ///< the resultant strikes the ground within the outline
};

/// A face of any simple outline under a load (its fz, mx, my count). Whole contact as long as the resultant stays in the kern; beyond
/// it the neutral axis is found by Newton's method on the convex energy of the part that presses. Where the resultant
/// misses the outline's hull, or pulls, `rests` is false.
Footing footing(std::span<const Point2> outline, const FaceLoad& load);

/// The same on equally stiff feet that are points; `forces`: of each, N.
Footing on_feet(std::span<const Point2> feet, const FaceLoad& load, std::span<double> forces);

}  // namespace armwright
