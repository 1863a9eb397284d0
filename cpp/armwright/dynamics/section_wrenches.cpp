#include "armwright/dynamics/section_wrenches.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "armwright/dynamics/elastic_motion.hpp"

namespace armwright {

namespace {

struct Moving {
  Vec3 w{0, 0, 0}, dw{0, 0, 0}, a{0, 0, 0};  // of a frame's origin, world axes; gravity counts as the ground's rise
};

void move_frames(const Model& model, const Pose* frames, const double* speed, const double* acceleration, Moving* moving) {
  Moving before;
  Vec3 from{0, 0, 0};
  before.a = -model.gravity;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const Vec3 z = frames[i].rotation.z, r = frames[i].position - from;
    Moving now = before;
    now.a = before.a + cross(before.dw, r) + cross(before.w, cross(before.w, r));
    if (model.step[i].kind == JointKind::revolute) {
      now.w = before.w + speed[i] * z;
      now.dw = before.dw + acceleration[i] * z + speed[i] * cross(before.w, z);
    } else {
      now.a = now.a + acceleration[i] * z + (2 * speed[i]) * cross(before.w, z);
    }
    moving[i] = before = now;
    from = frames[i].position;
  }
}

struct Wrench {
  Vec3 force{0, 0, 0}, moment{0, 0, 0};  // about the world's origin
  void add(const Vec3& f, const Vec3& point) { force = force + f, moment = moment + cross(point, f); }
};

Vec3 times(const Inertia& b, const Vec3& w) {
  return {b.xx * w.x + b.xy * w.y + b.xz * w.z, b.xy * w.x + b.yy * w.y + b.yz * w.z, b.xz * w.x + b.yz * w.y + b.zz * w.z};
}

// Beyond the near end: what sits on the tube or behind it. Beyond the far end: what sits behind it.
bool is_beyond(const Fastened& at, const ElasticSpan& span, double station) {
  if (station >= 1) return at.after >= span.first + span.count;
  const double along = std::max(station, 0.0) * static_cast<double>(span.count), whole = std::floor(along);
  const std::size_t piece = span.first + static_cast<std::size_t>(whole);
  return at.after > piece || (at.after == piece && at.partly && at.station >= along - whole);
}

// What has to be put on each body, and on the links at the ends of springs, once a row; a cut sums those beyond it.
struct Pushed {
  Fastened at;
  Wrench wrench;
};

struct Row {
  const Model& model;
  const ElasticChain& chain;
  const ElasticSpace& space;
  const Moving* moving;

  Wrench on_body(const Fastened& at, const Inertia& body) const {
    Wrench sum;
    if (at.body < 0) return sum.add(-body.mass * model.gravity, body.centre), sum;
    const Inertia b = space.frames[at.body] * body;
    const Moving& m = moving[at.body];
    const Vec3 c = b.centre - space.frames[at.body].position;
    sum.add(b.mass * (m.a + cross(m.dw, c) + cross(m.w, cross(m.w, c))), b.centre);
    sum.moment = sum.moment + times(b, m.dw) + cross(m.w, times(b, m.w));
    return sum;
  }

  void all(const Inertia& load, std::vector<Pushed>& out) const {
    out.clear();
    for (const ElasticLump& lump : chain.lumps) out.push_back({lump.at, on_body(lump.at, lump.inertia)});
    if (load.mass > 0) {
      Fastened last = at_tool(model, chain);
      out.push_back({last, on_body(last, load)});
    }
    for (std::size_t s = 0; s < model.springs.size(); ++s) {
      const ElasticEnd &a = chain.ends_a[s], &b = chain.ends_b[s];
      const Vec3 pa = in_world(space, a.at.body, a.point), pb = in_world(space, b.at.body, b.point);
      const Vec3 on_a = force_on_a(model.springs[s], pb - pa);
      Wrench first, second;
      first.add(-on_a, pa), second.add(on_a, pb);
      out.push_back({a.at, first}), out.push_back({b.at, second});
    }
  }
};

}  // namespace

void section_wrenches(const Model& model, const ElasticChain& chain, const Inertia& load, std::span<const TubeCut> cuts,
                      std::span<const double> q, std::span<const double> speed, std::span<const double> acceleration,
                      std::span<double> out) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  ElasticSpace space(chain);
  Moving moving[max_joints];
  std::vector<Pushed> pushed;
  double* to = out.data();
  for (std::size_t row = 0; row < rows; ++row) {
    joint_frames(model, &q[row * n], space.frames);
    move_frames(model, space.frames, &speed[row * n], &acceleration[row * n], moving);
    Row{model, chain, space, moving}.all(load, pushed);
    for (const TubeCut& cut : cuts) {
      const ElasticSpan& span = chain.spans[cut.span];
      Wrench sum;
      for (const Pushed& one : pushed)
        if (is_beyond(one.at, span, cut.station)) sum.force = sum.force + one.wrench.force, sum.moment = sum.moment + one.wrench.moment;
      const Rotation turn = span.body < 0 ? span.start.rotation : (space.frames[span.body] * span.start).rotation;
      const Vec3 at = in_world(space, span.body, span.start.position + cut.station * (span.end - span.start.position));
      const Vec3 f = transpose_times(turn, sum.force), m = transpose_times(turn, sum.moment - cross(at, sum.force));
      for (const double value : {f.x, f.y, f.z, m.x, m.y, m.z}) *to++ = value;
    }
  }
}

}  // namespace armwright
