// SPDX-License-Identifier: MIT
#include "project/compare_report.h"

#include <algorithm>
#include <cmath>

#include "project/answer_text.h"
#include "project/one_line.h"
#include "project/report.h"

namespace potshadow {
namespace {

// How much of its size the reference's own size leaves open.
double reference_doubt(const Measurement& measurement) {
  const MeasuredSize* widest = find_size(measurement.answer, SizeName::kMaxDiameter);
  if (widest == nullptr || !(widest->measured.value > 0.0)) return 0.0;
  const double share = widest->budget[static_cast<std::size_t>(DoubtSource::kReferenceSize)];
  return std::sqrt(std::max(0.0, share)) * widest->measured.sd / widest->measured.value;
}

// The common objects that stand beside the vessel, with their sizes.
std::vector<std::string> objects_of(const Measurement& measurement) {
  std::vector<std::string> objects;
  for (const std::size_t index : measurement.photo_indices) {
    for (const ProjectReference& reference : measurement.project.photos[index].references) {
      if (!reference.object.empty()) objects.push_back(reference.object);
    }
  }
  std::sort(objects.begin(), objects.end());
  objects.erase(std::unique(objects.begin(), objects.end()), objects.end());
  return objects;
}

double shared_scale_sd(const Measurement& a, const Measurement& b) {
  const std::vector<std::string> one = objects_of(a);
  if (one.size() != 1 || one != objects_of(b)) return 0.0;
  return std::min(reference_doubt(a), reference_doubt(b));
}

bool has_scale(const Measurement& measurement) {
  return measurement.answer.scale != ScaleSource::kNone &&
         measurement.answer.rows_covariance.size() > 0;
}

Form form_of(const Answer& answer) {
  Form form{{}, answer.rows_covariance};
  for (const ProfileRow& row : answer.rows) form.rows.push_back({row.radius_mm, row.height_mm});
  return form;
}

Measured fired_size(const MeasuredSize& size, const BodyFigures& clay, Stage stage) {
  if (size.name == SizeName::kCapacity) {
    const LinearShrinkage shrinkage = to_fired(clay, stage, SizeWay::kAcross);
    const double left = std::pow(1.0 - shrinkage.fraction, 3);
    const double sd =
        std::hypot(size.measured.sd * left,
                   3.0 * size.measured.value * left / (1.0 - shrinkage.fraction) * shrinkage.sd);
    return normal_measured(size.measured.value * left, sd);
  }
  return length_after(size.measured, to_fired(clay, stage, way_of(size.name)));
}

// The replica as it will be when fired; itself where it is.
struct Fired {
  std::vector<MeasuredSize> sizes;
  Form form;
};

Fired fired(const Measurement& measurement, Stage stage) {
  Fired out{measurement.answer.sizes, form_of(measurement.answer)};
  if (stage == Stage::kFired) return out;
  const BodyFigures& clay = measurement.clay->figures;
  for (MeasuredSize& size : out.sizes) size.measured = fired_size(size, clay, stage);
  const LinearShrinkage shrinkage = to_fired(clay, stage, SizeWay::kAcross);
  const double left = 1.0 - shrinkage.fraction;
  out.form = enlarged(out.form, left, shrinkage.sd / left);
  return out;
}

void compare_shapes(const Measurement& original, const Fired& replica, int claims,
                    VesselComparison& out) {
  const auto found = shape_difference({.original = form_of(original.answer),
                                       .replica = replica.form,
                                       .shared_scale_sd = out.shared_scale_sd,
                                       .confidence = std::pow(0.95, 1.0 / claims)});
  if (found) {
    out.shape = *found;
  } else {
    out.notes.push_back({found.problem().what + " " + found.problem().next, true});
  }
}

}  // namespace

Result<VesselComparison> compare_vessels(const CompareSide& original, const CompareSide& replica,
                                         Stage stage) {
  const Measurement& a = original.measurement;
  const Measurement& b = replica.measurement;
  if (original.file == replica.file) {
    return Problem{Code::kBadValue, "The original and the replica are the same project.",
                   "Measure the replica in a project of its own, from photographs of it.", ""};
  }
  if (stage != Stage::kFired && !b.clay) {
    return Problem{Code::kCannotBeAnswered,
                   "The replica's project does not say how much its clay shrinks.",
                   "Give 'record' (see 'potshadow clay') or 'shrinkage_percent' in its 'clay', or "
                   "compare the fired pot.",
                   ""};
  }
  VesselComparison out;
  out.original = on_one_line(title_of(a.project, original.file));
  out.replica = on_one_line(title_of(b.project, replica.file));
  out.stage = stage;
  const bool scale = has_scale(a) && has_scale(b);
  if (scale) out.shared_scale_sd = shared_scale_sd(a, b);
  const Fired after = fired(b, stage);
  const auto find = [](const std::vector<MeasuredSize>& sizes, SizeName name) {
    return std::find_if(sizes.begin(), sizes.end(),
                        [&](const MeasuredSize& size) { return size.name == name; });
  };
  const auto same_proportion = [](const Answer& answer, const std::string& key) {
    return std::find_if(answer.proportions.begin(), answer.proportions.end(),
                        [&](const Proportion& p) { return p.key == key; });
  };
  int claims = scale ? 2 : 0;  // of the scale and of the shape
  for (const MeasuredSize& size : a.answer.sizes) {
    claims += scale && find(after.sizes, size.name) != after.sizes.end();
  }
  for (const Proportion& p : a.answer.proportions) {
    claims += same_proportion(b.answer, p.key) != b.answer.proportions.end();
  }
  claims = std::max(1, claims);
  for (std::size_t i = 0; scale && i < kSizeCount; ++i) {
    const auto name = static_cast<SizeName>(i);
    const auto one = find(a.answer.sizes, name);
    const auto other = find(after.sizes, name);
    const bool has_one = one != a.answer.sizes.end();
    const bool has_other = other != after.sizes.end();
    if (has_one && has_other) {
      const double shared =
          name == SizeName::kCapacity ? 3.0 * out.shared_scale_sd : out.shared_scale_sd;
      out.sizes.push_back({name, size_difference(one->measured, other->measured, shared, claims)});
    } else if (has_one != has_other) {
      out.missing.push_back(std::string(size_words(name)) + " is known of " +
                            (has_one ? out.original : out.replica) + " only.");
    }
  }
  for (const Proportion& p : a.answer.proportions) {
    const auto other = same_proportion(b.answer, p.key);
    if (other == b.answer.proportions.end()) continue;
    out.proportions.push_back(
        {p.words, p.key, size_difference(p.measured, other->measured, 0.0, claims)});
  }
  const auto take_notes = [&](const Measurement& measurement, const std::string& title) {
    for (const Note& note : measurement.answer.notes) {
      if (note.doubtful) out.notes.push_back({title + ": " + note.text, true});
    }
  };
  if (!scale) {
    out.notes.push_back(
        {"Of one of the two nothing says how big it is, so only proportions are compared. Mark "
         "something of known size in its photograph.",
         true});
  } else {
    out.original_rows = form_of(a.answer).rows;
    out.replica_rows = after.form.rows;
    compare_shapes(a, after, claims, out);
    if (out.shape) {
      const Measured& all_over = out.shape->scale;
      out.scale_verdict = size_difference(normal_measured(1.0, 0.0), all_over, 0.0, claims).verdict;
    }
  }
  if (a.answer.scale == ScaleSource::kGuess || b.answer.scale == ScaleSource::kGuess) {
    out.notes.push_back({"A scale is a guess, and so is every difference in size.", true});
  }
  const std::string kind = kind_words(a.answer.profile);
  const std::string other_kind = kind_words(b.answer.profile);
  if (kind != other_kind) {
    out.notes.push_back({"They are vessels of different kinds: " + out.original + " is " + kind +
                             ", " + out.replica + " is " + other_kind + ".",
                         false});
  }
  take_notes(a, out.original);
  take_notes(b, out.replica);
  return out;
}

}  // namespace potshadow
