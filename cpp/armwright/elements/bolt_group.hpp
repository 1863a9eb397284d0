#pragma once

#include <span>
#include <vector>

#include "armwright/elements/polygon.hpp"

namespace armwright {

// Tension and shear of equal bolts that hold a flat face. Loads as FaceLoad; tensions N, positive where the bolt is stretched. Three
// methods for the tension, all of them usual; a figure means nothing without the method's name.

/// A bolt pattern: its points and what depends on them alone. Second moments are about the bolts' own centroid.
struct BoltGroup {
  std::vector<Point2> points;
  double x = 0, y = 0;             ///< centroid, m
  double xx = 0, xy = 0, yy = 0;   ///< sums of squares about it, m²
  std::vector<Point2> hull;        ///< of the plate, counter-clockwise; empty: no plate told
  std::vector<Edge> edges;         ///< of that hull
};

BoltGroup bolt_group(std::span<const Point2> points, std::span<const Point2> plate);

/// Whether bolts lie in one line (or one place), so that about that line the group alone bears no moment.
bool in_line(const BoltGroup& group);

/// The elastic group about its centroid: T_i = Fz/n + M y_i / sum y², with the product of inertia where the pattern is skew. Negative:
/// there the load presses the plate on. Holds while the joint stays closed, or where the plate is held off its ground by nuts.
/// NaN where bolts lie in one line and the load has a moment about it. `tensions`: a value a bolt.
void elastic_tensions(const BoltGroup& group, const FaceLoad& load, std::span<double> tensions);

/// A stiff plate that lies on a stiff ground and pulls on elastic bolts without preload: it stays down, tilts about the edge or the corner
/// of the plate's outline that comes to rest, or comes off. About an edge: T_i = M d_i / sum d², M the load's moment about it and
/// d the distance from it. Found as the least energy under w >= 0 at all corners; NaN where nothing bears the load.
void pivot_tensions(const BoltGroup& group, const FaceLoad& load, std::span<double> tensions);

/// Tilting about an edge with the farthest bolts alone: T = M / (m d), m bolts at the greatest distance d; of all edges the greatest. A
/// rule for hand calculation; for a ring of many bolts far on the safe side.
void far_tensions(const BoltGroup& group, const FaceLoad& load, std::span<double> tensions);

/// Shear of each bolt if friction bore nothing: F/n and, by the torsion about the centroid, M r / sum r² across the radius. x, y of
/// each bolt in turn; NaN where all lie in one place and there is torsion.
void bolt_shears(const BoltGroup& group, const FaceLoad& load, std::span<double> shears);

}  // namespace armwright
