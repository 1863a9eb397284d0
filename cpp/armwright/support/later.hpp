#pragma once

#include <memory>
#include <mutex>

namespace armwright {

/// Something that is made when it is first asked for, by whichever thread; null may be what is made.
template <class Thing>
class Later {
 public:
  template <class Make>
  const std::shared_ptr<const Thing>& made(const Make& make) {
    std::call_once(once_, [&] { thing_ = make(); });
    return thing_;
  }

 private:
  std::once_flag once_;
  std::shared_ptr<const Thing> thing_;
};

}  // namespace armwright
