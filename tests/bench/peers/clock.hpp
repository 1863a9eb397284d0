#pragma once

#include <ctime>

/// Processor time of this process, s: what others do on the machine meanwhile counts little.
inline double now() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}
inline double seconds_since(double start) { return now() - start; }
