#include "armwright/studies/sag.hpp"

#include <limits>

#include "armwright/dynamics/compliance.hpp"

namespace armwright {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

struct Sagging {
  ElasticSpace space;
  std::vector<double> by_cause, kept;  // of the posture in hand, and of the best in this attitude
  std::array<double, max_joints> q{};  // of that
};

Vec3 shift_of(const std::vector<double>& by_cause) {
  Vec3 sum{0, 0, 0};
  for (std::size_t c = 0; c < by_cause.size(); c += 6) sum = sum + Vec3{by_cause[c], by_cause[c + 1], by_cause[c + 2]};
  return sum;
}

// The least shift over the postures of one attitude, with its parts in `kept`; negative if there is none.
double least_in_attitude(const PostureSearch& search, PostureWork& work, const ElasticChain& chain, const Inertia& load, const Pose& target, Sagging& sagging) {
  constexpr double push[6] = {};
  double least = -1;
  any_held(search, target, [&](const HeldArm& arm) {
    return visit_postures_at(search, work, target, arm, [&](const Posture& posture) {
      sag_at(*search.model, chain, load, push, posture.q, sagging.space, sagging.by_cause.data());
      const double size = norm(shift_of(sagging.by_cause));
      if (least < 0 || size < least) {
        least = size;
        sagging.kept.swap(sagging.by_cause);
        std::copy_n(posture.q, search.model->joint_count, sagging.q.begin());
      }
      return false;
    });
  });
  return least;
}

void put_greatest(const Model& model, const Sagging& sagging, double size, std::size_t index, SagMap& map) {
  const Vec3 shift = shift_of(sagging.kept);
  const double g = norm(model.gravity);
  map.greatest[index] = size;
  map.lowest[index] = g > 0 ? dot(shift, model.gravity) / g : 0;
  map.cause[index] = -1;
  map.cause_share[index] = 0;
  for (std::size_t c = 0; c < sagging.kept.size() / 6 && size > 0; ++c) {
    const double share = dot(shift, Vec3{sagging.kept[6 * c], sagging.kept[6 * c + 1], sagging.kept[6 * c + 2]}) / (size * size);
    if (share > map.cause_share[index]) map.cause_share[index] = share, map.cause[index] = static_cast<std::int32_t>(c);
  }
  std::copy_n(sagging.q.begin(), model.joint_count, map.q.begin() + static_cast<std::ptrdiff_t>(index * model.joint_count));
}

}  // namespace

SagMap sag_map(const PostureSearch& search, const ElasticChain& chain, const Inertia& load, std::span<const Vec3> positions,
               const std::vector<Rotation>& attitudes, unsigned threads, const Progress& progress) {
  const std::size_t size = positions.size(), workers = worker_count(size, threads);
  SagMap map;
  map.least.assign(size, nothing);
  map.greatest = map.lowest = map.cause_share = map.least;
  map.cause.assign(size, -1);
  map.q.assign(size * search.model->joint_count, nothing);
  auto work = make_posture_work(search, workers);
  const std::vector<double> parts(chain.causes.size() * 6);
  std::vector<Sagging> sagging(workers, Sagging{ElasticSpace(chain), parts, parts, {}});
  map.complete = for_each_piece(size, threads, progress, [&](std::size_t index, std::size_t worker, const StopSign& stop) {
    for (const Rotation& attitude : attitudes) {
      if (stop.raised()) return;
      Sagging& here = sagging[worker];
      const double least = least_in_attitude(search, work[worker], chain, load, Pose{attitude, positions[index]}, here);
      if (least < 0) continue;
      if (!(map.greatest[index] >= least)) put_greatest(*search.model, here, least, index, map);
      if (!(map.least[index] <= least)) map.least[index] = least;
    }
  });
  return map;
}

}  // namespace armwright
