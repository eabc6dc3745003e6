// SPDX-License-Identifier: MIT
#include "desktop/session/sheet_desk.h"

#include <utility>

namespace potshadow {
namespace {

Busy begun(std::string words) { return {std::move(words), std::chrono::steady_clock::now()}; }

}  // namespace

SheetWatch SheetDesk::watch_by(std::shared_ptr<Progress> progress, std::stop_token stop) {
  return {[to = std::move(progress)](const std::string& words, std::optional<double> part) {
            const std::scoped_lock lock(to->mutex);
            to->words = words;
            to->part = part;
          },
          std::move(stop)};
}

// Returns whether it has come further.
bool SheetDesk::look_at(Progress& progress, std::optional<Busy>& busy) {
  if (!busy) return false;
  const std::scoped_lock lock(progress.mutex);
  if (progress.words.empty() || (progress.words == busy->words && progress.part == busy->part)) {
    return false;
  }
  busy->words = progress.words;
  busy->part = progress.part;
  return true;
}

void SheetDesk::follow(const std::shared_ptr<const Measurement>& measurement,
                       const std::string& file) {
  view_.current = measurement != nullptr && shown_ && wants(shown_->source, shown_->wish) &&
                  shown_->source.measurement == measurement && shown_->source.file == file;
}

bool SheetDesk::wants(const SheetSource& source, const SheetWish& wish) const {
  return wanted_ && wanted_->source == source && wanted_->wish == wish;
}

void SheetDesk::want(SheetOrder order) {
  wanted_ = std::move(order);
  view_.problem.reset();
  view_.pages_asked.reset();
  view_.stopped = false;
  view_.current = shown_ && wants(shown_->source, shown_->wish);
  if (view_.current) {  // changed and changed back
    drawing_.cancel();
    view_.busy.reset();
    return;
  }
  view_.busy = begun("Drawing");
  drawn_ = std::make_shared<Progress>();
  drawing_.request([this, order = *wanted_, to = drawn_](const std::stop_token& stop) {
    return draw_sheet(order, store_, watch_by(to, stop));
  });
}

void SheetDesk::refuse(const Problem& problem) {
  drawing_.cancel();
  view_.busy.reset();
  view_.current = false;
  view_.problem = problem;
  wanted_.reset();
}

void SheetDesk::stop() {
  if (!view_.busy) return;
  drawing_.cancel();
  view_.busy.reset();
  view_.stopped = true;
}

void SheetDesk::go_on() {
  if (view_.stopped) wanted_.reset();
}

Result<Done> SheetDesk::save(SheetFormat format, std::size_t part,
                             const std::filesystem::path& file) {
  if (!view_.current) {
    return Problem{Code::kCannotBeAnswered, "The sheets are not ready yet.",
                   "Wait until they are shown, then save them.", ""};
  }
  saving_.problem.reset();
  saving_.busy = begun("Writing");
  written_ = std::make_shared<Progress>();
  writing_.request(
      [this, order = *shown_, format, part, file, to = written_](const std::stop_token& stop) {
        return Written{file, write_sheet(order, format, part, file, store_, watch_by(to, stop))};
      });
  return Done{};
}

void SheetDesk::stop_saving() {
  writing_.cancel();
  saving_.busy.reset();
}

bool SheetDesk::take() {
  bool changed = look_at(*drawn_, view_.busy);
  changed = look_at(*written_, saving_.busy) || changed;
  if (std::optional<Written> written = writing_.take()) {
    saving_.busy.reset();
    ++saving_.news;
    saving_.file = written->file;
    if (written->said.ok()) {
      saving_.said = *written->said;
    } else {
      saving_.problem = written->said.problem();
    }
    changed = true;
  }
  std::optional<DrawnSheet> drawn = drawing_.take();
  if (!drawn) return changed;
  view_.busy.reset();
  view_.problem = std::move(drawn->problem);
  view_.pages_asked = drawn->pages_asked;
  if (!view_.problem) {
    view_.pages = std::move(drawn->pages);
    view_.places = std::move(drawn->places);
    view_.notes = std::move(drawn->notes);
    ++view_.revision;
    shown_ = wanted_;
  }
  return true;
}

void SheetDesk::forget() {
  drawing_.cancel();
  stop_saving();
  const std::uint64_t revision = view_.revision + 1;
  view_ = {};
  view_.revision = revision;
  const std::uint64_t news = saving_.news;
  saving_ = {};
  saving_.news = news;
  wanted_.reset();
  shown_.reset();
  store_.forget();
}

}  // namespace potshadow
