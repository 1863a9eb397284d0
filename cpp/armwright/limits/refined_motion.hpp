#pragma once

#include "armwright/model/model.hpp"
#include "armwright/motion/timed_motion.hpp"

namespace armwright {

/// A motion in rows close enough that torques may be taken as straight between them. Rows double where what a drive feels jumps:
/// acceleration, load, or the direction in which an axis turns. Every row so belongs to one direction an axis.
struct RefinedMotion {
  std::size_t joint_count = 0;
  std::vector<double> time;                               ///< s, never falling
  std::vector<double> q, speed, acceleration;             ///< rows × joint_count, of joints
  std::vector<double> axis_speed, axis_acceleration;      ///< rows × joint_count, of axes (see Coupling)
  std::vector<double> direction;                          ///< rows × joint_count: sign of the axis' motion about that row, 0 where it stands
  std::vector<std::int32_t> move, load;                   ///< of the way that the row belongs to

  std::size_t rows() const { return time.size(); }
  double duration() const { return time.empty() ? 0 : time.back() - time.front(); }
};

/// Between two rows the acceleration is taken as linear; what the integrals then miss of the row that follows is spread evenly.
/// `fraction` of the way from row `row` to the next, 0 to 1; out: joint_count each.
void between_rows(const TimedMotion& motion, std::size_t row, double fraction, double* q, double* speed, double* acceleration);

/// Rows at most `step` s apart while anything moves, one at every zero of an axis' speed. What lies between two rows belongs to the
/// move and load of the second.
RefinedMotion refined_motion(const Model& model, const TimedMotion& motion, double step);

}  // namespace armwright
