#include "armwright/kinematics/attitudes.hpp"

#include <algorithm>

#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("directions are spread evenly: they balance, and every cap holds its share") {
  Draw draw{1};
  for (const std::size_t count : {20, 60, 200, 1000}) {
    const auto directions = spread_directions(count);
    REQUIRE(directions.size() == count);
    Vec3 sum{0, 0, 0};
    for (const Vec3& d : directions) {
      CHECK(norm(d) == Approx(1).epsilon(1e-14));
      sum = sum + d;
    }
    CHECK(norm(sum) < 1.0);
    // A cap of height h of the unit sphere has h / 2 of its area (Archimedes).
    const double n = static_cast<double>(count);
    for (int k = 0; k < 100; ++k) {
      const Vec3 towards = draw.direction();
      const double height = draw.uniform(0.2, 1);
      const auto held = std::count_if(directions.begin(), directions.end(), [&](const Vec3& d) { return dot(d, towards) > 1 - height; });
      CHECK(std::fabs(static_cast<double>(held) - 0.5 * height * n) < 1.5 * std::sqrt(n));
    }
  }
}

TEST_CASE("no two directions come close, and none is far from the next") {
  for (const std::size_t count : {30, 60, 300}) {
    const auto directions = spread_directions(count);
    const double even = std::sqrt(4 * half_turn / static_cast<double>(count));  // side of a square of each one's share
    for (std::size_t i = 0; i < count; ++i) {
      double nearest = half_turn;
      for (std::size_t j = 0; j < count; ++j)
        if (i != j) nearest = std::min(nearest, std::acos(std::clamp(dot(directions[i], directions[j]), -1.0, 1.0)));
      CHECK(nearest > 0.6 * even);
      CHECK(nearest < 1.2 * even);
    }
  }
}

TEST_CASE("a cone's directions are inside it, with the axis first, the rim covered and no gap") {
  Draw draw{2};
  for (const double half_angle : {0.1, 0.5, 1.5, half_turn}) {
    const Vec3 axis = draw.direction();
    const double step = 0.2;
    const auto directions = cone_directions(axis, half_angle, step);
    CHECK(norm(directions[0] - axis) == 0);
    double widest = 0;
    for (const Vec3& d : directions) {
      CHECK(norm(d) == Approx(1).epsilon(1e-14));
      const double tilt = std::acos(std::clamp(dot(d, axis), -1.0, 1.0));
      CHECK(tilt <= half_angle + 1e-7);
      widest = std::max(widest, tilt);
    }
    CHECK(widest == Approx(half_angle).margin(1e-7));
    for (int k = 0; k < 200; ++k) {  // any direction within the cone has one near it
      const Rotation frame = frame_on(axis);
      const double tilt = draw.uniform(0, half_angle), turn = draw.uniform(0, 7);
      const Vec3 wanted = frame * Vec3{std::sin(tilt) * std::cos(turn), std::sin(tilt) * std::sin(turn), std::cos(tilt)};
      double nearest = 9;
      for (const Vec3& d : directions) nearest = std::min(nearest, std::acos(std::clamp(dot(d, wanted), -1.0, 1.0)));
      CHECK(nearest <= 0.75 * step);
    }
  }
  CHECK(cone_directions({0, 0, 1}, 0, 0.1).size() == 1);
}

TEST_CASE("attitudes have their z along the direction, and their spins are spread over a turn") {
  const auto directions = spread_directions(15);
  const auto attitudes = attitudes_along(directions, 4);
  REQUIRE(attitudes.size() == 60);
  for (std::size_t k = 0; k < attitudes.size(); ++k) {
    const Rotation& R = attitudes[k];
    CHECK(norm(R.z - directions[k / 4]) < 1e-14);
    CHECK(norm(cross(R.x, R.y) - R.z) < 1e-14);
    CHECK(dot(R.x, attitudes[4 * (k / 4)].x) == Approx(std::cos(quarter_turn * static_cast<double>(k % 4))).margin(1e-14));
  }
}

TEST_CASE("tilting brings z where it is wanted, by the least turn") {
  Draw draw{3};
  for (int k = 0; k < 200; ++k) {
    const Rotation R = draw.pose(1).rotation;
    const Vec3 wanted = draw.direction();
    const Rotation tilted = tilted_to(R, wanted);
    CHECK(norm(tilted.z - wanted) < 1e-13);
    CHECK(angle_between(R, tilted) == Approx(std::acos(std::clamp(dot(R.z, wanted), -1.0, 1.0))).margin(1e-7));
  }
  const Rotation R = draw.pose(1).rotation;
  CHECK(angle_between(tilted_to(R, R.z), R) < 1e-14);
  CHECK(norm(tilted_to(R, -R.z).z + R.z) < 1e-14);
}
