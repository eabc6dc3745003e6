// SPDX-License-Identifier: MIT
#include "desktop/window/carry_out.h"

#include <imgui.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <string>
#include <thread>
#include <type_traits>
#include <utility>

#include "core/files.h"
#include "desktop/session/comparer.h"
#include "desktop/words/steps.h"
#include "project/recovery.h"
#include "project/sheet_request.h"
#include "sheets/board_sheet.h"

namespace potshadow {
namespace {

template <class... Cases>
struct Overloaded : Cases... {
  using Cases::operator()...;
};
template <class... Cases>
Overloaded(Cases...) -> Overloaded<Cases...>;

// Orders that put what is open away.
bool puts_away(const Order& order) {
  return std::holds_alternative<OpenFile>(order) || std::holds_alternative<OpenSample>(order) ||
         std::holds_alternative<TakeRecovered>(order) ||
         std::holds_alternative<CloseProject>(order) || std::holds_alternative<Quit>(order);
}

}  // namespace

void Foreman::say(const std::string& text) { state_.said = {text, false, "", state_.now}; }

void Foreman::complain(const Problem& problem) {
  state_.said = {problem.what, true, problem.next, state_.now};
}

void Foreman::carry_out(std::vector<Order> orders) {
  for (Order& order : orders) {
    if (put_off(order)) continue;
    carry_out(order);
  }
  go_on();
  follow_photo();
  tell_saved_sheet();
}

// Returns whether the order has to wait for an answer about unsaved work.
bool Foreman::put_off(const Order& order) {
  if (!puts_away(order) || !session_.open() || !session_.unsaved()) return false;
  // A photograph that was just opened, without a mark or a step, is nothing to lose.
  const bool untouched = session_.project_file().empty() &&
                         session_.history().steps().size() == 1 &&
                         marks_of(session_.document(), session_.photo_index()).empty();
  if (untouched && std::holds_alternative<CloseProject>(order)) return false;
  waiting_ = order;
  state_.question = Question::kLeave;
  state_.answered = Answered::kNothing;
  return true;
}

void Foreman::go_on() {
  const Answered answered = std::exchange(state_.answered, Answered::kNothing);
  switch (answered) {
    case Answered::kNothing:
      // A first save chose its file in the browser; it is done once nothing is unsaved any more.
      if (waiting_ && state_.question == Question::kNone && session_.open() &&
          !session_.unsaved()) {
        Order order = *std::exchange(waiting_, std::nullopt);
        carry_out(order);
      } else if (waiting_ && state_.question == Question::kNone &&
                 state_.middle != Middle::kBrowser) {
        waiting_.reset();  // the browser was left without saving
      }
      return;
    case Answered::kStay:
      state_.question = Question::kNone;
      waiting_.reset();
      return;
    case Answered::kLeave: {
      state_.question = Question::kNone;
      if (!waiting_) return;
      Order order = *std::exchange(waiting_, std::nullopt);
      carry_out(order);
      return;
    }
    case Answered::kSave:
      state_.question = Question::kNone;
      if (session_.project_file().empty()) {
        state_.browser.purpose = BrowsePurpose::kSaveProject;
        state_.browse_asked = true;
        return;
      }
      tell_saved(session_.save());
      if (session_.unsaved()) {
        waiting_.reset();
        return;
      }
      if (waiting_) {
        Order order = *std::exchange(waiting_, std::nullopt);
        carry_out(order);
      }
      return;
  }
}

void Foreman::opened(const Result<Done>& result) {
  if (!result) {
    complain(result.problem());
    return;
  }
  state_.photo = session_.photo_index();
  state_.reference = 0;
  state_.tool = Tool{};
  state_.canvas = CanvasWork{};
  state_.compare = CompareState{};
  state_.middle = Middle::kPhoto;
  state_.edits.clear();
  state_.sheets = SheetState{.told = state_.sheets.told};
  state_.said = Said{};
  state_.step_due_asked = true;
  if (!session_.project_file().empty()) {
    change(with_recent(settings_, session_.project_file()));
  }
  for (const Note& note : result.notes()) {
    if (note.doubtful) state_.said = {note.text, true, "", state_.now};
  }
}

void Foreman::tell_saved(const Result<Done>& saved) {
  if (!saved) {
    complain(saved.problem());
    return;
  }
  change(with_recent(settings_, session_.project_file()));
  say("Saved as '" + session_.project_file().filename().string() + "'.");
}

void Foreman::save_pdf(const Result<SheetPdf>& pdf, const std::filesystem::path& file,
                       const std::string& said) {
  if (!pdf) {
    complain(pdf.problem());
    return;
  }
  const Result<Done> written = write_file_whole(file, pdf->bytes);
  if (!written) {
    complain(written.problem());
    return;
  }
  state_.middle = Middle::kPhoto;
  say(said);
}

void Foreman::save_board(const std::filesystem::path& file) {
  save_pdf(board_sheet({settings_.paper, iso_date(std::chrono::system_clock::now())}), file,
           "Saved the board as '" + file.filename().string() +
               "'. Print it at 100 % and stick it flat on something stiff.");
}

void Foreman::change(const Settings& settings) {
  if (settings == settings_) return;
  settings_ = settings;
  settings_changed_ = true;
  const Result<Done> saved = save_settings(settings_, folders_);
  if (!saved) complain(saved.problem());
}

void Foreman::remember_folder(const std::filesystem::path& file) {
  if (!file.has_parent_path()) return;
  Settings settings = settings_;
  settings.last_folder = file.parent_path();
  change(settings);
}

void Foreman::follow_photo() {
  const std::size_t shown = session_.photo_index();
  if (state_.photo == shown) return;
  state_.photo = shown;
  state_.reference = 0;
  CanvasWork& work = state_.canvas;
  work.selection.clear();
  work.hovered.reset();
  work.magnified.reset();
  work.edge_points.clear();
  work.stroke.clear();
  work.left_out.reset();
  work.grip = Grip::kNone;
  const bool of_reference =
      state_.tool.kind == ToolKind::kEdges || state_.tool.mark == MarkKind::kReference;
  if (of_reference) state_.tool = Tool{};
}

void Foreman::carry_out(Order& order) {
  const auto report = [this](const Result<Done>& result) {
    if (!result) complain(result.problem());
  };
  std::visit(
      Overloaded{
          [&](Perform& perform) { report(session_.perform(perform.command, perform.continues)); },
          [&](Preview& preview) { report(session_.preview(preview.command)); },
          [&](EndPreview&) { session_.end_preview(); },
          [&](Undo&) { session_.undo(); },
          [&](Redo&) { session_.redo(); },
          [&](GoToStep& go) { session_.go_to_step(go.entry); },
          [&](OpenFile& open) {
            remember_folder(open.file);
            opened(session_.open_any(open.file));
          },
          [&](OpenSample&) {
            const auto sample = sample_project();
            if (!sample) {
              complain({Code::kFileMissing, "The sample was not found beside the program.",
                        "Install Potshadow anew, or open a photograph of your own.", ""});
              return;
            }
            opened(session_.open_as_copy(*sample));
          },
          [&](TakeRecovered& take) {
            const Result<Done> result = session_.open_recovered(take.work);
            opened(result);
            if (!result) return;
            // The session keeps the old copy until this work is kept or saved anew.
            std::erase_if(state_.recovered,
                          [&](const RecoveredWork& work) { return work.slot == take.work.slot; });
            state_.question = Question::kNone;
            say("Your work is back. Save it to keep it.");
          },
          [&](DiscardRecovered& discard) {
            discard_recovered(discard.work);
            std::erase_if(state_.recovered, [&](const RecoveredWork& work) {
              return work.slot == discard.work.slot;
            });
            if (state_.recovered.empty()) state_.question = Question::kNone;
          },
          [&](AddPhotoFile& add) {
            const Result<Done> added = session_.add_photo(add.file);
            report(added);
            if (!added) return;
            remember_folder(add.file);
            state_.middle = Middle::kPhoto;
            say("Added '" + add.file.filename().string() +
                "' as a further photograph of the vessel. Undo takes it out.");
          },
          [&](ShowPhoto& show) {
            session_.show_photo(show.photo);
            state_.middle = Middle::kPhoto;
          },
          [&](FindPhoto& find) {
            const Result<Done> found = session_.find_photo(find.file);
            report(found);
            if (found) state_.middle = Middle::kPhoto;
          },
          [&](MeasureCamera& measure) {
            std::vector<std::string> files;
            for (const auto& picture : measure.pictures) files.push_back(picture.string());
            if (!files.empty()) remember_folder(measure.pictures.front());
            session_.measure_camera(std::move(files));
            state_.middle = Middle::kPhoto;
          },
          [&](StopMeasuringCamera&) { session_.stop_measuring_camera(); },
          [&](KeepCamera&) {
            const Result<Done> kept = session_.keep_camera();
            report(kept);
            if (kept) say("The camera is kept. Its photographs are measured with it from now on.");
          },
          [&](SaveBoard& save) { save_board(save.file); },
          [&](Save&) {
            if (!session_.open()) return;
            if (session_.project_file().empty()) {
              state_.browser.purpose = BrowsePurpose::kSaveProject;
              state_.browse_asked = true;
              return;
            }
            tell_saved(session_.save());
          },
          [&](SaveAs& save) {
            tell_saved(session_.save_as(save.file));
            if (!session_.unsaved()) state_.middle = Middle::kPhoto;
          },
          [&](SaveSheet& save) { save_sheet(save); },
          [&](StopSavingSheet&) { session_.stop_saving_sheet(); },
          [&](StopSheet&) { session_.stop_sheet(); },
          [&](GoOnWithSheet&) { session_.go_on_with_sheet(); },
          [&](KeepPrinter& keep) { keep_printer(keep); },
          [&](ForgetPrinter& forget) { forget_printer(forget.name); },
          [&](ViewSheet&) { report(open_with_viewer(state_.sheets.file)); },
          [&](CloseProject&) {
            session_.close();
            state_.canvas = CanvasWork{};
          },
          [&](Quit&) { state_.quit = true; },
          [&](ChangeSettings& changed) { change(changed.settings); },
          [&](AdjustView& adjust) { session_.set_adjust(adjust.adjust); },
          [&](CopyText& copy) {
            ImGui::SetClipboardText(copy.text.c_str());
            say(copy.said);
          },
          [&](SnapMarks& snap_marks) { snap(snap_marks.marks); },
          [&](RefineReference& order) { refine(order.reference); },
          [&](TraceVessel& trace) {
            state_.said = Said{};
            report(session_.trace(trace.wanted));
          },
          [&](StopTracing&) { session_.stop_tracing(); },
          [&](PutClay& put) { changed_clay(session_.put_clay(put.body, put.words)); },
          [&](RemoveClay& remove) { changed_clay(session_.remove_clay(remove.record)); },
          [&](TakeBackClay&) { changed_clay(session_.take_back_clay()); },
          [&](TakeInClays& take) { take_in_clays(take.file); },
          [&](HandOnClay& hand_on) { hand_on_clay(hand_on); },
          [&](SaveBarSheet& save) { save_bar_sheet(save.file); },
          [&](SaveBenchSheet& save) { save_bench_sheet(save.file); },
          [&](UseBenchPhoto& use) {
            remember_folder(use.file);
            session_.use_bench_photo(use.file);
            state_.middle = Middle::kPhoto;
          },
          [&](DropBenchPhoto&) { session_.drop_bench_photo(); },
          [&](CompareWith& with) {
            remember_folder(with.file);
            CompareWish& wish = state_.compare.wish;
            if (!state_.compare.adding) wish.others.clear();
            wish.others.push_back({with.file});
            if (wish.others.size() > 1) wish.open_is_replica = false;
            state_.middle = Middle::kPhoto;
          },
          [&](SaveComparison& save) {
            const CompareState& compare = state_.compare;
            PhotoOver over{compare.wipe, compare.wipe_at};
            if (!compare.wipe) over.part = compare.share;
            session_.save_comparison(
                {compare.saving, save.file, settings_.paper, settings_.unit, over});
            state_.middle = Middle::kPhoto;
          }},
      order);
}

std::optional<std::filesystem::path> sample_project() {
  std::error_code error;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
  const std::filesystem::path name = std::filesystem::path("samples") / "shelf-jar.potshadow";
  std::vector<std::filesystem::path> places;
  if (!error) {
    // Installed as bin/ or libexec/potshadow/.
    places.push_back(program.parent_path().parent_path() / "share/potshadow" / name);
    places.push_back(program.parent_path().parent_path().parent_path() / "share/potshadow" / name);
  }
  places.push_back(std::filesystem::path(POTSHADOW_BUILT_FROM) / name);
  for (const auto& place : places) {
    if (std::filesystem::exists(place, error)) return place;
  }
  return std::nullopt;
}

Result<Done> open_with_viewer(const std::filesystem::path& file) {
  const std::string path = file.string();
  std::string program = "xdg-open";
  std::string argument = path;
  char* const arguments[] = {program.data(), argument.data(), nullptr};
  pid_t child = 0;
  if (posix_spawnp(&child, program.c_str(), nullptr, nullptr, arguments, environ) != 0) {
    return Problem{Code::kFileMissing, "No program was found to open it with.",
                   "Open '" + path + "' with a program of your own.", ""};
  }
  // The viewer's starter ends when it likes; someone has to wait for it.
  std::thread([child] {
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
  }).detach();
  return Done{};
}

}  // namespace potshadow
