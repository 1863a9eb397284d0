#include "armwright/support/transposed.hpp"

#include <vector>

#include "catch_shim.hpp"
#include "each_pack.hpp"

using namespace armwright;

namespace {

template <class T>
ARMWRIGHT_INLINE void check() {
  constexpr std::size_t wide = 3 * T::width, stride = wide + 5;
  std::vector<double> rows(T::width * stride), back(T::width * stride, -1.0);
  for (std::size_t i = 0; i < rows.size(); ++i) rows[i] = static_cast<double>(i);
  const double* at[T::width];
  for (std::size_t k = 0; k < T::width; ++k) at[k] = rows.data() + k * stride;
  T values[wide], few[T::width + 3];
  load_transposed(at, values);
  for (std::size_t i = 0; i < wide; ++i)
    for (std::size_t k = 0; k < T::width; ++k) CHECK(values[i][k] == static_cast<double>(k * stride + i));
  load_transposed(at, few);
  for (std::size_t i = 0; i < T::width + 3; ++i)
    for (std::size_t k = 0; k < T::width; ++k) CHECK(few[i][k] == static_cast<double>(k * stride + i));
  store_transposed<wide>(values, back.data(), stride);
  for (std::size_t k = 0; k < T::width; ++k)
    for (std::size_t i = 0; i < stride; ++i) CHECK(back[k * stride + i] == (i < wide ? rows[k * stride + i] : -1.0));
}

}  // namespace

TEST_CASE("numbers of rows as lanes, and back") {
  testing::in_each_pack([]<class T>() ARMWRIGHT_INLINE_LAMBDA { check<T>(); });
}
