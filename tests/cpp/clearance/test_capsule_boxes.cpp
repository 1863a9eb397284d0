#include "catch_shim.hpp"

#include "armwright/clearance/capsule_boxes.hpp"
#include "solids.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// The least distance of points of a segment from a box by narrowing down thrice: it falls, then rises.
double searched(const Vec3& c, const Vec3& d, const Vec3& half) {
  const auto at = [&](double t) { return norm(excess(c + t * d, half)); };
  double low = -1, high = 1;
  for (int i = 0; i < 200; ++i) {
    const double a = low + (high - low) / 3, b = high - (high - low) / 3;
    (at(a) < at(b) ? high : low) = at(a) < at(b) ? b : a;
  }
  return std::min({at(-1), at(1), at(0.5 * (low + high))});
}

}  // namespace

TEST_CASE("the point of a segment nearest to a box is as near as a search finds, along axes and through the box too") {
  Dice dice(3);
  int through = 0, outside = 0;
  for (int i = 0; i < 40000; ++i) {
    const auto number = [&](double most) { return dice.within(-most, most); };
    Vec3 c{number(1.5), number(1.5), number(1.5)}, d{number(1), number(1), number(1)};
    const Vec3 half{dice.within(0.05, 1), dice.within(0.05, 1), dice.within(0.05, 1)};
    if (i % 3 == 0) d.x = 0;
    if (i % 5 == 0) d.y = 0;
    if (i % 7 == 0) d.z = 0;
    if (i % 11 == 0) d.x = 1e-12 * d.x;
    if (i % 13 == 0) c.y = half.y;
    if (i % 17 == 0) c.z = -half.z, c.x = half.x;
    CAPTURE(i, c.x, c.y, c.z, d.x, d.y, d.z);
    const double t = nearest_to_box(c, d, half), found = norm(excess(c + t * d, half)), least = searched(c, d, half);
    REQUIRE(std::fabs(t) <= 1);
    REQUIRE(std::fabs(found - least) <= 1e-9);
    (least > 0 ? outside : through) += 1;
    // Well within the box no rounding puts it outside.
    bool deep = true;
    for (const double u : {-1.0, -0.5, 0.0, 0.5, 1.0}) deep = deep && norm(excess(c + u * d, {half.x - 0.01, half.y - 0.01, half.z - 0.01})) == 0;
    if (deep) REQUIRE(found == 0);
  }
  CHECK(through > 3000);
  CHECK(outside > 5000);
}

TEST_CASE("distances of many capsules from many boxes are those of each from each") {
  Dice dice(4);
  int overlaps = 0;
  for (std::size_t count = 0; count <= 17; ++count) {
    for (std::size_t box_count = 0; box_count <= 3; ++box_count) {
      std::vector<ShapeSpec> capsules, boxes;
      std::vector<double> in, of_boxes, out(count * box_count);
      for (std::size_t i = 0; i < count; ++i) {
        capsules.push_back(i % 4 == 3 ? dice.solid(ShapeKind::sphere, 1.2) : dice.solid(ShapeKind::capsule, 1.2));
        const ShapeSpec& s = capsules.back();
        const Vec3 way = (s.kind == ShapeKind::sphere ? 0.0 : 0.5 * s.length) * s.pose.rotation.z, a = s.pose.position - way, b = s.pose.position + way;
        in.insert(in.end(), {a.x, a.y, a.z, b.x, b.y, b.z, s.radius});
      }
      for (std::size_t j = 0; j < box_count; ++j) {
        boxes.push_back(dice.solid(ShapeKind::box, 1));
        const auto& [R, p] = boxes.back().pose;
        const Vec3 half = 0.5 * boxes.back().size;
        of_boxes.insert(of_boxes.end(), {p.x, p.y, p.z, R.x.x, R.x.y, R.x.z, R.y.x, R.y.y, R.y.z, R.z.x, R.z.y, R.z.z, half.x, half.y, half.z});
      }
      capsule_box_distances(in, of_boxes, out);
      for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = 0; j < box_count; ++j) {
          CAPTURE(count, i, j);
          const double plain = distance(capsules[i], boxes[j]);
          REQUIRE(std::fabs(out[i * box_count + j] - plain) <= 1e-9);
          overlaps += plain < -capsules[i].radius;
        }
      }
    }
  }
  CHECK(overlaps > 20);
}
