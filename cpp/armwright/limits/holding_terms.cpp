#include "armwright/limits/holding_terms.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace armwright {

namespace {

constexpr double pi = 3.141592653589793;

bool turns(const Model& model, std::size_t joint) { return model.step[joint].kind == JointKind::revolute; }

// Whether everything before a joint that turns keeps its attitude: then its axis does.
bool axis_stands(const Model& model, std::size_t joint) {
  for (std::size_t i = 0; i < joint; ++i)
    if (turns(model, i) && model.lower[i] < model.upper[i]) return false;
  return true;
}

}  // namespace

HoldingTerms holding_terms(const Model& model, const Inertia& load) {
  HoldingTerms terms;
  const std::size_t n = terms.n = model.joint_count;
  Pose frames[max_joints];
  double locked[max_joints];  // where a joint that is held stands; the others do not matter
  for (std::size_t i = 0; i < n; ++i) locked[i] = model.lower[i] < model.upper[i] ? 0 : model.lower[i];
  joint_frames(model, locked, frames);
  double mass = 0, moment = 0;  // of all beyond a joint, about its frame's origin: the longest that it can be
  for (std::size_t i = n; i-- > 0;) {
    const bool endless = !(std::isfinite(model.lower[i]) && std::isfinite(model.upper[i]));
    terms.low[i] = endless ? (turns(model, i) ? -pi : 0) : model.lower[i];
    terms.high[i] = endless ? (turns(model, i) ? pi : 0) : model.upper[i];
    const Inertia body = i + 1 < n ? model.link[i] : model.link[i] + load;
    // Fixed in this frame: the link's own moment, and the mass beyond at the next joint's foot.
    Vec3 fixed = body.mass * body.centre;
    if (i + 1 < n) fixed = fixed + mass * model.step[i + 1].offset;
    const double along = std::fabs(fixed.z);
    terms.lever[i] = turns(model, i) ? std::hypot(fixed.x, fixed.y) + moment : mass + body.mass;
    mass += body.mass;
    moment += std::hypot(std::hypot(fixed.x, fixed.y), along);
    // As the frame before sees it, it lies beyond the slide as well.
    if (!turns(model, i)) moment += mass * std::fmax(std::fabs(terms.low[i]), std::fabs(terms.high[i]));
    if (!turns(model, i) && endless) {
      for (std::size_t j = 0; j < i; ++j) terms.bounded = terms.bounded && !turns(model, j);
    }
    terms.across[i] = axis_stands(model, i) ? norm(cross(model.gravity, frames[i].rotation.z)) : norm(model.gravity);
    if (terms.across[i] < 1e-14 * norm(model.gravity)) terms.across[i] = 0;
  }
  return terms;
}

double second_slope(const Model& model, const HoldingTerms& terms, std::size_t i, std::size_t j, std::size_t k) {
  std::array<std::size_t, 3> order{i, j, k};
  std::sort(order.begin(), order.end());
  const auto [first, second, third] = order;
  // −g · (z_first × (z_second × (z_third × moment))): a slide counts only as the outermost, and once.
  if (!turns(model, first) || !turns(model, second)) return 0;
  return terms.across[first] * terms.lever[third];
}

void held_torques(const Model& model, const Inertia& load, const double* q, HeldTorques& out) {
  const std::size_t n = model.joint_count;
  Pose frames[max_joints];
  joint_frames(model, q, frames);
  Vec3 pushed[max_joints];  // how a unit of each joint's motion shifts mass times centre of all beyond it
  Vec3 moment{0, 0, 0};
  double mass = 0;
  for (std::size_t i = n; i-- > 0;) {
    const Inertia body = i + 1 < n ? model.link[i] : model.link[i] + load;
    moment = moment + body.mass * (frames[i] * body.centre);
    mass += body.mass;
    const Vec3& z = frames[i].rotation.z;
    pushed[i] = turns(model, i) ? cross(z, moment - mass * frames[i].position) : mass * z;
    out.torque[i] = -dot(model.gravity, pushed[i]);
  }
  for (std::size_t j = 0; j < n; ++j) {
    // Joint j carries what lies beyond it: it turns that, or shifts it, which turns nothing.
    const Vec3 turned = turns(model, j) ? cross(model.gravity, frames[j].rotation.z) : Vec3{0, 0, 0};
    for (std::size_t i = j; i < n; ++i) out.slope[i * n + j] = out.slope[j * n + i] = -dot(turned, pushed[i]);
  }
}

}  // namespace armwright
