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

/// Says how far the work is until it is done.
void watch(std::size_t count, const std::atomic<std::size_t>& done, std::mutex& mutex,
           std::condition_variable& changed, const Streams& streams) {
  std::unique_lock lock(mutex);
  const auto all_done = [&] { return done.load() == count; };
  bool told = false;
  for (auto wait = 1000ms; !changed.wait_for(lock, wait, all_done); wait = 200ms) {
    streams.err << "\rreading logs: " << done.load() << " of " << count << " done" << std::flush;
    told = true;
  }
  if (told) {
    streams.err << "\r\x1b[K" << std::flush;
  }
}

}  // namespace

void for_each_log(std::size_t count, unsigned jobs, const Streams& streams,
                  const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next{0};
  std::atomic<std::size_t> done{0};
  std::mutex mutex;
  std::condition_variable changed;
  const auto worker = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      work(i);
      const std::lock_guard lock(mutex);
      ++done;
      changed.notify_all();
    }
  };
  const std::size_t wanted = std::min<std::size_t>(jobs, count);
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
    watch(count, done, mutex, changed, streams);
  }
  for (std::thread& thread : threads) {
    thread.join();
  }
}

}  // namespace bothways::cli
