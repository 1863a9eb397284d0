#include "armwright/support/lanes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "catch_shim.hpp"
#include "cell_cases.hpp"
#include "each_pack.hpp"

using namespace armwright;
using armwright::testing::Draw;
using armwright::testing::in_each_pack;

namespace {

// A pack of `values`, told over again from the first.
template <class T>
ARMWRIGHT_INLINE T pack(std::initializer_list<double> values) {
  T x;
  for (std::size_t i = 0; i < T::width; ++i) x.set(i, values.begin()[i % values.size()]);
  return x;
}

template <class T>
ARMWRIGHT_INLINE T drawn(Draw& draw) {
  T x;
  for (std::size_t i = 0; i < T::width; ++i) x.set(i, draw.uniform(-3, 3) * std::pow(10, draw.uniform(-5, 5)));
  return x;
}

}  // namespace

TEST_CASE("lanes compute what numbers compute, lane by lane, to the bit") {
  in_each_pack([]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    Draw draw{1};
    for (int round = 0; round < 100; ++round) {
      const T x = drawn<T>(draw), y = drawn<T>(draw);
      const T roots = square_root(absolute(y)), more = maximum(x, y), less = minimum(x, y), chosen = select(x < y, x, -y);
      T sum = x;
      sum += y, sum *= y, sum -= x;
      for (std::size_t i = 0; i < T::width; ++i) {
        const double a = x[i], b = y[i];
        CHECK((x + y)[i] == a + b);
        CHECK((x - y)[i] == a - b);
        CHECK((x * y)[i] == a * b);
        CHECK((x / y)[i] == a / b);
        CHECK(roots[i] == std::sqrt(std::fabs(b)));
        CHECK(more[i] == std::max(a, b));
        CHECK(less[i] == std::min(a, b));
        CHECK(chosen[i] == select(a < b, a, -b));
        CHECK((T(b) * x)[i] == b * a);
        double number = a;
        number += b, number *= b, number -= a;
        CHECK(sum[i] == Approx(number).epsilon(1e-15));
      }
    }
  });
}

TEST_CASE("masks: any, all, each lane") {
  in_each_pack([]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    const T x = pack<T>({1, 2, 3, 4});
    CHECK(all(x > T(0.5)));
    CHECK_FALSE(all(x > T(1.0)));
    CHECK(any(x >= T(4.0)));
    CHECK_FALSE(any(x < T(1.0)));
    CHECK(all((x < T(2.5)) | (x > T(2.5))));
    CHECK_FALSE(any((x <= T(2.0)) & (x > T(2.0))));
    CHECK(lane(!(x <= T(2.0)), 3));
    CHECK_FALSE(lane(!(x <= T(2.0)), 1));
    CHECK_FALSE(any(T(NAN) >= T(0.0)));
    for (std::size_t i = 0; i < T::width; ++i) {
      T one(0.0), rest(1.0);
      one.set(i, 1), rest.set(i, 0);
      CHECK(any(one > T(0.0)));
      CHECK_FALSE(all(rest > T(0.0)));
    }
  });
}

TEST_CASE("the size of minus zero and of infinities") {
  in_each_pack([]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    const T x = absolute(pack<T>({-0.0, -std::numeric_limits<double>::infinity(), -1e-310, 5}));
    for (std::size_t i = 0; i < T::width; i += 4) {
      CHECK_FALSE(std::signbit(x[i]));
      CHECK(x[i + 1] == std::numeric_limits<double>::infinity());
      CHECK(x[i + 2] == 1e-310);
      CHECK(x[i + 3] == 5);
    }
  });
}

TEST_CASE("rows are loaded and stored, one by one and in runs of four") {
  const auto check = []<class T>() ARMWRIGHT_INLINE_LAMBDA {
    constexpr std::size_t rows = width_of<T>, stride = 7;
    std::array<double, rows * stride> from, to;
    for (std::size_t i = 0; i < from.size(); ++i) from[i] = static_cast<double>(i);
    to.fill(-1);
    T value[stride];
    for (std::size_t i = 0; i < stride; ++i) value[i] = load_rows<T>(from.data(), stride, i);
    for (std::size_t k = 0; k < rows; ++k)
      for (std::size_t i = 0; i < stride; ++i) CHECK(lane(value[i], k) == from[k * stride + i]);
    store_quad(value[1], value[2], value[3], value[4], to.data() + 1, stride);
    store_rows(value[6], to.data(), stride, 6);
    for (std::size_t k = 0; k < rows; ++k)
      for (std::size_t i = 0; i < stride; ++i) CHECK(to[k * stride + i] == (i == 0 || i == 5 ? -1 : from[k * stride + i]));
    for (std::size_t count = 1; count <= stride; ++count) {
      to.fill(-1);
      store_rows(value, count, to.data(), stride);
      for (std::size_t k = 0; k < rows; ++k)
        for (std::size_t i = 0; i < stride; ++i) CHECK(to[k * stride + i] == (i < count ? from[k * stride + i] : -1));
    }
  };
  check.operator()<double>();
  in_each_pack(check);
}
