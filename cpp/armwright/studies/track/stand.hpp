#pragma once

#include <array>
#include <limits>

#include "armwright/kinematics/inverse/solutions.hpp"
#include "armwright/model/model.hpp"

namespace armwright::track {

/// One answer of the inverse with the track at a position, and what it has to spare; negative where it falls short.
struct Stand {
  std::array<double, max_joints> q{};
  double limit = 0;                                            ///< to the nearest joint limit, rad or m
  double spare = -std::numeric_limits<double>::infinity();     ///< to the solids beyond what is to be kept, m
  double torque = -std::numeric_limits<double>::infinity();    ///< to the torque limits, as a share of them
  double roominess = 0;                                        ///< see limit_margin()
  bool served = false;
  std::array<double, max_joints> reach{};                      ///< see reach_about()
};

/// All answers of one attitude with the track at one position.
struct Sample {
  double at = 0;  ///< m
  int count = 0;
  bool served = false;
  std::array<Stand, max_solutions> stand;
};

/// To the nearest limit of the arm's joints (not the track's), rad or m.
double to_nearest_limit(const Model& model, const double* q);

/// Whether what is told of both samples alike, served or not, may be otherwise somewhere between them.
bool may_change(const Model& model, const Sample& a, const Sample& b);

}  // namespace armwright::track
