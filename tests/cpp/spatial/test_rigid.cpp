#include "armwright/spatial/rigid.hpp"

#include <cmath>
#include <limits>
#include <vector>

#include "armwright/spatial/pose.hpp"
#include "armwright/spatial/turns.hpp"
#include "catch_shim.hpp"

using namespace armwright;

namespace {

std::vector<double> poses(std::size_t count) {
  std::vector<double> rows(16 * count);
  for (std::size_t i = 0; i < count; ++i) {
    const double t = static_cast<double>(i);
    pose_to_rows({turn_about({0.6, 0, 0.8}, 0.7 * t), {t, -2 * t, 1e3}}, rows.data() + 16 * i);
  }
  return rows;
}

}  // namespace

TEST_CASE("poses that are rigid, and one that is not anywhere among them") {
  CHECK(all_rigid({}, 1e-14));
  for (const std::size_t count : {1, 2, 3, 4, 5, 7, 8, 9, 17}) {
    const auto good = poses(count);
    CHECK(all_rigid(good, 1e-14));
    for (std::size_t row = 0; row < count; ++row) {
      const auto spoilt = [&](std::size_t entry, double value) {
        auto bad = good;
        bad[16 * row + entry] = value;
        return all_rigid(bad, 1e-14);
      };
      for (const std::size_t entry : {0, 1, 2, 4, 5, 6, 8, 9, 10}) {
        CHECK_FALSE(spoilt(entry, good[16 * row + entry] + 1e-6));
        CHECK_FALSE(spoilt(entry, std::numeric_limits<double>::quiet_NaN()));
      }
      for (const std::size_t entry : {12, 13, 14, 15}) CHECK_FALSE(spoilt(entry, 0.5));
      CHECK(spoilt(3, -5.0));
      for (const std::size_t entry : {3, 7, 11}) {
        auto far = good;
        far[16 * row + entry] = -2e6;
        CHECK(all_rigid(far, 1e-14));
        CHECK(all_rigid(far, 1e-14, 2e6));
        CHECK_FALSE(all_rigid(far, 1e-14, 1e6));
        CHECK_FALSE(spoilt(entry, std::numeric_limits<double>::infinity()));
        CHECK_FALSE(spoilt(entry, std::numeric_limits<double>::quiet_NaN()));
      }
      auto mirrored = good;
      for (const std::size_t entry : {0, 4, 8}) mirrored[16 * row + entry] = -mirrored[16 * row + entry];
      CHECK_FALSE(all_rigid(mirrored, 1e-14));
      auto loose = good;
      loose[16 * row] += 1e-9;
      CHECK(all_rigid(loose, 1e-8));
    }
  }
}
