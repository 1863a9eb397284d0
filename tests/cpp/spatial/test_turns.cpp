#include "armwright/spatial/turns.hpp"

#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

double off_square(const Rotation& R) {
  const double parts[] = {dot(R.x, R.y), dot(R.y, R.z), dot(R.z, R.x), norm(R.x) - 1, norm(R.y) - 1, norm(R.z) - 1, dot(cross(R.x, R.y), R.z) - 1};
  double most = 0;
  for (const double part : parts) most = std::fmax(most, std::fabs(part));
  return most;
}

}  // namespace

TEST_CASE("a turn keeps its axis, turns what is square to it by its angle, and is square itself") {
  Draw draw{4};
  for (int k = 0; k < 300; ++k) {
    const Vec3 axis = draw.direction();
    const double angle = draw.uniform(-9, 9);
    const Rotation R = turn_about(axis, angle);
    CHECK(off_square(R) < 1e-14);
    CHECK(norm(R * axis - axis) < 1e-14);
    const Rotation frame = frame_on(axis);
    const Vec3 expected = std::cos(angle) * frame.x + std::sin(angle) * frame.y;
    CHECK(norm(R * frame.x - expected) < 1e-14);
  }
}

TEST_CASE("the angle of a turn is good at both ends") {
  Draw draw{5};
  for (const double angle : {0.0, 1e-12, 1e-8, 1e-3, 1.0, 3.0, half_turn - 1e-8, half_turn - 1e-12, half_turn}) {
    const Vec3 axis = draw.direction();
    CAPTURE(angle);
    CHECK(std::fabs(angle_of(turn_about(axis, angle)) - angle) < 4e-15);
    const Rotation A = draw.pose(1).rotation;
    CHECK(std::fabs(angle_between(A, A * turn_about(axis, angle)) - angle) < 4e-15);
    CHECK(std::fabs(angle_between(A * turn_about(axis, -angle), A) - angle) < 4e-15);
  }
}

TEST_CASE("a frame on any direction is square and always the same for the same direction") {
  Draw draw{6};
  for (int k = 0; k < 300; ++k) {
    const Vec3 z = k == 0 ? Vec3{0, 0, 1} : k == 1 ? Vec3{0, 0, -1} : k == 2 ? Vec3{1, 0, 0} : draw.direction();
    const Rotation R = frame_on(z), again = frame_on(z);
    CHECK(off_square(R) < 1e-14);
    CHECK(norm(R.z - z) == 0);
    CHECK((R.x.x == again.x.x && R.x.y == again.x.y && R.x.z == again.x.z));
  }
}
