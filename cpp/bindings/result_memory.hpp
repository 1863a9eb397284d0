#pragma once

#include <pybind11/numpy.h>

#include <vector>

namespace armwright::bindings {

/// A new array of numbers, not filled, in order of C. Large ones stand in memory that the one before of about that size has
/// left: fresh memory costs more to be handed out, page by page, than many a kernel takes to fill it. At most 64 MB are kept
/// so. Aligned to the cache's lines. With the GIL held.
pybind11::array_t<double, pybind11::array::c_style | pybind11::array::forcecast> result_array(const std::vector<pybind11::ssize_t>& shape);

}  // namespace armwright::bindings
