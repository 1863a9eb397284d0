#pragma once

#include <atomic>
#include <cstddef>
#include <functional>

namespace armwright {

/// How a long computation tells how far it is and learns that it is to stop. `report` is called on the calling thread
/// only, about every 50 ms, with the number of finished pieces and of all; when it returns false the computation ends
/// as soon as each thread has finished the piece in hand, or has seen the stop sign in it.
struct Progress {
  std::function<bool(std::size_t done, std::size_t total)> report;
};

/// Runs work(piece, worker) for every piece in [0, pieces), on `threads` threads (0: as many as the machine has).
/// Which thread takes which piece is not fixed, so a piece must write only what is its own; then results do not
/// depend on the number of threads. `worker` in [0, threads) tells which scratch memory may be used.
/// Returns false if it was cancelled. The first exception thrown by `work` is thrown again here, after all threads
/// have ended.
bool for_each_piece(std::size_t pieces, unsigned threads, const Progress& progress,
                    const std::function<void(std::size_t piece, std::size_t worker)>& work);

/// Tells a piece of work that takes long that it may as well end: what it makes will not be used.
class StopSign {
 public:
  explicit StopSign(const std::atomic<bool>& flag) : flag_(&flag) {}
  bool raised() const { return flag_->load(std::memory_order_relaxed); }

 private:
  const std::atomic<bool>* flag_;
};

/// The same, for pieces that look at the stop sign now and then.
bool for_each_piece(std::size_t pieces, unsigned threads, const Progress& progress,
                    const std::function<void(std::size_t piece, std::size_t worker, const StopSign& stop)>& work);

/// The number of workers that for_each_piece will use for that request.
std::size_t worker_count(std::size_t pieces, unsigned threads);

}  // namespace armwright
