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

/// Postures of many questions at once, in the order of the questions and, within one, of solve_arm(). Scratch of one thread.
struct PostureRows {
  std::vector<HeldRow> asked;      ///< the questions in hand
  std::vector<double> q;           ///< rows × joints: those within the limits
  std::vector<double> limit_margin;
  std::vector<std::uint32_t> of;   ///< which of the questions in hand a posture answers
  std::vector<Pose> frames;        ///< rows × joints, in the world
  std::size_t count = 0;           ///< rows; the vectors are longer, for whole packs

  std::unique_ptr<const BatchArm> usual;  ///< where the questions differ by their bases alone; refers to the search's inverse
  struct Next {
    std::uint32_t position = 0, attitude = 0;
    std::size_t sample = 0;
  } next;                          ///< the question that comes next
  std::vector<const HeldArm*> samples;  ///< from which its position can be reached
  std::vector<HeldArm> nearest;    ///< see held_nearest()
  std::vector<double> targets, found;
  std::vector<std::uint8_t> valid;
  std::vector<std::int8_t> free_joint;
  std::vector<const Pose*> pointers;
  std::vector<std::uint8_t> clearer;
  std::vector<std::uint32_t> places;
  std::vector<Clearance> distances;
};

/// So many positions are looked at together: enough to fill packs where few attitudes are served.
inline constexpr std::size_t positions_at_once = 8;
/// And so many questions are answered at once: what is held of postures does not grow with the attitudes beyond.
inline constexpr std::size_t questions_at_once = 64;

/// Scratch for searches like this one.
PostureRows make_posture_rows(const PostureSearch& search);

/// Goes to the first question of some positions.
void start_asking(PostureRows& rows);

/// Puts the next questions_at_once questions of the positions into rows.asked: position by position, attitude by attitude, each with all
/// values of the redundant joints, but for those beyond the arm's reach. False at the end.
bool ask_next(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, PostureRows& rows);

/// The postures within the joint limits for the questions in hand, as visit_within_limits() finds them one question after the other:
/// fills q, limit_margin and of.
void find_postures(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, ArmSolutions& scratch,
                   PostureRows& rows);

/// Calls each(frames, first) for packs of the postures found, with their joint frames in lanes; puts the frames into rows.frames
/// as well if asked to. The last pack goes on with copies of the last posture.
template <class T, class Each>
ARMWRIGHT_INLINE void in_posture_packs(const Model& model, bool keep_frames, PostureRows& rows, const Each& each) {
  constexpr std::size_t width = width_of<T>;
  const std::size_t n = model.joint_count, whole = (rows.count + width - 1) / width * width;
  if (rows.q.size() < whole * n) rows.q.resize(whole * n);
  if (keep_frames && rows.frames.size() < whole * n) rows.frames.resize(whole * n);
  for (std::size_t row = rows.count; row < whole; ++row) std::copy_n(&rows.q[(rows.count - 1) * n], n, &rows.q[row * n]);
  for (std::size_t first = 0; first < whole; first += width) {
    Pose3<T> frames[max_joints];
    joint_frames(model, rows.q.data() + first * n, frames);
    if (keep_frames) {
      for (std::size_t i = 0; i < n; ++i) {
        const auto& [R, p] = frames[i];
        double* out = &rows.frames[first * n + i].rotation.x.x;
        store_quad(R.x.x, R.x.y, R.x.z, R.y.x, out, 12 * n);
        store_quad(R.y.y, R.y.z, R.z.x, R.z.y, out + 4, 12 * n);
        store_quad(R.z.z, p.x, p.y, p.z, out + 8, 12 * n);
      }
    }
    each(frames, first);
  }
}
static_assert(sizeof(Pose) == 12 * sizeof(double));

/// The same numbers as widened lanes.
template <class T>
ARMWRIGHT_INLINE widened<T> widen(const T& x) { return widened<T>(x.v); }
template <class T>
ARMWRIGHT_INLINE Vector3<widened<T>> widen(const Vector3<T>& v) { return {widen(v.x), widen(v.y), widen(v.z)}; }

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

/// Calls map(work, positions in hand, index of their first, stop) for positions_at_once positions after the other, in `threads`
/// threads with a Work{PostureWork&, PostureRows} each. False if stopped.
template <class Work, class Map>
bool for_positions_together(const PostureSearch& search, std::span<const Vec3> positions, unsigned threads, const Progress& progress, const Map& map) {
  const std::size_t size = positions.size(), pieces = (size + positions_at_once - 1) / positions_at_once;
  auto plain = make_posture_work(search, worker_count(pieces, threads));
  std::vector<Work> work;
  for (PostureWork& own : plain) work.push_back(Work{own, make_posture_rows(search)});
  return for_each_piece(pieces, threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign& stop) {
    const std::size_t first = piece * positions_at_once;
    map(work[worker], positions.subspan(first, std::min(positions_at_once, size - first)), first, stop);
  });
}

/// Which of the postures, whose frames are kept, are clear by the search's margin; all, where clearance does not count.
void clear_rows(const PostureSearch& search, PostureWork& work, PostureRows& rows, std::vector<std::uint8_t>& clear);

/// Of each position the greatest least distance over those of its postures that are clear, or `best`, if that is greater.
void clearest_of(const PostureSearch& search, PostureWork& work, std::span<const std::uint8_t> clear, PostureRows& rows, std::span<double> best);

}  // namespace armwright
