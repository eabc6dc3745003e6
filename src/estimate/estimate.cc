// SPDX-License-Identifier: MIT
#include "estimate/estimate.h"

#include <algorithm>

#include "estimate/checks.h"
#include "estimate/disagreement.h"
#include "estimate/whole.h"

namespace potshadow {
namespace {

using namespace internal;

// Whether a solution is of nearly the same problem: all but the marks' places is alike.
bool starts_from(const EstimateInput& input, const EstimateInput& before) {
  const auto seats = [](const auto& a, const auto& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
      return x.number == y.number && x.place == y.place &&
             x.shelf_at_glass.has_value() == y.shelf_at_glass.has_value();
    });
  };
  const auto grid_points = [](const auto& a, const auto& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
      return x.crossings.size() == y.crossings.size();
    });
  };
  const auto neighbours = [](const auto& a, const auto& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
      return x.number == y.number && x.name == y.name && x.round_base == y.round_base;
    });
  };
  const auto alike = [&](const PhotoInput& now, const PhotoInput& then) {
    return now.width_px == then.width_px && now.height_px == then.height_px &&
           now.focal.has_value() == then.focal.has_value() &&
           now.glass.has_value() == then.glass.has_value() && now.same_lens == then.same_lens &&
           now.direction_deg == then.direction_deg && seats(now.references, then.references) &&
           seats(now.discs, then.discs) && seats(now.lengths, then.lengths) &&
           seats(now.grids, then.grids) && grid_points(now.grids, then.grids) &&
           neighbours(now.neighbours, then.neighbours) && now.sizes.size() == then.sizes.size() &&
           now.distances.size() == then.distances.size();
  };
  return input.round_base == before.round_base &&
         input.hidden_foot.has_value() == before.hidden_foot.has_value() &&
         input.hidden_rim.has_value() == before.hidden_rim.has_value() &&
         std::equal(input.photos.begin(), input.photos.end(), before.photos.begin(),
                    before.photos.end(), alike);
}

bool same_counts(const EstimateInput& a, const EstimateInput& b) {
  for (std::size_t v = 0; v < a.photos.size(); ++v) {
    const Marks& x = a.photos[v].marks;
    const Marks& y = b.photos[v].marks;
    if (x.rim.size() != y.rim.size() || x.base.size() != y.base.size() ||
        x.left.size() != y.left.size() || x.right.size() != y.right.size()) {
      return false;
    }
  }
  return true;
}

}  // namespace

struct EstimateMemory::Inside {
  std::shared_ptr<const EstimateInput> input;  // `solved` points into it
  Solved solved;
  std::vector<Note> disagreements;
  std::vector<Advice> advice;
};

namespace {

// The answer, with what the next one can start from.
struct Kept {
  std::shared_ptr<const EstimateInput> input;
  Found found;
  std::vector<Note> disagreements;
};

void add_first(const std::vector<Note>& notes, Answer& answer) {
  answer.notes.insert(answer.notes.begin(), notes.begin(), notes.end());
}

// The input without anything that says how big things are.
EstimateInput without_scale(EstimateInput input) {
  for (PhotoInput& photo : input.photos) {
    photo.references.clear();
    photo.discs.clear();
    photo.lengths.clear();
    photo.grids.clear();
    photo.neighbours.clear();
    photo.sizes.clear();
    photo.distances.clear();
  }
  return input;
}

Result<Kept> kept(const EstimateInput& given) {
  const bool open = scale_of(given) == ScaleSource::kNone;
  auto input = std::make_shared<const EstimateInput>(open ? with_any_scale(given) : given);
  auto found = whole(*input);
  if (!found && !open && found.problem().detail == kScaleWithoutBounds) {
    // What is known says next to nothing of the size; the shape can still be told.
    auto shape = kept(without_scale(given));
    if (shape.ok()) {
      Kept out = std::move(shape).value();
      out.disagreements = {
          {"What is of known size here does not pin down how big the vessel is, so "
           "only its proportions are given. Mark another reference, or the same "
           "one in another place.",
           true}};
      add_first(out.disagreements, out.found.answer);
      return out;
    }
  }
  if (!found) {
    // Things that cannot all be true leave no vessel that fits.
    if (found.problem().code == Code::kCannotBeAnswered) {
      if (auto problem = why_nothing_fits(*input)) {
        problem->detail = found.problem().detail;
        return *problem;
      }
    }
    return found.problem();
  }
  if (auto problem = different_vessels(*input, found->answer)) return *problem;
  Kept out{std::move(input), std::move(found).value(), {}};
  if (open) {
    leave_scale_open(out.found.answer);
  } else if (const auto note = worst_disagreement(*out.input, &out.found.solved)) {
    out.disagreements.push_back({*note, true});
  }
  add_first(out.disagreements, out.found.answer);
  return out;
}

}  // namespace

Result<Answer> estimate(const EstimateInput& input, EstimateMemory* memory) {
  auto done = kept(input);
  if (!done) return done.problem();
  if (memory != nullptr) {
    memory->inside_ = std::make_shared<const EstimateMemory::Inside>(EstimateMemory::Inside{
        done->input, done->found.solved, done->disagreements, done->found.answer.advice});
  }
  return std::move(done).value().found.answer;
}

Result<Answer> estimate_nearby(const EstimateInput& given, EstimateMemory& memory) {
  const auto before = memory.inside_;
  if (before == nullptr) return estimate(given, &memory);
  const bool open = scale_of(given) == ScaleSource::kNone;
  auto input = std::make_shared<const EstimateInput>(open ? with_any_scale(given) : given);
  if (!starts_from(*input, *before->input)) return estimate(given, &memory);
  // What is left out is known by its number.
  const std::vector<bool>& left_out = before->solved.task.left_out;
  if (std::find(left_out.begin(), left_out.end(), true) != left_out.end() &&
      !same_counts(*input, *before->input)) {
    return estimate(given, &memory);
  }
  const auto checked = check_input(*input);
  if (!checked) return checked.problem();
  const auto near = solved_nearby(*input, before->solved);
  if (!near) return estimate(given, &memory);
  auto answer = answered(*input, checked.notes(), *near, false);
  if (!answer) return estimate(given, &memory);
  Answer out = std::move(answer).value();
  if (open) {
    leave_scale_open(out);
  }
  // Whether references agree, and what would help, is asked again when the marks have come to rest.
  add_first(before->disagreements, out);
  out.advice = before->advice;
  memory.inside_ = std::make_shared<const EstimateMemory::Inside>(
      EstimateMemory::Inside{std::move(input), *near, before->disagreements, before->advice});
  return out;
}

}  // namespace potshadow
