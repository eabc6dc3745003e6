// SPDX-License-Identifier: MIT
// One open project: its history, its files, and the work done for it in the background.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/document/command.h"
#include "desktop/document/history.h"
#include "desktop/session/bench_photo.h"
#include "desktop/session/camera_desk.h"
#include "desktop/session/checker.h"
#include "desktop/session/clay_desk.h"
#include "desktop/session/compare_wish.h"
#include "desktop/session/figures_desk.h"
#include "desktop/session/photo_desk.h"
#include "desktop/session/planner.h"
#include "desktop/session/printer_desk.h"
#include "desktop/session/sheet_desk.h"
#include "desktop/session/tracer.h"
#include "photo/shown_picture.h"
#include "project/measure.h"
#include "project/recovery.h"
#include "project/settings.h"

// The session knows nothing of windows. Whoever draws reads its state, gives it orders, and calls
// pump() once a frame and after `wake`. Decoding, adjusting, estimating, sheets and keeping for
// recovery run on worker threads over snapshots. A photograph or a sheet that is no longer wanted
// is dropped. Nothing here blocks longer than reading or writing a project file takes; opening a
// photograph reads its file.
//
// While marks are dragged, preview() shows a document that is not in the history; perform() or
// end_preview() ends it. The last good measurement stays, marked as not current, while a new one is
// computed or where the marks no longer give one. An estimate that a drag has outrun is shown
// likewise, never as current, so that the figures follow the hand.
namespace potshadow {

class Session {
 public:
  // `wake` is called from worker threads when pump() has something to take.
  Session(UserFolders folders, std::function<void()> wake);
  ~Session();
  Session(const Session&) = delete;
  Session& operator=(const Session&) = delete;

  // --- The document ---------------------------------------------------------------------------
  bool open() const;                 // false: nothing is open, the welcome view is due
  const Document& document() const;  // the preview while there is one
  const History& history() const;
  std::string title() const;  // the vessel's name, else the file's, else words
  const std::filesystem::path& project_file() const;  // empty: never saved
  bool unsaved() const;
  std::uint64_t revision() const;  // changes whenever document() does

  Result<Done> perform(const Command& command, bool continues = false);
  // Shows the document after `command` without a step. Fails as apply.
  Result<Done> preview(const Command& command);
  void end_preview();
  bool undo();
  bool redo();
  bool go_to_step(std::size_t entry);

  // --- Files ----------------------------------------------------------------------------------
  // Each replaces what is open; ask first where unsaved(). Fail as load_project and probe_photo;
  // then what was open stays.
  Result<Done> open_project(const std::filesystem::path& file);
  // The sample: never saved, and not unsaved() before something is changed.
  Result<Done> open_as_copy(const std::filesystem::path& file);
  Result<Done> open_photo(const std::filesystem::path& file);  // a new project
  // What the work was recovered from is discarded by the session, once the work is kept or saved.
  Result<Done> open_recovered(const RecoveredWork& work);
  // Opens whichever of the two it is, by its ending.
  Result<Done> open_any(const std::filesystem::path& file);
  void close();
  // Fail with kFileUnwritable; then nothing is lost. Save the history, no preview. save() needs a
  // project_file() that nobody else changed meanwhile; save_as() only spares photographs.
  Result<Done> save();
  Result<Done> save_as(const std::filesystem::path& file);
  // Adds a further photograph of the vessel and shows it; behind the pane that the one shown was
  // taken through. Fails as probe_photo, or with kBadValue where it is in the project already.
  Result<Done> add_photo(const std::filesystem::path& file);
  // Uses another file for the photograph that is shown, as after it was moved; where there is none,
  // adds it. A doubtful note says when it is not the picture that was marked. Fails as probe_photo.
  Result<Done> find_photo(const std::filesystem::path& file);

  // --- The work in the background --------------------------------------------------------------
  const PhotoView& photo() const;
  // Index of the photograph that is shown: at first one with marks, then as chosen. Undo and other
  // changes of another photograph show that one. Neither saved nor a step of the history.
  std::size_t photo_index() const;
  void show_photo(std::size_t photo);  // nothing happens where there is no such photograph
  const ViewAdjust& adjust() const;    // of the photograph that is shown
  void set_adjust(const ViewAdjust& adjust);
  // Works the camera out from pictures of the printed board; whatever was found before goes.
  void measure_camera(std::vector<std::string> pictures);
  void stop_measuring_camera();
  // Keeps the camera that was found in the user's book, and measures anew with it. Fails as
  // keep_camera in background.h does.
  Result<Done> keep_camera();
  const CameraWork& camera_work() const;
  // Finds the outline on the photograph that is shown, within the box of `wanted` and by its
  // strokes; once found it is one step of the history. Whatever was in work is given up. Fails
  // where the photograph is not there to be looked at.
  Result<Done> trace(const ProjectTrace& wanted);
  void stop_tracing();
  const TraceWork& trace_work() const;
  const Figures& figures() const;  // with the clay's shrinkage, where it is known
  // The user's book of clays. What is changed in it shows in figures and plan at once.
  const ClayDesk& clays() const;
  const ClayWork& clay_work() const;
  // As those of ClayDesk.
  Result<Done> put_clay(const ClayBody& body, const std::string& words);
  Result<Done> remove_clay(const std::string& record);
  Result<JoinedBook> take_in_clays(const std::filesystem::path& file);
  Result<Done> take_back_clay();
  // Sheets and files of the latest figures.
  const SheetView& sheet() const;
  // Asks for sheets (again where figures, clay, printer or wish have changed since); nothing
  // happens without current figures, a scale and a clay's shrinkage.
  void want_sheet(const SheetWish& wish);
  void stop_sheet();
  void go_on_with_sheet();
  // Writes what is shown to a file; see write_sheet. Fails where that is not current.
  Result<Done> save_sheet(SheetFormat format, std::size_t part, const std::filesystem::path& file);
  void stop_saving_sheet();
  const SheetSaving& sheet_saving() const;
  const PrinterDesk& printers() const;
  // As those of PrinterDesk.
  Result<Done> keep_printer(const std::string& name, const MeasuredBars& bars,
                            const std::string& drawn_for);
  Result<Done> forget_printer(const std::string& name);
  // The building plan of the latest figures, once it is asked for, with its painted bands at a
  // stage.
  const PlanView& plan() const;
  void want_plan(Stage bands_at);
  // The pot on the bench at the stage that was asked for last.
  const CheckView& check() const;
  void want_check(Stage stage);
  // Takes a photograph of the pot on the bench, measured in a project of its own, as evidence for
  // the check, until it is dropped, the stage changes or another project is opened.
  void use_bench_photo(const std::filesystem::path& project);
  void drop_bench_photo();
  const BenchPhotoView& bench_photo() const;
  const ComparisonView& comparison() const;  // of the open project's pot with others
  void want_comparison(const CompareWish& wish);
  void save_comparison(const ComparisonFile& wanted);
  // Takes what the workers have finished, starts what is due, and keeps unsaved work at most every
  // `autosave` for recovery. Returns whether anything changed.
  bool pump(std::chrono::system_clock::time_point now, std::chrono::duration<double> autosave);
  // Returns when pump() next has unsaved work to keep, so that an idle window knows when to wake;
  // nothing where none is unsaved, or all is kept.
  std::optional<std::chrono::system_clock::time_point> keep_due(
      std::chrono::duration<double> autosave) const;
  // Returns when unsaved work was last kept for recovery, by the clock given to pump().
  std::optional<std::chrono::system_clock::time_point> kept_at() const;
  // Returns the problem of keeping unsaved work for recovery, where it failed.
  const std::optional<Problem>& autosave_problem() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace potshadow
