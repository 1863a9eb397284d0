#include "armwright/support/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "catch_shim.hpp"

using armwright::for_each_piece;
using armwright::worker_count;

TEST_CASE("every piece is worked once, whatever the number of threads") {
  const std::size_t pieces = GENERATE(0, 1, 2, 7, 1000);
  const unsigned threads = GENERATE(0U, 1U, 2U, 5U);
  std::vector<int> worked(pieces, 0);
  CHECK(for_each_piece(pieces, threads, {}, [&](std::size_t piece, std::size_t) { ++worked[piece]; }));
  CHECK(std::all_of(worked.begin(), worked.end(), [](int times) { return times == 1; }));
}

TEST_CASE("a worker's number is below the count of workers, so that it can index scratch memory") {
  const std::size_t workers = worker_count(100, 3);
  CHECK(workers == 3);
  std::atomic<std::size_t> greatest{0};
  for_each_piece(100, 3, {}, [&](std::size_t, std::size_t worker) {
    std::size_t seen = greatest;
    while (seen < worker && !greatest.compare_exchange_weak(seen, worker)) {
    }
  });
  CHECK(greatest < workers);
}

TEST_CASE("there are never more workers than pieces, and always one") {
  CHECK(worker_count(2, 8) == 2);
  CHECK(worker_count(0, 8) == 1);
  CHECK(worker_count(8, 1) == 1);
  CHECK(worker_count(1000, 0) >= 1);
}

TEST_CASE("the first failure of a piece is thrown again where the loop was started") {
  const unsigned threads = GENERATE(1U, 4U);
  const auto fail = [](std::size_t piece, std::size_t) {
    if (piece == 5) throw std::runtime_error("piece five");
  };
  CHECK_THROWS_AS(for_each_piece(50, threads, {}, fail), std::runtime_error);
}

TEST_CASE("a report that says no ends the loop early, and the loop says so") {
  std::atomic<std::size_t> worked{0};
  const armwright::Progress progress{[](std::size_t, std::size_t) { return false; }};
  // Half a second of pieces; the report is asked within 50 ms.
  const bool finished = for_each_piece(1000, 2, progress, [&](std::size_t, std::size_t) {
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
    ++worked;
  });
  CHECK_FALSE(finished);
  CHECK(worked < 1000);
}

TEST_CASE("a report hears of the end") {
  std::size_t last = 0;
  const armwright::Progress progress{[&](std::size_t done, std::size_t) {
    last = done;
    return true;
  }};
  CHECK(for_each_piece(20, 2, progress, [](std::size_t, std::size_t) {}));
  CHECK(last == 20);
}

TEST_CASE("the same result for any number of threads") {
  const auto sums = [](unsigned threads) {
    std::vector<double> out(500);
    for_each_piece(out.size(), threads, {}, [&](std::size_t piece, std::size_t) {
      for (int k = 1; k < 50; ++k) out[piece] += 1.0 / (static_cast<double>(piece) + k);
    });
    return out;
  };
  const auto one = sums(1);
  for (unsigned threads = 2; threads <= 8; ++threads) CHECK(sums(threads) == one);
}

TEST_CASE("a failure of any kind comes through with its words, and pieces that come after are left") {
  std::atomic<int> worked{0};
  const auto fail = [&](std::size_t piece, std::size_t) {
    if (piece == 3) throw std::out_of_range("piece three of " + std::to_string(worked.load() * 0 + 10000));
    std::this_thread::sleep_for(std::chrono::microseconds(100));
    ++worked;
  };
  try {
    for_each_piece(10000, 2, {}, fail);
    FAIL("nothing was thrown");
  } catch (const std::out_of_range& raised) {
    CHECK(std::string(raised.what()) == "piece three of 10000");
  }
  CHECK(worked < 9000);
}

TEST_CASE("reports come on the calling thread, with counts that never fall and never pass the total") {
  const auto here = std::this_thread::get_id();
  std::vector<std::size_t> heard;
  bool all_here = true, totals = true;
  const armwright::Progress progress{[&](std::size_t done, std::size_t total) {
    heard.push_back(done);
    all_here = all_here && std::this_thread::get_id() == here;
    totals = totals && total == 100 && done <= total;
    return true;
  }};
  CHECK(for_each_piece(100, 2, progress, [](std::size_t, std::size_t) { std::this_thread::sleep_for(std::chrono::milliseconds(4)); }));
  CHECK(heard.size() >= 2);
  CHECK(std::is_sorted(heard.begin(), heard.end()));
  CHECK(all_here);
  CHECK(totals);
}

TEST_CASE("a long piece sees the stop sign, once a report has said no or another piece has failed") {
  const auto wait = [](const armwright::StopSign& stop) {
    for (int k = 0; k < 5000 && !stop.raised(); ++k) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    return stop.raised();
  };
  std::atomic<int> seen{0};
  const armwright::Progress no{[](std::size_t, std::size_t) { return false; }};
  CHECK_FALSE(for_each_piece(2, 2, no, [&](std::size_t, std::size_t, const armwright::StopSign& stop) { seen += wait(stop); }));
  CHECK(seen == 2);
  const auto fail = [&](std::size_t piece, std::size_t, const armwright::StopSign& stop) {
    if (piece == 1) throw std::runtime_error("piece one");
    seen += wait(stop);
  };
  CHECK_THROWS_AS(for_each_piece(2, 2, {}, fail), std::runtime_error);
  CHECK(seen == 3);
}
