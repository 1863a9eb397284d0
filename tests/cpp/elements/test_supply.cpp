#include "armwright/elements/bus.hpp"
#include "armwright/elements/mains.hpp"
#include "catch_shim.hpp"

using namespace armwright;

TEST_CASE("energy that comes back") {
  // 1000 uF from 325 to 390 V; J 0.01 kg m² at 3000 rpm (servo makers print J n²/182, 0.2 % more)
  CHECK(capacitor_energy(1e-3, 325, 390) == Approx(23.2375));
  CHECK(capacitor_voltage(1e-3, 325, 23.2375) == Approx(390));
  const double energy = kinetic_energy(0.01, 3000 * 6.283185307179586 / 60);
  CHECK(energy == Approx(493.480).epsilon(1e-5));
  CHECK(energy == Approx(0.01 * 3000 * 3000 / 182).epsilon(3e-3));
}

// A maker's rule for linear axes: P = 0.9 m v²/(2 t) peak... of the mean power while braking; 300 kg, 2 m/s, 0.5 s in 10 s: 1080 W, 54 W.
TEST_CASE("a resistor that takes a linear axis' braking") {
  BusState bus;
  const double peak = 0.9 * 300 * 4 / 0.5;  // force times speed at the start, falling evenly to 0
  advance_bus(bus, 0, -peak, 0, 0.5);
  CHECK(bus.burnt / 0.5 == Approx(1080));
  CHECK(bus.burnt / 10 == Approx(54));
  CHECK(bus.burn_peak == Approx(2 * 1080));
  CHECK(bus.returned == Approx(540));
}

TEST_CASE("the capacitor first, then the resistor; and out of the capacitor before the mains") {
  BusState bus;
  advance_bus(bus, 30, -100, -100, 0.5);  // 50 J: 30 stay, 20 burn
  CHECK(bus.stored == Approx(30));
  CHECK(bus.burnt == Approx(20));
  CHECK(bus.burn_time == Approx(0.2));
  advance_bus(bus, 30, 100, 100, 0.5);
  CHECK(bus.stored == Approx(0).margin(1e-12));
  CHECK(bus.from_mains == Approx(20));
  BusState falling;
  advance_bus(falling, 18, -60, 0, 1);  // 30 J; 18 J are in when 60 t - 30 t² = 18
  CHECK(falling.burnt == Approx(12));
  CHECK(falling.burn_peak == Approx(60 * std::sqrt(0.4)));
  BusState crossing;
  advance_bus(crossing, 100, 40, -40, 2);
  CHECK(crossing.from_mains == Approx(20));
  CHECK(crossing.most_stored == Approx(20));
  CHECK(crossing.mains_peak == Approx(40));
}

TEST_CASE("energy is kept over any course of power") {
  BusState bus;
  double drawn = 0, p = 120;
  for (int i = 0; i < 200; ++i) {
    const double next = 150 * std::sin(0.7 * i) + 20 * std::sin(3.1 * i), time = 0.01 + 0.005 * (i % 7);
    advance_bus(bus, 3, p, next, time);
    drawn += 0.5 * (p + next) * time;
    p = next;
    CHECK(bus.stored >= -1e-12);
    CHECK(bus.stored <= 3 + 1e-12);
  }
  CHECK(bus.from_mains - bus.burnt - bus.stored == Approx(drawn).margin(1e-9));
}

// 15 A at 120 V: 12 A, 1440 W for continuous loads; 20 A: 16 A, 1920 W (NEC 210.19, 210.20). 16 A at 230 V: 3680 W.
TEST_CASE("branch circuits") {
  CHECK(branch_share(mains_current(1440, 120, 1, 1), 15, true) == Approx(1));
  CHECK(branch_share(mains_current(1920, 120, 1, 1), 20, true) == Approx(1));
  CHECK(branch_share(mains_current(3680, 230, 1, 1), 16, false) == Approx(1));
  CHECK(mains_current(6928.203, 400, 3, 1) == Approx(10));
  CHECK(mains_current(1000, 230, 1, 0.65) == Approx(6.68896).epsilon(1e-5));
}
