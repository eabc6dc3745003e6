// SPDX-License-Identifier: MIT
#include "desktop/session/figures_desk.h"

#include <stop_token>
#include <utility>

namespace potshadow {
namespace {

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

}  // namespace

void FiguresDesk::follow(DocumentPointer document, ShownAs shown_as, const ClayDesk& desk) {
  shown_ = std::move(document);
  shown_as_ = shown_as;
  look_up_clay(desk);
  sync();
}

bool FiguresDesk::follow_book(const ClayDesk& desk) {
  if (clay_book_ == desk.revision()) return false;
  look_up_clay(desk);
  if (view_.current) dress(*shown_);
  return true;
}

void FiguresDesk::doubt_sources() {
  stop();
  measured_.reset();
  failed_.reset();
}

bool FiguresDesk::take() {
  std::optional<Estimated> estimated = estimating_.take();
  if (!estimated) return false;
  measuring_.reset();
  view_.busy.reset();
  if (estimated->measurement.ok()) {
    bare_ = std::make_shared<const Measurement>(std::move(estimated->measurement).value());
    measured_ = estimated->document;
    dress(*measured_);
    measured_roughly_ = estimated->roughly;
  } else {
    failed_ = estimated->document;
    failed_problem_ = estimated->measurement.problem();
    if (view_.problem) view_.problem = failed_problem_;
  }
  sync();
  return true;
}

void FiguresDesk::forget() {
  stop();
  view_ = {};
  bare_.reset();
  measured_.reset();
  failed_.reset();
  failed_problem_.reset();
}

// Works out what the book tells of the clay of the document shown.
void FiguresDesk::look_up_clay(const ClayDesk& desk) {
  if (clay_book_ == desk.revision() && clay_of_ == shown_->clay) return;
  clay_book_ = desk.revision();
  clay_of_ = shown_->clay;
  clay_ = {};
  if (desk.problem() && clay_of_ && !clay_of_->record.empty() && !clay_of_->shrinkage_percent) {
    clay_.problem = desk.problem();
    return;
  }
  const auto found = project_clay(*shown_, desk.book());
  if (!found) {
    clay_.problem = found.problem();
    return;
  }
  clay_.clay = *found;
  clay_.notes = found.notes();
}

// Puts the document, and what is known of its clay, into the figures that were measured.
void FiguresDesk::dress(const Document& document) {
  Measurement dressed = *bare_;
  dressed.project = document;
  dressed_with_ = clay_book_;
  if (document.clay == clay_of_) {
    dressed.clay = clay_.clay;
    dressed.shrinkage.reset();
    if (clay_.clay) dressed.shrinkage = clay_.clay->total;
  }
  view_.measurement = std::make_shared<const Measurement>(std::move(dressed));
}

void FiguresDesk::sync() {
  const bool good = !measured_roughly_ || shown_as_ == ShownAs::kPreview;
  if (shown_as_ == ShownAs::kNothing) {
    stop();
  } else if (good && same(measured_, shown_)) {
    stop();
    if (dressed_with_ != clay_book_) dress(*shown_);
    view_.current = true;
    view_.problem.reset();
  } else if (good && same_sizes(measured_, shown_) && clay_shrinkage(*shown_).ok()) {
    stop();
    dress(*shown_);
    view_.current = true;
    view_.problem.reset();
    measured_ = shown_;
  } else if (same(failed_, shown_) || same_sizes(failed_, shown_)) {
    stop();
    view_.current = false;
    view_.problem = failed_problem_;
  } else {
    view_.current = false;
    // What is in work is finished first: a drag that never waits would else never see figures.
    if (!measuring_) start();
  }
}

void FiguresDesk::start() {
  measuring_ = shown_;
  view_.busy = busy_with("Working out the sizes");
  estimating_.request(
      [this, document = shown_, roughly = shown_as_ == ShownAs::kPreview](const std::stop_token&) {
        const PhotoProbe probe = make_probe_(*document);
        const auto estimator = [&](const EstimateInput& input) {
          return roughly ? estimate_nearby(input, memory_) : estimate(input, &memory_);
        };
        return Estimated{document, measure_project(*document, {}, probe, estimator), roughly};
      });
}

void FiguresDesk::stop() {
  estimating_.cancel();
  measuring_.reset();
  view_.busy.reset();
}

}  // namespace potshadow
