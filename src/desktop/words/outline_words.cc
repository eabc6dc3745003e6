// SPDX-License-Identifier: MIT
#include "desktop/words/outline_words.h"

#include "core/text.h"
#include "desktop/document/document.h"
#include "desktop/document/shown_photo.h"
#include "desktop/words/figure_text.h"

namespace potshadow {
namespace {

std::size_t count_of(MarkKind kind, const ProjectMarks& marks) {
  switch (kind) {
    case MarkKind::kRim:
      return marks.rim.size();
    case MarkKind::kBase:
      return marks.base.size();
    case MarkKind::kLeft:
      return marks.left.size();
    case MarkKind::kRight:
      return marks.right.size();
    case MarkKind::kReference:
      break;
  }
  return 0;
}

std::string_view where(MarkKind kind) {
  switch (kind) {
    case MarkKind::kRim:
      return "on the rim";
    case MarkKind::kBase:
      return "on the foot";
    case MarkKind::kLeft:
      return "down the left side";
    case MarkKind::kRight:
      return "down the right side";
    case MarkKind::kReference:
      break;
  }
  return "on the reference";
}

}  // namespace

MarkKindWords mark_kind_words(MarkKind kind, bool round_base) {
  switch (kind) {
    case MarkKind::kRim:
      return {"Rim", "Mark the outer edge of the lip, spread all round it, the back edge too.",
              "The rim's oval shows how far you looked down on the pot, and fixes its mouth.",
              kLeastOnRim};
    case MarkKind::kBase:
      if (round_base) {
        return {"Foot", "Leave the foot out: you said that the base is round.",
                "A round base hides where it touches the shelf, so it cannot be marked.", 0};
      }
      return {"Foot", "Mark the front edge of the foot, where it meets the shelf.",
              "The foot sets the pot on the shelf, and its width decides how the wet wall starts.",
              kLeastOnFoot};
    case MarkKind::kLeft:
      return {
          "Left side",
          "Mark the left edge of the vessel from rim to foot, closer together where it turns.",
          "The edge is the curve that you hold the template to, so a bare stretch stays a guess.",
          kLeastOnOutline};
    case MarkKind::kRight:
      return {"Right side",
              "Mark the right edge of the vessel from rim to foot, closer together where it turns.",
              "Two sides together show where the middle of the pot stands.", kLeastOnOutline};
    case MarkKind::kReference:
      break;
  }
  return {"Reference", "Mark the corners of the thing of known size, in the order that is asked.",
          "It is the only thing in the picture that tells millimetres.", 4};
}

std::size_t marks_wanting(MarkKind kind, const ProjectMarks& marks, bool round_base) {
  if (kind == MarkKind::kReference) return 0;
  const bool side = kind == MarkKind::kLeft || kind == MarkKind::kRight;
  const std::size_t there = side ? marks.left.size() + marks.right.size() : count_of(kind, marks);
  const std::size_t least = mark_kind_words(kind, round_base).least;
  return there < least ? least - there : 0;
}

std::string mark_prompt(MarkKind kind, const ProjectMarks& marks, bool round_base) {
  if (kind == MarkKind::kBase && round_base) return "A round base needs no marks.";
  const std::size_t there = count_of(kind, marks);
  const std::size_t wanting = marks_wanting(kind, marks, round_base);
  const std::string so_far = std::to_string(there) + " marked";
  if (wanting > 0) {
    const std::string first = there == 0 ? "Mark" : so_far + "; mark";
    return first + " at least " +
           counted(wanting, there == 0 ? "point" : "more point",
                   there == 0 ? "points" : "more points") +
           " " + std::string(where(kind)) + ".";
  }
  if (there == 0) {
    return "None marked " + std::string(where(kind)) + "; mark it too, unless it is hidden.";
  }
  return so_far + ", which is enough; more make it surer.";
}

std::string worst_mark_words(const Measurement& measurement) {
  const Fit& fit = measurement.answer.fit;
  if (fit.worst.empty()) return "";
  const MarkResidual& worst = fit.worst.front();
  return "Worst: " + mark_words(measurement.project, mark_in(measurement, worst.place)) + ", " +
         fixed_text(worst.off_px, 1) + " px off (" + fixed_text(worst.off_sd, 1) +
         " times what marking allows)";
}

std::string fit_sentence(const Fit& fit) {
  // Scatter of some dozens of marks around what was stated varies by about a third.
  constexpr double kAsStated = 1.35;
  constexpr double kTwice = 2.0;
  std::string verdict = "which is good";
  if (fit.scatter_ratio > kAsStated) verdict = "which is more than you stated for them";
  if (fit.scatter_ratio > kTwice) verdict = "which is far more than you stated for them";
  return "The " + std::to_string(fit.marks) + " marks lie " + fixed_text(fit.rms_px, 1) +
         " pixels from the fitted vessel on the whole, " + verdict + ".";
}

std::string help_line(const CanvasState& canvas) {
  if (canvas.dragging) return "Let go to set it. Esc puts it back.";
  if (canvas.tracing) return std::string(trace_tool_words(*canvas.tracing).help);
  if (!canvas.left_out.empty() && !canvas.over_mark) return canvas.left_out;
  if (!canvas.tool) {
    if (canvas.selected == 1) {
      return "Arrow keys nudge the mark by 1 px, with Alt by 0.1 px. E snaps it to the edge, "
             "Delete removes it.";
    }
    if (canvas.selected > 1) {
      return counted(canvas.selected, "mark", "marks") +
             " selected. Drag or nudge them together, E snaps them to the edge, Delete removes "
             "them.";
    }
    if (canvas.over_mark) return "Click to select the mark, or drag it to its place.";
    return "Click a mark to select it, drag across several, or turn the wheel to zoom.";
  }
  if (canvas.over_mark) return "Drag the mark to its place, or click beside it for a new one.";
  switch (*canvas.tool) {
    case MarkKind::kRim:
      return "Click on the outer edge of the lip, all round it. Esc when you are done.";
    case MarkKind::kBase:
      return "Click where the front of the foot meets the shelf. Esc when you are done.";
    case MarkKind::kLeft:
      return "Click down the left edge, from rim to foot. Leave hidden stretches out. Esc when you "
             "are done.";
    case MarkKind::kRight:
      return "Click down the right edge, from rim to foot. Leave hidden stretches out. Esc when "
             "you are done.";
    case MarkKind::kReference:
      break;
  }
  if (canvas.crossings) {
    return "Click where the joints cross, in the block or beyond it. Esc when you are done.";
  }
  return "Click the reference's marks in the order asked for. Esc when you are done.";
}

}  // namespace potshadow
