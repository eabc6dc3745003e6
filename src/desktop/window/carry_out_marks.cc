// SPDX-License-Identifier: MIT
// Orders that set marks onto the edges in the photograph.
#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "desktop/window/carry_out.h"
#include "desktop/words/reference_words.h"
#include "outline/snap.h"
#include "project/refine_marks.h"

namespace potshadow {

void Foreman::snap(const std::vector<MarkId>& marks) {
  const auto& picture = session_.photo().picture;
  if (picture == nullptr || marks.empty()) {
    complain({Code::kBadValue, "No marks are selected, so there is nothing to snap.",
              "Select marks first: click them, or draw a box round them.", ""});
    return;
  }
  const double reach = std::clamp(12.0 / state_.canvas.transform.scale(), 2.0, 30.0);
  MoveMarks move;
  std::size_t missed = 0;
  for (const MarkId& mark : marks) {
    const auto at = point_at(session_.document(), mark);
    if (!at) continue;
    const auto edge = snap_to_edge(*picture, *at, Px{reach});
    if (edge) {
      move.moves.emplace_back(mark, edge->at);
    } else {
      ++missed;
    }
  }
  if (!move.moves.empty()) {
    const Result<Done> moved = session_.perform(move);
    if (!moved) {
      complain(moved.problem());
      return;
    }
  }
  if (missed > 0) {
    say(missed == marks.size() ? "There is no clear edge near the marks."
                               : "Some marks have no clear edge near them and stayed.");
  } else {
    say(move.moves.size() == 1 ? "Moved the mark to the edge." : "Moved the marks to the edge.");
  }
}

// Some 50 ms: the frame waits for it.
void Foreman::refine(std::size_t reference) {
  const auto& picture = session_.photo().picture;
  const std::vector<ProjectPhoto>& photos = session_.document().photos;
  if (picture == nullptr || state_.photo >= photos.size() ||
      reference >= photos[state_.photo].references.size()) {
    complain({Code::kBadValue, "There is no photograph to look for edges in.",
              "Wait until it is shown, or open it again.", ""});
    return;
  }
  const ProjectReference& rough = photos[state_.photo].references[reference];
  const Result<RefinedMarks> refined = refine_marks(rough, *picture);
  if (!refined) {
    complain(refined.problem());
    return;
  }
  const Result<Done> set =
      session_.perform(SetReference{state_.photo, reference, refined->reference});
  if (!set) {
    complain(set.problem());
    return;
  }
  if (refined->notes.empty()) {
    say(refined_words(refined->reference));
  } else {
    complain(
        {Code::kCannotBeAnswered, refined->notes.front().text, "Drag what is left by hand.", ""});
  }
}

}  // namespace potshadow
