// SPDX-License-Identifier: MIT
// A worker thread that always works on the newest request and drops results that came too late.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace potshadow {

// One thread, one request waiting at most: a newer request replaces one that has not begun, and
// asks the running one to stop. A result is handed out only if no newer request was made after it.
// The worker calls `wake` when a result is ready. Requests and results are values; nothing is
// shared. Destruction drops what waits, asks the running work to stop and waits for it. Works are
// done one after another, so what one has written the next finds.
template <class Outcome>
class LatestJob {
 public:
  using Work = std::function<Outcome(std::stop_token)>;

  explicit LatestJob(std::function<void()> wake)
      : wake_(std::move(wake)), thread_([this](std::stop_token stop) { run(stop); }) {}
  LatestJob(const LatestJob&) = delete;
  LatestJob& operator=(const LatestJob&) = delete;
  ~LatestJob() {
    thread_.request_stop();
    {
      const std::scoped_lock lock(mutex_);
      waiting_.reset();
      running_stop_.request_stop();
    }
    changed_.notify_all();
  }

  // Makes `work` the newest request.
  void request(Work work) {
    {
      const std::scoped_lock lock(mutex_);
      waiting_ = std::move(work);
      ready_.reset();
      running_stop_.request_stop();
      busy_ = true;
    }
    changed_.notify_all();
  }

  // Gives up whatever was requested.
  void cancel() {
    const std::scoped_lock lock(mutex_);
    waiting_.reset();
    ready_.reset();
    running_stop_.request_stop();
    busy_ = false;
  }

  // Returns the result of the newest request once, when it is there.
  std::optional<Outcome> take() {
    const std::scoped_lock lock(mutex_);
    return std::exchange(ready_, std::nullopt);
  }

  // Returns whether the newest request still waits or runs.
  bool busy() const {
    const std::scoped_lock lock(mutex_);
    return busy_;
  }

 private:
  void run(std::stop_token stop) {
    std::unique_lock lock(mutex_);
    while (changed_.wait(lock, stop, [this] { return waiting_.has_value(); })) {
      Work work = *std::exchange(waiting_, std::nullopt);
      running_stop_ = std::stop_source();
      const std::stop_token stop_this = running_stop_.get_token();
      lock.unlock();
      Outcome outcome = work(stop_this);
      work = nullptr;  // what it holds may be large
      lock.lock();
      if (stop_this.stop_requested()) continue;
      ready_ = std::move(outcome);
      busy_ = false;
      lock.unlock();
      wake_();
      lock.lock();
    }
  }

  std::function<void()> wake_;
  mutable std::mutex mutex_;
  std::condition_variable_any changed_;
  std::optional<Work> waiting_;
  std::optional<Outcome> ready_;
  std::stop_source running_stop_;
  bool busy_ = false;
  std::jthread thread_;  // last: it uses all of the above
};

}  // namespace potshadow
