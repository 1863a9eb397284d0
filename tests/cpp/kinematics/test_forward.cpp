#include "armwright/kinematics/forward.hpp"

#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

std::vector<double> random_rows(Draw& draw, std::size_t rows, std::size_t n) {
  std::vector<double> q(rows * n);
  for (double& x : q) x = draw.uniform(-4, 4);
  return q;
}

}  // namespace

TEST_CASE("tool and link poses are what multiplying the description gives") {
  Draw draw{1};
  for (std::size_t joints = 1; joints <= 12; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints > 3);
    if (joints < 12) cell.track = random_track(draw);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count, rows = 7;
    const auto q = random_rows(draw, rows, n);
    std::vector<double> tools(rows * 16), links(rows * n * 16);
    tool_poses(model, q, tools);
    link_poses(model, q, links);
    for (std::size_t row = 0; row < rows; ++row) {
      const SlowFrames slow = slow_frames(cell, q.data() + row * n);
      CHECK(furthest(pose_from_rows(tools.data() + 16 * row), slow.tool) < 3e-14);
      for (std::size_t i = 0; i < n; ++i) CHECK(furthest(pose_from_rows(links.data() + 16 * (row * n + i)), slow.link[i]) < 3e-14);
      CHECK((tools[16 * row + 12] == 0 && tools[16 * row + 13] == 0 && tools[16 * row + 14] == 0 && tools[16 * row + 15] == 1));
    }
  }
}

TEST_CASE("a posture's poses: the same bits alone and anywhere in a batch") {
  Draw draw{2};
  CellSpec cell = random_cell(draw, 6);
  cell.track = random_track(draw);
  const Model model = compile(cell);
  const std::size_t n = 7;
  for (std::size_t rows = 0; rows <= 9; ++rows) {
    const auto q = random_rows(draw, rows, n);
    std::vector<double> tools(rows * 16), links(rows * n * 16), tool(16), link(n * 16);
    tool_poses(model, q, tools);
    link_poses(model, q, links);
    for (std::size_t row = 0; row < rows; ++row) {
      tool_poses(model, {q.data() + row * n, n}, tool);
      link_poses(model, {q.data() + row * n, n}, link);
      CHECK(std::equal(tool.begin(), tool.end(), tools.begin() + static_cast<long>(16 * row)));
      CHECK(std::equal(link.begin(), link.end(), links.begin() + static_cast<long>(16 * n * row)));
    }
  }
}
