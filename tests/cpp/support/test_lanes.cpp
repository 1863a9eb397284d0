#include "armwright/support/lanes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

Lanes lanes(double a, double b, double c, double d) {
  Lanes x;
  x.set(0, a), x.set(1, b), x.set(2, c), x.set(3, d);
  return x;
}

}  // namespace

TEST_CASE("lanes compute what numbers compute, lane by lane, to the bit") {
  const double a[] = {1.5, -2.25, 1e-300, 7.0}, b[] = {0.1, 3.7, 2e10, -7.0};
  const Lanes x = lanes(a[0], a[1], a[2], a[3]), y = lanes(b[0], b[1], b[2], b[3]);
  const Lanes roots = square_root(absolute(y)), more = maximum(x, y), less = minimum(x, y), chosen = select(x < y, x, -y);
  Lanes sum = x;
  sum += y, sum *= y, sum -= x;
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK((x + y)[i] == a[i] + b[i]);
    CHECK((x - y)[i] == a[i] - b[i]);
    CHECK((x * y)[i] == a[i] * b[i]);
    CHECK((x / y)[i] == a[i] / b[i]);
    CHECK(roots[i] == std::sqrt(std::fabs(b[i])));
    CHECK(more[i] == std::max(a[i], b[i]));
    CHECK(less[i] == std::min(a[i], b[i]));
    CHECK(chosen[i] == select(a[i] < b[i], a[i], -b[i]));
    double number = a[i];
    number += b[i], number *= b[i], number -= a[i];
    CHECK(sum[i] == Approx(number).epsilon(1e-15));
  }
}

TEST_CASE("masks: any, all, each lane") {
  const Lanes x = lanes(1, 2, 3, 4);
  CHECK(all(x > Lanes(0.5)));
  CHECK_FALSE(all(x > Lanes(1.0)));
  CHECK(any(x >= Lanes(4.0)));
  CHECK_FALSE(any(x < Lanes(1.0)));
  CHECK(all((x < Lanes(2.5)) | (x > Lanes(2.5))));
  CHECK_FALSE(any((x <= Lanes(2.0)) & (x > Lanes(2.0))));
  CHECK(lane(!(x <= Lanes(2.0)), 3));
  CHECK_FALSE(lane(!(x <= Lanes(2.0)), 1));
  CHECK_FALSE(any(lanes(NAN, NAN, NAN, NAN) >= Lanes(0.0)));
}

TEST_CASE("the size of minus zero and of infinities") {
  const Lanes x = absolute(lanes(-0.0, -std::numeric_limits<double>::infinity(), -1e-310, 5));
  CHECK_FALSE(std::signbit(x[0]));
  CHECK(x[1] == std::numeric_limits<double>::infinity());
  CHECK(x[2] == 1e-310);
  CHECK(x[3] == 5);
}

TEST_CASE("four values of four rows are stored as runs of four") {
  const Lanes a = lanes(0, 1, 2, 3), b = lanes(10, 11, 12, 13), c = lanes(20, 21, 22, 23), d = lanes(30, 31, 32, 33);
  double out[4 * 7];
  std::fill(std::begin(out), std::end(out), -1);
  store_quad(a, b, c, d, out + 1, 7);
  for (int k = 0; k < 4; ++k) {
    CHECK(out[7 * k] == -1);
    for (int i = 0; i < 4; ++i) CHECK(out[7 * k + 1 + i] == 10 * i + k);
    CHECK(out[7 * k + 5] == -1);
  }
}
