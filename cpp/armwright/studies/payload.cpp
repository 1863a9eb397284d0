#include "armwright/studies/payload.hpp"

#include <limits>

#include "armwright/clearance/posture_rows.hpp"
#include "armwright/limits/payload_of.hpp"

namespace armwright {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

// What one thread works with.
struct PayloadWork {
  PostureWork& plain;
  PostureRows rows;
  std::vector<double> mass{}, joint{};
  std::vector<std::uint8_t> clear{};
};

void weigh(const Model& model, const Vec3& centre, Limit limit, bool keep_frames, PayloadWork& work) {
  for (auto* values : {&work.mass, &work.joint}) values->resize(work.rows.count + WideLanes::width);
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_posture_packs<T>(model, keep_frames, work.rows, [&](const Pose3<T>* frames, std::size_t first) ARMWRIGHT_INLINE_LAMBDA {
      T own[max_joints], per_kilogram[max_joints];
      widened<T> wide_own[max_joints], wide_each[max_joints];
      holding_torques(model, centre, frames, own, per_kilogram);
      for (std::size_t i = 0; i < model.joint_count; ++i) wide_own[i] = widen(own[i]), wide_each[i] = widen(per_kilogram[i]);
      const HeldMass<widened<T>> held = held_mass(model, limit, wide_own, wide_each, static_cast<widened<T>*>(nullptr));
      store_run(held.mass, &work.mass[first]), store_run(held.joint, &work.joint[first]);
    });
  });
}

struct Held {
  double mass = -1, joint = -1;
};

// Of one position: the best of the attitude in hand, and over those before it the greatest and the least of the best.
struct Extremes {
  Held best, greatest, least;
  std::uint32_t attitude = 0;
  bool reached = false;

  void close() {
    if (best.mass < 0) return;
    if (best.mass > greatest.mass) greatest = best;
    if (!reached || best.mass < least.mass) least = best;
    reached = true;
    best = {};
  }
  void take(std::uint32_t of, const Held& held) {
    if (of != attitude) close(), attitude = of;
    if (held.mass > best.mass) best = held;
  }
};

// Positions from `first` on.
void map_positions(const PostureSearch& search, PayloadWork& work, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                   const Vec3& centre, Limit limit, std::size_t first, const StopSign& stop, PayloadMap& map) {
  std::array<Extremes, positions_at_once> found;
  const std::vector<HeldRow>& asked = work.rows.asked;
  const bool done = for_postures_found(search, work.plain, positions, attitudes, stop, work.rows, [&] {
    weigh(*search.model, centre, limit, search.scene != nullptr, work);
    clear_rows(search, work.plain, work.rows, work.clear);
    for (std::size_t i = 0; i < work.rows.count; ++i) {
      if (!work.clear[i]) continue;
      const HeldRow& row = asked[work.rows.of[i]];
      found[row.position].take(row.attitude, {work.mass[i], work.joint[i]});
    }
  });
  if (!done) return;
  for (std::size_t p = 0; p < positions.size(); ++p) {
    found[p].close();
    if (!found[p].reached) continue;
    map.mass_greatest[first + p] = found[p].greatest.mass;
    map.mass_least[first + p] = found[p].least.mass;
    map.limiting_joint[first + p] = static_cast<std::int32_t>(found[p].greatest.joint);
    map.limiting_joint_least[first + p] = static_cast<std::int32_t>(found[p].least.joint);
  }
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
  map.complete = for_positions_together<PayloadWork>(search, positions, threads, progress, [&](PayloadWork& work, std::span<const Vec3> here, std::size_t first, const StopSign& stop) {
    map_positions(search, work, here, attitudes, centre, request.limit, first, stop, map);
  });
  return map;
}

}  // namespace armwright
