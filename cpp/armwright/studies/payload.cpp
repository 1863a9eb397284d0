#include "armwright/studies/payload.hpp"

#include <limits>

#include "armwright/limits/payload_of.hpp"

namespace armwright {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr std::size_t positions_a_piece = 8;

void map_position(const PostureSearch& search, PostureWork& work, const Vec3& position, const std::vector<Rotation>& attitudes,
                  const Vec3& centre, Limit limit, std::size_t index, const StopSign& stop, PayloadMap& map) {
  StaticPayload greatest{-1, -1, true}, least{infinite, -1, true};
  bool reached = false;
  for (const Rotation& attitude : attitudes) {
    if (stop.raised()) return;
    StaticPayload best{-1, -1, true};
    const Pose target{attitude, position};
    any_held(search, target, [&](const HeldArm& arm) {
      return visit_within_limits(search, work, target, arm, [&](const Posture& posture) {
        // The mass is had for less than the clearance, which only a posture that holds more has to show.
        const StaticPayload held = posture_payload(*search.model, posture.frames, centre, limit);
        if (held.mass > best.mass && is_clear(search, work, posture, search.margin)) best = held;
        return false;
      });
    });
    if (best.mass < 0) continue;
    if (best.mass > greatest.mass) greatest = best;
    if (!reached || best.mass < least.mass) least = best;
    reached = true;
  }
  if (!reached) return;
  map.mass_greatest[index] = greatest.mass;
  map.mass_least[index] = least.mass;
  map.limiting_joint[index] = greatest.joint;
  map.limiting_joint_least[index] = least.joint;
}

}  // namespace

PayloadMap payload_map(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                       const PayloadRequest& request, unsigned threads, const Progress& progress) {
  const std::size_t size = positions.size();
  PayloadMap map;
  map.mass_greatest.assign(size, nothing);
  map.mass_least = map.mass_greatest;
  map.limiting_joint.assign(size, -1);
  map.limiting_joint_least = map.limiting_joint;
  const Vec3 centre = search.model->tool * request.centre;
  const std::size_t pieces = (size + positions_a_piece - 1) / positions_a_piece;
  auto work = make_posture_work(search, worker_count(pieces, threads));
  map.complete = for_each_piece(pieces, threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign& stop) {
    for (std::size_t index = piece * positions_a_piece; index < std::min(size, (piece + 1) * positions_a_piece); ++index)
      map_position(search, work[worker], positions[index], attitudes, centre, request.limit, index, stop, map);
  });
  return map;
}

}  // namespace armwright
