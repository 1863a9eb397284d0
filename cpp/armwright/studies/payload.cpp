#include "armwright/studies/payload.hpp"

#include <limits>

#include "armwright/clearance/posture_rows.hpp"
#include "armwright/limits/payload_of.hpp"

namespace armwright {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

// The questions of one position and attitude that are in hand, and of their postures the one that holds most.
struct InAttitude {
  std::size_t from, to;  // of the questions
  double mass;           // kg, what a posture must hold more than
  std::uint32_t heaviest;
};
constexpr std::uint32_t none = ~std::uint32_t{0};

// What one thread works with.
struct PayloadWork {
  PostureWork& plain;
  PostureRows rows;
  std::vector<double> mass{}, joint{};
  std::vector<InAttitude> attitudes{};
  std::vector<InAttitude*> open{};  // whose heaviest posture is to be asked whether it is clear
  std::vector<std::uint32_t> which{};
  std::vector<double> margins{};
  std::vector<std::uint8_t> clear{}, blocked{};
};

void weigh(const Model& model, const Vec3& centre, Limit limit, PayloadWork& work) {
  for (auto* values : {&work.mass, &work.joint}) values->resize(work.rows.room);
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_posture_packs<T>(model, work.rows, [&](const Pose3<T>* frames, std::size_t first) ARMWRIGHT_INLINE_LAMBDA {
      T own[max_joints], per_kilogram[max_joints];
      holding_torques(model, centre, frames, own, per_kilogram);
      const HeldMass<T> held = held_mass(model, limit, own, per_kilogram, static_cast<T*>(nullptr));
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

// The first of its postures that holds most, of those that are not known to be blocked.
void find_heaviest(const PayloadWork& work, InAttitude& in) {
  double mass = in.mass;
  in.heaviest = none;
  for (std::uint32_t i = work.rows.first[in.from]; i < work.rows.first[in.to]; ++i) {
    const std::uint32_t row = work.rows.order[i];
    if (work.mass[row] > mass && !work.blocked[row]) in.heaviest = row, mass = work.mass[row];
  }
}

void gather_attitudes(PayloadWork& work, std::span<const Extremes> found) {
  const std::vector<HeldRow>& asked = work.rows.asked;
  work.attitudes.clear();
  for (std::size_t from = 0, to = 0; from < asked.size(); from = to) {
    const auto& [position, attitude, arm] = asked[from];
    while (to < asked.size() && asked[to].position == position && asked[to].attitude == attitude) ++to;
    const Extremes& so_far = found[position];
    work.attitudes.push_back({from, to, so_far.attitude == attitude ? so_far.best.mass : -1, none});
  }
}

// In each attitude the heaviest posture that is clear: only of the heaviest is that asked, and of the next where it is not.
void take_heavier(const PostureSearch& search, PayloadWork& work, std::span<Extremes> found) {
  work.blocked.assign(work.rows.count, 0);
  gather_attitudes(work, found);
  work.open.clear();
  for (InAttitude& in : work.attitudes) work.open.push_back(&in);
  while (!work.open.empty()) {
    work.which.clear();
    std::size_t asking = 0;
    for (InAttitude* in : work.open) {
      find_heaviest(work, *in);
      if (in->heaviest != none) work.open[asking++] = in, work.which.push_back(in->heaviest);
    }
    work.margins.assign(asking, search.margin), work.clear.resize(asking);
    clear_rows(search, work.plain, work.rows, work.which, work.margins, work.clear);
    std::size_t left = 0;
    for (std::size_t i = 0; i < asking; ++i)
      if (!work.clear[i]) work.blocked[work.which[i]] = 1, work.open[left++] = work.open[i];
    work.open.resize(left);
  }
  for (const InAttitude& in : work.attitudes) {
    const HeldRow& row = work.rows.asked[in.from];
    if (in.heaviest != none) found[row.position].take(row.attitude, {work.mass[in.heaviest], work.joint[in.heaviest]});
  }
}

// Positions from `first` on.
void map_positions(const PostureSearch& search, PayloadWork& work, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                   const Vec3& centre, Limit limit, std::size_t first, const StopSign& stop, PayloadMap& map) {
  std::array<Extremes, positions_at_once> found;
  const bool done = for_postures_found(search, work.plain, positions, attitudes, stop, work.rows, [&] {
    weigh(*search.model, centre, limit, work);
    take_heavier(search, work, found);
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
  map.complete = for_positions_together<PayloadWork>(search, positions, attitudes, false, threads, progress, [&](PayloadWork& work, std::span<const Vec3> here, std::size_t first, const StopSign& stop) {
    map_positions(search, work, here, attitudes, centre, request.limit, first, stop, map);
  });
  return map;
}

}  // namespace armwright
