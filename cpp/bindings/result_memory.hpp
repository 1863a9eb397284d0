#pragma once

#include <pybind11/numpy.h>

#include <vector>

namespace armwright::bindings {

/// A new array of numbers, not filled, in order of C; large ones aligned to the cache's lines, so that they can be written past it.
/// Nothing is kept here: the C library keeps what a block of up to 32 MB leaves for the next one, so that its pages are not handed
/// out anew, which costs more than many a kernel takes to fill them. With the GIL held.
pybind11::array_t<double, pybind11::array::c_style | pybind11::array::forcecast> result_array(const std::vector<pybind11::ssize_t>& shape);

}  // namespace armwright::bindings
