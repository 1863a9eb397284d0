#include "rooms.hpp"

PYBIND11_MODULE(_core, m) {
  m.doc() = "The C++ core of armwright, a submodule a room.";
  armwright::bindings::bind_model(m);
  armwright::bindings::bind_kinematics(m);
  armwright::bindings::bind_dynamics(m);
  armwright::bindings::bind_limits(m);
}
