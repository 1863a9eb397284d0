#include "result_memory.hpp"

#include <algorithm>
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

struct Freed {
  void operator()(void* memory) const { std::free(memory); }
};
struct Block {
  std::unique_ptr<void, Freed> memory;
  std::size_t size = 0;
};

constexpr std::size_t page = std::size_t{1} << 21;   // a large one
constexpr std::size_t large = std::size_t{1} << 18;  // from here on an array is worth it
constexpr std::size_t most_kept = std::size_t{1} << 26;

// What arrays that are gone have left, the last one last. Never taken down: arrays may outlive everything else. The GIL
// guards it.
std::vector<Block>& spare() {
  static auto* const blocks = new std::vector<Block>;
  return *blocks;
}

Block taken(std::size_t size) {
  auto& blocks = spare();
  for (auto block = blocks.rbegin(); block != blocks.rend(); ++block) {
    if (block->size < size || block->size > 2 * size) continue;
    Block found = std::move(*block);
    blocks.erase(std::next(block).base());
    return found;
  }
  Block fresh{std::unique_ptr<void, Freed>(std::aligned_alloc(page, size)), size};
  if (!fresh.memory) throw std::bad_alloc();
#ifdef __linux__
  madvise(fresh.memory.get(), size, MADV_HUGEPAGE);  // where it is not heeded nothing is lost
#endif
  return fresh;
}

void leave(Block block) {
  auto& blocks = spare();
  std::size_t sum = block.size;
  for (const Block& other : blocks) sum += other.size;
  while (sum > most_kept && !blocks.empty()) {
    sum -= blocks.front().size;
    blocks.erase(blocks.begin());
  }
  if (sum <= most_kept) blocks.push_back(std::move(block));
}

}  // namespace

Numbers result_array(const std::vector<py::ssize_t>& shape) {
  std::size_t size = sizeof(double);
  for (const py::ssize_t length : shape) size *= static_cast<std::size_t>(length);
  if (size < large) return Numbers(shape);
  auto block = std::make_unique<Block>(taken((size + page - 1) / page * page));
  auto* const start = static_cast<double*>(block->memory.get());
  const py::capsule owner(block.release(), [](void* given) {
    const std::unique_ptr<Block> gone(static_cast<Block*>(given));
    leave(std::move(*gone));
  });
  return Numbers(shape, start, owner);
}

}  // namespace armwright::bindings
