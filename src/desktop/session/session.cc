// SPDX-License-Identifier: MIT
#include "desktop/session/session.h"

#include <optional>
#include <utility>

#include "core/files.h"
#include "desktop/document/shown_photo.h"
#include "desktop/session/opened_file.h"
#include "desktop/session/session_inside.h"
#include "project/photo_lens.h"
#include "project/report.h"
#include "project/sheet_request.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;
using TimePoint = std::chrono::system_clock::time_point;

}  // namespace

// --- The document -------------------------------------------------------------------------------

// Everything of what was open before goes.
void Session::Inside::start(History opened, fs::path file, bool is_open) {
  keeper.forget();
  tracer.stop();
  figures.forget();
  planner.forget();
  checker = {};
  bench_photo.drop();
  comparer.forget();
  sheets.forget();

  open = is_open;
  history = std::move(opened);
  project_file = std::move(file);
  on_disk.reset();
  shown = history.snapshot();
  photo.forget(measured_photo(*shown).value_or(0));
  document_changed();
}

// Shows the history's document, and the photograph on which something has changed since `before`.
void Session::Inside::follow_history(const DocumentPointer& before) {
  DocumentPointer after = history.snapshot();
  photo.turn_to(*before, *after, photo_after(*before, *after, photo.index()));
  show(std::move(after));
}

void Session::Inside::show(DocumentPointer document) {
  if (document == shown) return;
  shown = std::move(document);
  document_changed();
}

void Session::Inside::document_changed() {
  ++revision;
  tracer.keep_for(*shown);
  photo.follow(shown);
  sync_figures();
}

// What photographs say of themselves, and what the book says of the cameras that took them. For any
// thread.
PhotoProbe Session::Inside::probe_for(const Document& document) {
  return probe_with_own_cameras(user, document,
                                [this](const fs::path& file) { return cache.probe(file); });
}

// Puts the outline in where it has been found.
bool Session::Inside::take_trace() {
  const std::optional<SetTrace> found = tracer.take();
  if (found) {
    const DocumentPointer before = history.snapshot();
    const Result<Done> done = history.perform(*found);
    if (!done) tracer.refuse(done.problem());  // too many strokes
    follow_history(before);
  }
  return tracer.look();
}

// --- Figures, clay and sheet -----------------------------------------------------------------

void Session::Inside::sync_figures() {
  const ShownAs as = !open                         ? ShownAs::kNothing
                     : shown != history.snapshot() ? ShownAs::kPreview
                                                   : ShownAs::kStep;
  figures.follow(shown, as, desk);
  sync_sheet();
}

// What was done to the book shows in the figures. Returns whether anything was.
bool Session::Inside::show_clays_anew() {
  if (!figures.follow_book(desk)) return false;
  sync_sheet();
  return true;
}

void Session::Inside::sync_sheet() {
  const Figures& latest = figures.view();
  sheets.follow(latest.current ? latest.measurement : nullptr, project_file.string());
}

void Session::Inside::want_sheet(const SheetWish& wish) {
  const std::shared_ptr<const Measurement> measurement = current_figures();
  if (!measurement || !measurement->shrinkage) return;
  if (measurement->answer.scale == ScaleSource::kNone) return;
  const Result<PrinterScale> printer = printers.scale_of(wish.print.printer);
  if (!printer) {
    sheets.refuse(printer.problem());
    return;
  }
  SheetSource source{measurement, project_file.string(), *printer};
  if (sheets.wants(source, wish)) return;
  auto book = std::make_shared<const Result<ClayBook>>(
      desk.problem() ? Result<ClayBook>(*desk.problem()) : Result<ClayBook>(desk.book()));
  sheets.want({std::move(source), wish, std::move(book), now,
               history.unsaved() ? std::nullopt : saved_at(project_file)});
  sync_sheet();
}

// --- What is asked and ordered ------------------------------------------------------------------

Session::Session(UserFolders folders, std::function<void()> wake)
    : inside_(std::make_unique<Inside>(folders, wake)) {}

Session::~Session() = default;

bool Session::open() const { return inside_->open; }
const Document& Session::document() const { return *inside_->shown; }
const History& Session::history() const { return inside_->history; }
const fs::path& Session::project_file() const { return inside_->project_file; }
bool Session::unsaved() const { return inside_->open && inside_->history.unsaved(); }
std::uint64_t Session::revision() const { return inside_->revision; }

std::string Session::title() const {
  if (!inside_->open) return "";
  const std::string title = title_of(document(), inside_->project_file.string());
  return title.empty() ? "Unnamed vessel" : title;
}

Result<Done> Session::perform(const Command& command, bool continues) {
  if (!inside_->open) return nothing_open();
  const DocumentPointer before = inside_->history.snapshot();
  Result<Done> done = inside_->history.perform(command, continues);
  inside_->follow_history(before);
  return done;
}

Result<Done> Session::preview(const Command& command) {
  if (!inside_->open) return nothing_open();
  Result<Document> changed = apply(inside_->history.document(), command);
  if (!changed) return changed.problem();
  if (*changed != *inside_->shown) {
    inside_->show(std::make_shared<const Document>(std::move(changed).value()));
  }
  return Done{};
}

void Session::end_preview() { inside_->show(inside_->history.snapshot()); }

bool Session::undo() {
  const DocumentPointer before = inside_->history.snapshot();
  const bool done = inside_->history.undo();
  inside_->follow_history(before);
  return done;
}

bool Session::redo() {
  const DocumentPointer before = inside_->history.snapshot();
  const bool done = inside_->history.redo();
  inside_->follow_history(before);
  return done;
}

bool Session::go_to_step(std::size_t entry) {
  const DocumentPointer before = inside_->history.snapshot();
  const bool done = inside_->history.go_to(entry);
  inside_->follow_history(before);
  return done;
}

// --- The work in the background -----------------------------------------------------------------

const PhotoView& Session::photo() const { return inside_->photo.view(); }
std::size_t Session::photo_index() const { return inside_->photo.index(); }

void Session::show_photo(std::size_t photo) {
  if (photo >= inside_->shown->photos.size()) return;
  inside_->photo.turn_to(*inside_->shown, *inside_->shown, photo);
  inside_->photo.follow(inside_->shown);
}

const ViewAdjust& Session::adjust() const { return inside_->photo.adjust(); }
void Session::set_adjust(const ViewAdjust& adjust) { inside_->photo.set_adjust(adjust); }

void Session::measure_camera(std::vector<std::string> pictures) {
  inside_->camera.measure(std::move(pictures));
}

void Session::stop_measuring_camera() { inside_->camera.stop(); }

Result<Done> Session::keep_camera() {
  Result<Done> kept = inside_->camera.keep(inside_->user, iso_date(inside_->now));
  if (!kept) return kept;
  inside_->photo.look_up_camera();
  inside_->figures.doubt_sources();
  inside_->sync_figures();
  return kept;
}

const CameraWork& Session::camera_work() const { return inside_->camera.work(); }

Result<Done> Session::trace(const ProjectTrace& wanted) {
  if (!inside_->open) return nothing_open();
  const std::shared_ptr<const Picture>& picture = inside_->photo.view().picture;
  if (!picture) {
    return Problem{Code::kFileMissing, "There is no photograph to find the outline on.",
                   "Show where it is first.", ""};
  }
  inside_->tracer.start(
      inside_->history.snapshot(), inside_->photo.index(), picture, wanted,
      [inside = inside_.get()](const Document& d) { return inside->probe_for(d); });
  return Done{};
}

void Session::stop_tracing() { inside_->tracer.stop(); }

const TraceWork& Session::trace_work() const { return inside_->tracer.work(); }

const Figures& Session::figures() const { return inside_->figures.view(); }

const ClayDesk& Session::clays() const { return inside_->desk; }
const ClayWork& Session::clay_work() const { return inside_->figures.clay(); }

Result<Done> Session::put_clay(const ClayBody& body, const std::string& words) {
  const Result<Done> done = inside_->desk.put(body, words);
  inside_->show_clays_anew();
  return done;
}

Result<Done> Session::remove_clay(const std::string& record) {
  const Result<Done> done = inside_->desk.remove(record);
  inside_->show_clays_anew();
  return done;
}

Result<JoinedBook> Session::take_in_clays(const fs::path& file) {
  Result<JoinedBook> joined = inside_->desk.take_in(file);
  inside_->show_clays_anew();
  return joined;
}

Result<Done> Session::take_back_clay() {
  const Result<Done> done = inside_->desk.take_back();
  inside_->show_clays_anew();
  return done;
}

const PlanView& Session::plan() const { return inside_->planner.view(); }

const CheckView& Session::check() const { return inside_->checker.view(); }

void Session::want_check(Stage stage) {
  if (stage != inside_->checker.view().stage) inside_->bench_photo.drop();
  inside_->checker.want({inside_->current_figures(), stage, inside_->desk.revision(), title(),
                         inside_->bench_photo.view().measurement},
                        inside_->desk.book());
}

void Session::use_bench_photo(const fs::path& project) {
  inside_->bench_photo.use(
      project, [inside = inside_.get()](const Project& of) { return inside->probe_for(of); });
}

void Session::drop_bench_photo() { inside_->bench_photo.drop(); }

const BenchPhotoView& Session::bench_photo() const { return inside_->bench_photo.view(); }

const ComparisonView& Session::comparison() const { return inside_->comparer.view(); }

void Session::want_comparison(const CompareWish& wish) {
  const ClayDesk& desk = inside_->desk;
  std::vector<std::optional<FactsCache::Stamp>> stamps;
  for (const OtherPot& pot : wish.others) stamps.push_back(FactsCache::stamp_of(pot.file));
  inside_->comparer.want(
      {wish, inside_->current_figures(), title(), inside_->project_file, desk.revision(),
       inside_->open ? document().bench : std::vector<ProjectBench>(), std::move(stamps)},
      {desk.problem() ? Result<ClayBook>(*desk.problem()) : desk.book(), inside_->user,
       [inside = inside_.get()](const Project& of) { return inside->probe_for(of); },
       inside_->cache});
}

void Session::save_comparison(const ComparisonFile& wanted) {
  inside_->comparer.save(wanted, inside_->now);
}

void Session::want_plan(Stage bands_at) {
  inside_->planner.want(inside_->current_figures(), bands_at);
}

const SheetView& Session::sheet() const { return inside_->sheets.view(); }
void Session::want_sheet(const SheetWish& wish) { inside_->want_sheet(wish); }
void Session::stop_sheet() { inside_->sheets.stop(); }
void Session::go_on_with_sheet() { inside_->sheets.go_on(); }
Result<Done> Session::save_sheet(SheetFormat format, std::size_t part, const fs::path& file) {
  return inside_->sheets.save(format, part, absolute_path(file));
}
void Session::stop_saving_sheet() { inside_->sheets.stop_saving(); }
const SheetSaving& Session::sheet_saving() const { return inside_->sheets.saving(); }
const PrinterDesk& Session::printers() const { return inside_->printers; }
Result<Done> Session::keep_printer(const std::string& name, const MeasuredBars& bars,
                                   const std::string& drawn_for) {
  return inside_->printers.keep(name, bars, drawn_for);
}
Result<Done> Session::forget_printer(const std::string& name) {
  return inside_->printers.forget(name);
}

bool Session::pump(TimePoint now, std::chrono::duration<double> autosave) {
  inside_->now = now;
  bool changed = inside_->photo.take();
  changed = inside_->camera.take() || changed;
  changed = inside_->take_trace() || changed;
  if (inside_->figures.take()) {
    inside_->sync_sheet();
    changed = true;
  }
  if (inside_->sheets.take()) {
    inside_->sync_sheet();
    changed = true;
  }
  changed = inside_->planner.take() || changed;
  changed = inside_->bench_photo.take() || changed;
  changed = inside_->comparer.take() || changed;
  inside_->desk.look();  // another program may have changed the book
  changed = inside_->show_clays_anew() || changed;
  changed = inside_->printers.look() || changed;
  changed = inside_->keeper.take() || changed;
  inside_->keeper.keep(inside_->work_in_hand(), now, autosave);
  return changed;
}

std::optional<TimePoint> Session::keep_due(std::chrono::duration<double> autosave) const {
  return inside_->keeper.due(inside_->work_in_hand(), inside_->now, autosave);
}

std::optional<TimePoint> Session::kept_at() const { return inside_->keeper.kept_at(); }

const std::optional<Problem>& Session::autosave_problem() const {
  return inside_->keeper.problem();
}

}  // namespace potshadow
