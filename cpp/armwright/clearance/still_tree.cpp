#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <span>

#include "armwright/clearance/scene_data.hpp"

namespace armwright {

namespace {

constexpr std::size_t few = 32;  // boxes, which take longer with a tree than without

struct Ball {
  Vec3 centre;
  double radius, kept;  // m, the second with what is kept about the boxes
};

// With more than rounding can take off the test's numbers.
void write(const Ball& ball, StillBall& to) {
  const auto offset = [&](double radius) {
    const double square = dot(ball.centre, ball.centre);
    return square - radius * radius - 1e-14 * (square + radius * radius);
  };
  to.minus_twice_centre = -2.0 * ball.centre;
  to.offset = offset(ball.radius), to.minus_twice_radius = -2 * ball.radius;
  to.kept_offset = offset(ball.kept), to.kept_minus_twice_radius = -2 * ball.kept;
}

Ball read(const StillBall& ball) { return {-0.5 * ball.minus_twice_centre, -0.5 * ball.minus_twice_radius, -0.5 * ball.kept_minus_twice_radius}; }

// Around two balls: from far end to far end, or the one that holds the other.
Ball around(const Ball& a, const Ball& b) {
  const Vec3 way = b.centre - a.centre;
  const double apart = norm(way);
  const double share = apart > 0 ? std::clamp(0.5 + 0.5 * (b.radius - a.radius) / apart, 0.0, 1.0) : 0;
  const double to_a = share * apart, to_b = (1 - share) * apart;
  return {a.centre + share * way, std::max(to_a + a.radius, to_b + b.radius), std::max(to_a + a.kept, to_b + b.kept)};
}

// Around a few: about the middle of the box that holds them.
Ball around(std::span<const StillBall> balls) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  Vec3 low{infinity, infinity, infinity}, high = -low;
  for (const StillBall& one : balls) {
    const auto& [c, r, kept] = read(one);
    low = {std::min(low.x, c.x - r), std::min(low.y, c.y - r), std::min(low.z, c.z - r)};
    high = {std::max(high.x, c.x + r), std::max(high.y, c.y + r), std::max(high.z, c.z + r)};
  }
  Ball all{0.5 * (low + high), 0, 0};
  for (const StillBall& one : balls) {
    const auto& [c, r, kept] = read(one);
    const double apart = norm(c - all.centre);
    all.radius = std::max(all.radius, apart + r), all.kept = std::max(all.kept, apart + kept);
  }
  return all;
}

// Which boxes stand below which branch.
class Grower {
 public:
  Grower(const std::vector<StillBox>& boxes, StillTree& tree) : boxes_(boxes), tree_(tree) {}

  void grow(std::span<std::int32_t> boxes) {
    const std::size_t here = tree_.branches.size();
    tree_.branches.push_back({});
    tree_.branches[here].which = none_below;
    if (boxes.size() <= run) {
      tree_.branches[here].which = static_cast<std::int32_t>(tree_.balls.size());
      for (const std::int32_t j : boxes) tree_.balls.emplace_back().which = j;
    } else {
      const std::size_t first = half(boxes);
      grow(boxes.subspan(0, first));
      grow(boxes.subspan(first));
    }
    tree_.branches[here].next = static_cast<std::int32_t>(tree_.branches.size());
  }

 private:
  static constexpr std::size_t run = static_cast<std::size_t>(StillTree::run);
  const StillBox& box(std::int32_t j) const { return boxes_[static_cast<std::size_t>(j)]; }

  Vec3 spread(std::span<const std::int32_t> boxes) const {
    Vec3 low = box(boxes[0]).centre, high = low;
    for (const std::int32_t j : boxes) {
      const Vec3& c = box(j).centre;
      low = {std::min(low.x, c.x), std::min(low.y, c.y), std::min(low.z, c.z)};
      high = {std::max(high.x, c.x), std::max(high.y, c.y), std::max(high.z, c.z)};
    }
    return high - low;
  }

  // Halves them across the longest side, into whole runs.
  std::size_t half(std::span<std::int32_t> boxes) const {
    const std::size_t first = (boxes.size() + run - 1) / run / 2 * run;
    const Vec3 sides = spread(boxes);
    const double Vec3::*along = sides.x >= sides.y && sides.x >= sides.z ? &Vec3::x : sides.y >= sides.z ? &Vec3::y : &Vec3::z;
    std::nth_element(boxes.begin(), boxes.begin() + static_cast<std::ptrdiff_t>(first), boxes.end(), [&](std::int32_t i, std::int32_t j) { return box(i).centre.*along < box(j).centre.*along; });
    return first;
  }

  const std::vector<StillBox>& boxes_;
  StillTree& tree_;
};

}  // namespace

void grow_tree(Scene& scene) {
  std::vector<std::int32_t> order(scene.bounded);
  std::iota(order.begin(), order.end(), 0);
  const auto is_box = [&](std::int32_t j) { return scene.solids[scene.moving + static_cast<std::size_t>(j)].shape.kind == ShapeKind::box; };
  const auto others = std::stable_partition(order.begin(), order.end(), is_box);
  scene.tree = {};
  scene.tree.true_balls = static_cast<std::int32_t>(others - order.begin());
  if (scene.bounded <= few) {
    for (const std::int32_t j : order) scene.tree.balls.emplace_back().which = j;
    return bound_tree(scene);
  }
  Grower grower(scene.still, scene.tree);
  if (others != order.begin()) grower.grow({order.begin(), others});
  scene.tree.true_branches = static_cast<std::int32_t>(scene.tree.branches.size());
  if (others != order.end()) grower.grow({others, order.end()});
  bound_tree(scene);
}

void bound_tree(Scene& scene) {
  StillTree& tree = scene.tree;
  for (StillBall& ball : tree.balls) {
    const StillBox& box = scene.still[static_cast<std::size_t>(ball.which)];
    write({box.centre, box.radius, box.radius + box.kept}, ball);
  }
  // The last first: what is below a branch is done before it.
  for (std::size_t n = tree.branches.size(); n-- > 0;) {
    StillBall& branch = tree.branches[n];
    if (branch.which == none_below) {
      write(around(read(tree.branches[n + 1]), read(tree.branches[static_cast<std::size_t>(tree.branches[n + 1].next)])), branch);
    } else {
      const auto first = static_cast<std::size_t>(branch.which), end = static_cast<std::size_t>(tree.end(branch.which));
      write(around(std::span<const StillBall>(tree.balls).subspan(first, end - first)), branch);
    }
  }
}

}  // namespace armwright
