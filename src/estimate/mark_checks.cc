// SPDX-License-Identifier: MIT
#include "estimate/mark_checks.h"

#include <algorithm>

namespace potshadow::internal {

double px_between(const PhotoPoint& a, const PhotoPoint& b) {
  return std::hypot(a.x_px - b.x_px, a.y_px - b.y_px);
}

Finding check_mark_list(const std::vector<PhotoPoint>& marks, const std::string& kind,
                        const PhotoInput& photo) {
  // A mark may lie a little outside the picture, never far from it.
  const double reach = std::max(photo.width_px, photo.height_px);
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if (!in_range(marks[i].x_px, -reach, photo.width_px + reach) ||
        !in_range(marks[i].y_px, -reach, photo.height_px + reach)) {
      return Problem{
          Code::kBadMarks,
          "The " + kind + " mark " + std::to_string(i + 1) + " lies far outside the photograph.",
          "Move it onto the photograph or delete it.", ""};
    }
  }
  return {};
}

std::string counted(std::size_t count, const std::string& where) {
  if (count == 0) return "There is no mark " + where;
  if (count == 1) return "There is one mark " + where;
  return "There are " + std::to_string(count) + " marks " + where;
}

Finding check_marks(const PhotoInput& photo, const Marks& marks, const MarksNeeded& needed) {
  for (const auto& [list, kind] :
       {std::pair{&marks.rim, "rim"}, std::pair{&marks.base, "foot"},
        std::pair{&marks.left, "left"}, std::pair{&marks.right, "right"}}) {
    if (auto found = check_mark_list(*list, needed.whose + kind, photo)) return found;
  }
  const auto too_few = [](std::string what, std::string next) {
    return Problem{Code::kTooFewMarks, std::move(what), std::move(next), ""};
  };
  const auto on = [&](const char* part) {
    return needed.whose.empty() ? std::string("on the ") + part : "on the " + needed.whose + part;
  };
  if (needed.rim && marks.rim.size() < kLeastRimMarks) {
    return too_few(counted(marks.rim.size(), on("rim")) + ", and at least five are needed.",
                   "Add marks on the outer edge of the lip, spread all round it.");
  }
  double widest = 0.0;
  for (const PhotoPoint& p : marks.rim) widest = std::max(widest, px_between(p, marks.rim.front()));
  if (needed.rim && widest < 10.0 * std::min(marks.sd_px, 5.0)) {
    return Problem{Code::kBadMarks, "The marks on the rim lie all on one spot.",
                   "Spread them all round the outer edge of the lip.", ""};
  }
  if (needed.base && marks.base.size() < kLeastBaseMarks) {
    return too_few(counted(marks.base.size(), on("foot")) + ", and at least three are needed.",
                   "Add marks where the front of the foot meets the shelf, or say that the base "
                   "is round.");
  }
  if (marks.left.size() + marks.right.size() < kLeastOutlineMarks) {
    return too_few(counted(marks.left.size() + marks.right.size(), on("outline")) +
                       ", and at least six are needed.",
                   "Add marks down the left and right edges of the vessel.");
  }
  const std::size_t all =
      marks.rim.size() + marks.base.size() + marks.left.size() + marks.right.size();
  if (all > kMostMarks) {
    return bad_value("There are more than 20,000 marks.",
                     "Thin them out; a few hundred are plenty.");
  }
  return {};
}

}  // namespace potshadow::internal
