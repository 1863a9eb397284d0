// The peer for inverse solutions of arms without a closed form: ssik's headers out of its wheel, the arm prepared once.
// All solutions of each pose, no joint limits, one thread. Of its Solver the one family that such arms belong to:
// to compile all of them takes 4 GB.
#include <algorithm>
#include <cstdint>

#include "clock.hpp"
#include "ssik_cpp/solve.hpp"

using Arm = ssik::solve_detail::General6r;
using RowMajor4 = Eigen::Matrix<double, 4, 4, Eigen::RowMajor>;

extern "C" {

/// What ssik.cpp.solver_data() tells of an arm, array by array.
void* ssik_data(const char* family, int schema) {
  auto* data = new ssik::SolverData;
  data->family = family;
  data->schema = schema;
  return data;
}

static ssik::DataArray& named(void* data, const char* name, int dims, const long* shape) {
  ssik::DataArray& array = static_cast<ssik::SolverData*>(data)->arrays[name];
  array.shape.assign(shape, shape + dims);
  return array;
}
void ssik_add_numbers(void* data, const char* name, int dims, const long* shape, long count, const double* values) {
  named(data, name, dims, shape).f64.assign(values, values + count);
}
void ssik_add_integers(void* data, const char* name, int dims, const long* shape, long count, const std::int32_t* values) {
  ssik::DataArray& array = named(data, name, dims, shape);
  array.dtype = ssik::DType::Int32;
  array.i32.assign(values, values + count);
}

/// The arm, prepared; ends what ssik_data() made. Nothing if the data do not serve.
void* ssik_open(void* data) {
  const auto* told = static_cast<ssik::SolverData*>(data);
  ssik::set_max_threads(1);
  Arm* arm = nullptr;
  try {
    ssik::solve_detail::Reader reader(*told);
    arm = new Arm(std::get<Arm>(ssik::solve_detail::read_general_6r(reader)));
  } catch (const std::exception&) {
  }
  delete told;
  return arm;
}

/// Solutions into q (count x 16 x 6) and counts.
double ssik_solve(void* handle, long count, const double* poses, double* q, int* counts) {
  const auto& arm = *static_cast<const Arm*>(handle);
  ssik::ArtifactParams<6> asked;
  asked.respect_limits = false;
  asked.enumerate_windings = false;
  const double start = now();
  for (long k = 0; k < count; ++k) {
    const ssik::Pose target = Eigen::Map<const RowMajor4>(poses + 16 * k);
    const auto found = arm.solve(target, asked);
    counts[k] = static_cast<int>(std::min<std::size_t>(found.size(), 16));
    for (int i = 0; i < counts[k]; ++i) std::copy_n(found[static_cast<std::size_t>(i)].q.data(), 6, q + (k * 16 + i) * 6);
  }
  return seconds_since(start);
}
}
