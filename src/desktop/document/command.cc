// SPDX-License-Identifier: MIT
#include "desktop/document/command.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "desktop/document/mark_lists.h"

namespace potshadow {
namespace {

constexpr double kFarthestPx = 1e7;  // beyond any photograph; check_project draws the same line

std::string numbered(const char* word, std::size_t index) {
  return std::string(word) + " " + std::to_string(index + 1);
}

std::string capitalised(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') {
    words[0] = static_cast<char>(words[0] - 'a' + 'A');
  }
  return words;
}

Problem not_there(const std::string& what) {
  return {Code::kBadValue, "There is no " + what + ".", "Choose one that is there.", ""};
}

bool is_somewhere(const PhotoPoint& point) {
  // Written so that what is not a number fails.
  return std::abs(point.x_px) <= kFarthestPx && std::abs(point.y_px) <= kFarthestPx;
}

Problem nowhere(const Document& document, const MarkId& mark) {
  return {Code::kBadValue,
          capitalised(mark_words(document, mark)) + " would lie far outside any photograph.",
          "Put it on the photograph.", ""};
}

Problem relative_name(const std::string& file) {
  return {Code::kBadValue, "The photograph '" + file + "' is not named with its folder.",
          "Name it from the root folder on.", ""};
}

// --- Where a command reaches --------------------------------------------------------------------

// What the file holds beyond what this version knows stays with the thing when its values change.
template <class T>
T keeping(T value, const T& old) {
  if (value.kept.content() == nullptr) value.kept = old.kept;
  return value;
}
ProjectReference keeping(ProjectReference value, const ProjectReference& old) {
  if (value.kept.content() == nullptr && value.kind == old.kind) value.kept = old.kept;
  return value;
}

// --- Turning ------------------------------------------------------------------------------------

// One quarter turn clockwise of a picture that is `height_px` high before it.
void turn_points(std::vector<PhotoPoint>& points, int height_px) {
  for (PhotoPoint& point : points) point = {height_px - 1 - point.y_px, point.x_px};
}

void turn_once(ProjectPhoto& photo, int height_px) {
  for (auto* points : {&photo.marks.rim, &photo.marks.base, &photo.marks.left, &photo.marks.right})
    turn_points(*points, height_px);
  for (ProjectReference& reference : photo.references) {
    turn_points(reference.corners, height_px);
    turn_points(reference.edge, height_px);
  }
}

// Points of these kinds are kept as they were read, where no turn reaches them.
bool has_hidden_points(const ProjectReference& reference) {
  return reference.kind != "rectangle" && reference.kind != "disc" && reference.kind != "size" &&
         reference.kind != "distance" && reference.kept.content() != nullptr;
}

// --- Doing it -----------------------------------------------------------------------------------

// Changes its own copy; returns the problem of a command that cannot be done.
class Change {
 public:
  explicit Change(const Document& document) : document_(document) {}

  using Outcome = std::optional<Problem>;

  Outcome operator()(const AddPhoto& command) {
    if (!std::filesystem::path(command.photo.file).is_absolute())
      return relative_name(command.photo.file);
    document_.photos.push_back(command.photo);
    return {};
  }
  Outcome operator()(const RemovePhoto& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    document_.photos.erase(document_.photos.begin() + static_cast<std::ptrdiff_t>(command.photo));
    return {};
  }
  Outcome operator()(const PointToPhoto& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    if (!std::filesystem::path(command.file).is_absolute()) return relative_name(command.file);
    ProjectPhoto& photo = document_.photos[command.photo];
    photo.file = command.file;
    photo.record = command.record;
    return {};
  }
  Outcome operator()(const TurnPhoto& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    ProjectPhoto& photo = document_.photos[command.photo];
    const int turns = (command.quarter_turns % 4 + 4) % 4;
    if (turns == 0) return {};
    if (!photo.record.width_px || !photo.record.height_px) {
      return Problem{Code::kBadValue,
                     "The photograph's size is not known, so its marks cannot be turned with it.",
                     "Show where the photograph is first.", ""};
    }
    for (std::size_t i = 0; i < photo.references.size(); ++i) {
      if (!has_hidden_points(photo.references[i])) continue;
      return Problem{Code::kBadValue,
                     capitalised(numbered("reference", i)) + " is of the kind '" +
                         photo.references[i].kind +
                         "', whose marks this version cannot turn with the photograph.",
                     "Take that reference out first, or leave the photograph as it is.", ""};
    }
    int width = *photo.record.width_px;
    int height = *photo.record.height_px;
    if (photo.quarter_turns % 2 != 0) std::swap(width, height);
    for (int i = 0; i < turns; ++i) {
      turn_once(photo, height);
      std::swap(width, height);
    }
    photo.quarter_turns = (photo.quarter_turns + turns) % 4;
    return {};
  }
  Outcome operator()(const SetLens& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    ProjectPhoto& photo = document_.photos[command.photo];
    photo.focal_35mm = command.focal_35mm;
    photo.focal_sd_percent = command.focal_sd_percent;
    photo.cropped = command.cropped;
    return {};
  }
  Outcome operator()(const SetGlass& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    std::optional<ProjectGlass>& glass = document_.photos[command.photo].glass;
    glass = command.glass && glass ? keeping(*command.glass, *glass) : command.glass;
    return {};
  }

  Outcome operator()(const AddReference& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    document_.photos[command.photo].references.push_back(command.reference);
    return {};
  }
  Outcome operator()(const SetReference& command) {
    if (auto problem = check_reference(command.photo, command.reference)) return problem;
    ProjectReference& old = document_.photos[command.photo].references[command.reference];
    old = keeping(command.value, old);
    return {};
  }
  Outcome operator()(const RemoveReference& command) {
    if (auto problem = check_reference(command.photo, command.reference)) return problem;
    std::vector<ProjectReference>& references = document_.photos[command.photo].references;
    references.erase(references.begin() + static_cast<std::ptrdiff_t>(command.reference));
    return {};
  }

  Outcome operator()(const AddMark& command) {
    const MarkPlace& place = command.mark.place;
    std::vector<PhotoPoint>* points = internal::list_of(document_, command.mark);
    if (points == nullptr) return no_list(command.mark);
    const std::size_t at = std::min(place.number, points->size());
    if (!is_somewhere(command.at)) return nowhere(document_, command.mark);
    constexpr std::size_t kCorners = 4;
    const bool is_rectangle =
        place.kind == MarkKind::kReference &&
        document_.photos[command.mark.photo].references[place.reference].kind == "rectangle";
    if (is_rectangle && points->size() >= kCorners) {
      return Problem{
          Code::kBadValue,
          capitalised(numbered("reference", place.reference)) + " has all its corners already.",
          "Drag a corner to move it.", ""};
    }
    points->insert(points->begin() + static_cast<std::ptrdiff_t>(at), command.at);
    return {};
  }
  Outcome operator()(const MoveMarks& command) {
    for (const auto& [mark, at] : command.moves) {
      std::vector<PhotoPoint>* points = internal::list_of(document_, mark);
      if (points == nullptr || mark.place.number >= points->size()) return no_mark(mark);
      if (!is_somewhere(at)) return nowhere(document_, mark);
      (*points)[mark.place.number] = at;
    }
    return {};
  }
  Outcome operator()(const RemoveMarks& command) {
    std::vector<MarkId> marks = command.marks;
    // The last of a list goes first, so that the numbers of the others hold.
    std::sort(marks.begin(), marks.end(), std::greater<>());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    for (const MarkId& mark : marks) {
      std::vector<PhotoPoint>* points = internal::list_of(document_, mark);
      if (points == nullptr || mark.place.number >= points->size()) return no_mark(mark);
      points->erase(points->begin() + static_cast<std::ptrdiff_t>(mark.place.number));
    }
    return {};
  }
  Outcome operator()(const SetMarkPrecision& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    document_.photos[command.photo].marks.sd_px = command.sd_px;
    return {};
  }

  Outcome operator()(const SetName& command) {
    document_.name = command.name;
    return {};
  }
  Outcome operator()(const SetNotes& command) {
    document_.notes = command.notes;
    return {};
  }
  Outcome operator()(const SetOutOfRound& command) {
    document_.out_of_round_percent = command.percent;
    return {};
  }
  Outcome operator()(const SetRoundBase& command) {
    document_.round_base = command.round;
    return {};
  }
  Outcome operator()(const SetWall& command) {
    document_.wall.value_mm = command.value_mm;
    document_.wall.sd_mm = command.sd_mm;
    return {};
  }
  Outcome operator()(const SetClay& command) {
    std::optional<ProjectClay>& clay = document_.clay;
    clay = command.clay && clay ? keeping(*command.clay, *clay) : command.clay;
    return {};
  }

  Document take() { return std::move(document_); }

 private:
  static Problem no_photo(std::size_t photo) { return not_there(numbered("photograph", photo)); }
  static Problem no_mark(const MarkId& mark) { return not_there(mark_words(mark)); }
  Problem no_list(const MarkId& mark) const {
    if (mark.photo >= document_.photos.size()) return no_photo(mark.photo);
    if (mark.place.reference >= document_.photos[mark.photo].references.size())
      return not_there(numbered("reference", mark.place.reference));
    return {Code::kBadValue,
            capitalised(numbered("reference", mark.place.reference)) +
                " is neither a rectangle nor a disc, so it takes no marks.",
            "Say first what kind of thing it is.", ""};
  }
  Outcome check_reference(std::size_t photo, std::size_t reference) const {
    if (photo >= document_.photos.size()) return no_photo(photo);
    if (reference >= document_.photos[photo].references.size())
      return not_there(numbered("reference", reference));
    return {};
  }

  Document document_;
};

// --- Words --------------------------------------------------------------------------------------

std::string marks_words(const char* verb, std::size_t count, const MarkId* first) {
  const std::string start = std::string(verb) + " ";
  if (count == 1 && first != nullptr) return start + mark_words(*first);
  return start + std::to_string(count) + " marks";
}

struct Words {
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
    return numbered("Add mark on reference", c.mark.place.reference);
  }
  std::string operator()(const MoveMarks& c) const {
    return marks_words("Move", c.moves.size(), c.moves.empty() ? nullptr : &c.moves[0].first);
  }
  std::string operator()(const RemoveMarks& c) const {
    return marks_words("Remove", c.marks.size(), c.marks.empty() ? nullptr : c.marks.data());
  }
  std::string operator()(const SetMarkPrecision&) const { return "Set precision of marks"; }
  std::string operator()(const SetName&) const { return "Name vessel"; }
  std::string operator()(const SetNotes&) const { return "Edit notes"; }
  std::string operator()(const SetOutOfRound&) const { return "Set out-of-round"; }
  std::string operator()(const SetRoundBase& c) const {
    return c.round ? "Set base to round" : "Set base to flat";
  }
  std::string operator()(const SetWall&) const { return "Set wall thickness"; }
  std::string operator()(const SetClay& c) const { return c.clay ? "Set clay" : "Remove clay"; }
};

}  // namespace

Result<Document> apply(const Document& document, const Command& command) {
  Change change(document);
  if (auto problem = std::visit(change, command)) return *problem;
  Document changed = change.take();
  const std::string called = changed.name.empty() ? "this project" : changed.name;
  const Result<Done> checked = check_project(changed, called);
  if (!checked) return checked.problem();
  return changed;
}

std::string command_words(const Command& command) { return std::visit(Words(), command); }

}  // namespace potshadow
