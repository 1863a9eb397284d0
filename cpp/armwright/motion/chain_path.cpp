#include "armwright/motion/chain_path.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/joint_range.hpp"
#include "armwright/motion/corner.hpp"

namespace armwright {

namespace {

Pose tool_pose(const Model& model, const double* q) {
  std::array<Pose, max_joints> frames;
  joint_frames(model, q, frames.data());
  return frames[model.joint_count - 1] * model.tool;
}

std::vector<double> along(const PlacedLeg& leg, double local) {
  std::vector<double> q(leg.from.size());
  for (std::size_t i = 0; i < q.size(); ++i) q[i] = leg.from[i] + local / leg.extent * (leg.to[i] - leg.from[i]);
  return q;
}

void joint_rows(const PlacedLeg& leg, std::span<const double> local, PathRows& out) {
  for (const double s : local) {
    const double share = s / leg.extent;
    for (std::size_t i = 0; i < leg.from.size(); ++i) {
      const double way = leg.to[i] - leg.from[i];
      out.q.push_back(share == 1 ? leg.to[i] : leg.from[i] + share * way);
      out.first.push_back(way / leg.extent);
      out.second.push_back(0);
    }
  }
}

// How much of a leg, by its own parameter, lies within `distance` of its end (or start) at the tool point; at most half.
double cut(const Model& model, const PlacedLeg& leg, double distance, bool at_end) {
  const double half = 0.5 * leg.extent;
  if (leg.leg.by_tool) return leg.followed.curve.length > 0 ? std::min(half, distance * leg.extent / leg.followed.curve.length) : half;
  const Vec3 corner = tool_pose(model, at_end ? leg.to.data() : leg.from.data()).position;
  const auto off = [&](double d) { return norm(tool_pose(model, along(leg, at_end ? leg.extent - d : d).data()).position - corner); };
  double low = 0, high = half / 16;
  while (high < half && off(high) < distance) low = high, high += half / 16;
  high = std::min(high, half);
  if (off(high) <= distance) return high;
  for (int i = 0; i < 30; ++i) {
    const double middle = 0.5 * (low + high);
    (off(middle) < distance ? low : high) = middle;
  }
  return low;
}

// Parameters from `begin` to `end`, closer together where the motion starts or stops, so that they are about evenly spread in time;
// the very first and last interval there are tiny, since at rest a drive is asked for more than just after (see allowed()).
std::vector<double> spread(double begin, double end, bool starts, bool stops, int intervals) {
  constexpr double tiny = 1e-6, even = 0.1;
  const int inner = std::max(1, intervals - (starts ? 1 : 0) - (stops ? 1 : 0));
  const double first = starts ? tiny : 0, last = stops ? 1 - tiny : 1;
  std::vector<double> s{begin};
  for (int i = starts ? 0 : 1; i <= inner - (stops ? 0 : 1); ++i) {
    const double t = static_cast<double>(i) / inner;
    double g = t;
    if (starts && stops) g = t * t * (3 - 2 * t);
    else if (starts) g = t * t * (2 - t);
    else if (stops) g = 1 - (1 - t) * (1 - t) * (1 + t);
    s.push_back(begin + (end - begin) * (first + (last - first) * (even * t + (1 - even) * g)));
  }
  s.push_back(end);
  return s;
}

PathStop named(PathStop stop, const Leg& leg) {
  stop.move = leg.move;
  return stop;
}

// A leg's ends and extent. Extent 0: no motion.
PathStop place(const Model& model, const Leg& leg, std::span<const double> start, PlacedLeg& out) {
  out.leg = leg;
  out.from.assign(start.begin(), start.end());
  if (!leg.by_tool) {
    out.to = leg.to;
    if (leg.track_only) std::copy(start.begin() + 1, start.end(), out.to.begin() + 1);
    for (std::size_t i = 0; i < out.to.size(); ++i) out.extent = std::max(out.extent, std::fabs(out.to[i] - start[i]));
    const PastLimit past = farthest_past_limit(model, out.to.data());
    if (past.joint >= 0 && limit_margin(model, out.to.data()) < 0) return {PathTrouble::joint_range, leg.move, past.joint, 1, past.by};
    return {};
  }
  const Pose from = tool_pose(model, start.data());
  out.followed.track_to = leg.track_to;
  if (leg.round) {
    if (!tool_arc(from, leg.via, leg.tool_to, out.followed.curve)) return {PathTrouble::no_circle, leg.move, -1, 0, 0};
  } else {
    out.followed.curve = tool_line(from, leg.tool_to);
  }
  const double track = model.has_track && !std::isnan(leg.track_to) ? std::fabs(leg.track_to - start[0]) : 0;
  ToolCurve& curve = out.followed.curve;
  curve.extent = std::max(curve.extent, track > 1e-12 ? track : 0);
  out.extent = curve.extent;
  return {};
}

// Rows of a leg between its cuts, and where it ends.
PathStop fill(const ArmInverse* inverse, PlacedLeg& leg, bool starts, bool stops, int intervals) {
  // Two corners may meet in the leg's middle: then nothing but that place is left of it.
  std::vector<double> s = leg.end - leg.begin > 1e-9 * leg.extent ? spread(leg.begin, leg.end, starts, stops, intervals) : std::vector<double>{leg.begin};
  leg.rows = {};
  leg.rows.joint_count = leg.from.size();
  leg.rows.s = s;
  if (!leg.leg.by_tool) {
    joint_rows(leg, s, leg.rows);
    return {};
  }
  if (leg.end < leg.extent) s.push_back(leg.extent);
  const PathStop stop = follow(*inverse, leg.followed, leg.from, s, leg.rows);
  if (!stop.good()) return named(stop, leg.leg);
  const std::size_t n = leg.from.size();
  leg.to.assign(leg.rows.q.end() - static_cast<std::ptrdiff_t>(n), leg.rows.q.end());
  for (auto* values : {&leg.rows.q, &leg.rows.first, &leg.rows.second}) values->resize(leg.rows.rows() * n);
  return {};
}

struct Builder {
  const Model& model;
  const ArmInverse* inverse;
  const PathGrid& grid;
  ChainPath& chain;
  std::vector<double> share;  // of the blend distance that each corner may take

  // Legs in order, each from where the one before ends; the cuts are known from the legs' own shapes.
  PathStop lay(std::span<const double> start, std::span<const Leg> legs) {
    chain = {};
    std::vector<double> q(start.begin(), start.end());
    for (const Leg& leg : legs) {
      PlacedLeg placed;
      if (const PathStop stop = place(model, leg, q, placed); !stop.good()) return stop;
      if (placed.extent <= 0) {
        if (!leg.by_tool) q = placed.to;
        continue;
      }
      placed.end = placed.extent;
      if (!chain.legs.empty()) {
        PlacedLeg& before = chain.legs.back();
        const std::size_t corner = chain.legs.size() - 1;
        share.resize(std::max(share.size(), corner + 1), 1.0);
        const double distance = share[corner] * before.leg.blend;
        before.end = before.extent - cut(model, before, distance, true);
        placed.begin = cut(model, placed, distance, false);
        placed.scale = before.scale * (before.extent - before.end) / placed.begin;
        if (const PathStop stop = fill(inverse, before, corner == 0, false, grid.leg); !stop.good()) return stop;
      }
      // Where a tool leg ends is known only when it has been followed; its grid is laid again once its cut is known.
      if (leg.by_tool && &leg != &legs.back()) {
        if (const PathStop stop = fill(inverse, placed, true, true, grid.leg); !stop.good()) return stop;
      }
      q = placed.to;
      chain.legs.push_back(std::move(placed));
    }
    if (chain.legs.empty()) {
      chain.end = q;
      return {};
    }
    const PathStop stop = fill(inverse, chain.legs.back(), chain.legs.size() == 1, true, grid.leg);
    chain.end = chain.legs.back().to;
    return stop;
  }

  // The corners, and everything along one parameter. False: corner `wide` leaves its ball.
  bool join(std::size_t& wide) {
    double s = 0;
    chain.rows = {};
    chain.rows.joint_count = model.joint_count;
    for (std::size_t k = 0; k < chain.legs.size(); ++k) {
      PlacedLeg& leg = chain.legs[k];
      leg.offset = s;
      append_scaled(leg.rows, leg, chain.rows);
      s = chain.rows.s.back();
      if (k + 1 == chain.legs.size()) break;
      const PlacedLeg& next = chain.legs[k + 1];
      chain.corners.push_back(corner_between(leg, next, s));
      const Vec3 at = tool_pose(model, leg.to.data()).position;
      const std::size_t first = chain.rows.rows();
      append_corner(chain.corners.back(), leg.leg.move, next.leg.move, grid.blend, chain.rows);
      for (std::size_t row = first; row < chain.rows.rows(); ++row) {
        const Vec3 tool = tool_pose(model, chain.rows.q.data() + row * model.joint_count).position;
        if (norm(tool - at) > leg.leg.blend * (1 + 1e-9)) {
          wide = k;
          return false;
        }
      }
      s += chain.corners.back().extent;
    }
    return true;
  }
};

}  // namespace

PathStop build_chain(const Model& model, const ArmInverse* inverse, std::span<const double> start, std::span<const Leg> legs,
                     const PathGrid& grid, ChainPath& out) {
  Builder builder{model, inverse, grid, out, {}};
  for (int attempt = 0; attempt < 40; ++attempt) {
    if (const PathStop stop = builder.lay(start, legs); !stop.good()) return stop;
    std::size_t wide = 0;
    if (builder.join(wide)) break;
    builder.share[wide] *= 0.6;
  }
  const std::size_t n = model.joint_count;
  for (std::size_t row = 0; row < out.rows.rows(); ++row) {
    const double* q = out.rows.q.data() + row * n;
    if (limit_margin(model, q) >= 0) continue;
    const PastLimit past = farthest_past_limit(model, q);
    if (past.joint >= 0) return {PathTrouble::joint_range, out.rows.move[row], past.joint, out.rows.s[row] / out.rows.s.back(), past.by};
  }
  return {};
}

PathStop sample_chain(const Model& model, const ArmInverse* inverse, const ChainPath& chain, std::span<const double> s, PathRows& out) {
  out = {};
  out.joint_count = model.joint_count;
  std::size_t at = 0;
  std::vector<double> local;
  for (std::size_t k = 0; k < chain.legs.size(); ++k) {
    const PlacedLeg& leg = chain.legs[k];
    const bool last = k + 1 == chain.legs.size();
    const double until = last ? s.empty() ? 0 : s.back() : chain.corners[k].offset;
    local.clear();
    for (; at < s.size() && (last || s[at] <= until); ++at) local.push_back(std::clamp(leg.begin + (s[at] - leg.offset) / leg.scale, leg.begin, leg.end));
    PathRows rows;
    if (leg.leg.by_tool) {
      if (const PathStop stop = follow(*inverse, leg.followed, leg.from, local, rows); !stop.good()) return named(stop, leg.leg);
    } else {
      joint_rows(leg, local, rows);
    }
    rows.s = local;
    append_scaled(rows, leg, out);
    if (last) break;
    const Corner& corner = chain.corners[k];
    for (; at < s.size() && s[at] < corner.offset + corner.extent; ++at)
      append_corner_at(corner, (s[at] - corner.offset) / corner.extent, leg.leg.move, chain.legs[k + 1].leg.move, out);
  }
  return {};
}

}  // namespace armwright
