#pragma once

#include <array>

#include "armwright/kinematics/inverse/general/elimination.hpp"
#include "armwright/kinematics/inverse/general/trig_roots.hpp"
#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// All inverse solutions of any arm of six revolute joints, without a closed form; and of arms with one prismatic
/// joint among the six (with two or more the determinant vanishes; see few_joints.hpp).
/// Method: the elimination of Raghavan and Roth (see general/elimination.hpp); the determinant, a trigonometric
/// polynomial of degree 8 in one joint angle (so at most 16 answers: Primrose 1986, from memory), is taken at 17
/// angles, its real roots isolated for certain, and each answer polished on the exact chain. The ring of six axes can
/// be cut in twelve ways; where one way is singular (parallel or meeting axes) others are not. The ways are tried on
/// the arm's own postures beforehand; where the best leaves doubt about a pose, the next one is taken too.
struct GeneralSetup {
  static constexpr std::size_t most_ways = 12;
  SixChain chain;
  std::array<Pose, 6> links;  ///< in units of `size`, origins moved along the axes so that offsets are short
  Pose end;                   ///< in m, for the moved origin of axis 6
  double size = 1;            ///< m
  std::array<bool, 6> slides{};  ///< which joints are prismatic
  bool any_slides = false;
  Offsets offsets;
  TrigRootFinder finder;
  std::array<Labelling, most_ways> way;          ///< best first
  std::size_t way_count = 0, good_count = 0;      ///< all; those that find most postures
  std::array<LeftTensor, 4> left;               ///< of those ways whose left side holds no target
  std::array<double, most_ways> usual_size{}, least_size{};  ///< of each way's determinant, over trial postures
  std::array<double, most_ways> missed{}, doubted{};  ///< shares of the trial postures
};

GeneralSetup prepare_general(const SixChain& chain);

/// All solutions; see solve_six() for what is promised of them, and for `free_value`.
void solve_general(const GeneralSetup& setup, const Pose& target, Solutions& out, double free_value = 0);

/// One way only, by its rank; for measurements. Returns whether nothing about the result is in doubt.
bool solve_one_way(const GeneralSetup& setup, std::size_t way, const Pose& target, Solutions& out);

}  // namespace armwright
