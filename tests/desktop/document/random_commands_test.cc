// SPDX-License-Identifier: MIT
// Whatever is done, in whatever order: it can be undone and done again, and it can be saved.
#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "core/random_cases.h"
#include "desktop/document/history.h"

namespace potshadow {
namespace {

namespace gen = rc::gen;

constexpr int kMostCommands = 40;

// Numbers with a few digits behind the point, so that sums and file texts see fractions.
double number(int least, int most) { return *gen::inRange(least * 8, most * 8) / 8.0 + 0.1; }

// --- Documents ----------------------------------------------------------------------------------

std::vector<PhotoPoint> points(int most) {
  std::vector<PhotoPoint> all(static_cast<std::size_t>(*gen::inRange(0, most + 1)));
  for (PhotoPoint& point : all) point = {number(-50, 4000), number(-50, 3000)};
  return all;
}

std::string text() {
  return *gen::element<std::string>("", "Shelf jar", "Low bowl, \"case 3\"", "Krug für Öl – ½",
                                    "line\nline\ttab \\ /");
}

std::optional<double> perhaps(int least, int most) {
  if (*gen::arbitrary<bool>()) return std::nullopt;
  return number(least, most);
}

ProjectMarks vessel_marks() {
  ProjectMarks made;
  made.rim = points(6);
  made.base = points(3);
  made.left = points(5);
  made.right = points(5);
  return made;
}

// A thing in the picture: where it is, and what its kind has.
ProjectReference flat_reference(const std::string& kind) {
  ProjectReference made;
  made.kind = kind;
  made.place = *gen::element<std::string>("lying", "standing", "leaning", "on-glass", "beside");
  made.size_sd_mm = number(0, 2);
  made.behind_glass = *gen::arbitrary<bool>();
  made.riser_mm = number(-40, 40);
  made.glass_to_axis_mm = perhaps(1, 400);
  if (*gen::arbitrary<bool>()) {
    made.shelf_at_glass = {{{number(0, 400), 280.0}, {number(0, 400), 281.0}}};
  }
  made.depth_offset_mm = number(-90, 90);
  if (kind == "rectangle") {
    made.width_mm = number(10, 300);
    made.height_mm = perhaps(10, 300);
  } else if (kind == "disc") {
    made.diameter_mm = number(10, 100);
    made.edge = points(8);
  } else if (kind == "length") {
    made.length_mm = perhaps(10, 300);
    made.ends = points(2);
  } else {
    made.pitch_mm = perhaps(10, 300);
    made.columns = *gen::inRange(1, 9);
    made.rows = *gen::inRange(1, 9);
    if (*gen::arbitrary<bool>()) made.crossings = {{{number(0, 400), 3.0}, 1, -2}};
  }
  if (kind == "rectangle" || kind == "grid") made.corners = points(4);
  return made;
}

ProjectReference reference() {
  const std::string kind = *gen::element<std::string>("rectangle", "disc", "length", "grid",
                                                      "neighbour", "size", "distance");
  const bool neighbour = kind == "neighbour";
  if (!neighbour && kind != "size" && kind != "distance") return flat_reference(kind);
  ProjectReference made;
  made.kind = kind;
  made.value_mm = perhaps(20, 400);
  made.sd_mm = perhaps(0, 9);
  if (kind == "size") {
    made.size = *gen::element<std::string>("height", "neck_diameter", "base_diameter");
    made.guess = *gen::arbitrary<bool>();
  }
  if (neighbour) {
    made.size = *gen::element<std::string>("height", "max_diameter", "rim_diameter");
    made.riser_mm = number(-40, 40);
    made.round_base = *gen::arbitrary<bool>();
    made.marks = vessel_marks();
  }
  return made;
}

std::optional<ProjectGlass> glass() {
  if (*gen::arbitrary<bool>()) return std::nullopt;
  return ProjectGlass{number(2, 20), number(0, 3), 1.5, {}};
}

std::optional<ProjectClay> clay() {
  if (*gen::arbitrary<bool>()) return std::nullopt;
  ProjectClay made;
  made.name = text();
  if (*gen::arbitrary<bool>()) made.shrinkage_percent = number(0, 28);
  made.stage = *gen::element<std::string>("", "wet", "fired");
  return made;
}

std::optional<ProjectPlan> plan() {
  if (*gen::arbitrary<bool>()) return std::nullopt;
  ProjectPlan made;
  if (*gen::arbitrary<bool>()) made.wall_mm = number(2, 12);
  if (*gen::arbitrary<bool>()) made.coil_mm = number(8, 20);
  return made;
}

std::optional<ProjectHidden> hidden() {
  if (*gen::arbitrary<bool>()) return std::nullopt;
  ProjectHidden made;
  if (*gen::arbitrary<bool>()) made.low_mm = number(0, 40);
  if (*gen::arbitrary<bool>()) made.high_mm = number(40, 400);
  return made;
}

std::vector<TracedPoint> traced_points(int most) {
  std::vector<TracedPoint> all;
  for (const PhotoPoint& point : points(most)) all.push_back({point, number(0, 3)});
  return all;
}

std::optional<ProjectTrace> trace() {
  if (*gen::arbitrary<bool>()) return std::nullopt;
  ProjectTrace made;
  made.box = {PhotoPoint{number(-50, 4000), number(-50, 3000)}, PhotoPoint{number(0, 400), 7.0}};
  made.strokes.resize(static_cast<std::size_t>(*gen::inRange(0, 3)));
  for (auto& stroke : made.strokes) {
    stroke = {*gen::arbitrary<bool>(), number(1, 90), points(3)};
    stroke.points.push_back({1.0, 2.0});
  }
  made.rim = traced_points(6);
  made.base = traced_points(3);
  made.left = traced_points(5);
  made.right = traced_points(5);
  if (*gen::arbitrary<bool>()) made.doubtful = {{"rim", text(), points(4)}};
  return made;
}

ProjectPhoto photo() {
  ProjectPhoto made;
  made.file = *gen::element<std::string>("/larkmoor/case-3/jar.jpg", "/larkmoor/bowl 2.png",
                                         "/elsewhere/jar.heic");
  if (*gen::arbitrary<bool>()) made.record = {4032, 3024, 622086, ""};
  made.quarter_turns = *gen::inRange(0, 4);
  made.glass = glass();
  made.references.resize(static_cast<std::size_t>(*gen::inRange(0, 3)));
  for (ProjectReference& one : made.references) one = reference();
  made.marks = vessel_marks();
  made.trace = trace();
  return made;
}

Document make_random_document() {
  Document made;
  made.name = text();
  made.notes = text();
  made.photos.resize(static_cast<std::size_t>(*gen::inRange(0, 3)));
  for (ProjectPhoto& one : made.photos) one = photo();
  made.clay = clay();
  made.plan = plan();
  return made;
}

// --- Commands -----------------------------------------------------------------------------------

// Most hit something; some do not.
std::size_t index() {
  return static_cast<std::size_t>(*gen::weightedElement<int>({{5, 0}, {2, 1}, {1, 2}}));
}

MarkId mark() {
  const auto kind = *gen::element(MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft,
                                  MarkKind::kRight, MarkKind::kReference);
  return {index(), {kind, kind == MarkKind::kReference ? index() : 0, index()}};
}

PhotoPoint place() {
  // One in some twenty is nowhere.
  if (*gen::inRange(0, 20) == 0) return {1e300, -1.0};
  return {number(-50, 4000), number(-50, 3000)};
}

Command command() {
  const int kinds = static_cast<int>(std::variant_size_v<Command>);
  switch (*gen::inRange(0, kinds)) {
    case 0:
      return AddPhoto{photo()};
    case 1:
      return RemovePhoto{index() + 1};  // seldom the only one
    case 2:
      return PointToPhoto{index(), "/found/again.jpg", {3024, 4032, 99, ""}};
    case 3:
      return TurnPhoto{index(), *gen::inRange(-5, 6)};
    case 4:
      return SetLens{index(), number(10, 200), number(1, 9), *gen::arbitrary<bool>()};
    case 5:
      return SetGlass{index(), glass()};
    case 6:
      return AddReference{index(), reference()};
    case 7:
      return SetReference{index(), index(), reference()};
    case 8:
      return RemoveReference{index(), index()};
    case 9: {
      const MarkPart part = *gen::element(MarkPart::kVessel, MarkPart::kCorner, MarkPart::kEdge,
                                          MarkPart::kEnd, MarkPart::kCrossing, MarkPart::kRim,
                                          MarkPart::kBase, MarkPart::kLeft, MarkPart::kRight);
      return AddMark{mark(), place(), part, {*gen::inRange(-3, 9), *gen::inRange(-3, 9)}};
    }
    case 10: {
      MoveMarks moves;
      const int count = *gen::inRange(0, 4);
      for (int i = 0; i < count; ++i) moves.moves.emplace_back(mark(), place());
      return moves;
    }
    case 11: {
      RemoveMarks removes;
      const int count = *gen::inRange(0, 3);
      for (int i = 0; i < count; ++i) removes.marks.push_back(mark());
      return removes;
    }
    case 12:
      return SetMarkPrecision{index(), number(0, 5)};
    case 13:
      return SetName{text()};
    case 14:
      return SetNotes{text()};
    case 15:
      return SetOutOfRound{number(0, 25)};  // above 20 cannot be
    case 16:
      return SetRoundBase{*gen::arbitrary<bool>()};
    case 17:
      return SetWall{number(0, 12), number(0, 3)};
    case 18:
      return SetClay{clay()};
    case 19:
      return SetDirection{index(), number(-180, 180)};
    case 20:
      return SetHiddenFoot{hidden()};
    case 21:
      return SetHiddenRim{hidden()};
    case 22:
      return SetPlan{plan()};
    case 25: {
      SetBench set{{*gen::element(Stage::kWet, Stage::kFired), "2026-11-25", {}, {}}};
      set.record.sizes.push_back({SizeName::kHeight, number(10, 300), number(0, 2), {}});
      return set;
    }
    case 24: {
      SetBands set;
      const int count = *gen::inRange(0, 3);
      for (int i = 0; i < count; ++i) {
        set.bands.push_back({text(), number(0, 300), std::nullopt, *gen::inRange(0, 9), {}});
      }
      return set;
    }
    case 23: {
      SetBenchSize set{*gen::element(Stage::kWet, Stage::kFired),
                       *gen::element(SizeName::kHeight, SizeName::kRimDiameter)};
      if (*gen::arbitrary<bool>()) set.value = BenchValue{number(10, 300), number(0, 2)};
      set.date = "2026-11-25";
      return set;
    }
    default:
      return SetTrace{index(), trace()};
  }
}

// --- Properties ---------------------------------------------------------------------------------

// Without what was read beside the known keys: it differs between a new thing and one read again.
Document bare(Document document) {
  document.kept = {};
  document.wall.kept = {};
  if (document.hidden_foot) document.hidden_foot->kept = {};
  if (document.hidden_rim) document.hidden_rim->kept = {};
  if (document.clay) document.clay->kept = {};
  if (document.plan) document.plan->kept = {};
  for (ProjectBand& band : document.bands) band.kept = {};
  for (ProjectBench& bench : document.bench) {
    bench.kept = {};
    for (ProjectBenchSize& size : bench.sizes) size.kept = {};
  }
  for (ProjectPhoto& photo : document.photos) {
    photo.kept = {};
    photo.marks.kept = {};
    if (photo.trace) photo.trace->kept = {};
    if (photo.glass) photo.glass->kept = {};
    for (ProjectReference& reference : photo.references) {
      reference.kept = {};
      reference.marks.kept = {};
    }
  }
  return document;
}

// A document that was read from a file, or one that was made anew.
Document start() {
  const Document made = make_random_document();
  if (*gen::arbitrary<bool>()) return made;
  const Result<Project> read = parse_project(project_text(made), "jar.potshadow");
  RC_ASSERT(read.ok());
  return *read;
}

TEST(RandomCommands, UndoAndRedoRestoreEveryDocument) {
  int sequences = 0;
  int steps_done = 0;
  int refused = 0;
  const std::string wrong = broken(1, [&] {
    ++sequences;
    History history(start());
    std::vector<Document> documents{history.document()};
    const int count = *gen::inRange(0, kMostCommands);
    for (int i = 0; i < count; ++i) {
      const Document before = history.document();
      const std::size_t steps = history.steps().size();
      if (!history.perform(command()).ok()) {
        ++refused;
        RC_ASSERT(history.document() == before);
        RC_ASSERT(history.steps().size() == steps);
        continue;
      }
      RC_ASSERT(check_project(history.document(), "jar.potshadow").ok());
      if (history.document() == before) {
        RC_ASSERT(history.steps().size() == steps);
        continue;
      }
      RC_ASSERT(history.steps().size() == steps + 1);
      documents.push_back(history.document());
      ++steps_done;
    }
    for (std::size_t i = documents.size(); i-- > 0;) {
      RC_ASSERT(history.document() == documents[i]);
      RC_ASSERT(history.undo() == (i > 0));
    }
    RC_ASSERT(!history.unsaved());
    for (std::size_t i = 0; i < documents.size(); ++i) {
      RC_ASSERT(history.document() == documents[i]);
      RC_ASSERT(history.redo() == (i + 1 < documents.size()));
    }
  });
  EXPECT_EQ(wrong, "");
  EXPECT_EQ(sequences, kRandomCases);
  EXPECT_GE(steps_done, 500);
  EXPECT_GE(refused, 100);
}

TEST(RandomCommands, MergedStepsStillLeadBackToTheStart) {
  int sequences = 0;
  const std::string wrong = broken(2, [&] {
    ++sequences;
    History history(start());
    const Document first = history.document();
    const int count = *gen::inRange(0, kMostCommands);
    for (int i = 0; i < count; ++i) {
      if (*gen::inRange(0, 8) == 0) history.undo();
      const Result<Done> ignored = history.perform(command(), *gen::arbitrary<bool>());
      static_cast<void>(ignored);
    }
    const Document last = history.document();
    const std::size_t at = history.at();
    while (history.undo()) {
    }
    RC_ASSERT(history.document() == first);
    RC_ASSERT(history.go_to(at));
    RC_ASSERT(history.document() == last);
  });
  EXPECT_EQ(wrong, "");
  EXPECT_EQ(sequences, kRandomCases);
}

TEST(RandomCommands, WhatIsSavedIsReadBack) {
  int documents = 0;
  const std::string wrong = broken(3, [&] {
    ++documents;
    History history(start());
    const int count = *gen::inRange(0, kMostCommands);
    for (int i = 0; i < count; ++i) {
      const Result<Done> ignored = history.perform(command());
      static_cast<void>(ignored);
    }
    const std::string folder = *gen::element<std::string>("/larkmoor", "/larkmoor/case-3", "/x/y");
    const Project project = project_of(history.document(), folder);
    const Result<Project> read = parse_project(project_text(project), "jar.potshadow");
    RC_ASSERT(read.ok());
    for (const ProjectPhoto& photo : read->photos) {
      RC_ASSERT(!std::filesystem::path(photo.file).is_absolute());
    }
    Document again = document_of(*read, folder);
    for (ProjectPhoto& photo : again.photos) {
      photo.file = std::filesystem::path(photo.file).lexically_normal().string();
    }
    RC_ASSERT(bare(again) == bare(history.document()));
  });
  EXPECT_EQ(wrong, "");
  EXPECT_EQ(documents, kRandomCases);
}

}  // namespace
}  // namespace potshadow
