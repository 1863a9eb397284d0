#include "armwright/spatial/inertia.hpp"

#include <vector>

#include "armwright/spatial/turns.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Point {
  double mass;
  Vec3 at;
};

// From the definition: sums over points.
Inertia of_points(const std::vector<Point>& points) {
  Inertia body;
  for (const auto& p : points) body.mass += p.mass;
  for (const auto& p : points) body.centre = body.centre + (p.mass / body.mass) * p.at;
  for (const auto& p : points) {
    const Vec3 r = p.at - body.centre;
    body.xx += p.mass * (r.y * r.y + r.z * r.z), body.yy += p.mass * (r.x * r.x + r.z * r.z), body.zz += p.mass * (r.x * r.x + r.y * r.y);
    body.xy -= p.mass * r.x * r.y, body.xz -= p.mass * r.x * r.z, body.yz -= p.mass * r.y * r.z;
  }
  return body;
}

void check_same(const Inertia& a, const Inertia& b) {
  CHECK(a.mass == Approx(b.mass).epsilon(1e-13));
  CHECK(norm(a.centre - b.centre) < 1e-13);
  const double parts[] = {a.xx - b.xx, a.yy - b.yy, a.zz - b.zz, a.xy - b.xy, a.xz - b.xz, a.yz - b.yz};
  for (const double part : parts) CHECK(std::fabs(part) < 1e-12);
}

std::vector<Point> cloud(Draw& draw, int count) {
  std::vector<Point> points;
  for (int i = 0; i < count; ++i) points.push_back({draw.uniform(0.1, 2), draw.vector(0.5)});
  return points;
}

}  // namespace

TEST_CASE("two bodies as one are the sum over all their points (Steiner's theorem)") {
  Draw draw{7};
  for (int k = 0; k < 50; ++k) {
    const auto a = cloud(draw, 5), b = cloud(draw, 3);
    auto all = a;
    all.insert(all.end(), b.begin(), b.end());
    check_same(of_points(a) + of_points(b), of_points(all));
  }
}

TEST_CASE("a body told in another frame is the sum over its moved points") {
  Draw draw{8};
  for (int k = 0; k < 50; ++k) {
    const auto points = cloud(draw, 6);
    const Pose X = draw.pose(1);
    auto moved = points;
    for (auto& p : moved) p.at = X * p.at;
    check_same(X * of_points(points), of_points(moved));
  }
}

TEST_CASE("two rods in a row are one rod: m l^2 / 12") {
  // Halves of a bar of 3 kg and 1.2 m along x, each 1.5 kg and 0.6 m.
  const double half = 1.5 * 0.6 * 0.6 / 12, whole = 3.0 * 1.2 * 1.2 / 12;
  const Inertia left{1.5, {-0.3, 0, 0}, 0, half, half, 0, 0, 0}, right{1.5, {0.3, 0, 0}, 0, half, half, 0, 0, 0};
  check_same(left + right, {3.0, {0, 0, 0}, 0, whole, whole, 0, 0, 0});
}

TEST_CASE("a body without mass changes nothing; two without mass have none") {
  Draw draw{9};
  const Inertia body = draw.body();
  check_same(body + Inertia{0, {5, 5, 5}}, body);
  check_same(Inertia{0, {5, 5, 5}} + body, body);
  const Inertia none = Inertia{} + Inertia{};
  CHECK(none.mass == 0);
  CHECK(none.centre.x == 0);
}
