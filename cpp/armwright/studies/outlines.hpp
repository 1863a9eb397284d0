#pragma once

#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/spatial/outline.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// Boundary curves of what one point of the arm can reach; fixtures and the arm itself do not count. NaN rows stand
/// between curves.
struct Outlines {
  std::vector<Point2> section;  ///< distance from axis 1 and height, m; in the plane through axis 1 at mid-range
  std::vector<Point2> plan;     ///< what is reached at any height: x, y in the world, m
  bool complete = false;
};

struct OutlineRequest {
  double spacing = 0;          ///< of the grid the curves are found on, m
  std::size_t directions = 100;  ///< tool directions tried at a point, besides those along the line from axis 1; 0: the tool frame turns freely, one will do
  std::size_t spins = 1;
};

/// `search`: with the model whose tool point is to be drawn, without a scene. Section: the track stands at mid-stroke.
/// Height is measured along axis 1 (for an upright arm: the world's z). Points of the curves lie within spacing / 50
/// of where reach ends for the attitudes tried.
Outlines outlines(const PostureSearch& search, const OutlineRequest& request, unsigned threads, const Progress& progress);

/// The same model with its tool point at the wrist centre: the point of axis 6 nearest to axis 5 (ISO 9787 calls the
/// meeting point of the wrist axes so). For arms of six joints.
Model at_wrist_centre(const Model& model);

}  // namespace armwright
