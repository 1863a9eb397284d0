#include "armwright/elements/guide_blocks.hpp"

#include <Eigen/QR>
#include <random>
#include <vector>

#include "armwright/elements/guide_life.hpp"
#include "catch_shim.hpp"

using namespace armwright;

namespace {

using Wrench = Eigen::Matrix<double, 6, 1>;

std::vector<BlockLoad> loads_of(const GuideLayout& layout, const Wrench& wrench) {
  const Eigen::VectorXd all = layout.map * wrench;
  std::vector<BlockLoad> loads;
  for (Eigen::Index i = 0; i < all.size(); i += 5) loads.push_back({all[i], all[i + 1], all[i + 2], all[i + 3], all[i + 4]});
  return loads;
}

Wrench force_at(double fx, double fy, double fz, double x, double y, double z) {
  return (Wrench() << fx, fy, fz, y * fz - z * fy, z * fx - x * fz, x * fy - y * fx).finished();
}

}  // namespace

// Makers' tables of linear guides: P = F/4 ± (F/2)(b/c) ± (F/2)(a/d); 1000 N, 300 by 200 mm, offsets 500 and 100 mm: two blocks are pulled.
TEST_CASE("a load beside two rails of two blocks, as makers' tables have it") {
  const std::vector<BlockPlace> places = {{0.15, 0.1, 0}, {0.15, -0.1, 0}, {-0.15, 0.1, 0}, {-0.15, -0.1, 0}};
  const GuideLayout layout = block_map(places, 0, 0);
  CHECK_FALSE((layout.roll || layout.pitch || layout.yaw));
  const auto loads = loads_of(layout, force_at(0, 0, -1000, 0.5, 0.1, 0));
  CHECK(loads[0].radial == Approx(1333.3333));
  CHECK(loads[1].radial == Approx(833.3333));
  CHECK(loads[2].radial == Approx(-333.3333));
  CHECK(loads[3].radial == Approx(-833.3333));
  for (const BlockLoad& load : loads) CHECK(load.lateral == Approx(0).margin(1e-9));
}

// A maker's catalogue of linear tables: L = 150 kgf, d2 = 192 mm, d4 = 173 mm, normal load (L/2)(d4/d2) = 67.6 kgf (recomputed 67.578).
TEST_CASE("a load sideways above four blocks, as a maker's catalogue works it out") {
  const double d1 = 0.205, d2 = 0.192, d4 = 0.173;
  const std::vector<BlockPlace> places = {{d1 / 2, d2 / 2, 0}, {d1 / 2, -d2 / 2, 0}, {-d1 / 2, d2 / 2, 0}, {-d1 / 2, -d2 / 2, 0}};
  for (const BlockLoad& load : loads_of(block_map(places, 0, 0), force_at(0, 150, 0, 0, 0, d4))) {
    CHECK(std::fabs(load.radial) == Approx(67.578).epsilon(1e-5));
    CHECK(load.lateral == Approx(150.0 / 4));
  }
}

TEST_CASE("a drive beside the middle turns the carriage, by hand") {
  const std::vector<BlockPlace> places = {{0.2, 0.15, -0.1}, {0.2, -0.15, -0.1}, {-0.2, 0.15, -0.1}, {-0.2, -0.15, -0.1}};
  // 400 N along x at the origin, taken by a feed 0.1 m below and 0.3 m across: pitch 400 · 0.1, yaw 400 · 0.3.
  const auto loads = loads_of(block_map(places, 0.3, -0.1), force_at(400, 0, 0, 0, 0, 0));
  CHECK(loads[0].radial == Approx(40 / 0.4 / 2));
  CHECK(loads[2].radial == Approx(-40 / 0.4 / 2));
  CHECK(loads[0].lateral == Approx(120 / 0.4 / 2));
  CHECK(loads[2].lateral == Approx(-120 / 0.4 / 2));
  for (const BlockLoad& load : loads_of(block_map(places, 0, 0), force_at(400, 0, 0, 0, 0, 0))) CHECK(std::fabs(load.radial) < 1e-9);
}

TEST_CASE("one rail bears roll by the blocks' own moment, one block all of them") {
  const GuideLayout rail = block_map(std::vector<BlockPlace>{{0.2, 0, -0.05}, {-0.2, 0, -0.05}}, 0, 0);
  CHECK(rail.roll);
  CHECK_FALSE((rail.pitch || rail.yaw));
  const auto two = loads_of(rail, force_at(0, 300, -800, 0.1, 0.25, 0.4));
  CHECK(two[0].radial == Approx(400 + 800 * 0.1 / 0.4));
  CHECK(two[1].radial == Approx(400 - 800 * 0.1 / 0.4));
  CHECK(two[0].lateral == Approx(150 + 300 * 0.1 / 0.4));
  CHECK(two[0].roll == Approx((-800 * 0.25 - 300 * 0.45) / 2));  // about the rail, 0.45 m below the side force
  CHECK(two[0].roll == Approx(two[1].roll));

  const GuideLayout alone = block_map(std::vector<BlockPlace>{{0.1, 0, 0}}, 0, 0);
  CHECK((alone.roll && alone.pitch && alone.yaw));
  const BlockLoad one = loads_of(alone, force_at(0, 50, -200, 0.3, 0.2, 0))[0];
  CHECK(one.radial == Approx(200));
  CHECK(one.roll == Approx(-200 * 0.2));
  CHECK(one.pitch == Approx(200 * 0.2));
  CHECK(one.yaw == Approx(50 * 0.2));
}

TEST_CASE("one block on each of two rails: roll by the pair, pitch and yaw by the blocks") {
  const GuideLayout layout = block_map(std::vector<BlockPlace>{{0, 0.2, 0}, {0, -0.2, 0}}, 0, 0);
  CHECK_FALSE(layout.roll);
  CHECK((layout.pitch && layout.yaw));
  const auto loads = loads_of(layout, force_at(0, 0, -500, 0.3, 0.1, 0));
  CHECK(loads[0].radial == Approx(250 + 500 * 0.1 / 0.4));
  CHECK(loads[0].pitch == Approx(75));
}

// Loads of least energy in equal springs are the balance's solution of least norm: the pseudo-inverse, by Eigen's orthogonal decomposition.
TEST_CASE("loads of any layout balance the wrench with the least energy") {
  std::mt19937 random(6);
  std::uniform_real_distribution<double> some(-1, 1);
  for (int trial = 0; trial < 50; ++trial) {
    const int count = 3 + trial % 6;
    std::vector<BlockPlace> places;
    for (int i = 0; i < count; ++i) places.push_back({some(random), some(random), trial % 2 ? -0.2 : some(random)});
    Wrench wrench;
    for (double& w : wrench) w = 1000 * some(random);
    const double across = some(random), up = some(random);
    Eigen::MatrixXd balance(6, 2 * count);
    for (int i = 0; i < count; ++i) {
      const auto [x, y, z] = places[static_cast<std::size_t>(i)];
      balance.col(2 * i) = -force_at(0, 0, 1, x, y, z);
      balance.col(2 * i + 1) = force_at(0, 1, 0, x, y, z);
    }
    const Wrench to_blocks = wrench - force_at(wrench[0], 0, 0, 0, across, up);
    const Eigen::VectorXd least = balance.completeOrthogonalDecomposition().solve(to_blocks);
    const auto loads = loads_of(block_map(places, across, up), wrench);
    for (int i = 0; i < count; ++i) {
      CHECK(loads[static_cast<std::size_t>(i)].radial == Approx(least[2 * i]).margin(1e-6));
      CHECK(loads[static_cast<std::size_t>(i)].lateral == Approx(least[2 * i + 1]).margin(1e-6));
      CHECK(std::fabs(loads[static_cast<std::size_t>(i)].roll) < 1e-6);
    }
  }
}

TEST_CASE("a load counts by its direction") {
  const BlockFactors factors{1, 0.5, 2, 30, std::nan(""), 10};
  CHECK(equivalent_block_load({100, -20, 0, 0, 0}, factors) == Approx(140));
  CHECK(equivalent_block_load({-100, 20, 1, 0, 2}, factors) == Approx(50 + 40 + 30 + 20));
  CHECK(std::isnan(equivalent_block_load({100, 0, 0, 1, 0}, factors)));
}

// C/P = 6: 10 800 km with ratings for 50 km, 21 600 km for 100 km, 39 249.8 km for rollers (ISO 14728-1, from memory).
TEST_CASE("life by both distances and both kinds") {
  CHECK(guide_life(60e3, 50e3, 10e3, false) == Approx(10.8e6));
  CHECK(guide_life(60e3, 100e3, 10e3, false) == Approx(21.6e6));
  CHECK(guide_life(60e3, 100e3, 10e3, true) == Approx(39.2498e6).epsilon(1e-6));
  CHECK(rating_at_distance(1, 100e3, 50e3, false) == Approx(1.2599210));
  CHECK(guide_life(rating_at_distance(60e3, 100e3, 50e3, false), 50e3, 10e3, false) == Approx(21.6e6));
  CHECK(std::isinf(guide_life(60e3, 50e3, 0, false)));
  CHECK(guide_static_safety(90e3, 30e3) == Approx(3));
  CHECK(std::isinf(guide_static_safety(90e3, 0)));
}

// Hertz for both sides: F = V ((1 + d)^p − (1 − d)^p), the loaded side V (1 + d)^p. Makers print 2.8 V as the load at which balls are free.
TEST_CASE("preload adds to what the loaded side bears, until the other side is free") {
  const double preload = 500;
  for (const bool roller : {false, true}) {
    const double power = roller ? 10.0 / 9 : 1.5;
    for (double d = 0.05; d <= 1; d += 0.05) {
      const double load = preload * (std::pow(1 + d, power) - std::pow(1 - d, power)), hertz = preload * std::pow(1 + d, power);
      const double told = preloaded_block_load(load, preload, roller);
      CHECK(told >= hertz * (1 - 1e-12));
      CHECK(told <= hertz * 1.03);
    }
  }
  CHECK(preloaded_block_load(0, preload, false) == Approx(preload));
  CHECK(preloaded_block_load(2.8284271 * preload, preload, false) == Approx(2.8284271 * preload));
  CHECK(preloaded_block_load(5000, preload, false) == Approx(5000));
  CHECK(preloaded_block_load(300, 0, true) == Approx(300));
}
