#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "armwright/dynamics/elastic_spec.hpp"
#include "armwright/model/cell_spec.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// One way of giving way: everything beyond moves by this screw, told in F(body) (body -1: the world, standing still), for
/// a coordinate of 1, which stores 1/2 J. So stiffness is one for all ways, and flexibility is the sum of their squares.
struct ElasticWay {
  int body = -1;
  Vec3 point{0, 0, 0}, shift{0, 0, 0}, turn{0, 0, 0};  ///< shift of what goes through `point`, m, and turn, rad
  std::size_t element = 0;  ///< in order from the base out
  std::int32_t cause = 0;
};

/// A stage: a coordinate of 1 turns the axis by sqrt(compliance).
struct AxisWay {
  std::size_t axis = 0;
  double turn = 0;
  std::int32_t cause = 0;
};

/// Where a thing sits in the chain: how far along it is, and so what moves it.
struct Fastened {
  int body = -1;
  std::size_t after = 0;        ///< elements before this one move it wholly
  bool partly = false;          ///< and element `after` in part: it sits on that beam
  double station = 0;           ///< there, 0 to 1
};

/// A body that moves as one.
struct ElasticLump {
  Fastened at;
  Inertia inertia;              ///< in F(body)
};

/// A counterbalance's end.
struct ElasticEnd {
  Fastened at;
  Vec3 point;                   ///< in F(body)
};

/// Of element k the ways are first_way[k] to first_way[k + 1]; a beam's own share of a station is worked out from `beam`.
struct ElasticElement {
  std::size_t first_way = 0, way_count = 0;
  bool is_beam = false;
  int body = -1;
  Pose frame = identity_pose;   ///< in F(body), x along the beam, at its near end
  Beam beam;
};

/// A beam of a link from its first to its last piece.
struct ElasticSpan {
  int body = -1;
  std::size_t first = 0, count = 0;  ///< its elements
  Pose start = identity_pose;   ///< in F(body): x along it, z along its height
  Vec3 end{0, 0, 0};
};

/// What gives way and what weighs on it, from the base out. Constant for all postures.
struct ElasticChain {
  std::vector<ElasticElement> elements;
  std::vector<ElasticWay> ways;
  std::vector<AxisWay> axes;
  std::vector<ElasticLump> lumps;
  std::vector<ElasticEnd> ends_a, ends_b;  ///< of the model's springs
  std::vector<ElasticSpan> spans;          ///< one a LinkBeam, in its order
  std::vector<std::string> causes;
  std::size_t coordinates() const { return ways.size() + axes.size(); }  ///< the ways, then the axes
};

inline std::size_t cause_of(const ElasticChain& chain, std::size_t coordinate) {
  const std::size_t ways = chain.ways.size();
  return static_cast<std::size_t>(coordinate < ways ? chain.ways[coordinate].cause : chain.axes[coordinate - ways].cause);
}

/// Puts what gives way and what weighs in order. Nothing is refused: what an ElasticSpec says has been checked before, and
/// its links and axes are the cell's. A tube that weighs 95 % of its link or more counts as the link, evenly spread along the
/// tube with the link's own mass and centre of gravity.
ElasticChain elastic_chain(const CellSpec& cell, const Model& model, const ElasticSpec& spec);

}  // namespace armwright
