// SPDX-License-Identifier: MIT
#include "desktop/session/tracer.h"

#include <utility>

namespace potshadow {

void Tracer::start(DocumentPointer document, std::size_t photo,
                   std::shared_ptr<const Picture> picture, ProjectTrace wanted,
                   MakeProbe make_probe) {
  const ProjectPhoto& now = document->photos[photo];
  began_with_ = {};
  began_with_.file = now.file;
  began_with_.quarter_turns = now.quarter_turns;
  began_with_.trace = now.trace;
  progress_ = std::make_shared<Progress>();
  work_ = {};
  work_.photo = photo;
  work_.wanted = wanted;
  work_.busy = Busy{"Finding the outline", std::chrono::steady_clock::now(), 0.0};
  tracing_.request([document = std::move(document), photo, picture = std::move(picture),
                    wanted = std::move(wanted), make_probe = std::move(make_probe),
                    progress = progress_](const std::stop_token& stop) {
    const TraceWatch watch{[progress](double done) { progress->part = done; }, stop};
    const auto on_first = [progress](const ProjectTrace& rough) {
      progress->rough = std::make_shared<const ProjectTrace>(rough);
    };
    return trace_photo(*document, photo, {}, *picture, wanted, make_probe(*document), watch,
                       on_first);
  });
}

void Tracer::stop() {
  tracing_.cancel();
  work_ = {};
}

void Tracer::keep_for(const Document& document) {
  if (!work_.wanted && work_.notes.empty() && !work_.problem) return;
  if (work_.photo < document.photos.size()) {
    const ProjectPhoto& now = document.photos[work_.photo];
    if (now.file == began_with_.file && now.quarter_turns == began_with_.quarter_turns &&
        now.trace == began_with_.trace) {
      return;
    }
  }
  stop();
}

std::optional<SetTrace> Tracer::take() {
  std::optional<Result<TracedPhoto>> traced = tracing_.take();
  if (!traced) return std::nullopt;
  news_ = true;
  work_.busy.reset();
  work_.rough.reset();
  if (!*traced) {
    work_.problem = traced->problem();
    // What was wrong with the box is not mended by painting in it.
    if (work_.problem->code == Code::kBadValue) work_.wanted.reset();
    return std::nullopt;
  }
  work_.wanted.reset();
  work_.notes = (*traced)->notes;
  began_with_.trace = (*traced)->trace;
  return SetTrace{work_.photo, std::move(*traced).value().trace};
}

void Tracer::refuse(const Problem& problem) {
  const std::size_t photo = work_.photo;
  stop();
  work_.photo = photo;
  work_.problem = problem;
}

bool Tracer::look() {
  bool changed = std::exchange(news_, false);
  if (work_.busy && work_.busy->part != progress_->part.load()) {
    work_.busy->part = progress_->part.load();
    changed = true;
  }
  if (work_.busy && work_.rough != progress_->rough.load()) {
    work_.rough = progress_->rough.load();
    work_.busy->words = "Checking the outline against the vessel's form";
    changed = true;
  }
  return changed;
}

}  // namespace potshadow
