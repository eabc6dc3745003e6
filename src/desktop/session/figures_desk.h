// SPDX-License-Identifier: MIT
// The figures of the document shown: measured in the background, with what is known of its clay.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>

#include "core/result.h"
#include "desktop/document/document.h"
#include "desktop/session/busy.h"
#include "desktop/session/clay_desk.h"
#include "desktop/session/latest_job.h"
#include "estimate/estimate.h"
#include "project/measure.h"

// The last good measurement stays, marked as not current, while a new one is computed or where the
// marks no longer give one. While marks are dragged the estimate starts from the one before; such
// figures are good only until the drag ends. What leaves the sizes as they are (a name, notes, the
// clay) is put into the figures without measuring again.
namespace potshadow {

// The latest figures.
struct Figures {
  std::shared_ptr<const Measurement> measurement;  // the last good one; null before the first
  bool current = false;                            // it is that of the document shown
  std::optional<Problem> problem;                  // why there is none for the document shown
  std::optional<Busy> busy;
};

// What a document is shown as: nothing is open and it is empty, a step of the history, or a preview
// in a drag.
enum class ShownAs { kNothing, kStep, kPreview };

class FiguresDesk {
 public:
  // Makes the probe that photographs are asked by; called on the worker.
  using MakeProbe = std::function<PhotoProbe(const Document&)>;

  FiguresDesk(MakeProbe make_probe, std::function<void()> wake)
      : make_probe_(std::move(make_probe)), estimating_(std::move(wake)) {}

  const Figures& view() const { return view_; }
  const ClayWork& clay() const { return clay_; }

  // Follows the document shown.
  void follow(DocumentPointer document, ShownAs shown_as, const ClayDesk& desk);
  // Shows what was done to the book; returns whether anything was.
  bool follow_book(const ClayDesk& desk);
  // What the figures came from beside the document may have changed: none counts any more.
  void doubt_sources();
  // Takes the measurement that is ready; returns whether there was one.
  bool take();
  // Forgets everything, as another project is opened.
  void forget();

 private:
  struct Estimated {
    DocumentPointer document;
    Result<Measurement> measurement;
    bool roughly = false;  // from a solution nearby
  };

  void look_up_clay(const ClayDesk& desk);
  void dress(const Document& document);
  void sync();
  void start();
  void stop();

  MakeProbe make_probe_;
  Figures view_;
  DocumentPointer shown_ = std::make_shared<const Document>();
  ShownAs shown_as_ = ShownAs::kNothing;
  std::shared_ptr<const Measurement> bare_;  // view_.measurement without what the book tells
  DocumentPointer measured_;                 // gave view_.measurement
  bool measured_roughly_ = false;  // from a solution nearby, in a drag: good only while it lasts
  DocumentPointer failed_;         // gave `failed_problem_`
  std::optional<Problem> failed_problem_;
  DocumentPointer measuring_;  // in work

  // The clay's figures as view_.measurement has them, and from which book.
  ClayWork clay_;
  std::optional<ProjectClay> clay_of_;
  std::uint64_t clay_book_ = 0;
  std::uint64_t dressed_with_ = 0;  // the book that view_.measurement was last given

  EstimateMemory memory_;  // only the worker uses it
  LatestJob<Estimated> estimating_;
};

}  // namespace potshadow
