// SPDX-License-Identifier: MIT
// What a frame's drawing asks for; carried out once the frame is drawn.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <variant>
#include <vector>

#include "clay/clay_body.h"
#include "desktop/document/command.h"
#include "photo/shown_picture.h"
#include "project/print_settings.h"
#include "project/printer_book.h"
#include "project/recovery.h"
#include "project/settings.h"

namespace potshadow {

struct Perform {
  Command command;
  bool continues = false;  // joins the step before, where it is of the same kind
};
struct Preview {
  Command command;
};
struct EndPreview {};
struct Undo {};
struct Redo {};
struct GoToStep {
  std::size_t entry = 0;
};

struct OpenFile {  // a project or a photograph; asks first where work is unsaved
  std::filesystem::path file;
};
struct OpenSample {};
struct TakeRecovered {
  RecoveredWork work;
};
struct DiscardRecovered {
  RecoveredWork work;
};
struct AddPhotoFile {  // a further photograph of the vessel
  std::filesystem::path file;
};
struct ShowPhoto {
  std::size_t photo = 0;
};
struct FindPhoto {
  std::filesystem::path file;
};
struct MeasureCamera {  // from pictures of the board
  std::vector<std::filesystem::path> pictures;
};
struct StopMeasuringCamera {};
struct KeepCamera {};
struct SaveBoard {  // the board to be printed
  std::filesystem::path file;
};
struct Save {};
struct SaveAs {
  std::filesystem::path file;
};
struct SaveSheet {  // what the Templates step shows
  std::filesystem::path file;
  SheetFormat format = SheetFormat::kPdf;
  std::size_t part = 0;  // that is shown
};
struct StopSavingSheet {};
struct StopSheet {};
struct GoOnWithSheet {};
struct KeepPrinter {  // by the bars of a sheet that made up for `drawn_for`, "" for none
  std::string name;
  MeasuredBars bars;
  std::string drawn_for;
};
struct ForgetPrinter {
  std::string name;
};
struct ViewSheet {};  // opens the saved sheet with the system's viewer
struct CloseProject {};
struct Quit {};
struct ChangeSettings {
  Settings settings;
};
struct AdjustView {
  ViewAdjust adjust;
};
struct CopyText {
  std::string text;
  std::string said;  // "Copied the figures."
};
struct SnapMarks {  // moves marks to the nearest strong edge
  std::vector<MarkId> marks;
};

struct RefineReference {  // sets a card's corners or a disc's edge onto its edges
  std::size_t reference = 0;
};

struct TraceVessel {  // within that box and by those strokes
  ProjectTrace wanted;
};
struct StopTracing {};

// The user's book of clays; none of these is a step of the project.
struct PutClay {
  ClayBody body;
  std::string words;  // what is done, as "Change bar 2 of 'buff-mix'"
};
struct RemoveClay {
  std::string record;
};
struct TakeInClays {
  std::filesystem::path file;
};
struct HandOnClay {
  std::string record;
  std::filesystem::path file;
};
struct TakeBackClay {};
struct SaveBarSheet {  // the test bar to be printed
  std::filesystem::path file;
};
struct SaveBenchSheet {  // the plan's page for the bench
  std::filesystem::path file;
};
struct UseBenchPhoto {  // the project of a photograph of the pot on the bench
  std::filesystem::path file;
};
struct DropBenchPhoto {};
struct CompareWith {  // the other pot's file
  std::filesystem::path file;
};
struct SaveComparison {
  std::filesystem::path file;
};

using Order =
    std::variant<Perform, Preview, EndPreview, Undo, Redo, GoToStep, OpenFile, OpenSample,
                 TakeRecovered, DiscardRecovered, AddPhotoFile, ShowPhoto, FindPhoto, MeasureCamera,
                 StopMeasuringCamera, KeepCamera, SaveBoard, Save, SaveAs, SaveSheet, ViewSheet,
                 CloseProject, Quit, ChangeSettings, AdjustView, CopyText, SnapMarks,
                 RefineReference, TraceVessel, StopTracing, PutClay, RemoveClay, TakeInClays,
                 HandOnClay, TakeBackClay, SaveBarSheet, SaveBenchSheet, UseBenchPhoto,
                 DropBenchPhoto, StopSavingSheet, StopSheet, GoOnWithSheet, KeepPrinter,
                 ForgetPrinter, CompareWith, SaveComparison>;

}  // namespace potshadow
