#include "armwright/clearance/volume.hpp"

#include <algorithm>
#include <limits>

#include "armwright/clearance/bodies.hpp"
#include "armwright/kinematics/chain.hpp"
#include "armwright/support/refused.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

std::int32_t named(Volume& volume, const std::string& name) {
  const auto found = std::find(volume.names.begin(), volume.names.end(), name);
  if (found != volume.names.end()) return static_cast<std::int32_t>(found - volume.names.begin());
  volume.names.push_back(name);
  return static_cast<std::int32_t>(volume.names.size()) - 1;
}

Solid solid_of(Volume& volume, const Body& body, const ShapeSpec& spec, const std::string& name) {
  return {prepare_shape("'" + name + "'", spec), body.frame, body.placement * spec.pose, named(volume, name), spec.clearance};
}

// No distance between two solids is less than that of the balls around them. Half-spaces have none.
double ball_bound(const Solid& a, const Pose& X_WA, const Solid& b, const Pose& X_WB) {
  if (b.shape.kind == ShapeKind::half_space) return -infinity;
  const auto ball = [](const Shape& shape) { return norm(shape.segment_half) + shape.segment_radius; };
  const Vec3 between = X_WA * a.shape.segment_centre - X_WB * b.shape.segment_centre;
  return norm(between) - ball(a.shape) - ball(b.shape);
}

Clearance nearest(const Volume& volume, const Pose* frames) {
  Clearance best{infinity, {0, 0, 0}, {0, 0, 0}, -1, -1};
  for (const Solid& a : volume.own) {
    const Pose X_WA = pose_of(a, frames);
    for (const Solid& b : volume.others) {
      const Pose X_WB = pose_of(b, frames);
      if (!(ball_bound(a, X_WA, b, X_WB) < best.distance)) continue;
      const Separation here = separation(a.shape, X_WA, b.shape, X_WB, best.distance);
      if (here.distance < best.distance) best = {here.distance, here.a, here.b, a.name, b.name};
    }
  }
  return best;
}

}  // namespace

std::shared_ptr<const Volume> build_volume(const CellSpec& cell, const Model& model, const std::string& link, std::span<const ShapeSpec> shapes) {
  const std::vector<Body> bodies = bodies_of(cell, model);
  const auto is_chain = [](const Body& body) { return body.part == Body::Part::base || body.part == Body::Part::carriage || body.part == Body::Part::link; };
  const auto own = std::find_if(bodies.begin(), bodies.end(), [&](const Body& body) { return is_chain(body) && body.name == link; });
  if (own == bodies.end()) throw Refused("link", "'" + link + "'", "the name of the base, the carriage or a link");
  auto volume = std::make_shared<Volume>();
  for (const ShapeSpec& spec : shapes) {
    if (spec.kind == ShapeKind::half_space) throw Refused("'" + spec.name + "'", "a half-space that moves", "a solid of finite size");
    volume->own.push_back(solid_of(*volume, *own, spec, spec.name));
  }
  for (const Body& body : bodies) {
    if (&body == &*own) continue;
    for (const ShapeSpec& spec : body.shapes) volume->others.push_back(solid_of(*volume, body, spec, spec.name.empty() ? body.name : spec.name));
  }
  return volume;
}

std::span<const std::string> solid_names(const Volume& volume) { return volume.names; }

void volume_distances(const Volume& volume, const Model& model, std::span<const double> q, std::span<Clearance> out) {
  const std::size_t n = model.joint_count;
  Pose frames[max_joints];
  for (std::size_t row = 0; row < out.size(); ++row) {
    joint_frames<double>(model, &q[row * n], frames);
    out[row] = nearest(volume, frames);
  }
}

}  // namespace armwright
