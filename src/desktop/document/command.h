// SPDX-License-Identifier: MIT
// Everything that can be done to a document, as plain values.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "core/result.h"
#include "desktop/document/document.h"

// `photo` and `reference` are indices from 0. A command on something that is not there, or that
// would make a document that cannot be saved (check_project), fails with a Problem and changes
// nothing.
namespace potshadow {

struct AddPhoto {
  ProjectPhoto photo;  // file by absolute path, record filled
};
struct RemovePhoto {
  std::size_t photo = 0;
};
// The photograph has moved, or another copy is to be used; marks stay.
struct PointToPhoto {
  std::size_t photo = 0;
  std::string file;  // absolute
  PhotoRecord record;
};
// Turns the picture clockwise, its marks with it. Fails where the picture's size is not recorded.
struct TurnPhoto {
  std::size_t photo = 0;
  int quarter_turns = 1;
};
struct SetLens {
  std::size_t photo = 0;
  std::optional<double> focal_35mm;        // none: as the photograph says
  std::optional<double> focal_sd_percent;  // none: the default
  bool cropped = false;
};
struct SetGlass {
  std::size_t photo = 0;
  std::optional<ProjectGlass> glass;
};
struct SetDirection {
  std::size_t photo = 0;
  std::optional<double> direction_deg;  // none: from the same side as the first
};

struct AddReference {
  std::size_t photo = 0;
  ProjectReference reference;
};
// Replaces all that is said of a reference, its marks too.
struct SetReference {
  std::size_t photo = 0;
  std::size_t reference = 0;
  ProjectReference value;
};
struct RemoveReference {
  std::size_t photo = 0;
  std::size_t reference = 0;
};

// Puts a mark in at its place in the list; places beyond the end append. With a reference, `part`
// says which of its lists; kVessel stands for the first. A crossing has a place in its grid, which
// must not be marked yet.
struct AddMark {
  MarkId mark;
  PhotoPoint at;
  MarkPart part = MarkPart::kVessel;
  GridPlace crossing{};  // with kCrossing
};
struct MoveMarks {
  std::vector<std::pair<MarkId, PhotoPoint>> moves;
};
// One mark of the line where shelf and pane meet takes the other with it.
struct RemoveMarks {
  std::vector<MarkId> marks;
};
struct SetMarkPrecision {
  std::size_t photo = 0;
  double sd_px = 1.0;
};

// The photograph's traced outline, all of it; none: as if nothing had been traced.
struct SetTrace {
  std::size_t photo = 0;
  std::optional<ProjectTrace> trace;
};

struct SetName {
  std::string name;
};
struct SetNotes {
  std::string notes;
};
struct SetOutOfRound {
  double percent = 1.0;
};
struct SetRoundBase {
  bool round = false;
};
// None: the part is seen.
struct SetHiddenFoot {
  std::optional<ProjectHidden> hidden;
};
struct SetHiddenRim {
  std::optional<ProjectHidden> hidden;
};
struct SetWall {
  double value_mm = 6.0;
  double sd_mm = 1.0;
};
struct SetClay {
  std::optional<ProjectClay> clay;
};
// How the pot is built; none: all of it follows from vessel and clay.
struct SetPlan {
  std::optional<ProjectPlan> plan;
};
// The painted bands, all of them.
struct SetBands {
  std::vector<ProjectBand> bands;
};
// A size of the pot on the bench: millimetres, or millilitres of the capacity.
struct BenchValue {
  double value = 0.0;
  double sd = 0.0;
};
struct SetBenchSize {
  Stage stage = Stage::kWet;
  SizeName size = SizeName::kMaxDiameter;
  std::optional<BenchValue> value{};  // none: not measured
  std::string date{};                 // today's, as "2026-11-25"
};
// All sizes of the pot at a stage, in place of what was kept of it there.
struct SetBench {
  ProjectBench record;
};

using Command =
    std::variant<AddPhoto, RemovePhoto, PointToPhoto, TurnPhoto, SetLens, SetGlass, AddReference,
                 SetReference, RemoveReference, AddMark, MoveMarks, RemoveMarks, SetMarkPrecision,
                 SetName, SetNotes, SetOutOfRound, SetRoundBase, SetWall, SetClay, SetDirection,
                 SetHiddenFoot, SetHiddenRim, SetTrace, SetPlan, SetBenchSize, SetBands, SetBench>;

// Returns the document after the command. Fails with kBadValue (nothing there to do it to, numbers
// that cannot be).
Result<Document> apply(const Document& document, const Command& command);

// Returns what the command does to the document before it, in the words of the undo list: "Add rim
// mark", "Move 3 marks".
std::string command_words(const Document& before, const Command& command);

}  // namespace potshadow
