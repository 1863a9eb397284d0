#include "armwright/studies/outlines.hpp"

#include <limits>
#include <numbers>

#include "armwright/kinematics/attitudes.hpp"
#include "armwright/kinematics/wrist_centre.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

// The half-plane that a section is told in.
struct SectionPlane {
  Vec3 root, outward, along;  // root: the point of axis 1 at height 0
};

SectionPlane section_plane(const Model& model, double track) {
  const std::size_t first = model.has_track ? 1 : 0;
  std::array<double, max_joints> q{};
  for (std::size_t i = 0; i < model.joint_count; ++i)
    q[i] = std::isfinite(model.lower[i] + model.upper[i]) ? 0.5 * (model.lower[i] + model.upper[i]) : 0;
  if (model.has_track) q[0] = track;
  std::array<Pose, max_joints> frames;
  joint_frames(model, q.data(), frames.data());
  const Pose& axis = frames[first];
  SectionPlane plane;
  plane.along = axis.rotation.z;
  const Vec3 away = frames[model.joint_count - 1] * model.tool.position - axis.position;
  const Vec3 flat = away - dot(away, plane.along) * plane.along;
  plane.outward = norm(flat) > 1e-6 ? (1 / norm(flat)) * flat : axis.rotation.x;
  plane.root = axis.position - dot(axis.position, plane.along) * plane.along;
  return plane;
}

class Reachable {
 public:
  Reachable(const PostureSearch& search, const OutlineRequest& request)
      : search_(search),
        turns_freely_(request.directions == 0),
        lattice_(turns_freely_ ? std::vector<Rotation>{frame_on({0.36, 0.48, 0.8})} : attitudes_along(spread_directions(request.directions), request.spins)) {}

  bool operator()(PostureWork& work, const Vec3& position, const HeldArm& held, const StopSign& stop) const {
    if (is_beyond_reach(search_, position, held)) return false;
    const Vec3 root = arm_root(*search_.model, search_.samples_track ? held.held[0] : 0);
    Rotation best = no_rotation;
    double margin = -std::numeric_limits<double>::infinity();
    const auto fan = turns_freely_ ? std::vector<Rotation>{} : along_line(position - root);
    for (const auto* attitudes : {&fan, &lattice_})
      for (const Rotation& attitude : *attitudes) {
        if (stop.raised()) return false;
        const double its = best_margin(work, {attitude, position}, held);
        if (its >= 0) return true;
        if (its > margin) margin = its, best = attitude;
      }
    return !turns_freely_ && std::isfinite(margin) && turned_into_range(work, position, held, best, margin);
  }

 private:
  // How far within the joint limits the best answer lies; minus infinity where there is none.
  double best_margin(PostureWork& work, const Pose& target, const HeldArm& held) const {
    double best = -std::numeric_limits<double>::infinity();
    solve_arm(*search_.inverse, held, target, work.solutions);
    for (int i = 0; i < work.solutions.count; ++i)
      best = std::max(best, limit_margin(*search_.model, work.solutions.solution[static_cast<std::size_t>(i)].q.data()));
    return best;
  }

  // Where all attitudes tried pass a joint limit, the one that passes it by least is turned, a step each way about each
  // axis, as long as that helps: between the attitudes tried there may be one that fits.
  bool turned_into_range(PostureWork& work, const Vec3& position, const HeldArm& held, Rotation attitude, double margin) const {
    for (double step = 0.2; step > 0.005;) {
      Rotation better = attitude;
      double its = margin;
      for (const Vec3& axis : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}})
        for (const double sign : {1.0, -1.0}) {
          const Rotation turned = attitude * turn_about(axis, sign * step);
          const double found = best_margin(work, {turned, position}, held);
          if (found > its) its = found, better = turned;
        }
      if (its >= 0) return true;
      if (its > margin) margin = its, attitude = better;
      else step *= 0.5;
    }
    return false;
  }

  // Reach ends where the arm is stretched, the tool along the line from the arm; or, where a joint limit ends it, with
  // the tool bent to one side: so a fan of directions about that line, and straight back along it.
  static std::vector<Rotation> along_line(const Vec3& away) {
    const double length = norm(away);
    if (length < 1e-9) return {};
    const Vec3 line = (1 / length) * away;
    Vec3 across = cross(line, {0, 0, 1});
    across = norm(across) > 1e-9 ? (1 / norm(across)) * across : Vec3{1, 0, 0};
    std::vector<Vec3> directions{line};
    for (const double tilt : {0.1, 0.25, 0.5, 0.8, 1.1, 1.4, 1.7, 2.1})
      for (const double turn : {0.0, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75})
        directions.push_back(turn_about(line, turn * std::numbers::pi) * (turn_about(across, tilt) * line));
    directions.push_back(-line);
    return attitudes_along(directions, 1);
  }

  const PostureSearch& search_;
  bool turns_freely_;
  std::vector<Rotation> lattice_;
};

using Locate = std::function<bool(PostureWork&, const Point2&, const StopSign&)>;

// Pieces of the whole: a part's own, told as those after `before` of `all`.
Progress as_part(const Progress& progress, std::size_t before, std::size_t all) {
  if (!progress.report) return {};
  return {[&progress, before, all](std::size_t done, std::size_t) { return progress.report(before + done, all); }};
}

struct Drawn {
  FlatGrid grid;
  std::vector<std::uint8_t> marked;
  std::vector<Point2> curves;
};

// Marks the grid, then draws the boundary with crossings found by halving: a piece a row, and one. `before` of `all`
// pieces are done already.
bool draw(Drawn& drawn, const Locate& reached, std::vector<PostureWork>& work, unsigned threads, const Progress& progress, std::size_t before, std::size_t all) {
  const FlatGrid& grid = drawn.grid;
  std::vector<std::uint8_t>& marked = drawn.marked;
  marked.assign(grid.size(), 0);
  const bool done = for_each_piece(grid.count[0], threads, as_part(progress, before, all), [&](std::size_t row, std::size_t worker, const StopSign& stop) {
    for (std::size_t j = 0; j < grid.count[1] && !stop.raised(); ++j) {
      const std::size_t index = row * grid.count[1] + j;
      marked[index] = reached(work[worker], grid.position(index), stop);
    }
  });
  if (!done) return false;
  return for_each_piece(1, 1, as_part(progress, before + grid.count[0], all), [&](std::size_t, std::size_t worker, const StopSign& stop) {
    drawn.curves = outline_of(grid, marked, [&](std::size_t inside, std::size_t outside) {
      Point2 good = grid.position(inside), bad = grid.position(outside);
      for (int halving = 0; halving < 6 && !stop.raised(); ++halving) {
        const Point2 middle{0.5 * (good[0] + bad[0]), 0.5 * (good[1] + bad[1])};
        (reached(work[worker], middle, stop) ? good : bad) = middle;
      }
      return Point2{0.5 * (good[0] + bad[0]), 0.5 * (good[1] + bad[1])};
    });
  });
}

FlatGrid grid_over(double lower_u, double upper_u, double lower_v, double upper_v, double spacing) {
  const auto points = [&](double lower, double upper) { return static_cast<std::size_t>(std::ceil((upper - lower) / spacing)) + 1; };
  return {{lower_u, lower_v}, spacing, {points(lower_u, upper_u), points(lower_v, upper_v)}};
}

// The samples of one track position alone, moved to another.
std::vector<HeldArm> standing_still(const PostureSearch& search, double track) {
  if (!search.samples_track) return search.samples;
  std::vector<HeldArm> samples;
  for (const HeldArm& sample : search.samples) {
    if (sample.held[0] != search.samples.front().held[0]) break;
    auto values = sample.held;
    values[0] = track;
    samples.push_back(hold(*search.inverse, values));
  }
  return samples;
}

// Heights at which the section holds a point at distance r from axis 1, next to the middle of the reach first. Turning
// about axis 1 changes neither, so no other height is worth a solution.
std::vector<double> heights_at(const Drawn& section, double r, double middle) {
  std::vector<double> heights;
  const FlatGrid& grid = section.grid;
  const auto column = static_cast<std::size_t>(r / grid.spacing);
  if (column + 1 >= grid.count[0]) return heights;
  for (std::size_t j = 0; j < grid.count[1]; ++j)
    if (section.marked[column * grid.count[1] + j] || section.marked[(column + 1) * grid.count[1] + j]) heights.push_back(grid.position(j)[1]);
  std::sort(heights.begin(), heights.end(), [&](double x, double y) { return std::fabs(x - middle) < std::fabs(y - middle); });
  return heights;
}

}  // namespace

Outlines outlines(const PostureSearch& search, const OutlineRequest& request, unsigned threads, const Progress& progress) {
  const Model& model = *search.model;
  const double middle = model.has_track ? 0.5 * (model.lower[0] + model.upper[0]) : 0;
  const SectionPlane plane = section_plane(model, middle);
  const double reach = search.reach + request.spacing, height = dot(arm_root(model, middle), plane.along);
  auto work = make_posture_work(search, worker_count(static_cast<std::size_t>(-1), threads));

  Outlines answer;
  Drawn section{grid_over(0, reach, height - reach, height + reach, request.spacing), {}, {}};
  const Reachable reached(search, request);
  const auto still = standing_still(search, middle);
  const auto in_section = [&](PostureWork& scratch, const Point2& p, const StopSign& stop) {
    const Vec3 position = plane.root + p[0] * plane.outward + p[1] * plane.along;
    return std::any_of(still.begin(), still.end(), [&](const HeldArm& held) { return reached(scratch, position, held, stop); });
  };
  const Vec3 a = arm_root(model, model.has_track ? model.lower[0] : 0), b = arm_root(model, model.has_track ? model.upper[0] : 0);
  Drawn plan{grid_over(std::min(a.x, b.x) - reach, std::max(a.x, b.x) + reach, std::min(a.y, b.y) - reach, std::max(a.y, b.y) + reach, request.spacing), {}, {}};
  const std::size_t first = section.grid.count[0] + 1, all = first + plan.grid.count[0] + 1;
  if (!draw(section, in_section, work, threads, progress, 0, all)) return answer;
  answer.section = section.curves;

  const bool upright = plane.along.z > 1 - 1e-9;
  const auto in_plan = [&](PostureWork& scratch, const Point2& p, const StopSign& stop) {
    for (const HeldArm& held : search.samples) {
      const Vec3 root = arm_root(model, search.samples_track ? held.held[0] : 0);
      if (upright) {
        for (const double h : heights_at(section, std::hypot(p[0] - root.x, p[1] - root.y), height))
          if (reached(scratch, {p[0], p[1], h}, held, stop)) return true;
      } else {
        for (double z = root.z - reach; z <= root.z + reach; z += 2 * request.spacing)
          if (reached(scratch, {p[0], p[1], z}, held, stop)) return true;
      }
    }
    return false;
  };
  answer.complete = draw(plan, in_plan, work, threads, progress, first, all);
  answer.plan = plan.curves;
  return answer;
}

Model at_wrist_centre(const Model& model) {
  Model moved = model;
  moved.tool = {no_rotation, wrist_centre(model)};
  return moved;
}

}  // namespace armwright
