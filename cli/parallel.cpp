#include "cli/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <ostream>
#include <system_error>
#include <thread>
#include <vector>

namespace bothways::cli {

namespace {

using namespace std::chrono_literals;

/// Says how far the work is until `last` of `total` are done.
void watch(std::size_t last, std::size_t total, const std::atomic<std::size_t>& done, std::mutex& mutex,
           std::condition_variable& changed, const Streams& streams) {
  std::unique_lock lock(mutex);
  const auto all_done = [&] { return done.load() == last; };
  bool told = false;
  for (auto wait = 1000ms; !changed.wait_for(lock, wait, all_done); wait = 200ms) {
    streams.err << "\rreading logs: " << done.load() << " of " << total << " done" << std::flush;
    told = true;
  }
  if (told) {
    streams.err << "\r\x1b[K" << std::flush;
  }
}

/// Logs first ... last - 1 of `total`.
void work_on_block(std::size_t first, std::size_t last, std::size_t total, unsigned jobs,
                   const Streams& streams, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next{first};
  std::atomic<std::size_t> done{first};
  std::mutex mutex;
  std::condition_variable changed;
  const auto worker = [&] {
    for (std::size_t i = next++; i < last; i = next++) {
      work(i);
      const std::lock_guard lock(mutex);
      ++done;
      changed.notify_all();
    }
  };
  const std::size_t wanted = std::min<std::size_t>(jobs, last - first);
  if (wanted <= 1 && !streams.err_is_terminal) {
    worker();
    return;
  }
  std::vector<std::thread> threads;
  try {
    for (std::size_t i = 0; i < wanted; ++i) {
      threads.emplace_back(worker);
    }
  } catch (const std::system_error&) {  // no more threads to be had: those there are do the work
    if (threads.empty()) {
      worker();
    }
  }
  if (streams.err_is_terminal) {
    watch(last, total, done, mutex, changed, streams);
  }
  for (std::thread& thread : threads) {
    thread.join();
  }
}

}  // namespace

void for_each_log(std::size_t count, unsigned jobs, const Streams& streams,
                  const std::function<void(std::size_t)>& work) {
  work_on_block(0, count, count, jobs, streams, work);
}

void for_each_log_in_order(std::size_t count, unsigned jobs, const Streams& streams,
                           const std::function<void(std::size_t)>& work,
                           const std::function<void(std::size_t)>& take) {
  const std::size_t block = std::size_t{logs_ahead} * std::max(jobs, 1U);
  for (std::size_t first = 0; first < count; first += block) {
    const std::size_t last = std::min(first + block, count);
    work_on_block(first, last, count, jobs, streams, work);
    for (std::size_t i = first; i < last; ++i) {
      take(i);
    }
  }
}

}  // namespace bothways::cli
