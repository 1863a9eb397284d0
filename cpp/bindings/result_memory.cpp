#include "result_memory.hpp"

#include <cstdlib>
#include <memory>
#include <new>

#ifdef __linux__
#include <sys/mman.h>
#endif

namespace py = pybind11;

namespace armwright::bindings {

using Numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;

namespace {

constexpr std::size_t line = 64;                        // of the cache
constexpr std::size_t large = std::size_t{1} << 16;     // from here on it matters where an array stands
constexpr std::size_t page = std::size_t{1} << 21;      // a large one
constexpr std::size_t returned = std::size_t{1} << 25;  // larger blocks the C library gives back to the system each time (mallopt(3), M_MMAP_THRESHOLD)

void* taken(std::size_t size) {
  const std::size_t aligned = size > returned ? page : line;
  void* const memory = std::aligned_alloc(aligned, (size + aligned - 1) / aligned * aligned);
  if (!memory) throw std::bad_alloc();
#ifdef __linux__
  if (size > returned) madvise(memory, size, MADV_HUGEPAGE);  // where it is not heeded nothing is lost
#endif
  return memory;
}

}  // namespace

Numbers result_array(const std::vector<py::ssize_t>& shape) {
  std::size_t size = sizeof(double);
  for (const py::ssize_t length : shape) size *= static_cast<std::size_t>(length);
  if (size < large) return Numbers(shape);
  std::unique_ptr<void, void (*)(void*)> memory(taken(size), std::free);
  const py::capsule owner(memory.get(), [](void* given) { std::free(given); });
  return Numbers(shape, static_cast<double*>(memory.release()), owner);
}

}  // namespace armwright::bindings
