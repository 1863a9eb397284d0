#include "armwright/support/sin_cos.hpp"

#include <cmath>
#include <cstdint>

#include "catch_shim.hpp"
#include "cell_cases.hpp"
#include "each_pack.hpp"

using namespace armwright;
using armwright::testing::Draw;
using armwright::testing::in_each_pack;

namespace {

// Distance in units in the last place of the true value, which the C library gives in long double.
double off(double found, long double truth) {
  const double near = static_cast<double>(truth);
  const double unit = std::nextafter(std::fabs(near), HUGE_VAL) - std::fabs(near);
  return static_cast<double>(std::fabs(static_cast<long double>(found) - truth)) / unit;
}

double worst_over(double low, double high, int count, std::uint64_t seed) {
  Draw draw{seed};
  double worst = 0;
  for (int k = 0; k < count; ++k) {
    const double x = draw.uniform(low, high);
    double s, c;
    sin_cos(x, s, c);
    worst = std::fmax(worst, std::fmax(off(s, std::sin(static_cast<long double>(x))), off(c, std::cos(static_cast<long double>(x)))));
  }
  return worst;
}

}  // namespace

TEST_CASE("sine and cosine are within 1.6 units in the last place in a turn and 2.5 up to 1e5") {
  CHECK(worst_over(-0.8, 0.8, 100000, 1) <= 1.6);
  CHECK(worst_over(-6.3, 6.3, 100000, 2) <= 1.6);
  CHECK(worst_over(-1e3, 1e3, 100000, 3) <= 2.5);
  CHECK(worst_over(-1e5, 1e5, 100000, 4) <= 2.5);
}

TEST_CASE("beyond 1e5 the C library answers") {
  Draw draw{5};
  for (const double size : {1.0000001e5, 1e6, 1e10, 1e15, 1e22, 1e300}) {
    for (int k = 0; k < 20; ++k) {
      const double x = draw.uniform(1, 2) * size * (k % 2 ? 1 : -1);
      double s, c;
      sin_cos(x, s, c);
      CHECK(s == std::sin(x));
      CHECK(c == std::cos(x));
    }
  }
}

TEST_CASE("next to multiples of a quarter turn") {
  double worst = 0;
  for (int k = -40000; k <= 40000; k += 7) {
    const double near = static_cast<double>(k * 1.57079632679489661923L);
    for (const double x : {near, std::nextafter(near, 1e9), std::nextafter(near, -1e9)}) {
      double s, c;
      sin_cos(x, s, c);
      // Relative to what is lost in the angle's last place, where the value itself goes through zero.
      const double slack = 1.2 * (std::nextafter(1.0, 2.0) - 1.0);
      worst = std::fmax(worst, std::fabs(s - static_cast<double>(std::sin(static_cast<long double>(x)))) / slack);
      worst = std::fmax(worst, std::fabs(c - static_cast<double>(std::cos(static_cast<long double>(x)))) / slack);
      CHECK(s * s + c * c == Approx(1).epsilon(1e-15));
    }
  }
  CHECK(worst <= 1.0);
}

TEST_CASE("several at a time are the same bits as one at a time, large ones among small") {
  in_each_pack([]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    Draw draw{6};
    for (int k = 0; k < 2000; ++k) {
      T x, s, c;
      for (std::size_t i = 0; i < T::width; ++i) x.set(i, k % 3 == 0 && i == 2 ? draw.uniform(1e5, 1e7) : draw.uniform(-50, 50));
      sin_cos(x, s, c);
      for (std::size_t i = 0; i < T::width; ++i) {
        double one_sine, one_cosine;
        sin_cos(x[i], one_sine, one_cosine);
        CHECK(s[i] == one_sine);
        CHECK(c[i] == one_cosine);
      }
    }
  });
}

TEST_CASE("what is not a number stays so") {
  for (const double x : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
    double s, c;
    sin_cos(x, s, c);
    CHECK(std::isnan(s));
    CHECK(std::isnan(c));
  }
}

TEST_CASE("zero is exact") {
  double s, c;
  sin_cos(0.0, s, c);
  CHECK(s == 0);
  CHECK(c == 1);
}
