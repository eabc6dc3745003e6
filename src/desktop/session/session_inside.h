// SPDX-License-Identifier: MIT
// What a session is made of: the document and the desks that work for it.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "desktop/document/history.h"
#include "desktop/session/bench_photo.h"
#include "desktop/session/camera_desk.h"
#include "desktop/session/checker.h"
#include "desktop/session/clay_desk.h"
#include "desktop/session/comparer.h"
#include "desktop/session/facts_cache.h"
#include "desktop/session/figures_desk.h"
#include "desktop/session/photo_desk.h"
#include "desktop/session/planner.h"
#include "desktop/session/printer_desk.h"
#include "desktop/session/session.h"
#include "desktop/session/sheet_desk.h"
#include "desktop/session/tracer.h"
#include "desktop/session/work_keeper.h"

// For session.cc and session_files.cc only. A desk knows nothing of the others: what one needs of
// another is handed on here, whenever the document or the first one's results change.
namespace potshadow {

// What is said where nothing is open.
inline Problem nothing_open() {
  return {Code::kBadValue, "Nothing is open.", "Open a photograph or a project first.", ""};
}

struct Session::Inside {
  Inside(const UserFolders& folders, const std::function<void()>& wake)
      : user(folders),
        desk(folders),
        printers(folders),
        photo(user, cache, wake),
        figures([this](const Document& document) { return probe_for(document); }, wake),
        camera(wake),
        tracer(wake),
        planner(wake),
        sheets(wake),
        bench_photo(wake),
        comparer(wake),
        keeper(folders.state, wake) {}

  bool open = false;
  History history;
  DocumentPointer shown = history.snapshot();  // or the preview
  std::filesystem::path project_file;
  // What project_file held when it was last read or written here; nothing where that is not known.
  std::optional<std::string> on_disk;
  std::uint64_t revision = 0;
  std::chrono::system_clock::time_point now;  // as pump() was last told

  // Shared with the works below, which end before these do.
  const UserFolders user;
  ClayDesk desk;
  PrinterDesk printers;
  FactsCache cache;

  PhotoDesk photo;
  FiguresDesk figures;
  CameraDesk camera;
  Tracer tracer;
  Planner planner;
  SheetDesk sheets;
  Checker checker;
  BenchPhoto bench_photo;
  Comparer comparer;
  WorkKeeper keeper;

  void start(History opened, std::filesystem::path file, bool is_open);
  void show(DocumentPointer document);
  void document_changed();
  void follow_history(const DocumentPointer& before);
  Result<Done> write_to(const std::filesystem::path& file, bool over_others);

  PhotoProbe probe_for(const Document& document);
  // The figures of the document shown; null where they are not current.
  std::shared_ptr<const Measurement> current_figures() const {
    return open && figures.view().current ? figures.view().measurement : nullptr;
  }
  void sync_figures();
  void sync_sheet();
  void want_sheet(const SheetWish& wish);
  bool show_clays_anew();
  bool take_trace();
  WorkInHand work_in_hand() const {
    return {open ? history.snapshot() : nullptr, project_file, history.unsaved()};
  }
};

}  // namespace potshadow
