#include "armwright/dynamics/elastic_chain.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>

namespace armwright {

namespace {

// Gauss–Legendre on 0..1 with four points: exact for the products of two beam shapes (degree 6).
constexpr std::array<double, 4> gauss_at{0.06943184420297371, 0.33000947820757187, 0.66999052179242813, 0.93056815579702629};
constexpr std::array<double, 4> gauss_weight{0.17392742256872693, 0.32607257743127307, 0.32607257743127307, 0.17392742256872693};

// A tube of at least this share of its link's mass is the link: what is left over is rounding and guesses, and would have
// its centre of gravity anywhere.
constexpr double nearly_all = 0.95;

Rotation along(const Vec3& x, const Vec3& hint) {
  Vec3 z = hint - dot(hint, x) * x;
  if (!(norm(z) > 1e-6 * norm(hint))) {  // no hint: any direction square to x, as round things look alike
    const Vec3 other = std::fabs(x.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{0, 1, 0};
    z = other - dot(other, x) * x;
  }
  z = (1 / norm(z)) * z;
  return {x, cross(z, x), z};
}

// What a body is without a part of it; a tensor that no body has is brought back to the nearest that is one.
Inertia less(const Inertia& whole, const Inertia& part) {
  Inertia minus = part;
  minus.mass = -part.mass;
  minus.xx = -part.xx, minus.yy = -part.yy, minus.zz = -part.zz, minus.xy = -part.xy, minus.xz = -part.xz, minus.yz = -part.yz;
  Inertia rest = whole + minus;
  Eigen::Matrix3d tensor;
  tensor << rest.xx, rest.xy, rest.xz, rest.xy, rest.yy, rest.yz, rest.xz, rest.yz, rest.zz;
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solved(tensor);
  const Eigen::Matrix3d kept = solved.eigenvectors() * solved.eigenvalues().cwiseMax(0.0).asDiagonal() * solved.eigenvectors().transpose();
  rest.xx = kept(0, 0), rest.yy = kept(1, 1), rest.zz = kept(2, 2), rest.xy = kept(0, 1), rest.xz = kept(0, 2), rest.yz = kept(1, 2);
  return rest;
}

class Builder {
 public:
  Builder(const CellSpec& cell, const Model& model, const ElasticSpec& spec)
      : cell_(cell), model_(model), spec_(spec), track_(model.has_track ? 1 : 0) {}

  ElasticChain build() {
    out_.causes = spec_.causes;
    for (const StageSpring& stage : spec_.stages) out_.axes.push_back({stage.axis, std::sqrt(stage.compliance), stage.cause});
    out_.spans.resize(spec_.beams.size());
    const int links = static_cast<int>(cell_.arm.links.size());
    out_.ends_a.resize(model_.springs.size()), out_.ends_b.resize(model_.springs.size());
    if (track_ == 1) add_lump({0, 0, false, 0}, model_.link_frame[0] * cell_.track->carriage.inertia);
    for (int link = -1; link < links; ++link) add_link(link);
    const int last = body_of(links - 1);
    add_lump({last, out_.elements.size(), false, 0}, model_.flange * cell_.tool.inertia);
    return out_;
  }

 private:
  int body_of(int link) const { return link + track_; }
  Pose frame_of(int link) const {
    if (link >= 0) return model_.link_frame[static_cast<std::size_t>(body_of(link))];
    return track_ == 1 ? model_.link_frame[0] * cell_.mount : cell_.mount;
  }
  void add_lump(const Fastened& at, const Inertia& inertia) {
    if (inertia.mass > 0) out_.lumps.push_back({at, inertia});
  }

  void add_link(int link) {
    const int body = body_of(link);
    const Pose X = frame_of(link);
    for (const RoundSpring& spring : spec_.springs)
      if (spring.link == link) add_spring(spring, body, X);
    const auto& own = link < 0 ? cell_.arm.base_link.inertia : cell_.arm.links[static_cast<std::size_t>(link)].inertia;
    Inertia rest = own;
    const std::size_t before = out_.elements.size();
    const LinkBeam* tube = nullptr;
    for (std::size_t i = 0; i < spec_.beams.size(); ++i)
      if (spec_.beams[i].link == link) {
        tube = &spec_.beams[i];
        rest = add_beam(*tube, own, body, X, out_.spans[i]);
        break;  // one tube a link
      }
    const auto fasten = [&](const Vec3& point) { return tube ? projected(*tube, point, body, before) : Fastened{body, before, false, 0}; };
    add_lump(fasten(rest.centre), X * rest);
    for (std::size_t s = 0; s < model_.springs.size(); ++s) {
      const Spring& spring = model_.springs[s];
      // Spring points stand in joint frames, so the link's own are those of its body; the base's are the carriage's too.
      if (spring.frame_a == body) out_.ends_a[s] = {fasten(inverse(X) * spring.a), spring.a};
      if (spring.frame_b == body) out_.ends_b[s] = {fasten(inverse(X) * spring.b), spring.b};
    }
  }

  void add_spring(const RoundSpring& spring, int body, const Pose& X) {
    ElasticElement element;
    element.body = body;
    element.frame = X * Pose{along((1 / norm(spring.axis)) * spring.axis, {0, 0, 0}), spring.point};
    SixBySix compliance{};
    const double shift[3] = {spring.along, spring.across, spring.across}, turn[3] = {spring.twist, spring.tilt, spring.tilt};
    for (std::size_t i = 0; i < 3; ++i) compliance[i * 7] = shift[i], compliance[(i + 3) * 7] = turn[i];
    add_element(element, element.frame, compliance, spring.cause);
  }

  void add_element(ElasticElement element, const Pose& at, const SixBySix& compliance, std::int32_t cause) {
    const SixBySix root = root_of(compliance);
    element.first_way = out_.ways.size();
    for (std::size_t c = 0; c < 6; ++c) {
      if (!(root[c * 7] > 0)) continue;
      const Vec3 shift{root[c], root[6 + c], root[12 + c]}, turn{root[18 + c], root[24 + c], root[30 + c]};
      out_.ways.push_back({element.body, at.position, at.rotation * shift, at.rotation * turn, out_.elements.size(), cause});
    }
    element.way_count = out_.ways.size() - element.first_way;
    out_.elements.push_back(element);
  }

  Inertia add_beam(const LinkBeam& tube, const Inertia& own, int body, const Pose& X, ElasticSpan& span) {
    const Vec3 way = tube.end - tube.start;
    const double length = norm(way);
    const Rotation R = along((1 / length) * way, tube.up);
    const std::size_t pieces = std::max<std::size_t>(spec_.pieces, 1);
    span = {body, out_.elements.size(), pieces, X * Pose{R, tube.start}, X * tube.end};
    const double heavy = tube.mass * length;
    const bool is_all = heavy > nearly_all * own.mass;
    const double share = is_all ? own.mass / heavy : 1;
    const Vec3 off = is_all ? own.centre - 0.5 * (tube.start + tube.end) : Vec3{0, 0, 0};
    const double step = length / static_cast<double>(pieces);
    Inertia spread;
    for (std::size_t k = 0; k < pieces; ++k) {
      ElasticElement element;
      const Pose near{R, tube.start + (static_cast<double>(k) * step) * R.x};
      element.is_beam = true, element.body = body, element.frame = X * near;
      element.beam = tube.beam;
      element.beam.length = step;
      if (tube.mass > 0)
        for (std::size_t g = 0; g < 4; ++g) {
          const double metres = gauss_weight[g] * step * share;
          const Inertia slice = near * Inertia{tube.mass * metres, Vec3{gauss_at[g] * step, 0, 0} + transpose_times(R, off), tube.spin_x * metres, tube.spin_y * metres, tube.spin_z * metres, 0, 0, 0};
          spread = spread + slice;
          add_lump({body, out_.elements.size(), true, gauss_at[g]}, X * slice);
        }
      add_element(element, X * Pose{R, tube.start + (static_cast<double>(k + 1) * step) * R.x}, beam_compliance(element.beam), tube.cause);
    }
    return is_all ? Inertia{} : less(own, spread);
  }

  Fastened projected(const LinkBeam& tube, const Vec3& point, int body, std::size_t first) const {
    const std::size_t pieces = out_.elements.size() - first;
    const Vec3 way = tube.end - tube.start;
    const double at = dot(point - tube.start, way) / dot(way, way) * static_cast<double>(pieces);
    if (!(at > 0)) return {body, first, false, 0};
    if (at >= static_cast<double>(pieces)) return {body, first + pieces, false, 0};
    const double whole = std::floor(at);
    return {body, first + static_cast<std::size_t>(whole), true, at - whole};
  }

  const CellSpec& cell_;
  const Model& model_;
  const ElasticSpec& spec_;
  int track_;
  ElasticChain out_;
};

}  // namespace

ElasticChain elastic_chain(const CellSpec& cell, const Model& model, const ElasticSpec& spec) { return Builder(cell, model, spec).build(); }

}  // namespace armwright
