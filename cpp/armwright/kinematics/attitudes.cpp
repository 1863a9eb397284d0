#include "armwright/kinematics/attitudes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "armwright/spatial/turns.hpp"

namespace armwright {

using std::numbers::pi;

std::vector<Vec3> spread_directions(std::size_t count) {
  const double golden = pi * (3 - std::sqrt(5.0));
  std::vector<Vec3> directions;
  directions.reserve(count);
  for (std::size_t k = 0; k < count; ++k) {
    const double z = 1 - (2 * static_cast<double>(k) + 1) / static_cast<double>(count);
    const double radius = std::sqrt(1 - z * z), turn = golden * static_cast<double>(k);
    directions.push_back({radius * std::cos(turn), radius * std::sin(turn), z});
  }
  return directions;
}

std::vector<Vec3> cone_directions(const Vec3& axis, double half_angle, double step) {
  std::vector<Vec3> directions{axis};
  if (!(half_angle > 0)) return directions;
  const Rotation frame = frame_on(axis);
  const auto rings = static_cast<std::size_t>(std::ceil(half_angle / step - 1e-9));
  for (std::size_t ring = 1; ring <= rings; ++ring) {
    const double tilt = half_angle * static_cast<double>(ring) / static_cast<double>(rings);
    const auto around = static_cast<std::size_t>(std::max(1.0, std::ceil(2 * pi * std::sin(tilt) / step - 1e-9)));
    for (std::size_t k = 0; k < around; ++k) {
      const double turn = 2 * pi * static_cast<double>(k) / static_cast<double>(around);
      directions.push_back(frame * Vec3{std::sin(tilt) * std::cos(turn), std::sin(tilt) * std::sin(turn), std::cos(tilt)});
    }
  }
  return directions;
}

std::vector<double> spread_spins(double step) {
  const auto count = static_cast<std::size_t>(std::ceil(2 * pi / step - 1e-9));
  std::vector<double> spins;
  for (std::size_t k = 0; k < count; ++k) spins.push_back(2 * pi * static_cast<double>(k) / static_cast<double>(count));
  return spins;
}

std::vector<Rotation> attitudes_along(const std::vector<Vec3>& directions, std::size_t spins) {
  std::vector<Rotation> attitudes;
  attitudes.reserve(directions.size() * spins);
  for (const Vec3& direction : directions)
    for (std::size_t spin = 0; spin < spins; ++spin)
      attitudes.push_back(frame_on(direction) * turn_about({0, 0, 1}, 2 * pi * static_cast<double>(spin) / static_cast<double>(spins)));
  return attitudes;
}

Rotation tilted_to(const Rotation& attitude, const Vec3& direction) {
  const Vec3 axis = cross(attitude.z, direction);
  const double sine = norm(axis), cosine = dot(attitude.z, direction);
  if (sine < 1e-12) return cosine > 0 ? attitude : turn_about(attitude.x, pi) * attitude;
  return turn_about((1 / sine) * axis, std::atan2(sine, cosine)) * attitude;
}

}  // namespace armwright
