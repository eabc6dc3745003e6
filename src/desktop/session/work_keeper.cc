// SPDX-License-Identifier: MIT
#include "desktop/session/work_keeper.h"

#include <algorithm>
#include <stop_token>
#include <utility>

namespace potshadow {

WorkKeeper::WorkKeeper(std::filesystem::path state_folder, std::function<void()> wake)
    : keeper_(std::move(state_folder)),
      keeping_(std::make_unique<LatestJob<Kept>>(std::move(wake))) {}

WorkKeeper::~WorkKeeper() {
  keeping_.reset();  // what was asked of it last, it may not have done
  if (clearing_) keeper_.clear(to_discard_);
}

void WorkKeeper::clear() {
  to_discard_ = all_recovered();
  recovered_from_.clear();
  if (!kept_ && to_discard_.empty()) return;
  kept_.reset();
  clearing_ = true;
  keeping_->request([this_keeper = &keeper_, from = to_discard_](const std::stop_token&) {
    this_keeper->clear(from);
    return Kept{{}, {}, from};
  });
}

void WorkKeeper::forget() {
  clear();
  started_.reset();
  kept_at_.reset();
  problem_.reset();
}

std::optional<WorkKeeper::TimePoint> WorkKeeper::due(const WorkInHand& work, TimePoint now,
                                                     std::chrono::duration<double> every) const {
  if (!work.document || !work.unsaved || kept_ == work.document) return std::nullopt;
  if (!started_ || now < *started_) return now;  // never yet, or the clock was set back
  return *started_ + std::chrono::duration_cast<TimePoint::duration>(every);
}

void WorkKeeper::keep(const WorkInHand& work, TimePoint now, std::chrono::duration<double> every) {
  if (work.document && !work.unsaved && !clearing_) clear();  // undone to what is on disk
  const std::optional<TimePoint> at = due(work, now, every);
  if (!at || now < *at || keeping_->busy()) return;
  started_ = now;
  kept_ = work.document;
  clearing_ = false;
  keeping_->request([this_keeper = &keeper_, document = kept_, file = work.project_file, at = now,
                     from = all_recovered()](const std::stop_token&) {
    const Result<Done> done = this_keeper->keep(*document, file, at, from);
    return done.ok() ? Kept{at, {}, from} : Kept{{}, done.problem(), {}};
  });
}

bool WorkKeeper::take() {
  const std::optional<Kept> done = keeping_->take();
  if (!done) return false;
  clearing_ = false;
  problem_ = done->problem;
  if (done->problem) kept_.reset();  // to be tried again
  if (done->at) kept_at_ = done->at;
  const auto is_gone = [&](const RecoveredWork& work) {
    return std::any_of(done->discarded.begin(), done->discarded.end(),
                       [&](const RecoveredWork& gone) { return gone.slot == work.slot; });
  };
  std::erase_if(to_discard_, is_gone);
  std::erase_if(recovered_from_, is_gone);
  return true;
}

std::vector<RecoveredWork> WorkKeeper::all_recovered() const {
  std::vector<RecoveredWork> all = to_discard_;
  all.insert(all.end(), recovered_from_.begin(), recovered_from_.end());
  return all;
}

}  // namespace potshadow
