#include "armwright/motion/stop_postures.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/chain.hpp"
#include "armwright/motion/axis_drive.hpp"

namespace armwright {

namespace {

constexpr double whole_turn = 6.283185307179586;
constexpr int starts = 48, samples = 24, sweeps = 60;

struct Span {
  double low, high;
};

Span span_of(const Model& model, std::size_t joint) {
  if (std::isfinite(model.lower[joint]) && std::isfinite(model.upper[joint])) return {model.lower[joint], model.upper[joint]};
  return {-0.5 * whole_turn, 0.5 * whole_turn};
}

// The first joint of the arm; a track comes before it.
std::size_t first_of(const Model& model) { return model.has_track ? 1 : 0; }

double extension_at(const Model& model, const Vec3& centre, const JointRow& q) {
  Pose frames[max_joints];
  joint_frames(model, q.data(), frames);
  const Pose& axis = frames[first_of(model)];
  const Vec3 out = frames[model.joint_count - 1] * centre - axis.position;
  return norm(out - dot(out, axis.rotation.z) * axis.rotation.z);
}

// The best of one joint with the others held: samples, then narrowed by golden sections.
void climb_joint(const Model& model, const Vec3& centre, std::size_t joint, JointRow& q) {
  const Span span = span_of(model, joint);
  const double here = q[joint];
  double best = here, most = extension_at(model, centre, q) + 1e-9;  // only what is better counts
  const double step = (span.high - span.low) / samples;
  const auto value = [&](double at) {
    q[joint] = std::clamp(at, span.low, span.high);
    return extension_at(model, centre, q);
  };
  for (int i = 0; i <= samples; ++i)
    if (const double found = value(span.low + i * step); found > most) most = found, best = q[joint];
  double low = best - step, high = best + step;
  constexpr double golden = 0.6180339887498949;
  for (int i = 0; i < 60; ++i) {
    const double a = high - golden * (high - low), b = low + golden * (high - low);
    (value(a) < value(b) ? low : high) = value(a) < value(b) ? a : b;
  }
  if (value(0.5 * (low + high)) > most) best = q[joint];
  q[joint] = best;
}

double climb(const Model& model, const Vec3& centre, JointRow& q) {
  double before = extension_at(model, centre, q);
  for (int sweep = 0; sweep < sweeps; ++sweep) {
    for (std::size_t joint = first_of(model) + 1; joint < model.joint_count; ++joint) climb_joint(model, centre, joint, q);
    const double after = extension_at(model, centre, q);
    if (after - before < 1e-9) break;
    before = after;
  }
  return extension_at(model, centre, q);
}

StopPosture farthest(const Model& model, const Vec3& centre) {
  JointRow middle{};
  for (std::size_t i = 0; i < model.joint_count; ++i) middle[i] = 0.5 * (span_of(model, i).low + span_of(model, i).high);
  StopPosture best{middle, 0};
  best.extension = climb(model, centre, best.q);
  for (int start = 1; start < starts; ++start) {
    JointRow q = middle;
    for (std::size_t i = first_of(model) + 1; i < model.joint_count; ++i) {
      // Additive recurrence, spread evenly over the ranges (by the powers of a root of x^13 = x + 1).
      const double share = std::fmod(0.5 + start * std::pow(0.9480, static_cast<double>(i)), 1.0);
      q[i] = span_of(model, i).low + share * (span_of(model, i).high - span_of(model, i).low);
    }
    const double found = climb(model, centre, q);
    if (found > best.extension + 1e-6) best = {q, found};
  }
  return best;
}

StopPosture bent(const Model& model, const Vec3& centre, const StopPosture& out, double share) {
  const std::size_t first = first_of(model), elbow = std::min(first + 2, model.joint_count - 1);
  if (share >= 1 || elbow == first) return out;
  const Span span = span_of(model, elbow);
  const double wanted = share * out.extension;
  StopPosture nearest = out;
  double turned = whole_turn * 10;
  bool met = false;
  for (const double end : {span.low, span.high}) {
    constexpr int steps = 400;
    JointRow q = out.q;
    double before = out.q[elbow];
    for (int i = 1; i <= steps; ++i) {
      const double after = out.q[elbow] + (end - out.q[elbow]) * i / steps;
      q[elbow] = after;
      const double extension = extension_at(model, centre, q);
      if (!met && extension < nearest.extension) nearest = {q, extension};
      if (extension <= wanted) {
        double low = before, high = after;
        for (int halving = 0; halving < 60; ++halving) {
          q[elbow] = 0.5 * (low + high);
          (extension_at(model, centre, q) > wanted ? low : high) = q[elbow];
        }
        if (std::fabs(q[elbow] - out.q[elbow]) < turned) nearest = {q, extension_at(model, centre, q)}, turned = std::fabs(q[elbow] - out.q[elbow]);
        met = true;
        break;
      }
      before = after;
    }
  }
  return nearest;
}

}  // namespace

std::vector<StopPosture> stop_postures(const Model& model, const Vec3& centre, const std::vector<double>& shares) {
  const StopPosture out = farthest(model, centre);
  std::vector<StopPosture> postures;
  for (const double share : shares) postures.push_back(bent(model, centre, out, share));
  return postures;
}

int downward(const Model& model, const Vec3& centre, const JointRow& q, std::size_t joint) {
  Pose frames[max_joints];
  joint_frames(model, q.data(), frames);
  const Vec3& z = frames[joint].rotation.z;
  const Vec3 moved = model.step[joint].kind == JointKind::revolute ? cross(z, frames[model.joint_count - 1] * centre - frames[joint].position) : z;
  return dot(moved, model.gravity) < -1e-9 * norm(model.gravity) ? -1 : 1;
}

double full_speed(const Model& model, std::size_t joint) {
  if (std::isfinite(model.speed[joint]) || !model.coupling.none()) return model.speed[joint];
  return greatest_axis_speed(axis_drives(model)[joint]).speed;
}

}  // namespace armwright
