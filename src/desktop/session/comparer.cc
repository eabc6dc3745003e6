// SPDX-License-Identifier: MIT
#include "desktop/session/comparer.h"

#include <algorithm>
#include <stop_token>
#include <system_error>
#include <utility>

#include "core/files.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

Busy busy_with(const char* words) { return {words, std::chrono::steady_clock::now()}; }

bool is_input(const ComparedWork& work, const fs::path& file) {
  return std::any_of(work.inputs.begin(), work.inputs.end(), [&](const fs::path& input) {
    std::error_code error;
    return input == file || fs::equivalent(input, file, error);
  });
}

}  // namespace

void Comparer::want(const CompareQuestion& question, CompareTools tools) {
  if (question == asked_) return;
  const bool other_pots = question.wish.others != asked_.wish.others;
  asked_ = question;
  view_.wish = question.wish;
  view_.current = false;
  view_.problem.reset();
  if (other_pots) {
    view_.work.reset();
    ++view_.revision;
    view_.saved.clear();
    view_.save_problem.reset();
  }
  if (question.wish.others.empty() || !question.measurement) {
    comparing_.cancel();
    view_.busy.reset();
    return;
  }
  view_.busy = busy_with("Comparing the pots");
  comparing_.request([question, tools = std::move(tools)](const std::stop_token& stop) {
    return compared_work(question, tools, stop);
  });
}

void Comparer::save(const ComparisonFile& wanted, std::chrono::system_clock::time_point now) {
  if (!view_.work || !view_.current || view_.saving) return;
  view_.saving = busy_with("Writing the file");
  view_.saved.clear();
  view_.save_problem.reset();
  saving_to_ = wanted.file;
  saving_.request([work = view_.work, wanted, now](const std::stop_token&) -> Result<Done> {
    if (is_input(*work, wanted.file)) {
      return Problem{
          Code::kFileUnwritable,
          "'" + wanted.file.string() + "' belongs to one of the pots and was left alone.",
          "Choose another name.", ""};
    }
    const Result<std::string> bytes = comparison_bytes(*work, wanted, now);
    if (!bytes) return bytes.problem();
    return write_file_whole(wanted.file, *bytes);
  });
}

bool Comparer::take() {
  bool changed = false;
  if (std::optional<Result<ComparedWork>> done = comparing_.take()) {
    changed = true;
    view_.busy.reset();
    if (done->ok()) {
      view_.work = std::make_shared<const ComparedWork>(std::move(*done).value());
      ++view_.revision;
      view_.current = true;
    } else {
      view_.problem = done->problem();
    }
  }
  if (const std::optional<Result<Done>> done = saving_.take()) {
    changed = true;
    view_.saving.reset();
    if (done->ok()) {
      view_.saved = saving_to_;
    } else {
      view_.save_problem = done->problem();
    }
  }
  return changed;
}

void Comparer::forget() {
  comparing_.cancel();
  asked_ = {};
  const std::uint64_t revision = view_.revision + 1;
  view_ = {.revision = revision, .saving = view_.saving};
}

}  // namespace potshadow
