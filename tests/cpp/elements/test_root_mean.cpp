#include "armwright/elements/root_mean.hpp"

#include "catch_shim.hpp"

using namespace armwright;

TEST_CASE("root mean square of straight spans") {
  // motor sizing by parts: T_rms = sqrt((Ta² ta + Tf² tb + Td² td)/tc); here with the turntable of 90° in 0.6 s and 0.6 s of rest
  const double ta = 3.0106930, td = -2.5132741;
  const double sum = square_integral(ta, ta, 0.2) + square_integral(0, 0, 0.2) + square_integral(td, td, 0.2);
  CHECK(root_mean_square(sum, 1.2) == Approx(1.6010840).epsilon(1e-7));
  CHECK(root_mean_square(square_integral(-2, 2, 5), 5) == Approx(2 / std::sqrt(3.0)));  // a triangle wave's effective value
  CHECK(magnitude_integral(-2, 2, 4) == Approx(4));
  CHECK(magnitude_integral(-1, 3, 1) == Approx(1.25));  // two triangles, 1/8 and 9/8
  CHECK(product_integral(0, 1, 0, 1, 1) == Approx(1.0 / 3));
  CHECK(product_integral(1, 0, 0, 1, 1) == Approx(1.0 / 6));
  CHECK(root_mean_square(0, 0) == 0);
}
