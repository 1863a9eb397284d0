#include "armwright/elements/bolt.hpp"

#include <cmath>
#include <limits>

#include "catch_shim.hpp"

using namespace armwright;

// ISO 898-1:2013, tables 3 and 5: from memory.
TEST_CASE("stress areas of coarse and fine threads as the tables print them") {
  const double printed[][3] = {{3, 0.5, 5.03}, {4, 0.7, 8.78}, {5, 0.8, 14.2}, {6, 1, 20.1},   {8, 1.25, 36.6}, {10, 1.5, 58.0},
                               {12, 1.75, 84.3}, {14, 2, 115}, {16, 2, 157},   {18, 2.5, 192}, {20, 2.5, 245}, {22, 2.5, 303},
                               {24, 3, 353},  {27, 3, 459},  {30, 3.5, 561}, {33, 3.5, 694}, {36, 4, 817},   {39, 4, 976}};
  for (const auto& [d, pitch, area] : printed) CHECK(stress_area(d / 1e3, pitch / 1e3) * 1e6 == Approx(area).epsilon(4e-3));
  CHECK(stress_area(0.016, 0.0015) * 1e6 == Approx(167).epsilon(2e-3));
  CHECK(stress_area(0.010, 0.00125) * 1e6 == Approx(61.2).epsilon(2e-3));
}

TEST_CASE("proof loads as the tables print them") {
  const auto proof = [](const char* name, double d, double pitch) { return property_class(name, d)->proof * stress_area(d, pitch); };
  CHECK(proof("8.8", 0.016, 0.002) == Approx(91000).epsilon(2e-3));   // printed 91 000
  CHECK(proof("8.8", 0.020, 0.0025) == Approx(147000).epsilon(2e-3));  // 147 000, by 600 MPa
  CHECK(proof("10.9", 0.012, 0.00175) == Approx(70000).epsilon(2e-3));  // 70 000
  CHECK(proof("12.9", 0.010, 0.0015) == Approx(56300).epsilon(2e-3));  // 56 300
  CHECK(proof("4.6", 0.024, 0.003) == Approx(79400).epsilon(2e-3));   // 79 400
  CHECK_FALSE(property_class("8.9", 0.01).has_value());
  CHECK_FALSE(property_class("9.8", 0.020)->in_standard);
  CHECK(property_class("9.8", 0.016)->in_standard);
  CHECK_FALSE(property_class("12.9", 0.016)->in_joints);
}

TEST_CASE("the first figure of a class is a hundredth of the strength, the second the share of yield in tenths") {  // its meaning
  for (const char* name : {"4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"}) {
    const PropertyClass p = *property_class(name, 0.012);
    const double first = std::floor(std::atof(name)), tenths = std::round(10 * (std::atof(name) - first));
    CHECK(p.tensile / 1e8 == Approx(first).epsilon(0.051));
    CHECK(p.nominal == 1e8 * first);
    CHECK(p.yield == Approx(first * tenths * 1e7).epsilon(0.07));
    CHECK((p.proof < p.yield && p.proof > 0.85 * p.yield));
  }
}

TEST_CASE("preloaded bolt: force, proof and load factor") {
  const PropertyClass p = *property_class("8.8", 0.016);
  const double area = 157e-6, proof = 580e6 * area;
  CHECK(bolt_force({10e3, 0, 60e3, 0.25}) == Approx(62.5e3));
  CHECK(bolt_force({70e3, 0, 60e3, 0.1}) == Approx(70e3));  // opened
  CHECK(bolt_force({-5e3, 0, 60e3, 1}) == Approx(60e3));
  CHECK(proof_safety(p.proof, area, {10e3, 0, 60e3, 0.25}) == Approx(proof / 62.5e3));
  CHECK(proof_safety(p.proof, area, {0, 10e3, 0, 1}) == Approx(proof / (std::sqrt(3.0) * 10e3)));
  // Shigley, eq. 8-29 (memory): n = (Sp At - Fi)/(C P)
  CHECK(load_factor(p.proof, area, {10e3, 0, 60e3, 0.25}) == Approx(proof / 10e3));  // 12.4 by the formula: the joint opens first
  CHECK(load_factor(p.proof, area, {10e3, 0, 60e3, 0.5}) == Approx((proof - 60e3) / 5e3));
  CHECK(load_factor(p.proof, area, {10e3, 0, 100e3, 0.5}) == 0);
  CHECK(std::isinf(load_factor(p.proof, area, {0, 0, 60e3, 1})));
}

TEST_CASE("bolt in a joint: M16 8.8 bears 90.4 kN in tension and 60.3 kN in shear") {  // EN 1993-1-8 tables of practice (memory)
  const PropertyClass p = *property_class("8.8", 0.016);
  CHECK(joint_safety(p, 157e-6, 90432, 0) == Approx(1));
  CHECK(joint_safety(p, 157e-6, 0, 60288) == Approx(1));
  CHECK(joint_safety(p, 157e-6, 45216, 30144) == Approx(1 / (0.5 + 0.5 / 1.4)));
  CHECK(joint_safety(*property_class("10.9", 0.020), 245e-6, 176400, 0) == Approx(1));  // 176 kN printed
  CHECK(joint_safety(p, 157e-6, -1, 0) == std::numeric_limits<double>::infinity());
  const double unknown = std::numeric_limits<double>::quiet_NaN();
  CHECK(std::isnan(joint_safety(p, 157e-6, unknown, 0)));
  CHECK(std::isnan(joint_safety(p, 157e-6, 0, unknown)));
  CHECK(std::isnan(told_safety(unknown, 2e3, 20e3, 10e3)));
  CHECK(std::isnan(proof_safety(p.proof, 157e-6, {unknown, 0, 0, 1})));
  CHECK(std::isnan(load_factor(p.proof, 157e-6, {unknown, 0, 0, 1})));
  CHECK(told_safety(5e3, 2e3, 20e3, 10e3) == Approx(1 / 0.45));
  CHECK(told_safety(5e3, 2e3, 20e3, std::numeric_limits<double>::infinity()) == Approx(4));
}
