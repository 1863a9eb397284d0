#include "armwright/limits/speed_payload.hpp"

#include "armwright/dynamics/world_bodies.hpp"
#include "armwright/kinematics/chain.hpp"
#include "armwright/limits/speed_payload_solve.hpp"
#include "armwright/limits/speed_payload_ways.hpp"
#include "armwright/motion/drive_torques.hpp"

namespace armwright {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

MovingLimit limit_of(std::int8_t part) {
  return part == part_motor ? MovingLimit::motor_torque : part >= 0 ? MovingLimit::stage_torque : MovingLimit::stated_torque;
}

// The least mass so far. Where the arm's own motion is too much already, the limit that is passed by most.
class Least {
 public:
  explicit Least(double enough) : enough_(enough) {}

  bool betters(const Least& other) const {
    return answer_.moves_itself == other.answer_.moves_itself ? answer_.mass > other.answer_.mass : answer_.moves_itself;
  }
  bool decided() const { return answer_.mass <= enough_; }
  const MovingPayload& answer() const { return answer_; }

  void take(const MassBound& bound, std::size_t axis, std::int8_t part, Demand demand) {
    const double own = bound_at(bound, 0).value;
    if (own > bound.room) {
      fail(bound.room > 0 ? own / bound.room : infinite, {0, static_cast<std::int32_t>(axis), part, limit_of(part), demand, false});
      return;
    }
    // Convex: what holds at 0 and at the mass found so far holds between.
    if (!answer_.moves_itself || (answer_.mass < infinite && bound_at(bound, answer_.mass).value <= bound.room)) return;
    const double mass = greatest_mass(bound);
    if (mass < answer_.mass) answer_ = {mass, static_cast<std::int32_t>(axis), part, limit_of(part), demand, true};
  }

  // own + swings either way round, within ±most.
  void take_both(double own, double per_kilogram, double most, std::span<const Swing> swings, std::size_t axis, std::int8_t part, Demand demand) {
    take({own, per_kilogram, most, swings}, axis, part, demand);
    take({-own, -per_kilogram, most, swings}, axis, part, demand);
  }

  void fail(double share, const MovingPayload& failure) {
    if (!answer_.moves_itself && share <= worst_) return;
    answer_ = failure;
    worst_ = share;
  }

 private:
  MovingPayload answer_;
  double enough_, worst_ = 0;
};

// One posture's torques of the axes.
struct Holding {
  double own[max_joints], per_kilogram[max_joints];
};

// Inertia of one posture without load, and what a load of 1 kg adds: joint space, and the same with rows of the axes, Cᵀ M.
struct Inertias {
  JointMatrix own, axis_own, axis_per_kilogram;
};

JointMatrix mass_matrix(const Model& model, const Inertia& last, const Pose* frames) {
  const std::size_t n = model.joint_count;
  WorldBodies<double> bodies;
  world_bodies(model, last, frames, bodies);
  double rows[max_joints * max_joints];
  mass_matrix_of(bodies, n, rows);
  const auto size = static_cast<Eigen::Index>(n);
  return Eigen::Map<const JointMatrix>(rows, size, size);  // symmetric, so that rows are columns
}

JointMatrix matrix_of(const std::vector<double>& rows, std::size_t n) {
  const auto size = static_cast<Eigen::Index>(n);
  return Eigen::Map<const JointMatrix>(rows.data(), size, size).transpose();
}

Inertias inertias_of(const MovingSetup& setup, const Pose* frames) {
  const Model& model = *setup.model;
  Inertias inertias;
  inertias.own = inertias.axis_own = mass_matrix(model, model.link[model.joint_count - 1], frames);
  inertias.axis_per_kilogram = mass_matrix(setup.load_only, setup.unit_load, frames);
  if (model.coupling.none()) return inertias;
  const JointMatrix turned = matrix_of(model.coupling.matrix, model.joint_count).transpose();
  inertias.axis_own = turned * inertias.own;
  inertias.axis_per_kilogram = (turned * inertias.axis_per_kilogram).eval();
  return inertias;
}

Vec3 row_of(const JointMap& map, std::size_t i) {
  const auto r = static_cast<Eigen::Index>(i);
  return {map(r, 0), map(r, 1), map(r, 2)};
}

// (a) of moving_payload(), with given joints accelerating the tool.
void tool_accelerations(const MovingSetup& setup, const ToolWays& ways, const Holding& holding, const Inertias& inertias, Least& least) {
  const Model& model = *setup.model;
  if (ways.singular) {
    least.fail(infinite, {0, -1, part_none, MovingLimit::singular, Demand::tool_acceleration, false});
    return;
  }
  const double along = setup.demand.tool_acceleration, about = setup.demand.turn_acceleration;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const double most = along * norm(row_of(ways.along, i)) + about * norm(row_of(ways.about, i));
    if (most > model.acceleration[i] * (1 + 1e-12))
      least.fail(most / model.acceleration[i], {0, static_cast<std::int32_t>(i), part_none, MovingLimit::joint_acceleration, Demand::tool_acceleration, false});
  }
  JointMap axis_along = ways.along, axis_about = ways.about;
  if (!model.coupling.none()) {
    const JointMatrix back = matrix_of(model.coupling.inverse, model.joint_count);
    axis_along = back * ways.along;
    axis_about = back * ways.about;
  }
  const JointMap own_along = inertias.axis_own * ways.along, own_about = inertias.axis_own * ways.about;
  const JointMap load_along = inertias.axis_per_kilogram * ways.along, load_about = inertias.axis_per_kilogram * ways.about;
  for (std::size_t k = 0; k < model.joint_count; ++k)
    for (std::size_t l = 0; l < setup.at_rest[k].count; ++l) {
      const auto& [most, inertia, part] = setup.at_rest[k].limit[l];
      Swing swings[2];
      std::size_t count = 0;
      if (along > 0) swings[count++] = {along, row_of(own_along, k) + inertia * row_of(axis_along, k), row_of(load_along, k)};
      if (about > 0) swings[count++] = {about, row_of(own_about, k) + inertia * row_of(axis_about, k), row_of(load_about, k)};
      least.take_both(holding.own[k], holding.per_kilogram[k], most, {swings, count}, k, part, Demand::tool_acceleration);
      if (least.decided()) return;
    }
}

// The best of the choices of which joints accelerate the tool.
void tool_accelerations(const MovingSetup& setup, const Pose* frames, const Holding& holding, const Inertias& inertias, Least& least) {
  const auto n = static_cast<Eigen::Index>(setup.model->joint_count);
  const JointMatrix with_rotors = inertias.own + Eigen::Map<const JointMatrix>(setup.rotors.matrix.data(), n, n);
  const Least before = least;
  for (const auto& moving : setup.shares) {
    Least tried = before;
    tool_accelerations(setup, tool_ways(setup, moving, frames, with_rotors), holding, inertias, tried);
    if (&moving == &setup.shares.front() || tried.betters(least)) least = tried;
  }
}

// The swings of one axis' torque, a joint each.
std::size_t joint_swings(const MovingSetup& setup, const Inertias& inertias, std::size_t axis, double rotor, Swing* swings) {
  const Model& model = *setup.model;
  const std::size_t n = model.joint_count;
  std::size_t count = 0;
  for (std::size_t j = 0; j < n; ++j) {
    if (!(setup.demand.joint_acceleration[j] > 0)) continue;
    const auto k = static_cast<Eigen::Index>(axis), column = static_cast<Eigen::Index>(j);
    const double turns = model.coupling.none() ? (j == axis) : model.coupling.inverse[axis * n + j];
    swings[count++] = {setup.demand.joint_acceleration[j], {inertias.axis_own(k, column) + rotor * turns, 0, 0}, {inertias.axis_per_kilogram(k, column), 0, 0}};
  }
  return count;
}

// (b) of moving_payload().
void joint_accelerations(const MovingSetup& setup, const Holding& holding, const Inertias& inertias, Least& least) {
  for (std::size_t k = 0; k < setup.model->joint_count; ++k)
    for (std::size_t l = 0; l < setup.at_rest[k].count; ++l) {
      const auto& [most, inertia, part] = setup.at_rest[k].limit[l];
      Swing swings[max_joints];
      const std::size_t count = joint_swings(setup, inertias, k, inertia, swings);
      least.take_both(holding.own[k], holding.per_kilogram[k], most, {swings, count}, k, part, Demand::joint_acceleration);
      if (least.decided()) return;
    }
}

// (c) of moving_payload().
ARMWRIGHT_BATCH void joint_speeds(const MovingSetup& setup, const Pose* frames, const Inertias* inertias, Least& least) {
  const Model& model = *setup.model;
  const std::size_t n = model.joint_count, patterns = setup.patterns.size() / n;
  Pose3<Lanes> spread_frames[max_joints] = {};
  for (std::size_t i = 0; i < n; ++i) spread_frames[i] = spread<Lanes>(frames[i]);
  WorldBodies<Lanes> bodies, load_bodies;
  world_bodies(model, model.link[n - 1], spread_frames, bodies);
  world_bodies(setup.load_only, setup.unit_load, spread_frames, load_bodies);
  double springs[max_joints] = {};
  subtract_springs(model, frames, springs);
  Swing swings[max_joints][max_joints];
  std::size_t swing_count[max_joints] = {};
  for (std::size_t k = 0; inertias && k < n; ++k) swing_count[k] = joint_swings(setup, *inertias, k, 0, swings[k]);
  for (std::size_t first = 0; first < patterns; first += Lanes::width) {
    Lanes speed[max_joints], torque[max_joints], own[max_joints], load[max_joints];
    const std::size_t here = patterns - first < Lanes::width ? patterns - first : Lanes::width;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t k = 0; k < Lanes::width; ++k) speed[i].set(k, setup.patterns[(first + (k < here ? k : 0)) * n + i]);
    bias_of(model, bodies, speed, torque);
    for (std::size_t i = 0; i < n; ++i) torque[i] += Lanes(springs[i]);
    axis_torques(model, torque, own);
    bias_of(model, load_bodies, speed, torque);
    axis_torques(model, torque, load);
    for (std::size_t p = 0; p < here; ++p)
      for (std::size_t reverse = 0; reverse < 2; ++reverse)
        for (std::size_t k = 0; k < n; ++k) {
          const TorqueInterval& within = setup.within[(2 * (first + p) + reverse) * n + k];
          const std::span<const Swing> swing{swings[k], swing_count[k]};
          least.take({own[k][p], load[k][p], within.greatest, swing}, k, within.greatest_part, Demand::joint_speed);
          least.take({-own[k][p], -load[k][p], -within.least, swing}, k, within.least_part, Demand::joint_speed);
        }
    if (least.decided()) return;
  }
}

}  // namespace

MovingPayload moving_payload(const MovingSetup& setup, const Pose* frames, double enough) {
  const Model& model = *setup.model;
  if (!setup.too_fast.moves_itself) return setup.too_fast;
  Least least(enough);
  Holding holding;
  holding_torques(model, setup.unit_load.centre, frames, holding.own, holding.per_kilogram);
  for (std::size_t k = 0; k < model.joint_count; ++k)
    for (std::size_t l = 0; l < setup.at_rest[k].count; ++l)
      least.take_both(holding.own[k], holding.per_kilogram[k], setup.at_rest[k].limit[l].most, {}, k, setup.at_rest[k].limit[l].part, Demand::rest);
  if (least.decided() || !(setup.asks_tool || setup.asks_joints || setup.asks_speed)) return least.answer();
  const bool needs_inertias = setup.asks_tool || setup.asks_joints;
  const Inertias inertias = needs_inertias ? inertias_of(setup, frames) : Inertias{};
  if (setup.asks_tool) tool_accelerations(setup, frames, holding, inertias, least);
  if (setup.asks_joints && !least.decided()) joint_accelerations(setup, holding, inertias, least);
  if (setup.asks_speed && !least.decided()) joint_speeds(setup, frames, setup.asks_joints ? &inertias : nullptr, least);
  return least.answer();
}

void moving_payloads(const MovingSetup& setup, std::span<const double> q, std::span<MovingPayload> out) {
  const std::size_t n = setup.model->joint_count;
  Pose frames[max_joints];
  for (std::size_t row = 0; row < out.size(); ++row) {
    joint_frames(*setup.model, q.data() + row * n, frames);
    out[row] = moving_payload(setup, frames);
  }
}

}  // namespace armwright
