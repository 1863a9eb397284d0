#include <algorithm>
#include <cmath>
#include <limits>
#include <unordered_map>

#include "armwright/clearance/bodies.hpp"
#include "armwright/clearance/scene.hpp"
#include "armwright/clearance/scene_data.hpp"
#include "armwright/kinematics/chain.hpp"
#include "armwright/support/refused.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr std::size_t posture_count = 128;  // in all of which two links must overlap, or keep one distance, to do so by design
constexpr double touch = 1e-6;              // m; nearer than this, they touch
constexpr double unchanged = 1e-9;          // m; a distance that varies by less is one and the same

const char* word(ShapeKind kind) {
  switch (kind) {
    case ShapeKind::box: return "box";
    case ShapeKind::cylinder: return "cylinder";
    case ShapeKind::capsule: return "capsule";
    case ShapeKind::sphere: return "sphere";
    case ShapeKind::half_space: return "half-space";
    case ShapeKind::convex_hull: return "convex hull";
    default: return "mesh";
  }
}

// A scene in the making: each solid with the body it belongs to.
class Builder {
 public:
  Builder(const CellSpec& cell, const Model& model) : cell_(cell), model_(model), bodies_(bodies_of(cell, model)) {}
  std::shared_ptr<const Scene> build();

 private:
  void add_solids(bool moving, bool half_spaces);
  void add_solid(std::size_t body, std::size_t shape, Solid solid);
  std::int32_t name_index(const std::string& name);
  void check_ignored() const;
  bool ignored(std::size_t i, std::size_t j) const;
  bool is_arm(std::size_t body) const { return bodies_[body].part != Body::Part::fixture; }
  bool may_be_seated(std::size_t a, std::size_t b) const;
  double gap(std::size_t a, std::size_t b, const Pose* frames, double cutoff) const;
  void find_touching();
  void note_touching(std::size_t a, std::size_t b);
  bool touching(std::size_t a, std::size_t b) const { return touching_[std::min(a, b) * bodies_.size() + std::max(a, b)]; }
  bool compared(std::size_t i, std::size_t j) const;
  void flatten_moving();
  void flatten_still();
  void pair_up();

  const CellSpec& cell_;
  const Model& model_;
  std::vector<Body> bodies_;
  std::shared_ptr<Scene> scene_ = std::make_shared<Scene>();
  std::vector<std::size_t> body_of_;           // of each solid
  std::vector<std::string> own_name_;          // of each solid's shape
  std::vector<std::vector<std::size_t>> solids_of_;  // of each body
  std::size_t arm_bodies_ = 0;                 ///< stand before the fixtures
  std::vector<bool> touching_;                 ///< [body of the arm][later body]
  std::unordered_map<std::string, std::int32_t> name_indices_;
};

std::int32_t Builder::name_index(const std::string& name) {
  const auto [found, is_new] = name_indices_.try_emplace(name, static_cast<std::int32_t>(scene_->names.size()));
  if (is_new) scene_->names.push_back(name);
  return found->second;
}

void Builder::add_solid(std::size_t body, std::size_t shape, Solid solid) {
  const ShapeSpec& spec = bodies_[body].shapes[shape];
  own_name_.push_back(spec.name);
  body_of_.push_back(body);
  solids_of_[body].push_back(scene_->solids.size());
  solid.name = name_index(spec.name.empty() ? bodies_[body].name : spec.name);
  solid.of_stand = bodies_[body].frame < 0 && is_arm(body);
  scene_->solids.push_back(std::move(solid));
}

void Builder::add_solids(bool moving, bool half_spaces) {
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    const Body& body = bodies_[b];
    if ((body.frame >= 0) != moving) continue;
    for (std::size_t s = 0; s < body.shapes.size(); ++s) {
      const ShapeSpec& spec = body.shapes[s];
      if ((spec.kind == ShapeKind::half_space) != half_spaces) continue;
      const bool fixture = body.part == Body::Part::fixture;
      const std::string own = spec.name.empty() || fixture ? "" : " '" + spec.name + "'";
      const std::string key = (fixture ? "fixture '" : "'") + body.name + "', " + word(spec.kind) + own;
      if (moving && half_spaces) throw Refused(key, "a half-space that moves", "a solid of finite size");
      if (!(std::isfinite(spec.clearance) && spec.clearance >= 0))
        throw Refused(key + " clearance", std::to_string(spec.clearance) + " m", "0 m or more");
      add_solid(b, s, {prepare_shape(key, spec), body.frame, body.placement * spec.pose, 0, spec.clearance});
    }
  }
}

void Builder::check_ignored() const {
  const auto known = [&](const std::string& name) {
    const auto is_it = [&](const Body& body) {
      return body.name == name || std::any_of(body.shapes.begin(), body.shapes.end(), [&](const ShapeSpec& s) { return s.name == name; });
    };
    return std::any_of(bodies_.begin(), bodies_.end(), is_it);
  };
  for (const auto& [a, b] : cell_.ignored_pairs)
    for (const std::string& name : {a, b})
      if (!known(name)) throw Refused("ignored pair", "'" + name + "'", "the name of a link, a shape, the tool, the load or a fixture");
}

bool Builder::ignored(std::size_t i, std::size_t j) const {
  const auto named = [&](std::size_t solid, const std::string& name) {
    return bodies_[body_of_[solid]].name == name || (!own_name_[solid].empty() && own_name_[solid] == name);
  };
  return std::any_of(cell_.ignored_pairs.begin(), cell_.ignored_pairs.end(), [&](const auto& pair) {
    return (named(i, pair.first) && named(j, pair.second)) || (named(i, pair.second) && named(j, pair.first));
  });
}

// The least distance of two bodies; above `cutoff` it need not be exact.
double Builder::gap(std::size_t a, std::size_t b, const Pose* frames, double cutoff) const {
  double least = infinity;
  for (const std::size_t i : solids_of_[a]) {
    for (const std::size_t j : solids_of_[b]) {
      const Solid &first = scene_->solids[i], &second = scene_->solids[j];
      least = std::min(least, separation(first.shape, pose_of(first, frames), second.shape, pose_of(second, frames), cutoff).distance);
    }
  }
  return least;
}

// Which pairs may touch, or keep one distance, in every posture without being next to each other: parts of the arm; and
// a base or carriage and what it slides over or along.
bool Builder::may_be_seated(std::size_t a, std::size_t b) const {
  const auto slides = [&](std::size_t i) { return bodies_[i].part == Body::Part::base || bodies_[i].part == Body::Part::carriage; };
  if (bodies_[a].frame < 0 && bodies_[b].frame < 0) return false;
  return (is_arm(a) && is_arm(b)) || (slides(a) && bodies_[a].frame >= 0) || (slides(b) && bodies_[b].frame >= 0);
}

void Builder::note_touching(std::size_t a, std::size_t b) {
  touching_[a * bodies_.size() + b] = true;
  if (!solids_of_[a].empty() && !solids_of_[b].empty()) scene_->touching.emplace_back(bodies_[a].name, bodies_[b].name);
}

void Builder::find_touching() {
  const std::size_t count = bodies_.size();
  touching_.assign(arm_bodies_ * count, false);
  struct Open {
    std::size_t a, b;
    double first_gap;
    bool overlaps, changes;
  };
  std::vector<Open> open;
  for (std::size_t a = 0; a < arm_bodies_; ++a) {
    for (std::size_t b = a + 1; b < count; ++b) {
      if (are_joined(bodies_[a], bodies_[b])) note_touching(a, b);
      else if (may_be_seated(a, b) && !solids_of_[a].empty() && !solids_of_[b].empty()) open.push_back({a, b, 0, true, false});
    }
  }
  std::vector<Pose> frames(model_.joint_count);
  bool first = true;
  for (const auto& q : spread_postures(model_, posture_count)) {
    joint_frames<double>(model_, q.data(), frames.data());
    for (Open& pair : open) {
      const double now = gap(pair.a, pair.b, frames.data(), pair.changes ? touch : infinity);
      if (first) pair.first_gap = now;
      pair.overlaps = pair.overlaps && now < touch;
      pair.changes = pair.changes || std::fabs(now - pair.first_gap) > unchanged;
    }
    first = false;
    std::erase_if(open, [](const Open& pair) { return !pair.overlaps && pair.changes; });
    if (open.empty()) return;
  }
  for (const Open& pair : open) note_touching(pair.a, pair.b);
}

// Of two that stand still no posture changes anything: they are not compared.
bool Builder::compared(std::size_t i, std::size_t j) const {
  const std::size_t a = body_of_[i], b = body_of_[j];
  if (a == b || (bodies_[a].frame < 0 && bodies_[b].frame < 0)) return false;
  return (is_arm(a) || is_arm(b)) && !touching(a, b) && !ignored(i, j);
}

void Builder::flatten_moving() {
  for (std::size_t i = 0; i < scene_->moving; ++i) {
    const Solid& solid = scene_->solids[i];
    scene_->segment_centre.push_back(solid.pose * solid.shape.segment_centre);
    scene_->segment_half.push_back(solid.pose.rotation * solid.shape.segment_half);
    scene_->segment_radius.push_back(solid.shape.segment_radius);
    scene_->segment_square.push_back(dot(solid.shape.segment_half, solid.shape.segment_half));
    scene_->segment_ball.push_back(norm(solid.shape.segment_half) + solid.shape.segment_radius);
    scene_->frame.push_back(solid.frame);
    scene_->frames_used = std::max(scene_->frames_used, static_cast<std::size_t>(solid.frame) + 1);
  }
}

void Builder::flatten_still() {
  Scene& scene = *scene_;
  scene.still.resize(scene.bounded);
  scene.still_pairs.assign(scene.moving * scene.bounded, Pairing::left_out);
  for (std::size_t j = 0; j < scene.bounded; ++j) {
    seat(scene, j);
    const std::size_t index = scene.moving + j;
    const bool box = scene.solids[index].shape.kind == ShapeKind::box;
    for (std::size_t i = 0; i < scene.moving; ++i) {
      if (!compared(i, index)) continue;
      const bool round = box && is_round(scene.solids[i].shape.kind);
      scene.still_pairs[i * scene.bounded + j] = round ? Pairing::round : Pairing::bounded;
      scene.has_bounded = scene.has_bounded || !round;
    }
  }
  grow_tree(scene);
}

void Builder::pair_up() {
  Scene& scene = *scene_;
  const auto round = [&](std::size_t i) { return is_round(scene.solids[i].shape.kind); };
  for (std::size_t i = 0; i < scene.moving; ++i) {
    for (std::size_t j = i + 1; j < scene.moving; ++j) {
      if (!compared(i, j)) continue;
      scene.arm_pairs.push_back({static_cast<std::int32_t>(i), static_cast<std::int32_t>(j)});
      scene.arm_pairing.push_back(round(i) && round(j) ? Pairing::round : Pairing::bounded);
    }
  }
  for (std::size_t j = scene.moving + scene.bounded; j < scene.solids.size(); ++j)
    for (std::size_t i = 0; i < scene.moving; ++i)
      if (compared(i, j)) scene.plane_pairs.push_back({static_cast<std::int32_t>(i), static_cast<std::int32_t>(j)});
}

std::shared_ptr<const Scene> Builder::build() {
  solids_of_.resize(bodies_.size());
  while (arm_bodies_ < bodies_.size() && is_arm(arm_bodies_)) ++arm_bodies_;
  check_ignored();
  add_solids(true, true);  // refuses them
  add_solids(true, false);
  scene_->moving = scene_->solids.size();
  add_solids(false, false);
  scene_->bounded = scene_->solids.size() - scene_->moving;
  add_solids(false, true);
  find_touching();
  flatten_moving();
  flatten_still();
  pair_up();
  return scene_;
}

}  // namespace

std::shared_ptr<const Scene> build_scene(const CellSpec& cell, const Model& model) { return Builder(cell, model).build(); }

}  // namespace armwright
