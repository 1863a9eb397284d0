#pragma once

#include "armwright/clearance/postures.hpp"
#include "armwright/kinematics/inverse/batch.hpp"
#include "armwright/support/eight.hpp"
#include "armwright/support/parallel.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

/// One of the questions that positions with all their attitudes come to: a position, an attitude, and the arm held in one way.
struct HeldRow {
  std::uint32_t position, attitude;
  const HeldArm* arm;
};

/// Postures within the joint limits of many questions at once. They are told by the turns of the joints' steps, which is what frames
/// are made of: the closed form has those before it has angles. Scratch of one thread.
struct PostureRows {
  std::vector<HeldRow> asked;      ///< the questions in hand
  std::vector<double> turn;        ///< for each joint two runs of `room` numbers: sine and cosine; of a sliding joint its value, m, and nothing
  std::size_t room = 0, count = 0; ///< rows that there is place for, with a pack left over; and rows
  bool tells_margins = true;
  std::vector<double> limit_margin;  ///< nothing to be read where they are not told
  std::vector<std::uint32_t> of;   ///< which of the questions in hand a posture answers
  std::vector<std::uint32_t> order, first;  ///< rows question by question, within one in the order of solve_arm(): those of question k from first[k] on

  std::unique_ptr<const BatchArm> usual;  ///< where packs serve and questions differ by their bases alone; refers to the search's inverse
  std::vector<SeenAttitude> seen_attitudes;  ///< of each attitude, where no joint is held
  std::vector<double> wrists;                ///< and three runs over the attitudes: from the tool point to the wrist, as the arm's base sees it, m
  std::vector<std::uint8_t> beyond;          ///< of each attitude, at the position in hand: see is_wrist_beyond()
  struct Next {
    std::uint32_t position = 0, attitude = 0;
    std::size_t sample = 0;
  } next;                          ///< the question that comes next
  std::vector<const HeldArm*> samples;  ///< from which its position can be reached
  std::vector<HeldArm> nearest;    ///< see held_nearest()
  std::vector<double> seen;        ///< see TurnBatch
  std::vector<std::uint32_t> alone;
  std::vector<Clearance> distances;
};

/// So many positions are looked at together, or fewer where there is little to share out among threads: enough to fill packs where few
/// attitudes are served.
inline constexpr std::size_t positions_at_once = 64;
/// And so many questions are answered at once: what is held of postures does not grow with the attitudes beyond.
inline constexpr std::size_t questions_at_once = 64;

/// Scratch for searches like this one, among these attitudes. `tells_margins`: limit margins are wanted.
PostureRows make_posture_rows(const PostureSearch& search, const std::vector<Rotation>& attitudes, bool tells_margins);

/// Goes to the first question of some positions.
void start_asking(PostureRows& rows);

/// Puts the next questions_at_once questions of the positions into rows.asked: position by position, attitude by attitude, each with all
/// values of the redundant joints, but for those beyond the arm's reach. False at the end.
bool ask_next(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, PostureRows& rows);

/// The postures within the joint limits for the questions in hand, as visit_within_limits() finds them one question after the other.
void find_postures(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, ArmSolutions& scratch,
                   PostureRows& rows);

/// Joint frames in the world from the numbers of `turn`, as told by number(run).
template <class T, class Number>
ARMWRIGHT_INLINE void frames_of_turns(const Model& model, const Number& number, Pose3<T>* frames) {
  Pose3<T> frame = spread<T>(model.base);
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const JointStep& step = model.step[i];
    if (step.kind == JointKind::revolute) advance(step, T(0.0), number(2 * i), number(2 * i + 1), frame);
    else advance(step, number(2 * i), T(step.sin_zero), T(step.cos_zero), frame);
    frames[i] = frame;
  }
}

/// Calls each(frames, first) for packs of the postures found, with their joint frames in lanes. The last pack goes on with copies of the
/// last posture.
template <class T, class Each>
ARMWRIGHT_INLINE void in_posture_packs(const Model& model, PostureRows& rows, const Each& each) {
  const std::size_t n = model.joint_count, whole = (rows.count + width_of<T> - 1) / width_of<T> * width_of<T>;
  for (std::size_t run = 0; run < 2 * n; ++run) {
    double* numbers = &rows.turn[run * rows.room];
    for (std::size_t row = rows.count; row < whole; ++row) numbers[row] = numbers[rows.count - 1];
  }
  for (std::size_t first = 0; first < whole; first += width_of<T>) {
    Pose3<T> frames[max_joints];
    frames_of_turns(model, [&](std::size_t run) ARMWRIGHT_INLINE_LAMBDA { return load_run<T>(&rows.turn[run * rows.room + first]); }, frames);
    each(frames, first);
  }
}

/// Calls each() for the questions of the positions, questions_at_once after the other, where postures are found for them: those are in
/// `rows` then. False if stopped.
template <class Each>
bool for_postures_found(const PostureSearch& search, PostureWork& work, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                        const StopSign& stop, PostureRows& rows, const Each& each) {
  start_asking(rows);
  while (ask_next(search, positions, attitudes, rows)) {
    if (stop.raised()) return false;
    find_postures(search, positions, attitudes, work.solutions, rows);
    if (rows.count > 0) each();
  }
  return true;
}

/// Calls map(work, positions in hand, index of their first, stop) for positions_at_once positions after the other, or fewer, in `threads`
/// threads with a Work{PostureWork&, PostureRows} each. False if stopped.
template <class Work, class Map>
bool for_positions_together(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, bool tells_margins,
                            unsigned threads, const Progress& progress, const Map& map) {
  constexpr std::size_t fewest = 8, pieces_a_worker = 8;
  const std::size_t size = positions.size(), workers = worker_count(size, threads);
  const std::size_t at_once = workers == 1 ? positions_at_once : std::clamp(size / (pieces_a_worker * workers), fewest, positions_at_once);
  const std::size_t pieces = (size + at_once - 1) / at_once;
  auto plain = make_posture_work(search, worker_count(pieces, threads));
  std::vector<Work> work;
  for (PostureWork& own : plain) work.push_back(Work{own, make_posture_rows(search, attitudes, tells_margins)});
  return for_each_piece(pieces, threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign& stop) {
    const std::size_t first = piece * at_once;
    map(work[worker], positions.subspan(first, std::min(at_once, size - first)), first, stop);
  });
}

/// Whether some of the postures are clear, each by its own margin, m; all are, where clearance does not count.
void clear_rows(const PostureSearch& search, PostureWork& work, const PostureRows& rows, std::span<const std::uint32_t> which,
                std::span<const double> margins, std::span<std::uint8_t> clear);

/// Of the position of each of some postures the greatest least distance over them, or `best`, if that is greater.
void clearest_of(const PostureSearch& search, PostureWork& work, std::span<const std::uint32_t> which, PostureRows& rows, std::span<double> best);

}  // namespace armwright
