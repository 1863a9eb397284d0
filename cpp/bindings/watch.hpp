#pragma once

#include <exception>
#include <utility>

#include "armwright/support/parallel.hpp"
#include "convert.hpp"

namespace armwright::bindings {

/// Runs a long computation without the GIL; takes it back every 50 ms, on the calling thread, to look for Ctrl-C and to
/// tell `report(done, total)`, which may be None and may return False to stop. What either raises is raised here, once
/// all threads have ended.
template <class Work>
auto watched(const py::object& report, Work work) {
  std::exception_ptr raised;
  Progress progress;
  progress.report = [&](std::size_t done, std::size_t total) {
    const py::gil_scoped_acquire held;
    try {
      if (PyErr_CheckSignals() != 0) throw py::error_already_set();
      if (report.is_none()) return true;
      const py::object answer = report(done, total);
      return answer.is_none() || answer.cast<bool>();
    } catch (...) {
      raised = std::current_exception();
      return false;
    }
  };
  auto result = [&] {
    const py::gil_scoped_release release;
    return work(progress);
  }();
  if (raised) std::rethrow_exception(raised);
  return result;
}

}  // namespace armwright::bindings
