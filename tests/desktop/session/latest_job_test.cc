// SPDX-License-Identifier: MIT
#include "desktop/session/latest_job.h"

#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <future>
#include <memory>
#include <thread>
#include <utility>

namespace potshadow {
namespace {

// Far longer than any of this takes; only a hang reaches it.
constexpr std::chrono::seconds kHang{60};

template <class Condition>
bool wait_for(Condition&& condition) {
  const auto end = std::chrono::steady_clock::now() + kHang;
  while (!condition()) {
    if (std::chrono::steady_clock::now() > end) return false;
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  return true;
}

// A work that says when it has begun and waits until it is let go.
struct Gate {
  std::promise<void> begun;
  std::promise<void> go;
};

LatestJob<int>::Work through(const std::shared_ptr<Gate>& gate, int outcome,
                             std::atomic<int>* stops = nullptr) {
  return [gate, outcome, stops](const std::stop_token& stop) {
    gate->begun.set_value();
    gate->go.get_future().wait();
    if (stops != nullptr && stop.stop_requested()) ++*stops;
    return outcome;
  };
}

TEST(LatestJob, HandsOutAResultOnceAndWakes) {
  std::atomic<int> wakes = 0;
  LatestJob<int> job([&] { ++wakes; });
  EXPECT_FALSE(job.busy());
  job.request([](const std::stop_token&) { return 7; });
  ASSERT_TRUE(wait_for([&] { return wakes == 1; }));
  EXPECT_FALSE(job.busy());
  EXPECT_EQ(job.take(), 7);
  EXPECT_EQ(job.take(), std::nullopt);
}

TEST(LatestJob, DropsWhatANewerRequestHasOvertaken) {
  std::atomic<int> wakes = 0;
  std::atomic<int> stops = 0;
  std::atomic<bool> second_ran = false;
  LatestJob<int> job([&] { ++wakes; });
  const auto first = std::make_shared<Gate>();
  job.request(through(first, 1, &stops));
  first->begun.get_future().wait();
  job.request([&](const std::stop_token&) {
    second_ran = true;
    return 2;
  });
  job.request([](const std::stop_token&) { return 3; });
  EXPECT_TRUE(job.busy());
  first->go.set_value();
  ASSERT_TRUE(wait_for([&] { return wakes == 1; }));
  EXPECT_EQ(job.take(), 3);
  EXPECT_FALSE(second_ran);
  EXPECT_EQ(stops, 1);
}

TEST(LatestJob, ForgetsAResultThatIsReadyWhenANewerRequestComes) {
  std::atomic<int> wakes = 0;
  LatestJob<int> job([&] { ++wakes; });
  job.request([](const std::stop_token&) { return 1; });
  ASSERT_TRUE(wait_for([&] { return wakes == 1; }));
  const auto second = std::make_shared<Gate>();
  job.request(through(second, 2));
  EXPECT_EQ(job.take(), std::nullopt);
  second->go.set_value();
  ASSERT_TRUE(wait_for([&] { return wakes == 2; }));
  EXPECT_EQ(job.take(), 2);
}

TEST(LatestJob, CancelGivesUpWhatRuns) {
  std::atomic<int> wakes = 0;
  LatestJob<int> job([&] { ++wakes; });
  const auto first = std::make_shared<Gate>();
  job.request(through(first, 1));
  first->begun.get_future().wait();
  job.cancel();
  EXPECT_FALSE(job.busy());
  first->go.set_value();
  job.request([](const std::stop_token&) { return 2; });
  ASSERT_TRUE(wait_for([&] { return wakes == 1; }));
  EXPECT_EQ(job.take(), 2);
}

TEST(LatestJob, EndsByStoppingWhatRuns) {
  std::atomic<bool> stopped = false;
  {
    const auto begun = std::make_shared<std::promise<void>>();
    LatestJob<int> job([] {});
    job.request([&stopped, begun](const std::stop_token& stop) {
      begun->set_value();
      stopped = wait_for([&] { return stop.stop_requested(); });
      return 1;
    });
    begun->get_future().wait();
  }
  EXPECT_TRUE(stopped);
}

TEST(LatestJob, EndsWithoutDoingWhatWaits) {
  std::atomic<bool> dropped = false;
  std::atomic<bool> waiting_ran = false;
  {
    const auto begun = std::make_shared<std::promise<void>>();
    LatestJob<int> job([] {});
    job.request([&dropped, begun](const std::stop_token&) {
      begun->set_value();
      // Ends when the work that waits is dropped, which holds what says so.
      wait_for([&] { return dropped.load(); });
      return 1;
    });
    begun->get_future().wait();
    std::shared_ptr<void> held(nullptr, [&](void*) { dropped = true; });
    job.request([&waiting_ran, held = std::move(held)](const std::stop_token&) {
      waiting_ran = true;
      return 2;
    });
    EXPECT_FALSE(dropped);
  }
  EXPECT_TRUE(dropped);
  EXPECT_FALSE(waiting_ran);
}

}  // namespace
}  // namespace potshadow
