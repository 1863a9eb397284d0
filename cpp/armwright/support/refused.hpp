#pragma once

#include <stdexcept>
#include <string>
#include <utility>

namespace armwright {

/// The one exception of the core: an input that is refused, told by name. Thrown only while a specification is
/// compiled or a scene is built, never by a kernel.
class Refused : public std::runtime_error {
 public:
  Refused(std::string key, std::string value, std::string expected)
      : std::runtime_error(key + ": got " + value + ", expected " + expected),
        key_(std::move(key)),
        value_(std::move(value)),
        expected_(std::move(expected)) {}

  const std::string& key() const noexcept { return key_; }            ///< what was wrong, e.g. "joint 'axis 2'.lower"
  const std::string& value() const noexcept { return value_; }        ///< what it was
  const std::string& expected() const noexcept { return expected_; }  ///< what would be taken

 private:
  std::string key_, value_, expected_;
};

}  // namespace armwright
