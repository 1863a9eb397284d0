#include "armwright/studies/motion_clearance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/motion/sample.hpp"

namespace armwright {

namespace {

// Rows [begin, end) of one move with one load.
struct Stretch {
  std::size_t begin, end, move;
  const Scene* scene;
};

std::vector<Stretch> stretches_of(const TimedMotion& motion, const std::vector<std::shared_ptr<const Scene>>& scenes) {
  std::vector<Stretch> found;
  const std::size_t rows = motion.time.size();
  for (std::size_t begin = 0, end; begin < rows; begin = end) {
    for (end = begin + 1; end < rows && motion.move[end] == motion.move[begin] && motion.load[end] == motion.load[begin];) ++end;
    const std::int32_t load = motion.load[begin];
    found.push_back({begin, end, static_cast<std::size_t>(motion.move[begin]), load < 0 ? scenes.back().get() : scenes[static_cast<std::size_t>(load)].get()});
  }
  return found;
}

double most_required(const Scene& scene) {
  double most = 0;
  for (const Solid& solid : scene.solids) most = std::max(most, solid.clearance);
  return most;
}

struct Piecewise {
  std::vector<double> control;
  std::vector<std::size_t> row;  // at which each piece begins
};

Piecewise path_of(const TimedMotion& motion, const Stretch& stretch) {
  Piecewise path;
  for (std::size_t row = stretch.begin; row < stretch.end && row + 1 < motion.time.size(); ++row) {
    if (!(motion.time[row + 1] > motion.time[row])) continue;
    path.row.push_back(row);
    append_control_points(motion, row, path.control);
  }
  if (path.row.empty()) {  // it stands there for an instant
    path.row.push_back(stretch.begin);
    for (std::size_t k = 0; k < piece_points; ++k)
      path.control.insert(path.control.end(), &motion.q[stretch.begin * motion.joint_count], &motion.q[stretch.begin * motion.joint_count] + motion.joint_count);
  }
  return path;
}

double time_of(const TimedMotion& motion, const Piecewise& path, double at) {
  const std::size_t piece = std::min(static_cast<std::size_t>(at), path.row.size() - 1), row = path.row[piece];
  if (row + 1 >= motion.time.size()) return motion.time[row];
  return motion.time[row] + (at - static_cast<double>(piece)) * (motion.time[row + 1] - motion.time[row]);
}

std::string name_of(const Scene& scene, std::int32_t solid) { return solid < 0 ? "" : scene.names[static_cast<std::size_t>(solid)]; }

struct Found {
  ClearanceAlong least;
  double time = 0;
  bool kept = true;
};

}  // namespace

MotionClearance motion_clearance(const Model& model, const std::vector<std::shared_ptr<const Scene>>& scenes, const TimedMotion& motion,
                                 std::size_t moves, double tolerance, unsigned threads, const Progress& progress) {
  const std::vector<Stretch> stretches = stretches_of(motion, scenes);
  std::vector<Found> found(stretches.size());
  MotionClearance out;
  out.distance.resize(motion.time.size());
  const bool complete = for_each_piece(stretches.size(), threads, progress, [&](std::size_t piece, std::size_t, const StopSign& stop) {
    const Stretch& stretch = stretches[piece];
    const std::size_t n = model.joint_count, rows = stretch.end - stretch.begin;
    std::vector<Clearance> at_rows(rows);
    least_distances(*stretch.scene, model, {&motion.q[stretch.begin * n], rows * n}, at_rows);
    for (std::size_t row = 0; row < rows; ++row) out.distance[stretch.begin + row] = at_rows[row].distance;
    const Piecewise path = path_of(motion, stretch);
    Found& here = found[piece];
    here.least = least_along(*stretch.scene, model, path.control, tolerance, stop);
    here.time = time_of(motion, path, here.least.at);
    const double required = most_required(*stretch.scene);
    if (here.least.proven >= required) return;
    const ClearanceAlong spare = required == 0 ? here.least : least_along(*spare_scene(*stretch.scene, 0), model, path.control, tolerance, stop);
    here.kept = spare.least >= -just_kept;
  });
  if (!complete) return {};
  out.least.resize(moves), out.kept.assign(moves, 1);
  out.least_time.assign(moves, std::numeric_limits<double>::quiet_NaN());
  out.between.resize(moves);
  for (std::size_t piece = 0; piece < stretches.size(); ++piece) {
    const auto& [begin, end, move, scene] = stretches[piece];
    const Found& here = found[piece];
    const double proven = std::min(out.least[move].proven, here.least.proven);
    if (std::isnan(out.least_time[move]) || here.least.least < out.least[move].least) {
      out.least[move] = here.least;
      out.least_time[move] = here.time;
      out.between[move] = {name_of(*scene, here.least.solid_a), name_of(*scene, here.least.solid_b)};
    }
    out.least[move].proven = proven;
    if (!here.kept) out.kept[move] = 0;
  }
  return out;
}

}  // namespace armwright
