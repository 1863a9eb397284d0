#include "armwright/support/with_lanes.hpp"

#include "armwright/kinematics/forward.hpp"
#include "armwright/kinematics/jacobian_columns.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// The last joint's frame and the manipulability of a pack of rows, a run of 13 numbers a row.
struct Body {
  const Model& model;
  const double* q;
  double* out;
  std::size_t* width;

  template <class T>
  ARMWRIGHT_INLINE void operator()() const {
    Pose3<T> frames[max_joints];
    JacobianColumn<T> columns[max_joints];
    joint_frames(model, q, frames);
    jacobian_columns(model, frames, columns);
    const auto& [R, p] = frames[model.joint_count - 1];
    const T told[13] = {R.x.x, R.x.y, R.x.z, R.y.x, R.y.y, R.y.z, R.z.x, R.z.y, R.z.z, p.x, p.y, p.z, gram_volume<0, 6>(columns, model.joint_count)};
    for (std::size_t i = 0; i < 13; ++i) store_rows(told[i], out, 13, i);
    *width = width_of<T>;
  }
};

template <class Run>
void agrees_with_numbers(std::size_t lanes, const Run& run) {
  Draw draw{3};
  for (int round = 0; round < 200; ++round) {
    const Model model = compile(random_cell(draw, 1 + static_cast<std::size_t>(round % 8), round % 2 == 1));
    const std::size_t n = model.joint_count;
    std::vector<double> q(8 * n), several(8 * 13), one(13);
    for (double& x : q) x = draw.uniform(-4, 4) * (round % 5 == 0 ? 1e5 : 1);
    std::size_t width = 0;
    run(Body{model, q.data(), several.data(), &width});
    REQUIRE(width == lanes);
    for (std::size_t k = 0; k < lanes; ++k) {
      Body{model, q.data() + k * n, one.data(), &width}.operator()<double>();
      const double size = 1 + std::fabs(one[9]) + std::fabs(one[10]) + std::fabs(one[11]);
      for (std::size_t i = 0; i < 12; ++i) CHECK(several[13 * k + i] == Approx(one[i]).margin(1e-13 * size));
      // A volume near nothing is the root of a rounded difference.
      CHECK(several[13 * k + 12] == Approx(one[12]).epsilon(1e-6).margin(1e-6 * std::pow(size, 3)));
    }
  }
}

}  // namespace

#if ARMWRIGHT_INSTRUCTION_SETS
TEST_CASE("eight lanes tell what numbers tell, where the processor has them") {
  if (!__builtin_cpu_supports("x86-64-v4")) return;
  agrees_with_numbers(8, [](const Body& body) { detail::with_eight(body); });
}

TEST_CASE("four lanes tell what numbers tell, where the processor has them") {
  if (!__builtin_cpu_supports("x86-64-v3")) return;
  agrees_with_numbers(4, [](const Body& body) { detail::with_four(body); });
}

TEST_CASE("four lanes of any processor tell what numbers tell") {
  agrees_with_numbers(4, [](const Body& body) { detail::with_plain(body); });
}
#endif

TEST_CASE("the lanes of this processor are four or eight") {
  Draw draw{4};
  const Model model = compile(random_cell(draw, 6));
  std::vector<double> q(8 * 6, 0.3), out(8 * 13);
  std::size_t width = 0;
  with_lanes(Body{model, q.data(), out.data(), &width});
  CHECK((width == 4 || width == 8));
  for (std::size_t k = 1; k < width; ++k) CHECK(std::equal(out.begin(), out.begin() + 13, out.begin() + static_cast<long>(13 * k)));
}
