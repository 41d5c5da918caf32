#include "cli/parallel.hpp"

#include "bothways/core/parallel.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <ostream>
#include <system_error>
#include <thread>

namespace bothways::cli {

namespace {

using namespace std::chrono_literals;

/// Where the error stream is a terminal, says there how far the work is, from a thread of its own.
class Progress {
 public:
  Progress(std::size_t before, std::size_t last, std::size_t total, const Streams& streams)
      : done_(before), last_(last), total_(total), streams_(streams) {
    if (streams.err_is_terminal) {
      try {
        watcher_ = std::thread([this] { watch(); });
      } catch (const std::system_error&) {  // no thread to be had: the work goes on unwatched
      }
    }
  }
  Progress(const Progress&) = delete;
  Progress(Progress&&) = delete;
  Progress& operator=(const Progress&) = delete;
  Progress& operator=(Progress&&) = delete;
  ~Progress() {
    if (watcher_.joinable()) {
      finish();
      watcher_.join();
    }
  }

  void add_one() {
    const std::lock_guard lock(mutex_);
    ++done_;
  }

 private:
  void finish() {
    const std::lock_guard lock(mutex_);
    done_ = last_;
    changed_.notify_all();
  }
  void watch() {
    std::unique_lock lock(mutex_);
    bool shown = false;
    for (auto wait = 1000ms; !changed_.wait_for(lock, wait, [&] { return done_ == last_; }); wait = 200ms) {
      streams_.err << "\rreading logs: " << done_ << " of " << total_ << " done" << std::flush;
      shown = true;
    }
    if (shown) {
      streams_.err << "\r\x1b[K" << std::flush;
    }
  }

  std::size_t done_;
  std::size_t last_;
  std::size_t total_;
  const Streams& streams_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::thread watcher_;
};

/// Logs first ... last - 1 of `total`.
void work_on_block(std::size_t first, std::size_t last, std::size_t total, unsigned jobs,
                   const Streams& streams, const std::function<void(std::size_t)>& work) {
  Progress progress(first, last, total, streams);
  for_each_index(last - first, jobs, [&](std::size_t i) {
    work(first + i);
    progress.add_one();
  });
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
