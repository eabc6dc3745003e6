// SPDX-License-Identifier: MIT
// The outline found in the background: one step of the history, that can be given up and mended.
#include "desktop/session/tracer.h"

#include <gtest/gtest.h>

#include "desktop/session/bench.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

// Source: samples/scenes/truth-shelf-jar.json, what the picture was made from.
constexpr double kHeightMm = 235.0;

// The sample with its reference but without marks on the vessel, its photograph decoded.
class TracerAtTheBench : public testing::Test {
 protected:
  void SetUp() override {
    Result<Project> sample = load_project(bench.project());
    ASSERT_TRUE(sample.ok());
    Project bare = *sample;
    bare.photos[0].marks = {};
    ASSERT_TRUE(save_project(bare, bench.project()).ok());
    ASSERT_TRUE(bench.session.open_project(bench.project()).ok());
    ASSERT_TRUE(bench.until_shown());
    wanted.box = {PhotoPoint{1350.0, 520.0}, PhotoPoint{3070.0, 2390.0}};
  }

  bool until_traced() {
    return bench.until([this] { return !bench.session.trace_work().busy; });
  }
  const std::optional<ProjectTrace>& trace() const {
    return bench.session.document().photos.at(0).trace;
  }

  Bench bench;
  ProjectTrace wanted;
};

TEST_F(TracerAtTheBench, WhatIsFoundIsOneStepAndGivesTheSizes) {
  Session& session = bench.session;
  ASSERT_TRUE(session.trace(wanted).ok());
  ASSERT_TRUE(session.trace_work().busy);
  EXPECT_TRUE(session.trace_work().busy->part);
  EXPECT_EQ(session.trace_work().wanted, std::optional(wanted));
  ASSERT_TRUE(until_traced());
  ASSERT_TRUE(trace());
  EXPECT_FALSE(session.trace_work().problem);
  EXPECT_FALSE(session.trace_work().wanted);
  EXPECT_EQ(trace()->box, wanted.box);
  EXPECT_EQ(session.history().at(), 1u);
  ASSERT_TRUE(bench.until_figures());
  const MeasuredSize* const height =
      find_size(session.figures().measurement->answer, SizeName::kHeight);
  ASSERT_NE(height, nullptr);
  EXPECT_LE(height->measured.low95, kHeightMm);
  EXPECT_GE(height->measured.high95, kHeightMm);

  const ProjectTrace found = *trace();
  ASSERT_TRUE(session.undo());
  EXPECT_FALSE(trace());
  ASSERT_TRUE(session.redo());
  EXPECT_EQ(trace(), std::optional(found));
}

TEST_F(TracerAtTheBench, WhatIsFoundFirstIsShownWhileItIsChecked) {
  Session& session = bench.session;
  ASSERT_TRUE(session.trace(wanted).ok());
  EXPECT_EQ(session.trace_work().rough, nullptr);
  ASSERT_TRUE(bench.until([&] { return session.trace_work().rough != nullptr; }));
  // It is no part of the document yet.
  EXPECT_TRUE(session.trace_work().busy);
  EXPECT_FALSE(trace());
  EXPECT_GE(session.trace_work().rough->left.size(), 20U);
  EXPECT_GE(session.trace_work().rough->right.size(), 20U);
  ASSERT_TRUE(until_traced());
  EXPECT_EQ(session.trace_work().rough, nullptr);
  EXPECT_TRUE(trace());
}

TEST_F(TracerAtTheBench, GivingUpLeavesTheDocumentAsItWas) {
  Session& session = bench.session;
  ASSERT_TRUE(session.trace(wanted).ok());
  session.stop_tracing();
  EXPECT_FALSE(session.trace_work().busy);
  EXPECT_FALSE(session.trace_work().wanted);
  // A second one waits for the thread that ran the first: whatever came of it has been dropped.
  wanted.box = {PhotoPoint{1300.0, 500.0}, PhotoPoint{3100.0, 2420.0}};
  ASSERT_TRUE(session.trace(wanted).ok());
  ASSERT_TRUE(until_traced());
  EXPECT_EQ(session.history().at(), 1u);
  ASSERT_TRUE(trace());
  EXPECT_EQ(trace()->box, wanted.box);
}

TEST_F(TracerAtTheBench, MarksSetMeanwhileStay) {
  Session& session = bench.session;
  ASSERT_TRUE(session.trace(wanted).ok());
  ASSERT_TRUE(session.perform(AddMark{rim_mark(0), {2210.0, 560.0}}).ok());
  EXPECT_TRUE(session.trace_work().busy);
  ASSERT_TRUE(until_traced());
  EXPECT_EQ(session.document().photos[0].marks.rim.size(), 1u);
  EXPECT_TRUE(trace());
  EXPECT_EQ(session.history().at(), 2u);
}

TEST_F(TracerAtTheBench, ATurnedPhotographIsNoLongerTheOneThatIsTraced) {
  Session& session = bench.session;
  ASSERT_TRUE(session.trace(wanted).ok());
  ASSERT_TRUE(session.perform(TurnPhoto{0, 1}).ok());
  EXPECT_FALSE(session.trace_work().busy);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_FALSE(trace());
  EXPECT_EQ(session.history().at(), 1u);
}

TEST_F(TracerAtTheBench, ABoxThatCannotBeIsAProblemAndNoStep) {
  Session& session = bench.session;
  wanted.box = {PhotoPoint{100.0, 100.0}, PhotoPoint{110.0, 110.0}};
  ASSERT_TRUE(session.trace(wanted).ok());
  ASSERT_TRUE(until_traced());
  ASSERT_TRUE(session.trace_work().problem);
  EXPECT_FALSE(session.trace_work().problem->next.empty());
  EXPECT_FALSE(session.trace_work().wanted);  // painting in it would not help
  EXPECT_EQ(session.history().at(), 0u);
  // It is told until something else is tried.
  ASSERT_TRUE(session.perform(SetName{"Jar"}).ok());
  EXPECT_TRUE(session.trace_work().problem);
}

TEST(Tracer, WithoutAPhotographNothingIsTraced) {
  Bench bench;
  const Result<Done> refused = bench.session.trace({});
  EXPECT_FALSE(refused.ok());
  EXPECT_FALSE(bench.session.trace_work().busy);
}

}  // namespace
}  // namespace potshadow
