#include "armwright/support/in_packs.hpp"

#include <vector>

#include "catch_shim.hpp"
#include "cell_cases.hpp"
#include "each_pack.hpp"

using namespace armwright;
using armwright::testing::Draw;
using armwright::testing::in_each_pack;

namespace {

// Something with rounding in it, from rows of 3 and of 2 to rows of 2.
template <class T>
ARMWRIGHT_INLINE void batch(const std::vector<double>& a, const std::vector<double>& b, std::vector<double>& out) {
  in_packs<T, 3, 2>(a.size() / 3, {a.data(), b.data()}, {3, 2}, out.data(), 2, [](const auto& in, double* to) {
    T x[3], y[2];
    for (std::size_t i = 0; i < 3; ++i) x[i] = load_rows<T>(in[0], 3, i);
    for (std::size_t i = 0; i < 2; ++i) y[i] = load_rows<T>(in[1], 2, i);
    const T first = x[0] / x[1] + square_root(y[0]), second = x[2] * y[1] - x[0];
    store_rows(first, to, 2, 0);
    store_rows(second, to, 2, 1);
  });
}

}  // namespace

TEST_CASE("a row's bits do not depend on where in a batch it stands, and nothing is written past the end") {
  const auto check = []<class T>() ARMWRIGHT_INLINE_LAMBDA {
    Draw draw{1};
    for (std::size_t rows = 0; rows <= 21; ++rows) {
      std::vector<double> a, b;
      for (std::size_t i = 0; i < 3 * rows; ++i) a.push_back(draw.uniform(0.5, 2));
      for (std::size_t i = 0; i < 2 * rows; ++i) b.push_back(draw.uniform(0.5, 2));
      std::vector<double> out(2 * rows + 8, -77);
      batch<T>(a, b, out);
      for (std::size_t i = 2 * rows; i < out.size(); ++i) CHECK(out[i] == -77);
      for (std::size_t row = 0; row < rows; ++row) {
        std::vector<double> alone(2);
        batch<T>({a.begin() + static_cast<long>(3 * row), a.begin() + static_cast<long>(3 * row + 3)},
              {b.begin() + static_cast<long>(2 * row), b.begin() + static_cast<long>(2 * row + 2)}, alone);
        CHECK(out[2 * row] == alone[0]);
        CHECK(out[2 * row + 1] == alone[1]);
        CHECK(alone[1] == Approx(a[3 * row + 2] * b[2 * row + 1] - a[3 * row]).epsilon(1e-14));
      }
    }
  };
  check.operator()<double>();
  in_each_pack(check);
}
