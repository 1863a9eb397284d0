#include "armwright/dynamics/elastic_motion.hpp"

#include <cmath>

namespace armwright {

namespace {

Rotation turned(const ElasticSpace& space, int body) { return body < 0 ? no_rotation : space.frames[body].rotation; }

void put(ElasticColumns& columns, std::size_t k, const Vec3& shift, const Vec3& turn) {
  columns.col(static_cast<Eigen::Index>(k)) << shift.x, shift.y, shift.z, turn.x, turn.y, turn.z;
}

// A station of a beam moves by a part of what the beam's far end does.
void put_station(const ElasticChain& chain, const Fastened& at, const Vec3& point, ElasticSpace& space) {
  const ElasticElement& element = chain.elements[at.after];
  const Rotation R = turned(space, element.body) * element.frame.rotation;
  const Vec3 station = in_world(space, element.body, element.frame * Vec3{at.station * element.beam.length, 0, 0});
  const SixBySix shape = beam_shape(element.beam, at.station);
  for (std::size_t w = element.first_way; w < element.first_way + element.way_count; ++w) {
    const Vec3 s = transpose_times(R, space.way_shift[w]), t = transpose_times(R, space.way_turn[w]);
    const double end[6] = {s.x, s.y, s.z, t.x, t.y, t.z};
    double here[6] = {};
    for (std::size_t i = 0; i < 6; ++i)
      for (std::size_t j = 0; j < 6; ++j) here[i] += shape[i * 6 + j] * end[j];
    const Vec3 turn = R * Vec3{here[3], here[4], here[5]};
    put(space.moved, w, R * Vec3{here[0], here[1], here[2]} + cross(turn, point - station), turn);
  }
}

// Where belts run through joints, one axis moves several.
void put_axis(const Model& model, const AxisWay& axis, const Fastened& at, const Vec3& point, const ElasticSpace& space, Vec3& shift, Vec3& turn) {
  const std::size_t n = model.joint_count;
  for (std::size_t j = 0; j < n && static_cast<int>(j) <= at.body; ++j) {
    const double by = axis.turn * (model.coupling.none() ? (j == axis.axis ? 1.0 : 0.0) : model.coupling.matrix[j * n + axis.axis]);
    if (by == 0) continue;
    const Pose& frame = space.frames[j];
    if (model.step[j].kind == JointKind::revolute) {
      turn = turn + by * frame.rotation.z;
      shift = shift + by * cross(frame.rotation.z, point - frame.position);
    } else {
      shift = shift + by * frame.rotation.z;
    }
  }
}

}  // namespace

ElasticSpace::ElasticSpace(const ElasticChain& chain)
    : way_point(chain.ways.size()), way_shift(chain.ways.size()), way_turn(chain.ways.size()), moved(6, static_cast<Eigen::Index>(chain.coordinates())),
      pushed(static_cast<Eigen::Index>(chain.coordinates())) {}

void place_chain(const Model& model, const ElasticChain& chain, const double* q, ElasticSpace& space) {
  joint_frames(model, q, space.frames);
  for (std::size_t w = 0; w < chain.ways.size(); ++w) {
    const ElasticWay& way = chain.ways[w];
    const Rotation R = turned(space, way.body);
    space.way_point[w] = in_world(space, way.body, way.point);
    space.way_shift[w] = R * way.shift;
    space.way_turn[w] = R * way.turn;
  }
}

void move_with(const Model& model, const ElasticChain& chain, const Fastened& at, const Vec3& point, ElasticSpace& space) {
  space.moved.setZero();
  for (std::size_t w = 0; w < chain.ways.size(); ++w) {
    if (chain.ways[w].element >= at.after) break;  // ways stand in the order of their elements
    put(space.moved, w, space.way_shift[w] + cross(space.way_turn[w], point - space.way_point[w]), space.way_turn[w]);
  }
  if (at.partly) put_station(chain, at, point, space);
  for (std::size_t a = 0; a < chain.axes.size(); ++a) {
    Vec3 shift{0, 0, 0}, turn{0, 0, 0};
    put_axis(model, chain.axes[a], at, point, space, shift, turn);
    put(space.moved, chain.ways.size() + a, shift, turn);
  }
}

}  // namespace armwright
