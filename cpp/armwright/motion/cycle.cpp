#include "armwright/motion/cycle.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/joint_range.hpp"
#include "armwright/motion/chain_motion.hpp"

namespace armwright {

namespace {

struct Planner {
  const Model& model;
  const ArmInverse* inverse;
  const CycleSpec& cycle;
  const PlanOptions& options;
  CyclePlan& plan;
  std::vector<double> q;   // where the arm stands
  double now = 0;

  const MoveSpec& spec(std::int32_t move) const { return cycle.moves[static_cast<std::size_t>(move)]; }

  bool refuse(PlanRefusal refusal) {
    plan.refusal = refusal;
    return false;
  }

  void add_row(double time, const double* at, const double* speed, const double* acceleration, std::int32_t move, const NamedLimit& limit) {
    TimedMotion& m = plan.motion;
    const auto n = static_cast<std::ptrdiff_t>(model.joint_count);
    m.time.push_back(time);
    m.q.insert(m.q.end(), at, at + n);
    m.speed.insert(m.speed.end(), speed, speed + n);
    m.acceleration.insert(m.acceleration.end(), acceleration, acceleration + n);
    m.move.push_back(move);
    m.load.push_back(spec(move).load);
    m.limit.push_back(static_cast<std::int32_t>(limit.limit));
    m.limit_axis.push_back(limit.axis);
  }

  // Stands still for a while.
  bool stand(std::int32_t move, double seconds, MotionLimit why) {
    PathRows here;
    here.joint_count = model.joint_count;
    here.s = {0};
    here.q = q;
    here.first.assign(q.size(), 0), here.second.assign(q.size(), 0);
    here.move = {move};
    const PathLimits limits = path_limits(model, here, cycle);
    if (const NamedLimit held = standing(limits, 0); held.use > 1) return refuse(at_row(PlanProblem::cannot_stand, here, 0, held));
    const std::vector<double> none(q.size(), 0.0);
    add_row(now, q.data(), none.data(), none.data(), move, {why, -1, 0});
    now += seconds;
    add_row(now, q.data(), none.data(), none.data(), move, {why, -1, 0});
    return true;
  }

  // A move told as legs; joint moves that send the track first have two, with a stop between.
  std::vector<std::vector<Leg>> legs_of(std::int32_t move) const {
    const MoveSpec& m = spec(move);
    Leg leg;
    leg.move = move;
    leg.blend = m.blend;
    if (m.kind != MoveKind::joints) {
      leg.by_tool = true, leg.round = m.kind == MoveKind::arc, leg.tool_to = m.to, leg.via = m.via, leg.track_to = m.track_to;
      return {{leg}};
    }
    leg.to = m.q;
    if (!model.has_track || m.track_order == TrackOrder::with_arm) return {{leg}};
    Leg track = leg;
    track.track_only = true;
    track.blend = 0;
    return {{track}, {leg}};
  }

  // One chain, from the first of `legs` to a stop. `stretch`: asked durations of its moves count.
  bool run(const std::vector<Leg>& legs) {
    const Timing timing = spec(legs.front().move).timing;
    ChainPath chain;
    if (const PathStop stop = build_chain(model, inverse, q, legs, options.grid, chain); !stop.good()) return refuse(from_path(stop));
    if (chain.legs.empty()) {
      q = chain.end;
      return true;
    }
    for (const Leg& leg : legs)
      if (spec(leg.move).timing != timing) return refuse({PlanProblem::mixed_timing, leg.move, -1, MotionLimit::none, 0, 0, 0});
    ChainMotion motion;
    if (const PlanRefusal refusal = timed_chain(model, inverse, cycle, timing, chain, motion); !refusal.good()) return refuse(refusal);
    pending.push_back(std::move(motion));
    q = chain.end;
    return true;
  }

  std::vector<ChainMotion> pending;  // of the moves at hand, before their durations are seen to

  // From here to there in the time that the moves need, or longer where a move is to last longer.
  bool settle(std::int32_t first, std::int32_t last) {
    const auto moves = static_cast<std::size_t>(last - first) + 1;
    std::vector<double> takes(moves, 0.0);
    for (const ChainMotion& motion : pending)
      for (std::size_t row = 0; row + 1 < motion.time.size(); ++row)
        takes[static_cast<std::size_t>(motion.path.move[row] - first)] += motion.time[row + 1] - motion.time[row];
    double k = 1;
    for (std::size_t i = 0; i < moves; ++i) {
      const double asked = spec(first + static_cast<std::int32_t>(i)).duration;
      if (asked <= 0) continue;
      if (asked < takes[i] * (1 - 1e-9)) return refuse(too_short(first + static_cast<std::int32_t>(i), asked, takes[i]));
      if (takes[i] > 0) k = std::max(k, asked / takes[i]);
    }
    for (const ChainMotion& motion : pending)
      if (!play(motion, k)) return false;
    // A move without motion: every move has rows, unless it is passed on the way.
    for (std::int32_t move = first; move <= last; ++move) {
      if (takes[static_cast<std::size_t>(move - first)] > 0 || (!pending.empty() && spec(move).duration <= 0)) continue;
      if (!stand(move, spec(move).duration, MotionLimit::duration)) return false;
    }
    pending.clear();
    return true;
  }

  // The limit that holds the move back for most of its time is told.
  PlanRefusal too_short(std::int32_t move, double asked, double takes) const {
    PlanRefusal refusal{PlanProblem::duration, move, -1, MotionLimit::none, takes, asked, 0};
    double longest = 0;
    for (const ChainMotion& motion : pending)
      for (std::size_t row = 0; row + 1 < motion.time.size(); ++row) {
        if (motion.path.move[row] != move) continue;
        double held = 0;
        for (std::size_t other = 0; other + 1 < motion.time.size(); ++other)
          if (motion.path.move[other] == move && motion.limit[other].limit == motion.limit[row].limit && motion.limit[other].axis == motion.limit[row].axis)
            held += motion.time[other + 1] - motion.time[other];
        if (held > longest) longest = held, refusal.limit = motion.limit[row].limit, refusal.axis = motion.limit[row].axis;
      }
    return refusal;
  }

  // Rows of a chain's motion, k times slower.
  bool play(const ChainMotion& motion, double k) {
    const std::size_t n = model.joint_count;
    std::vector<double> speed(n), acceleration(n);
    for (std::size_t row = 0; row < motion.time.size(); ++row) {
      const double rate = std::sqrt(motion.x[row]) / k, x = motion.x[row] / (k * k), u = motion.u[row] / (k * k);
      for (std::size_t i = 0; i < n; ++i) {
        speed[i] = motion.path.first[row * n + i] * rate;
        acceleration[i] = motion.path.first[row * n + i] * u + motion.path.second[row * n + i] * x;
      }
      add_row(now + k * motion.time[row], motion.path.q.data() + row * n, speed.data(), acceleration.data(), motion.path.move[row],
              k > 1 ? NamedLimit{MotionLimit::duration, -1, 0} : motion.limit[row]);
    }
    if (k > 1) {
      const PathLimits limits = path_limits(model, motion.path, cycle);
      for (std::size_t row = 0; row < motion.time.size(); ++row) {
        const NamedLimit use = most_used(limits, row, motion.x[row] / (k * k), motion.u[row] / (k * k));
        if (use.use > 1 + 1e-6) return refuse(at_row(PlanProblem::too_much, motion.path, row, use));
      }
    }
    now += k * motion.duration;
    return true;
  }

  // Moves from `first` on up to the next stop. Returns the one after.
  std::int32_t take_chain(std::int32_t first) {
    std::vector<Leg> chain;
    std::int32_t move = first;
    for (;; ++move) {
      std::vector<std::vector<Leg>> parts = legs_of(move);
      chain.insert(chain.end(), parts[0].begin(), parts[0].end());
      if (parts.size() > 1) {
        if (!run(chain)) return -1;
        chain = parts[1];
      }
      const bool more = static_cast<std::size_t>(move) + 1 < cycle.moves.size();
      if (spec(move).blend <= 0 || !more || spec(move + 1).kind == MoveKind::dwell) break;
    }
    if (!run(chain) || !settle(first, move)) return -1;
    return move + 1;
  }

  bool all() {
    const auto count = static_cast<std::int32_t>(cycle.moves.size());
    if (const PastLimit past = farthest(q); past.joint >= 0) return refuse({PlanProblem::joint_range, 0, past.joint, MotionLimit::none, past.by, 0, 0});
    for (std::int32_t move = 0; move < count;) {
      if (spec(move).kind == MoveKind::dwell) {
        if (!stand(move, spec(move).duration, MotionLimit::none)) return false;
        ++move;
        continue;
      }
      move = take_chain(move);
      if (move < 0) return false;
    }
    return close();
  }

  PastLimit farthest(const std::vector<double>& at) const {
    return limit_margin(model, at.data()) < 0 ? farthest_past_limit(model, at.data()) : PastLimit{};
  }

  bool close() {
    if (cycle.period <= 0) return true;
    const auto last = static_cast<std::int32_t>(cycle.moves.size()) - 1;
    PlanRefusal open{PlanProblem::not_closed, last, -1, MotionLimit::none, 1e-6, 0, 0};
    for (std::size_t i = 0; i < q.size(); ++i)
      if (const double off = std::fabs(q[i] - cycle.start[i]); off > open.value) open.value = off, open.axis = static_cast<std::int32_t>(i);
    if (open.axis >= 0) return refuse(open);
    if (now > cycle.period * (1 + 1e-9)) return refuse({PlanProblem::period, -1, -1, MotionLimit::duration, now, cycle.period, 0});
    return now >= cycle.period || stand(last, cycle.period - now, MotionLimit::duration);
  }
};

void set_move_times(std::size_t moves, CyclePlan& plan) {
  const TimedMotion& m = plan.motion;
  plan.move_start.assign(moves, 0.0), plan.move_end.assign(moves, 0.0);
  std::vector<bool> seen(moves, false);
  double time = 0;
  for (std::size_t row = 0; row < m.time.size(); ++row) {
    const auto move = static_cast<std::size_t>(m.move[row]);
    if (!seen[move]) plan.move_start[move] = time, seen[move] = true;
    time = plan.move_end[move] = m.time[row];
  }
  for (std::size_t move = 0; move < moves; ++move)
    if (!seen[move]) plan.move_start[move] = plan.move_end[move] = move > 0 ? plan.move_end[move - 1] : 0;
}

}  // namespace

CyclePlan plan_cycle(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, const PlanOptions& options) {
  CyclePlan plan;
  plan.motion.joint_count = model.joint_count;
  Planner planner{model, inverse, cycle, options, plan, cycle.start, 0, {}};
  planner.all();
  set_move_times(cycle.moves.size(), plan);
  return plan;
}

}  // namespace armwright
