// Marks for callgrind: counts between begin() and end(name) are written out under that name.
#include <valgrind/callgrind.h>

extern "C" {

int under_valgrind() { return static_cast<int>(RUNNING_ON_VALGRIND); }

void begin() {
  CALLGRIND_START_INSTRUMENTATION;
  CALLGRIND_ZERO_STATS;
}

void end(const char* name) {
  CALLGRIND_DUMP_STATS_AT(name);
  CALLGRIND_STOP_INSTRUMENTATION;
}
}
