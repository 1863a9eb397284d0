#include "armwright/support/parallel.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace armwright {

std::size_t worker_count(std::size_t pieces, unsigned threads) {
  const std::size_t wanted = threads != 0 ? threads : std::max(1U, std::thread::hardware_concurrency());
  return std::max<std::size_t>(1, std::min(wanted, pieces));
}

bool for_each_piece(std::size_t pieces, unsigned threads, const Progress& progress,
                    const std::function<void(std::size_t, std::size_t)>& work) {
  return for_each_piece(pieces, threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign&) { work(piece, worker); });
}

bool for_each_piece(std::size_t pieces, unsigned threads, const Progress& progress,
                    const std::function<void(std::size_t, std::size_t, const StopSign&)>& work) {
  std::atomic<std::size_t> next{0}, done{0};
  std::atomic<bool> stop{false};
  const StopSign sign(stop);
  std::exception_ptr failure;
  std::mutex mutex;
  std::condition_variable finished;
  std::size_t running = worker_count(pieces, threads);

  const auto run = [&](std::size_t worker) {
    for (std::size_t piece; !stop && (piece = next++) < pieces;) {
      try {
        work(piece, worker, sign);
        ++done;
      } catch (...) {
        const std::lock_guard lock(mutex);
        if (!failure) failure = std::current_exception();
        stop = true;
      }
    }
    const std::lock_guard lock(mutex);
    if (--running == 0) finished.notify_all();
  };

  bool cancelled = false;
  {
    std::vector<std::jthread> workers;
    for (std::size_t i = 0, n = running; i < n; ++i) workers.emplace_back(run, i);
    std::unique_lock lock(mutex);
    while (!finished.wait_for(lock, std::chrono::milliseconds(50), [&] { return running == 0; })) {
      if (!progress.report || cancelled) continue;
      lock.unlock();
      if (!progress.report(done, pieces)) stop = cancelled = true;
      lock.lock();
    }
  }
  if (failure) std::rethrow_exception(failure);
  if (!cancelled && progress.report && !progress.report(done, pieces) && done < pieces) cancelled = true;
  return !cancelled;
}

}  // namespace armwright
