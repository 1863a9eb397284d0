#pragma once

#include <sstream>
#include <string>

namespace armwright {

/// Numbers and words in a row, for messages.
template <class... Parts>
std::string told(const Parts&... parts) {
  std::ostringstream out;
  out.precision(9);
  (out << ... << parts);
  return out.str();
}

}  // namespace armwright
