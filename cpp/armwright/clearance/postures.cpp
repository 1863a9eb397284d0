#include "armwright/clearance/postures.hpp"

#include <numbers>

#include "armwright/kinematics/wrist_centre.hpp"

namespace armwright {

namespace {

std::vector<double> spread_over(double lower, double upper, double step) {
  if (!(upper > lower)) return {lower};
  const auto gaps = static_cast<std::size_t>(std::max(1.0, std::ceil((upper - lower) / step - 1e-9)));
  std::vector<double> values;
  for (std::size_t k = 0; k <= gaps; ++k) values.push_back(lower + (upper - lower) * static_cast<double>(k) / static_cast<double>(gaps));
  return values;
}

std::vector<double> values_of(const Model& model, std::size_t joint, double slide_step, double turn_step) {
  if (model.step[joint].kind == JointKind::prismatic) return spread_over(model.lower[joint], model.upper[joint], slide_step);
  const bool limited = std::isfinite(model.upper[joint] - model.lower[joint]);
  return limited ? spread_over(model.lower[joint], model.upper[joint], turn_step)
                 : spread_over(-std::numbers::pi, std::numbers::pi - turn_step, turn_step);
}

}  // namespace

double longest_reach(const Model& model) {
  const std::size_t first = model.has_track ? 1 : 0;
  double reach = norm(model.tool.position);
  for (std::size_t i = first; i < model.joint_count; ++i) {
    if (i > first) reach += norm(model.step[i].offset);
    if (model.step[i].kind == JointKind::prismatic) reach += std::max(std::fabs(model.lower[i]), std::fabs(model.upper[i]));
  }
  return reach * (1 + 1e-9) + 1e-9;
}

WristBound wrist_bound(const ArmInverse& inverse) {
  constexpr double on_axis = 1e-12;  // m
  const Model& model = inverse.model;
  Vec3 point = wrist_centre(model);
  WristBound bound;
  bound.in_tool = armwright::inverse(model.tool) * point;
  if (!inverse.base_only || !inverse.usual.six) return bound;
  const std::size_t first = inverse.redundant.size();
  std::size_t last = model.joint_count - 1;
  // Told in the frame of a joint that it does not move with.
  while (last > first + 1 && std::hypot(point.x, point.y) < on_axis) {
    Pose step = identity_pose;
    advance(model.step[last--], 0.0, step);
    point = step * point;
  }
  bound.reach = norm(point);
  for (; last > first + 1; --last) bound.reach += norm(model.step[last].offset);
  bound.reach = bound.reach * (1 + 1e-9) + 1e-6;  // answers are polished onto poses that are beyond by rounding
  const JointStep &one = model.step[first], &two = model.step[first + 1];
  bound.root = one.offset;
  bound.axis = {0, -one.sin_alpha, one.cos_alpha};
  bound.radius = std::hypot(two.offset.x, two.offset.y), bound.height = two.offset.z;
  return bound;
}

std::vector<std::vector<double>> spread_values(const Model& model, std::span<const std::size_t> joints, double slide_step, double turn_step) {
  std::vector<std::vector<double>> combinations{{}};
  for (const std::size_t joint : joints) {
    std::vector<std::vector<double>> more;
    for (const auto& before : combinations)
      for (const double value : values_of(model, joint, slide_step, turn_step)) {
        more.push_back(before);
        more.back().push_back(value);
      }
    combinations = std::move(more);
  }
  return combinations;
}

PostureSearch make_search(const std::shared_ptr<const ArmInverse>& inverse, std::shared_ptr<const Scene> scene, double margin, double slide_step, double turn_step) {
  PostureSearch search;
  search.inverse = inverse;
  search.model = {inverse, &inverse->model};
  const Model& model = inverse->model;
  search.reach = longest_reach(model);
  search.wrist = wrist_bound(*search.inverse);
  search.scene = std::move(scene);
  search.margin = margin;
  const auto& redundant = search.inverse->redundant;
  search.samples_track = model.has_track && !redundant.empty() && redundant.front() == 0;
  search.tries_nearest = search.samples_track && redundant.size() == 1 && model.joint_count > 2;
  for (const auto& values : spread_values(model, redundant, slide_step, turn_step)) search.samples.push_back(hold(*search.inverse, values));
  return search;
}

std::vector<PostureWork> make_posture_work(const PostureSearch& search, std::size_t workers) {
  std::vector<PostureWork> work(workers);
  for (PostureWork& one : work)
    if (search.scene) one.clearance = make_workspace(*search.scene);
  return work;
}

}  // namespace armwright
