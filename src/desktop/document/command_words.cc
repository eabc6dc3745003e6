// SPDX-License-Identifier: MIT
// What each command is called in the list of what can be undone.
#include <cstddef>
#include <string>
#include <variant>

#include "desktop/document/command.h"
#include "desktop/document/mark_lists.h"
#include "project/answer_text.h"
#include "project/bench_report.h"

namespace potshadow {
namespace {

std::string numbered(const char* word, std::size_t index) {
  return std::string(word) + " " + std::to_string(index + 1);
}

// A part's mark as it is added, with a space behind; empty where it has no name of its own.
const char* part_words(MarkPart part) {
  switch (part) {
    case MarkPart::kRim:
      return "rim ";
    case MarkPart::kBase:
      return "foot ";
    case MarkPart::kLeft:
      return "left ";
    case MarkPart::kRight:
      return "right ";
    case MarkPart::kCrossing:
      return "crossing ";
    default:
      return "";
  }
}

struct CommandWords {
  const Document& before;

  std::string marks_words(const char* verb, std::size_t count, const MarkId* first) const {
    const std::string start = std::string(verb) + " ";
    if (count == 1 && first != nullptr) return start + mark_words(before, *first);
    return start + std::to_string(count) + " marks";
  }

  std::string operator()(const AddPhoto&) const { return "Add photograph"; }
  std::string operator()(const RemovePhoto& c) const {
    return numbered("Remove photograph", c.photo);
  }
  std::string operator()(const PointToPhoto&) const { return "Find photograph"; }
  std::string operator()(const TurnPhoto& c) const {
    const int turns = (c.quarter_turns % 4 + 4) % 4;
    if (turns == 1) return "Turn photograph to the right";
    if (turns == 2) return "Turn photograph upside down";
    if (turns == 3) return "Turn photograph to the left";
    return "Turn photograph all the way round";
  }
  std::string operator()(const SetLens&) const { return "Set focal length"; }
  std::string operator()(const SetGlass& c) const { return c.glass ? "Set glass" : "Remove glass"; }
  std::string operator()(const SetDirection&) const { return "Set where it is seen from"; }
  std::string operator()(const AddReference&) const { return "Add reference"; }
  std::string operator()(const SetReference& c) const {
    return numbered("Change reference", c.reference);
  }
  std::string operator()(const RemoveReference& c) const {
    return numbered("Remove reference", c.reference);
  }
  std::string operator()(const AddMark& c) const {
    switch (c.mark.place.kind) {
      case MarkKind::kRim:
        return "Add rim mark";
      case MarkKind::kBase:
        return "Add foot mark";
      case MarkKind::kLeft:
        return "Add left mark";
      case MarkKind::kRight:
        return "Add right mark";
      case MarkKind::kReference:
        break;
    }
    return "Add " + std::string(part_words(c.part)) +
           numbered("mark on reference", c.mark.place.reference);
  }
  std::string operator()(const MoveMarks& c) const {
    return marks_words("Move", c.moves.size(), c.moves.empty() ? nullptr : &c.moves[0].first);
  }
  std::string operator()(const RemoveMarks& c) const {
    return marks_words("Remove", c.marks.size(), c.marks.empty() ? nullptr : c.marks.data());
  }
  std::string operator()(const SetMarkPrecision&) const { return "Set precision of marks"; }
  std::string operator()(const SetTrace& c) const {
    if (!c.trace) return "Remove traced outline";
    const ProjectTrace* const old = c.photo < before.photos.size() && before.photos[c.photo].trace
                                        ? &*before.photos[c.photo].trace
                                        : nullptr;
    if (old == nullptr || old->box != c.trace->box) return "Trace outline";
    if (c.trace->strokes.size() > old->strokes.size()) {
      return c.trace->strokes.back().vessel ? "Paint vessel" : "Paint away";
    }
    return c.trace->strokes == old->strokes ? "Rub out traced marks" : "Trace outline";
  }
  std::string operator()(const SetName&) const { return "Name vessel"; }
  std::string operator()(const SetNotes&) const { return "Edit notes"; }
  std::string operator()(const SetOutOfRound&) const { return "Set out-of-round"; }
  std::string operator()(const SetRoundBase& c) const {
    return c.round ? "Set base to round" : "Set base to flat";
  }
  std::string operator()(const SetHiddenFoot& c) const {
    return c.hidden ? "Set hidden foot" : "Set foot as seen";
  }
  std::string operator()(const SetHiddenRim& c) const {
    return c.hidden ? "Set hidden rim" : "Set rim as seen";
  }
  std::string operator()(const SetWall&) const { return "Set wall thickness"; }
  std::string operator()(const SetClay& c) const { return c.clay ? "Set clay" : "Remove clay"; }
  std::string operator()(const SetBenchSize& c) const {
    return (c.value ? "Measure " : "Forget ") + size_in_sentence(c.size);
  }
  std::string operator()(const SetBench& c) const {
    return "Keep the sizes of the " + std::string(stage_words(c.record.stage)) + " pot";
  }
  std::string operator()(const SetBands&) const { return "Change the painted bands"; }
  std::string operator()(const SetPlan&) const { return "Change the building plan"; }
};

}  // namespace

std::string command_words(const Document& before, const Command& command) {
  return std::visit(CommandWords{before}, command);
}

}  // namespace potshadow
