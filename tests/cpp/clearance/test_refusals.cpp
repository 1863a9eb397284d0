#include "catch_shim.hpp"

#include <limits>

#include "armwright/clearance/mesh.hpp"
#include "armwright/clearance/scene.hpp"
#include "armwright/support/refused.hpp"
#include "cells.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// What build_scene says about a fixture; "" if it takes it.
std::string answer(ShapeSpec shape, bool on_link = false) {
  CellSpec cell = plain_cell();
  shape.name = "post";
  if (on_link) cell.arm.links[2].shapes = {shape};
  else cell.fixtures = {shape};
  const Model model = compile(cell);
  try {
    build_scene(cell, model);
  } catch (const Refused& refused) {
    return refused.what();
  }
  return "";
}

bool names_post(const std::string& text) { return text.find("post") != std::string::npos; }

}  // namespace

TEST_CASE("solids without volume, or not of numbers, are refused by name") {
  const double nan = std::numeric_limits<double>::quiet_NaN(), infinity = std::numeric_limits<double>::infinity();
  for (const double bad : {0.0, -1.0, nan, infinity, 1e9}) {
    CHECK(names_post(answer(sphere(bad))));
    CHECK(names_post(answer(capsule(bad, 1))));
    CHECK(names_post(answer(capsule(1, bad))));
    CHECK(names_post(answer(cylinder(bad, 1))));
    CHECK(names_post(answer(cylinder(1, bad))));
    CHECK(names_post(answer(box({1, bad, 1}))));
    CHECK(names_post(answer(box({1, bad, 1}), true)));
  }
  ShapeSpec asked = sphere(1);
  for (const double bad : {-0.1, nan, infinity}) {
    asked.clearance = bad;
    CHECK(names_post(answer(asked)));
  }
  CHECK(names_post(answer(sphere(1, at({nan, 0, 0})))));
  CHECK(names_post(answer(sphere(1, {{{2, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {0, 0, 0}}))));
  CHECK(answer(sphere(1)).empty());
}

TEST_CASE("a half-space on a link is refused, as a fixture it is taken") {
  CHECK(names_post(answer(half_space(), true)));
  CHECK(answer(half_space()).empty());
}

TEST_CASE("hulls of points in a plane, or too few, are refused") {
  CHECK(names_post(answer(hull({}))));
  CHECK(names_post(answer(hull({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}))));
  CHECK(names_post(answer(hull({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}, {0.5, 0.2, 0}}))));
  CHECK(names_post(answer(hull({{0, 0, 0}, {0, 0, 0}, {0, 0, 0}, {0, 0, 0}}))));
  CHECK(names_post(answer(hull({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, std::nan("")}}))));
  CHECK(answer(hull({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}})).empty());
}

TEST_CASE("open, empty, flat and miswoven meshes are refused") {
  auto triangles = box_triangles();
  const auto corners = box_corners({1, 1, 1});
  CHECK(answer(mesh(corners, triangles)).empty());
  CHECK(names_post(answer(mesh(corners, {}))));
  CHECK(names_post(answer(mesh({}, {}))));
  auto open = triangles;
  open.pop_back();
  CHECK(answer(mesh(corners, open)).find("open surface: 3 edges") != std::string::npos);
  auto turned = triangles;
  std::swap(turned[3][0], turned[3][1]);
  CHECK(names_post(answer(mesh(corners, turned))));
  auto beyond = triangles;
  beyond[0][0] = 8;
  CHECK(names_post(answer(mesh(corners, beyond))));
  beyond[0][0] = -1;
  CHECK(names_post(answer(mesh(corners, beyond))));
  CHECK(names_post(answer(mesh({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}, {0, 2, 1}}))));
  std::vector<std::array<std::int32_t, 3>> many(max_triangles + 1, {0, 1, 2});
  CHECK(answer(mesh(corners, many)).find("at most") != std::string::npos);
}

TEST_CASE("a mesh with repeated corners, or inside out, is the same solid") {
  const auto corners = box_corners({1, 1, 1});
  std::vector<Vec3> loose;
  std::vector<std::array<std::int32_t, 3>> triangles;
  for (const auto& t : box_triangles()) {
    const auto first = static_cast<std::int32_t>(loose.size());
    for (const std::int32_t i : t) loose.push_back(corners[static_cast<std::size_t>(i)]);
    triangles.push_back({first, first + 2, first + 1});
  }
  CHECK(std::fabs(distance(mesh(loose, triangles), sphere(0.25, at({2, 0, 0}))) - 1.25) < 1e-12);
  CHECK(std::fabs(distance(mesh(loose, triangles), sphere(0.25, at({0.4, 0, 0}))) + 0.35) < 1e-12);
}

TEST_CASE("a name among the ignored pairs that nothing has is refused") {
  CellSpec cell = plain_cell();
  cell.ignored_pairs = {{"forearm", "forarm"}};
  const Model model = compile(cell);
  CHECK_THROWS_AS(build_scene(cell, model), Refused);
}
