// SPDX-License-Identifier: MIT
#include <chrono>

#include "desktop/window/carry_out.h"
#include "desktop/words/clay_book_words.h"
#include "project/bench_page_request.h"
#include "project/sheet_request.h"
#include "sheets/bar_sheet.h"

namespace potshadow {

void Foreman::save_bar_sheet(const std::filesystem::path& file) {
  save_pdf(bar_sheet({settings_.paper, iso_date(std::chrono::system_clock::now())}), file,
           "Saved the test bar as '" + file.filename().string() +
               "'. Print it at 100 % and lay a ruler on its check bars.");
}

void Foreman::save_bench_sheet(const std::filesystem::path& file) {
  const Figures& figures = session_.figures();
  if (figures.measurement == nullptr || !figures.current) {
    complain({Code::kCannotBeAnswered, "The plan is from before the last change.",
              "Wait until it is worked out anew, then save its sheet.", ""});
    return;
  }
  const ClayDesk& desk = session_.clays();
  save_pdf(bench_sheet_pdf(*figures.measurement,
                           desk.problem() ? Result<ClayBook>(*desk.problem()) : desk.book(),
                           session_.project_file().string(), {settings_.paper, settings_.unit},
                           std::chrono::system_clock::now()),
           file,
           "Saved the bench sheet as '" + file.filename().string() + "'. Hang it over the bench.");
}

// What was not written says so beside the book.
void Foreman::changed_clay(const Result<Done>& done) {
  state_.clays.trouble.reset();
  state_.clays.notes = done.notes();
  if (!done) state_.clays.trouble = done.problem();
}

void Foreman::take_in_clays(const std::filesystem::path& file) {
  remember_folder(file);
  const Result<JoinedBook> joined = session_.take_in_clays(file);
  if (!joined) {
    complain(joined.problem());
    return;
  }
  state_.middle = Middle::kPhoto;
  state_.clays = {.page = ClayPage::kBook};
  say(taken_in_words(*joined));
}

void Foreman::hand_on_clay(const HandOnClay& wanted) {
  const Result<Done> written = session_.clays().hand_on(wanted.record, wanted.file);
  if (!written) {
    complain(written.problem());
    return;
  }
  state_.middle = Middle::kPhoto;
  say("Saved the clay as '" + wanted.file.filename().string() + "', to hand on or to keep.");
}

}  // namespace potshadow
