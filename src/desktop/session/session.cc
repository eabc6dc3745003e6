// SPDX-License-Identifier: MIT
#include "desktop/session/session.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <map>
#include <optional>
#include <string_view>
#include <system_error>
#include <utility>

#include "core/files.h"
#include "desktop/document/shown_photo.h"
#include "desktop/session/background.h"
#include "desktop/session/comparer.h"
#include "desktop/session/latest_job.h"
#include "estimate/estimate.h"
#include "project/camera_book.h"
#include "project/photo_lens.h"
#include "project/report.h"
#include "project/shared_files.h"
#include "project/sheet_request.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;
using TimePoint = std::chrono::system_clock::time_point;

Busy busy_with(std::string words) { return {std::move(words), std::chrono::steady_clock::now()}; }

Problem nothing_open() {
  return {Code::kBadValue, "Nothing is open.", "Open a photograph or a project first.", ""};
}

fs::path absolute_path(const fs::path& path) {
  std::error_code error;
  const fs::path absolute = fs::absolute(path, error);
  if (error) return path;
  const fs::path tidy = absolute.lexically_normal();
  // ".." out of a folder that is a link leads elsewhere than the names say.
  return fs::exists(absolute, error) && !fs::equivalent(tidy, absolute, error) ? absolute : tidy;
}

std::string ending_of(const fs::path& file) {
  std::string ending = file.extension().string();
  for (char& c : ending) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return ending;
}

bool is_photo_ending(std::string_view ending) {
  constexpr std::array<std::string_view, 9> kEndings{".jpg",  ".jpeg", ".png",  ".tif", ".tiff",
                                                     ".webp", ".heic", ".heif", ".hif"};
  return std::find(kEndings.begin(), kEndings.end(), ending) != kEndings.end();
}

bool same_file(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return a == b || fs::equivalent(a, b, error);
}

bool same(const DocumentPointer& a, const DocumentPointer& b) {
  return a && b && (a == b || *a == *b);
}

// Whether both give the same sizes: they differ at most in words and in the new pot.
bool same_sizes(const DocumentPointer& a, const DocumentPointer& b) {
  if (!a || !b) return false;
  Document renamed = *b;
  renamed.name = a->name;
  renamed.notes = a->notes;
  renamed.clay = a->clay;
  renamed.plan = a->plan;
  renamed.bench = a->bench;
  renamed.bands = a->bands;
  return *a == renamed;
}

struct Estimated {
  DocumentPointer document;
  Result<Measurement> measurement;
  bool roughly = false;  // from a solution nearby
};

struct Adjusted {
  ViewAdjust adjust;
  Result<ShownPicture> shown;
};

// What keeping for recovery came to.
struct Kept {
  std::optional<TimePoint> at;  // nothing where the slot was cleared
  std::optional<Problem> problem;
  std::vector<RecoveredWork> discarded;
};

}  // namespace

struct Session::Inside {
  Inside(const UserFolders& folders, const std::function<void()>& wake)
      : user(folders),
        desk(folders),
        printers(folders),
        keeper(folders.state),
        decoding(wake),
        adjusting(wake),
        estimating(wake),
        calibrating(wake),
        tracer(wake),
        planner(wake),
        sheets(wake),
        bench_photo(wake),
        comparer(wake),
        keeping(std::make_unique<LatestJob<Kept>>(wake)) {}

  // --- The document -----------------------------------------------------------------------------
  bool open = false;
  History history;
  DocumentPointer shown = history.snapshot();  // or the preview
  fs::path project_file;
  std::uint64_t revision = 0;
  TimePoint now;  // as pump() was last told

  void start(History opened, fs::path file, bool is_open);
  void show(DocumentPointer document);
  void document_changed();
  void follow_history(const DocumentPointer& before);
  Result<Done> write_to(const fs::path& file, bool over_others);

  // --- The photograph ---------------------------------------------------------------------------
  struct PhotoKey {
    std::string file;
    int quarter_turns = 0;
    friend bool operator==(const PhotoKey&, const PhotoKey&) = default;
  };
  PhotoView photo;
  std::size_t photo_index = 0;  // of the photograph that is shown
  ViewAdjust adjust;
  std::map<std::string, ViewAdjust> other_adjusts;  // of photographs shown before, by file
  std::optional<PhotoKey> photo_key;                // of what is shown or being read
  std::optional<Problem> reading_problem;
  PhotoKey loaded_key;                    // of `loaded`
  std::shared_ptr<const Picture> loaded;  // the last picture read, to be turned without reading
  std::vector<Note> loaded_notes;
  std::optional<ViewAdjust> adjusting_to;  // in work
  // The last pictures read, newest first, so that going to and fro between photographs is quick.
  struct RecentPhoto {
    PhotoKey key;
    std::optional<FactsCache::Stamp> stamp;  // of the file
    std::shared_ptr<const Picture> picture;
    std::vector<Note> notes;
  };
  std::vector<RecentPhoto> recent;

  void turn_to(const Document& before, const Document& after, std::size_t index);
  void sync_photo();
  void sync_photo_problem();
  void remember_loaded();
  void look_in_recent(const std::string& file);
  void set_shown(std::optional<ShownPicture> picture);
  void start_adjusting();
  bool take_photo();
  bool take_adjusted();

  // --- The camera -------------------------------------------------------------------------------
  CameraWork camera;
  std::size_t board_pictures = 0;                        // to look at
  std::shared_ptr<std::atomic<std::size_t>> dealt_with;  // of them

  bool take_camera();
  void measure_anew();
  PhotoProbe probe_for(const Document& document);
  bool take_trace();

  // --- The figures ------------------------------------------------------------------------------
  Figures figures;
  std::shared_ptr<const Measurement> bare;  // figures.measurement without what the book tells
  DocumentPointer measured;                 // gave figures.measurement
  bool measured_roughly = false;  // from a solution nearby, in a drag: good only while it lasts
  DocumentPointer failed;         // gave `failed_problem`
  std::optional<Problem> failed_problem;
  DocumentPointer measuring;  // in work

  // The clay's figures as figures.measurement has them, and from which book.
  ClayWork clay;
  std::optional<ProjectClay> clay_of;
  std::uint64_t clay_book = 0;
  std::uint64_t dressed_with = 0;  // the book that figures.measurement was last given

  void sync_clay();
  void dress_figures(const Document& document);
  bool show_clays_anew();
  bool previewing() const { return shown != history.snapshot(); }
  void sync_figures();
  void start_measuring();
  void stop_measuring();
  bool take_measurement();

  // --- The sheet --------------------------------------------------------------------------------
  void sync_sheet();
  void want_sheet(const SheetWish& wish);

  // What project_file held when it was last read or written here; nothing where that is not known.
  std::optional<std::string> on_disk;

  // --- Recovery ---------------------------------------------------------------------------------
  std::vector<RecoveredWork> recovered_from;  // what is open was; not kept or saved since
  std::vector<RecoveredWork> to_discard;      // kept, saved or given up
  DocumentPointer kept;                       // in the slot, or on its way there
  std::optional<TimePoint> keep_started;
  std::optional<TimePoint> kept_at;
  std::optional<Problem> keep_problem;
  bool clearing = false;  // asked for, not known to be done

  std::optional<TimePoint> keep_due(std::chrono::duration<double> autosave) const;
  void keep_for_recovery(std::chrono::duration<double> autosave);
  void clear_recovery();
  std::vector<RecoveredWork> all_recovered() const;
  bool take_kept();
  void finish_recovery();

  // Shared with the works below, which end before these do.
  const UserFolders user;
  ClayDesk desk;
  PrinterDesk printers;
  FactsCache cache;
  EstimateMemory memory;  // only the worker of `estimating` uses it
  RecoveryKeeper keeper;  // only the worker of `keeping` uses it

  LatestJob<LoadedPhoto> decoding;
  LatestJob<Adjusted> adjusting;
  LatestJob<Estimated> estimating;
  LatestJob<Result<FoundCamera>> calibrating;
  Tracer tracer;
  Planner planner;
  SheetDesk sheets;
  Checker checker;
  BenchPhoto bench_photo;
  Comparer comparer;
  std::unique_ptr<LatestJob<Kept>> keeping;
};

// --- The document -------------------------------------------------------------------------------

// Everything of what was open before goes.
void Session::Inside::start(History opened, fs::path file, bool is_open) {
  clear_recovery();
  decoding.cancel();
  adjusting.cancel();
  tracer.stop();
  stop_measuring();
  photo_key.reset();
  reading_problem.reset();
  loaded.reset();
  adjusting_to.reset();
  const std::uint64_t shown_revision = photo.shown_revision + 1;
  photo = {};
  photo.shown_revision = shown_revision;
  figures = {};
  bare.reset();
  planner.forget();
  checker = {};
  bench_photo.drop();
  comparer.forget();
  measured.reset();
  failed.reset();
  failed_problem.reset();
  sheets.forget();
  keep_started.reset();
  kept_at.reset();
  keep_problem.reset();

  open = is_open;
  history = std::move(opened);
  project_file = std::move(file);
  on_disk.reset();
  shown = history.snapshot();
  recent.clear();
  photo_index = measured_photo(*shown).value_or(0);
  other_adjusts.clear();
  document_changed();
}

// Shows the history's document, and the photograph on which something has changed since `before`.
void Session::Inside::follow_history(const DocumentPointer& before) {
  DocumentPointer after = history.snapshot();
  turn_to(*before, *after, photo_after(*before, *after, photo_index));
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
  sync_clay();
  sync_photo();
  sync_figures();
}

// Writes over what another program has written there since only where that is wished.
Result<Done> Session::Inside::write_to(const fs::path& file, bool over_others) {
  const Project project = project_of(history.document(), file.parent_path());
  const Result<Done> saved =
      over_others || !on_disk
          ? save_project(project, file)
          : save_if_unchanged(project, file, on_disk,
                              "Save this under another name, or under the same name to write over "
                              "the other.");
  if (!saved) return saved.problem();
  on_disk = print_of_file(file);
  history.mark_saved();
  clear_recovery();
  return saved;
}

// --- The photograph -----------------------------------------------------------------------------

// Shows the photograph `index` of `after`, where `before` was shown until now. Each keeps how it is
// adjusted for the eye.
void Session::Inside::turn_to(const Document& before, const Document& after, std::size_t index) {
  const auto file_of = [](const Document& document, std::size_t at) {
    return at < document.photos.size() ? document.photos[at].file : std::string();
  };
  const std::string left = file_of(before, photo_index);
  const std::string next = file_of(after, index);
  photo_index = index;
  if (left == next) return;
  other_adjusts[left] = adjust;
  adjust = other_adjusts[next];
}

// Reads or turns the photograph where another one, or another side up, is to be shown.
void Session::Inside::sync_photo() {
  const std::size_t index = photo_index;
  std::optional<PhotoKey> key;
  if (open && index < shown->photos.size()) {
    key = PhotoKey{shown->photos[index].file, shown->photos[index].quarter_turns};
  }
  if (key == photo_key) {
    sync_photo_problem();
    return;
  }
  const bool other_file = !key || !photo_key || key->file != photo_key->file;
  photo_key = key;
  decoding.cancel();
  adjusting.cancel();
  adjusting_to.reset();
  photo.picture.reset();
  set_shown(std::nullopt);
  photo.busy.reset();
  reading_problem.reset();
  if (other_file) {
    photo.facts.reset();
    photo.camera.reset();
    photo.notes.clear();
    if (!key || key->file != loaded_key.file) loaded.reset();
    if (key && !loaded) look_in_recent(key->file);
  }
  if (key && key->file.empty()) {
    reading_problem =
        Problem{Code::kFileMissing, "The project does not say which photograph it is about.",
                "Show where the photograph is.", ""};
  } else if (key && loaded) {
    const int turns = key->quarter_turns - loaded_key.quarter_turns;
    photo.busy = busy_with(turns == 0 ? "Reading the photograph" : "Turning the photograph");
    decoding.request([picture = loaded, turns, notes = loaded_notes](const std::stop_token&) {
      LoadedPhoto turned;
      turned.picture =
          turns == 0 ? picture : std::make_shared<const Picture>(turned_picture(*picture, turns));
      turned.facts = picture->facts;
      turned.notes = notes;
      return turned;
    });
  } else if (key) {
    photo.busy = busy_with("Reading the photograph");
    decoding.request([this_cache = &cache, wanted = *key](const std::stop_token& stop) {
      return load_photo(wanted.file, wanted.quarter_turns, *this_cache, stop);
    });
  }
  sync_photo_problem();
}

// Keeps the picture that was just read, and as many older ones as are not too much together.
void Session::Inside::remember_loaded() {
  if (!loaded) return;
  constexpr double kMostPixels = 60e6;  // 3 bytes each: five photographs of a phone
  std::erase_if(recent, [&](const RecentPhoto& one) { return one.key.file == loaded_key.file; });
  recent.insert(recent.begin(),
                {loaded_key, FactsCache::stamp_of(loaded_key.file), loaded, loaded_notes});
  double pixels = 0.0;
  std::size_t kept_count = 0;
  for (const RecentPhoto& one : recent) {
    pixels += static_cast<double>(one.picture->facts.width_px) * one.picture->facts.height_px;
    if (kept_count > 0 && pixels > kMostPixels) break;
    ++kept_count;
  }
  recent.resize(kept_count);
}

// Takes the picture of a file that was read before and has not changed since for the one loaded.
void Session::Inside::look_in_recent(const std::string& file) {
  for (const RecentPhoto& one : recent) {
    if (one.key.file != file || !one.stamp || one.stamp != FactsCache::stamp_of(file)) continue;
    loaded = one.picture;
    loaded_key = one.key;
    loaded_notes = one.notes;
    return;
  }
}

void Session::Inside::sync_photo_problem() {
  photo.problem = reading_problem;
  const std::size_t index = photo_index;
  if (reading_problem || !photo.facts || index >= shown->photos.size()) return;
  if (!differs(shown->photos[index].record, *photo.facts)) return;
  photo.problem =
      Problem{Code::kBadValue, "The photograph is not the same as when it was marked.",
              "Check that the marks still lie on it, or show where the right one is.", ""};
}

void Session::Inside::set_shown(std::optional<ShownPicture> picture) {
  if (!picture && !photo.shown) return;
  photo.shown = std::move(picture);
  ++photo.shown_revision;
}

void Session::Inside::start_adjusting() {
  if (!photo.picture || adjusting_to) return;
  adjusting_to = adjust;
  if (!photo.busy) photo.busy = busy_with("Making the photograph ready to look at");
  adjusting.request([picture = photo.picture, to = adjust](const std::stop_token& stop) {
    return Adjusted{to, ShownPicture::of(*picture, to, stop)};
  });
}

bool Session::Inside::take_photo() {
  std::optional<LoadedPhoto> read = decoding.take();
  if (!read) return false;
  photo.busy.reset();
  photo.picture = std::move(read->picture);
  photo.facts = std::move(read->facts);
  photo.camera = photo.facts ? known_camera(user, *photo.facts) : std::nullopt;
  photo.notes = std::move(read->notes);
  reading_problem = std::move(read->problem);
  if (reading_problem && reading_problem->code == Code::kFileMissing) {
    reading_problem->next = "Show where it is now; the marks and the figures stay.";
  }
  loaded = photo.picture;
  loaded_notes = photo.notes;
  loaded_key = photo_key.value_or(PhotoKey());
  remember_loaded();
  sync_photo_problem();
  start_adjusting();
  return true;
}

bool Session::Inside::take_adjusted() {
  std::optional<Adjusted> adjusted = adjusting.take();
  if (!adjusted) return false;
  photo.busy.reset();
  adjusting_to.reset();
  if (adjusted->shown.ok()) {
    set_shown(std::move(adjusted->shown).value());
  } else {
    reading_problem = adjusted->shown.problem();
    sync_photo_problem();
  }
  if (adjusted->adjust != adjust) start_adjusting();
  return true;
}

// --- The camera ---------------------------------------------------------------------------------

bool Session::Inside::take_camera() {
  if (!camera.busy) return false;
  std::optional<Result<FoundCamera>> done = calibrating.take();
  if (!done) {
    const std::size_t looked_at = *dealt_with;
    std::string words = looked_at < board_pictures
                            ? "Looking for the board, " + std::to_string(looked_at + 1) + " of " +
                                  std::to_string(board_pictures)
                            : "Working out the lens";
    if (words == camera.busy->words) return false;
    camera.busy->words = std::move(words);
    return true;
  }
  camera.busy.reset();
  if (done->ok()) {
    camera.found = std::move(*done).value();
  } else {
    camera.problem = done->problem();
  }
  return true;
}

// What the figures came from beside the document may have changed.
void Session::Inside::measure_anew() {
  stop_measuring();
  measured.reset();
  failed.reset();
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

// --- The clay -----------------------------------------------------------------------------------

// Works out what the book tells of the clay of the document shown.
void Session::Inside::sync_clay() {
  if (clay_book == desk.revision() && clay_of == shown->clay) return;
  clay_book = desk.revision();
  clay_of = shown->clay;
  clay = {};
  if (desk.problem() && clay_of && !clay_of->record.empty() && !clay_of->shrinkage_percent) {
    clay.problem = desk.problem();
    return;
  }
  const auto found = project_clay(*shown, desk.book());
  if (!found) {
    clay.problem = found.problem();
    return;
  }
  clay.clay = *found;
  clay.notes = found.notes();
}

// Puts the document, and what is known of its clay, into the figures that were measured.
void Session::Inside::dress_figures(const Document& document) {
  Measurement dressed = *bare;
  dressed.project = document;
  dressed_with = clay_book;
  if (document.clay == clay_of) {
    dressed.clay = clay.clay;
    dressed.shrinkage.reset();
    if (clay.clay) dressed.shrinkage = clay.clay->total;
  }
  figures.measurement = std::make_shared<const Measurement>(std::move(dressed));
}

// What was done to the book shows in the figures. Returns whether anything was.
bool Session::Inside::show_clays_anew() {
  if (clay_book == desk.revision()) return false;
  sync_clay();
  if (figures.current) dress_figures(*shown);
  sync_sheet();
  return true;
}

// --- The figures --------------------------------------------------------------------------------

void Session::Inside::sync_figures() {
  const bool good = !measured_roughly || previewing();
  if (!open) {
    stop_measuring();
  } else if (good && same(measured, shown)) {
    stop_measuring();
    if (dressed_with != clay_book) dress_figures(*shown);
    figures.current = true;
    figures.problem.reset();
  } else if (good && same_sizes(measured, shown) && clay_shrinkage(*shown).ok()) {
    stop_measuring();
    dress_figures(*shown);
    figures.current = true;
    figures.problem.reset();
    measured = shown;
  } else if (same(failed, shown) || same_sizes(failed, shown)) {
    stop_measuring();
    figures.current = false;
    figures.problem = failed_problem;
  } else {
    figures.current = false;
    // What is in work is finished first: a drag that never waits would else never see figures.
    if (!measuring) start_measuring();
  }
  sync_sheet();
}

void Session::Inside::start_measuring() {
  measuring = shown;
  figures.busy = busy_with("Working out the sizes");
  estimating.request([this, document = shown, roughly = previewing()](const std::stop_token&) {
    const PhotoProbe probe = probe_for(*document);
    const auto estimator = [&](const EstimateInput& input) {
      return roughly ? estimate_nearby(input, memory) : estimate(input, &memory);
    };
    return Estimated{document, measure_project(*document, {}, probe, estimator), roughly};
  });
}

void Session::Inside::stop_measuring() {
  estimating.cancel();
  measuring.reset();
  figures.busy.reset();
}

bool Session::Inside::take_measurement() {
  std::optional<Estimated> estimated = estimating.take();
  if (!estimated) return false;
  measuring.reset();
  figures.busy.reset();
  if (estimated->measurement.ok()) {
    bare = std::make_shared<const Measurement>(std::move(estimated->measurement).value());
    measured = estimated->document;
    dress_figures(*measured);
    measured_roughly = estimated->roughly;
  } else {
    failed = estimated->document;
    failed_problem = estimated->measurement.problem();
    if (figures.problem) figures.problem = failed_problem;
  }
  sync_figures();
  return true;
}

// --- The sheet ----------------------------------------------------------------------------------

void Session::Inside::sync_sheet() {
  sheets.follow(figures.current ? figures.measurement : nullptr, project_file.string());
}

void Session::Inside::want_sheet(const SheetWish& wish) {
  if (!open || !figures.current || !figures.measurement->shrinkage) return;
  if (figures.measurement->answer.scale == ScaleSource::kNone) return;
  const Result<PrinterScale> printer = printers.scale_of(wish.print.printer);
  if (!printer) {
    sheets.refuse(printer.problem());
    return;
  }
  SheetSource source{figures.measurement, project_file.string(), *printer};
  if (sheets.wants(source, wish)) return;
  auto book = std::make_shared<const Result<ClayBook>>(
      desk.problem() ? Result<ClayBook>(*desk.problem()) : Result<ClayBook>(desk.book()));
  sheets.want({std::move(source), wish, std::move(book), now,
               history.unsaved() ? std::nullopt : saved_at(project_file)});
  sync_sheet();
}

// --- Recovery -----------------------------------------------------------------------------------

std::optional<TimePoint> Session::Inside::keep_due(std::chrono::duration<double> autosave) const {
  if (!open || !history.unsaved() || kept == history.snapshot()) return std::nullopt;
  if (!keep_started || now < *keep_started) return now;  // never yet, or the clock was set back
  return *keep_started + std::chrono::duration_cast<TimePoint::duration>(autosave);
}

void Session::Inside::keep_for_recovery(std::chrono::duration<double> autosave) {
  if (open && !history.unsaved() && !clearing) clear_recovery();  // undone to what is on disk
  const std::optional<TimePoint> due = keep_due(autosave);
  if (!due || now < *due || keeping->busy()) return;
  keep_started = now;
  kept = history.snapshot();
  clearing = false;
  keeping->request([this_keeper = &keeper, document = kept, file = project_file, at = now,
                    from = all_recovered()](const std::stop_token&) {
    const Result<Done> done = this_keeper->keep(*document, file, at, from);
    return done.ok() ? Kept{at, {}, from} : Kept{{}, done.problem(), {}};
  });
}

void Session::Inside::clear_recovery() {
  to_discard = all_recovered();
  recovered_from.clear();
  if (!kept && to_discard.empty()) return;
  kept.reset();
  clearing = true;
  keeping->request([this_keeper = &keeper, from = to_discard](const std::stop_token&) {
    this_keeper->clear(from);
    return Kept{{}, {}, from};
  });
}

std::vector<RecoveredWork> Session::Inside::all_recovered() const {
  std::vector<RecoveredWork> all = to_discard;
  all.insert(all.end(), recovered_from.begin(), recovered_from.end());
  return all;
}

bool Session::Inside::take_kept() {
  const std::optional<Kept> done = keeping->take();
  if (!done) return false;
  clearing = false;
  keep_problem = done->problem;
  if (done->problem) kept.reset();  // to be tried again
  if (done->at) kept_at = done->at;
  const auto is_gone = [&](const RecoveredWork& work) {
    return std::any_of(done->discarded.begin(), done->discarded.end(),
                       [&](const RecoveredWork& gone) { return gone.slot == work.slot; });
  };
  std::erase_if(to_discard, is_gone);
  std::erase_if(recovered_from, is_gone);
  return true;
}

// Ends the worker; what was asked of it last, it may not have done.
void Session::Inside::finish_recovery() {
  keeping.reset();
  if (clearing) keeper.clear(to_discard);
}

Session::Session(UserFolders folders, std::function<void()> wake)
    : inside_(std::make_unique<Inside>(folders, wake)) {}

Session::~Session() { inside_->finish_recovery(); }

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

// --- Files --------------------------------------------------------------------------------------

Result<Done> Session::open_project(const fs::path& file) {
  const fs::path whole = absolute_path(file);
  const std::optional<std::string> print = print_of_file(whole);
  const Result<Project> project = load_project(whole);
  if (!project) return project.problem();
  inside_->start(History(document_of(*project, whole.parent_path())), whole, true);
  inside_->on_disk = print;
  return {Done{}, project.notes()};
}

Result<Done> Session::open_as_copy(const fs::path& file) {
  const fs::path whole = absolute_path(file);
  const Result<Project> project = load_project(whole);
  if (!project) return project.problem();
  inside_->start(History(document_of(*project, whole.parent_path())), {}, true);
  return {Done{}, project.notes()};
}

Result<Done> Session::open_photo(const fs::path& file) {
  const fs::path whole = absolute_path(file);
  const Result<PhotoFacts> facts = inside_->cache.probe(whole);
  if (!facts) return facts.problem();
  ProjectPhoto photo;
  photo.file = whole.string();
  photo.record = record_of(*facts);
  Document document;
  document.name = whole.stem().string();
  document.photos.push_back(std::move(photo));
  History history(std::move(document), "Open photograph");
  history.mark_never_saved();
  inside_->start(std::move(history), {}, true);
  return Done{};
}

Result<Done> Session::open_recovered(const RecoveredWork& work) {
  History history(document_of(work.project, work.project_file.parent_path()), "Recover");
  history.mark_never_saved();
  inside_->start(std::move(history), work.project_file, true);
  inside_->recovered_from.push_back(work);
  return Done{};
}

bool names_project(const fs::path& file) { return ending_of(file) == ".potshadow"; }

Result<Done> Session::open_any(const fs::path& file) {
  if (names_project(file)) return open_project(file);
  const std::string ending = ending_of(file);
  if (is_photo_ending(ending)) return open_photo(file);
  std::error_code error;
  const std::string name = "'" + file.string() + "'";
  const std::string next =
      "Open a project (.potshadow) or a photograph (JPEG, PNG, TIFF, WebP or HEIC).";
  const fs::file_status status = fs::status(file, error);
  if (!fs::exists(status)) {
    return Problem{Code::kFileMissing, "There is no file " + name + ".",
                   "Check the name and the folder.", ""};
  }
  if (fs::is_directory(status)) {
    return Problem{Code::kFileUnreadable, name + " is a folder.", next, ""};
  }
  return Problem{Code::kFileUnreadable,
                 "By its ending, " + name + " is neither a project nor a photograph.", next, ""};
}

void Session::close() { inside_->start(History(), {}, false); }

Result<Done> Session::save() {
  if (!inside_->open) return nothing_open();
  if (inside_->project_file.empty()) {
    return Problem{Code::kFileUnwritable, "The project has no file yet.",
                   "Choose where to save it.", ""};
  }
  return inside_->write_to(inside_->project_file, false);
}

Result<Done> Session::save_as(const fs::path& file) {
  if (!inside_->open) return nothing_open();
  const fs::path whole = absolute_path(file);
  for (const ProjectPhoto& photo : inside_->history.document().photos) {
    if (photo.file.empty() || !same_file(photo.file, whole)) continue;
    return Problem{Code::kFileUnwritable,
                   "'" + whole.string() + "' is the photograph itself and was left alone.",
                   "Choose another name for the project.", ""};
  }
  Result<Done> saved = inside_->write_to(whole, true);
  if (!saved) return saved.problem();
  inside_->project_file = whole;
  inside_->sync_sheet();
  return saved;
}

Result<Done> Session::add_photo(const fs::path& file) {
  if (!inside_->open) return nothing_open();
  const fs::path whole = absolute_path(file);
  const Result<PhotoFacts> facts = inside_->cache.probe(whole);
  if (!facts) return facts.problem();
  const Document& before = inside_->history.document();
  for (const ProjectPhoto& photo : before.photos) {
    const bool same_content = !photo.record.sha256.empty() && photo.record.sha256 == facts->sha256;
    if (!same_content && (photo.file.empty() || !same_file(photo.file, whole))) continue;
    return Problem{Code::kBadValue,
                   "'" + whole.filename().string() + "' is in the project already.",
                   "Choose another photograph of the same vessel.", ""};
  }
  ProjectPhoto photo;
  photo.file = whole.string();
  photo.record = record_of(*facts);
  if (inside_->photo_index < before.photos.size()) {
    photo.glass = before.photos[inside_->photo_index].glass;
  }
  return perform(AddPhoto{std::move(photo)});
}

Result<Done> Session::find_photo(const fs::path& file) {
  if (!inside_->open) return nothing_open();
  const fs::path whole = absolute_path(file);
  const Result<PhotoFacts> facts = inside_->cache.probe(whole);
  if (!facts) return facts.problem();
  const Document& before = inside_->history.document();
  const std::size_t index = inside_->photo_index;
  std::vector<Note> notes;
  Command command;
  if (index < before.photos.size()) {
    command = PointToPhoto{index, whole.string(), record_of(*facts)};
    if (differs(before.photos[index].record, *facts)) {
      notes.push_back(
          {"This is not the picture that was marked; check that the marks lie on it.", true});
    }
  } else {
    ProjectPhoto photo;
    photo.file = whole.string();
    photo.record = record_of(*facts);
    command = AddPhoto{std::move(photo)};
  }
  const Result<Done> done = inside_->history.perform(command);
  if (!done) return done.problem();
  // Read and measured again even where the name is the same: what it names may not be.
  inside_->photo_key.reset();
  inside_->loaded.reset();
  inside_->recent.clear();
  inside_->measure_anew();
  inside_->shown = inside_->history.snapshot();
  inside_->document_changed();
  return {Done{}, notes};
}

// --- The work in the background -----------------------------------------------------------------

const PhotoView& Session::photo() const { return inside_->photo; }
std::size_t Session::photo_index() const { return inside_->photo_index; }

void Session::show_photo(std::size_t photo) {
  if (photo >= inside_->shown->photos.size()) return;
  inside_->turn_to(*inside_->shown, *inside_->shown, photo);
  inside_->sync_photo();
}

const ViewAdjust& Session::adjust() const { return inside_->adjust; }

void Session::set_adjust(const ViewAdjust& adjust) {
  if (adjust == inside_->adjust) return;
  inside_->adjust = adjust;
  inside_->start_adjusting();
}

void Session::measure_camera(std::vector<std::string> pictures) {
  inside_->camera = {};
  inside_->board_pictures = pictures.size();
  inside_->dealt_with = std::make_shared<std::atomic<std::size_t>>(0);
  inside_->camera.busy = busy_with("Looking for the board");
  inside_->calibrating.request(
      [files = std::move(pictures), count = inside_->dealt_with](const std::stop_token& stop) {
        return find_camera(files, {[count](std::size_t done) { *count = done; }, stop});
      });
}

void Session::stop_measuring_camera() {
  inside_->calibrating.cancel();
  inside_->camera = {};
}

Result<Done> Session::keep_camera() {
  CameraWork& camera = inside_->camera;
  if (!camera.found) {
    return Problem{Code::kBadValue, "No camera has been measured yet.",
                   "Choose pictures of the board first.", ""};
  }
  const Result<Done> kept =
      potshadow::keep_camera(*camera.found, inside_->user, iso_date(inside_->now));
  camera.problem.reset();
  if (!kept) {
    camera.problem = kept.problem();
    return kept.problem();
  }
  camera.kept = true;
  PhotoView& photo = inside_->photo;
  if (photo.facts) photo.camera = known_camera(inside_->user, *photo.facts);
  inside_->measure_anew();
  inside_->sync_figures();
  return kept;
}

const CameraWork& Session::camera_work() const { return inside_->camera; }

Result<Done> Session::trace(const ProjectTrace& wanted) {
  if (!inside_->open) return nothing_open();
  if (!inside_->photo.picture) {
    return Problem{Code::kFileMissing, "There is no photograph to find the outline on.",
                   "Show where it is first.", ""};
  }
  inside_->tracer.start(
      inside_->history.snapshot(), inside_->photo_index, inside_->photo.picture, wanted,
      [inside = inside_.get()](const Document& d) { return inside->probe_for(d); });
  return Done{};
}

void Session::stop_tracing() { inside_->tracer.stop(); }

const TraceWork& Session::trace_work() const { return inside_->tracer.work(); }

const Figures& Session::figures() const { return inside_->figures; }

const ClayDesk& Session::clays() const { return inside_->desk; }
const ClayWork& Session::clay_work() const { return inside_->clay; }

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
  const Figures& figures = inside_->figures;
  const bool current = inside_->open && figures.current;
  if (stage != inside_->checker.view().stage) inside_->bench_photo.drop();
  inside_->checker.want({current ? figures.measurement : nullptr, stage, inside_->desk.revision(),
                         title(), inside_->bench_photo.view().measurement},
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
  const Figures& figures = inside_->figures;
  const bool current = inside_->open && figures.current;
  const ClayDesk& desk = inside_->desk;
  std::vector<std::optional<FactsCache::Stamp>> stamps;
  for (const OtherPot& pot : wish.others) stamps.push_back(FactsCache::stamp_of(pot.file));
  inside_->comparer.want(
      {wish, current ? figures.measurement : nullptr, title(), inside_->project_file,
       desk.revision(), inside_->open ? document().bench : std::vector<ProjectBench>(),
       std::move(stamps)},
      {desk.problem() ? Result<ClayBook>(*desk.problem()) : desk.book(), inside_->user,
       [inside = inside_.get()](const Project& of) { return inside->probe_for(of); },
       inside_->cache});
}

void Session::save_comparison(const ComparisonFile& wanted) {
  inside_->comparer.save(wanted, inside_->now);
}

void Session::want_plan(Stage bands_at) {
  const Figures& figures = inside_->figures;
  inside_->planner.want(inside_->open && figures.current ? figures.measurement : nullptr, bands_at);
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
  bool changed = inside_->take_photo();
  changed = inside_->take_adjusted() || changed;
  changed = inside_->take_camera() || changed;
  changed = inside_->take_trace() || changed;
  changed = inside_->take_measurement() || changed;
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
  changed = inside_->take_kept() || changed;
  inside_->keep_for_recovery(autosave);
  return changed;
}

std::optional<TimePoint> Session::keep_due(std::chrono::duration<double> autosave) const {
  return inside_->keep_due(autosave);
}

std::optional<TimePoint> Session::kept_at() const { return inside_->kept_at; }

const std::optional<Problem>& Session::autosave_problem() const { return inside_->keep_problem; }

}  // namespace potshadow
