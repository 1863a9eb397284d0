#include "armwright/studies/speed_payload.hpp"

#include <limits>

#include "armwright/limits/payload_of.hpp"

namespace armwright {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t positions_a_piece = 8;

struct Best {
  StaticPayload rest{-1, -1, true};
  MovingPayload moving{.mass = -1};
  bool reached() const { return rest.mass >= 0; }
};

Best best_in(const PostureSearch& search, PostureWork& work, const MovingSetup& setup, Limit rest, const Pose& target) {
  Best best;
  const Vec3& centre = setup.unit_load.centre;
  any_held(search, target, [&](const HeldArm& arm) {
    return visit_within_limits(search, work, target, arm, [&](const Posture& posture) {
      // Masses are had for less than the clearance, which only a posture that carries more has to show; and the mass that moves for more
      // than the one at rest, which it never passes.
      const StaticPayload held = posture_payload(*setup.model, posture.frames, centre, rest);
      const double most = rest == Limit::peak ? held.mass : posture_payload(*setup.model, posture.frames, centre, Limit::peak).mass;
      MovingPayload moved{.mass = -1};
      if (most * (1 + 1e-9) > best.moving.mass) moved = moving_payload(setup, posture.frames, best.moving.mass);
      const bool holds_more = held.mass > best.rest.mass, moves_more = moved.mass > best.moving.mass;
      if (!(holds_more || moves_more) || !is_clear(search, work, posture, search.margin)) return false;
      if (holds_more) best.rest = held;
      if (moves_more) best.moving = moved;
      return false;
    });
  });
  return best;
}

void map_position(const PostureSearch& search, PostureWork& work, const MovingSetup& setup, const Vec3& position, const std::vector<Rotation>& attitudes,
                  Limit rest, std::size_t index, const StopSign& stop, SpeedPayloadMap& map) {
  Best greatest, least;
  for (const Rotation& attitude : attitudes) {
    if (stop.raised()) return;
    const Best best = best_in(search, work, setup, rest, {attitude, position});
    if (!best.reached()) continue;
    if (!least.reached() || best.rest.mass < least.rest.mass) least.rest = best.rest;
    if (least.moving.mass < 0 || best.moving.mass < least.moving.mass) least.moving = best.moving;
    if (best.rest.mass > greatest.rest.mass) greatest.rest = best.rest;
    if (best.moving.mass > greatest.moving.mass) greatest.moving = best.moving;
  }
  if (!greatest.reached()) return;
  map.rest_greatest[index] = greatest.rest.mass;
  map.rest_least[index] = least.rest.mass;
  map.rest_joint[index] = greatest.rest.joint;
  map.rest_joint_least[index] = least.rest.joint;
  map.greatest[index] = greatest.moving;
  map.least[index] = least.moving;
}

}  // namespace

SpeedPayloadMap speed_payload_map(const PostureSearch& search, const MovingSetup& setup, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                                  Limit rest, unsigned threads, const Progress& progress) {
  const std::size_t size = positions.size();
  SpeedPayloadMap map;
  map.rest_greatest.assign(size, nothing);
  map.rest_least = map.rest_greatest;
  map.rest_joint.assign(size, -1);
  map.rest_joint_least = map.rest_joint;
  map.greatest.assign(size, MovingPayload{.mass = nothing});
  map.least = map.greatest;
  const std::size_t pieces = (size + positions_a_piece - 1) / positions_a_piece;
  auto work = make_posture_work(search, worker_count(pieces, threads));
  map.complete = for_each_piece(pieces, threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign& stop) {
    for (std::size_t index = piece * positions_a_piece; index < std::min(size, (piece + 1) * positions_a_piece); ++index)
      map_position(search, work[worker], setup, positions[index], attitudes, rest, index, stop, map);
  });
  return map;
}

}  // namespace armwright
