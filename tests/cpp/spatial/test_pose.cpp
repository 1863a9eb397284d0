#include "armwright/spatial/pose.hpp"

#include "armwright/spatial/turns.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("a pose and its inverse leave a point where it was") {
  Draw draw{1};
  for (int k = 0; k < 200; ++k) {
    const Pose X = draw.pose(5);
    const Vec3 p = draw.vector(3);
    CHECK(norm(inverse(X) * (X * p) - p) < 1e-14);
    CHECK(norm(X * (inverse(X) * p) - p) < 1e-14);
    CHECK(norm(transpose_times(X.rotation, X.rotation * p) - p) < 1e-14);
  }
}

TEST_CASE("poses chain: (A B) p = A (B p)") {
  Draw draw{2};
  for (int k = 0; k < 200; ++k) {
    const Pose A = draw.pose(2), B = draw.pose(2);
    const Vec3 p = draw.vector(3);
    CHECK(norm((A * B) * p - A * (B * p)) < 1e-13);
  }
}

TEST_CASE("a quarter turn about z and a shift, by hand") {
  const Pose X{turn_about({0, 0, 1}, quarter_turn), {10, 20, 30}};
  CHECK(norm(X * Vec3{1, 2, 3} - Vec3{8, 21, 33}) < 1e-14);
}

TEST_CASE("rows of a 4 by 4 and back, to the bit") {
  Draw draw{3};
  const Pose X = draw.pose(2);
  double rows[16];
  pose_to_rows(X, rows);
  // Row i of the matrix is what component i of a moved point is made of.
  const Vec3 p{0.3, -0.7, 1.1}, moved = X * p;
  for (int i = 0; i < 3; ++i)
    CHECK(rows[4 * i] * p.x + rows[4 * i + 1] * p.y + rows[4 * i + 2] * p.z + rows[4 * i + 3] == Approx(i == 0 ? moved.x : i == 1 ? moved.y : moved.z).epsilon(1e-14));
  CHECK((rows[12] == 0 && rows[13] == 0 && rows[14] == 0 && rows[15] == 1));
  double again[16];
  pose_to_rows(pose_from_rows(rows), again);
  for (int i = 0; i < 16; ++i) CHECK(again[i] == rows[i]);
}
