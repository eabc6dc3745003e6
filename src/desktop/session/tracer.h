// SPDX-License-Identifier: MIT
// Traces the outline of one photograph in the background, and remembers what came of it.
#pragma once

#include <atomic>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/document/command.h"
#include "desktop/document/document.h"
#include "desktop/session/busy.h"
#include "desktop/session/latest_job.h"
#include "photo/decode.h"
#include "project/measure.h"
#include "project/trace_project.h"

// One tracing at a time. It belongs to a photograph as it was when it began: once that is turned,
// replaced, taken out or traced otherwise (undo is such a change), the work is given up and what is
// told of it is forgotten.
namespace potshadow {

struct TraceWork {
  std::size_t photo = 0;               // the photograph that all of this is about
  std::optional<ProjectTrace> wanted;  // box and strokes in work, or that gave no outline
  // What is found so far of the outline in work, not yet held against the vessel's form.
  std::shared_ptr<const ProjectTrace> rough;
  std::vector<Note> notes;         // on the outline that was found last
  std::optional<Problem> problem;  // why none was
  std::optional<Busy> busy;
};

class Tracer {
 public:
  // Makes the probe that the estimate between the passes uses; called on the worker.
  using MakeProbe = std::function<PhotoProbe(const Document&)>;

  explicit Tracer(std::function<void()> wake) : tracing_(std::move(wake)) {}

  // Begins; what was in work is given up. `picture` is the photograph's, turned. Requires that
  // photograph.
  void start(DocumentPointer document, std::size_t photo, std::shared_ptr<const Picture> picture,
             ProjectTrace wanted, MakeProbe make_probe);
  void stop();
  // Stops, and forgets, unless `document` still has the photograph as it was.
  void keep_for(const Document& document);
  // Returns the command that puts the outline in, once it is found.
  std::optional<SetTrace> take();
  // What take() gave could not be put in.
  void refuse(const Problem& problem);
  // Returns whether more is done or found, or the work has come to nothing, since the last call.
  bool look();
  const TraceWork& work() const { return work_; }

 private:
  TraceWork work_;
  ProjectPhoto began_with_;  // file, turns and trace of the photograph
  struct Progress {
    std::atomic<double> part{0.0};
    std::atomic<std::shared_ptr<const ProjectTrace>> rough;
  };
  std::shared_ptr<Progress> progress_;
  bool news_ = false;
  LatestJob<Result<TracedPhoto>> tracing_;
};

}  // namespace potshadow
