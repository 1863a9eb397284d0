#pragma once

namespace armwright {

/// A posture may pass a limit by this share of half the joint's range and still stand on it: rounding, not motion.
inline constexpr double on_the_limit = 1e-9;

}  // namespace armwright
