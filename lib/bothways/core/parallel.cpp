#include "bothways/core/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <utility>
#include <vector>

namespace bothways {

namespace {

/// What was thrown for the lowest number: all lower ones were begun before it, so it is the same each time.
class FirstFailure {
 public:
  void keep(std::size_t number, std::exception_ptr thrown) {
    const std::lock_guard lock(mutex_);
    if (!thrown_ || number < number_) {
      number_ = number;
      thrown_ = std::move(thrown);
    }
  }
  void rethrow() const {
    if (thrown_) {
      std::rethrow_exception(thrown_);
    }
  }

 private:
  std::mutex mutex_;
  std::size_t number_ = 0;
  std::exception_ptr thrown_;
};

}  // namespace

void for_each_index(std::size_t count, unsigned jobs, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next{0};
  FirstFailure failure;
  const auto worker = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        next = count;
        failure.keep(i, std::current_exception());
      }
    }
  };
  std::vector<std::thread> others;
  const std::size_t wanted = std::min<std::size_t>(jobs, count);
  others.reserve(wanted);
  try {
    while (others.size() + 1 < wanted) {
      others.emplace_back(worker);
    }
  } catch (const std::system_error&) {  // no more threads to be had: those there are do the work
  }
  worker();
  for (std::thread& thread : others) {
    thread.join();
  }
  failure.rethrow();
}

}  // namespace bothways
