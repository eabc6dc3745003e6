// SPDX-License-Identifier: MIT
#include "desktop/document/command.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <string_view>
#include <type_traits>

#include "desktop/document/mark_lists.h"
#include "project/answer_text.h"
#include "project/bench_report.h"

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
PhotoPoint turned(PhotoPoint point, int height_px) {
  return {height_px - 1 - point.y_px, point.x_px};
}

void turn_points(std::vector<PhotoPoint>& points, int height_px) {
  for (PhotoPoint& point : points) point = turned(point, height_px);
}

void turn_trace(ProjectTrace& trace, int height_px) {
  for (PhotoPoint& corner : trace.box) corner = turned(corner, height_px);
  for (ProjectTrace::Stroke& stroke : trace.strokes) turn_points(stroke.points, height_px);
  for (auto* marks : {&trace.rim, &trace.base, &trace.left, &trace.right}) {
    for (TracedPoint& mark : *marks) mark.at = turned(mark.at, height_px);
  }
  for (ProjectTrace::Doubtful& stretch : trace.doubtful) turn_points(stretch.points, height_px);
}

void turn_once(ProjectPhoto& photo, int height_px) {
  if (photo.trace) turn_trace(*photo.trace, height_px);
  for (auto* points : {&photo.marks.rim, &photo.marks.base, &photo.marks.left, &photo.marks.right})
    turn_points(*points, height_px);
  for (ProjectReference& reference : photo.references) {
    ProjectMarks& marks = reference.marks;
    for (auto* points : {&reference.corners, &reference.edge, &reference.ends, &marks.rim,
                         &marks.base, &marks.left, &marks.right})
      turn_points(*points, height_px);
    for (ProjectReference::Crossing& crossing : reference.crossings) {
      crossing.at = turned(crossing.at, height_px);
    }
    if (!reference.shelf_at_glass) continue;
    for (PhotoPoint& point : *reference.shelf_at_glass) point = turned(point, height_px);
  }
}

// Points of a kind that this version does not know are kept as they were read, where no turn
// reaches them.
bool has_hidden_points(const ProjectReference& reference) {
  constexpr std::array<std::string_view, 7> kKnown{"rectangle", "disc", "length",  "grid",
                                                   "neighbour", "size", "distance"};
  const bool known = std::find(kKnown.begin(), kKnown.end(), reference.kind) != kKnown.end();
  return !known && reference.kept.content() != nullptr;
}

// --- Lists of marks ------------------------------------------------------------------------------

// The list that has room for one mark more; which says `part`, with a reference.
std::vector<PhotoPoint>* open_list(Document& document, const MarkId& mark, MarkPart part) {
  std::vector<PhotoPoint>* found = nullptr;
  if (ProjectReference* const reference = internal::reference_of(document, mark)) {
    internal::each_list(*reference, [&](MarkPart each, auto& list) {
      if constexpr (std::is_same_v<decltype(list), std::vector<PhotoPoint>&>) {
        if (each == part) found = &list;
      }
    });
    return found;
  }
  if (mark.photo >= document.photos.size()) return nullptr;
  return internal::list_of(document.photos[mark.photo].marks, mark.place.kind);
}

// How many marks the part takes; 0 for as many as one likes.
std::size_t most_marks(MarkPart part) {
  if (part == MarkPart::kCorner) return 4;
  return part == MarkPart::kEnd ? 2 : 0;
}

// Takes a mark out of its list, if it is there. Of the line where shelf and pane meet, one mark
// alone says nothing, so both go.
void take_out(Document& document, const MarkId& mark) {
  const auto found = internal::find_mark(document, mark);
  if (found.point == nullptr) return;
  const auto erase = [&](auto& list) {
    list.erase(list.begin() + static_cast<std::ptrdiff_t>(found.index));
  };
  if (ProjectReference* const reference = internal::reference_of(document, mark)) {
    if (found.part == MarkPart::kShelfLine) {
      reference->shelf_at_glass.reset();
    } else if (found.part == MarkPart::kCrossing) {
      erase(reference->crossings);
    } else {
      erase(*open_list(document, mark, found.part));
    }
  } else {
    erase(*open_list(document, mark, MarkPart::kVessel));
  }
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
  Outcome operator()(const SetDirection& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    document_.photos[command.photo].direction_deg = command.direction_deg;
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
    MarkPart part = command.part;
    if (const auto* const reference = internal::reference_of(document_, command.mark)) {
      if (part == MarkPart::kVessel) part = first_part(*reference);
    }
    if (part == MarkPart::kCrossing) return add_crossing(command);
    std::vector<PhotoPoint>* points = open_list(document_, command.mark, part);
    if (points == nullptr) return no_list(command.mark);
    if (!is_somewhere(command.at)) return nowhere(document_, command.mark);
    const std::size_t most = most_marks(part);
    if (most > 0 && points->size() >= most) {
      const bool ends = part == MarkPart::kEnd;
      return Problem{Code::kBadValue,
                     capitalised(numbered("reference", place.reference)) + " has " +
                         (ends ? "both its ends" : "all its corners") + " already.",
                     ends ? "Drag an end to move it." : "Drag a corner to move it.", ""};
    }
    insert(*points, command, part, command.at);
    return {};
  }
  Outcome operator()(const MoveMarks& command) {
    for (const auto& [mark, at] : command.moves) {
      PhotoPoint* const point = internal::find_mark(document_, mark).point;
      if (point == nullptr) return no_mark(mark);
      if (!is_somewhere(at)) return nowhere(document_, mark);
      *point = at;
    }
    return {};
  }
  Outcome operator()(const RemoveMarks& command) {
    std::vector<MarkId> marks = command.marks;
    for (const MarkId& mark : marks) {
      if (internal::find_mark(document_, mark).point == nullptr) return no_mark(mark);
    }
    // The last of a list goes first, so that the numbers of the others hold.
    std::sort(marks.begin(), marks.end(), std::greater<>());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    // Both marks of a line go at once, so its other one is gone already.
    for (const MarkId& mark : marks) take_out(document_, mark);
    return {};
  }
  Outcome operator()(const SetMarkPrecision& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    document_.photos[command.photo].marks.sd_px = command.sd_px;
    return {};
  }

  Outcome operator()(const SetTrace& command) {
    if (command.photo >= document_.photos.size()) return no_photo(command.photo);
    std::optional<ProjectTrace>& trace = document_.photos[command.photo].trace;
    trace = command.trace && trace ? keeping(*command.trace, *trace) : command.trace;
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
  Outcome operator()(const SetHiddenFoot& command) {
    set_hidden(document_.hidden_foot, command.hidden);
    return {};
  }
  Outcome operator()(const SetHiddenRim& command) {
    set_hidden(document_.hidden_rim, command.hidden);
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
  Outcome operator()(const SetBenchSize& command) {
    const auto at_stage = [&](const ProjectBench& bench) { return bench.stage == command.stage; };
    const auto found = std::find_if(document_.bench.begin(), document_.bench.end(), at_stage);
    ProjectBench bench;
    if (found != document_.bench.end()) bench = *found;
    bench.stage = command.stage;
    const auto same =
        std::find_if(bench.sizes.begin(), bench.sizes.end(),
                     [&](const ProjectBenchSize& size) { return size.size == command.size; });
    if (command.value) {
      bench.date = command.date;
      if (same == bench.sizes.end()) {
        bench.sizes.push_back({command.size, command.value->value, command.value->sd, {}});
      } else {
        same->value = command.value->value;
        same->sd = command.value->sd;
      }
    } else if (same != bench.sizes.end()) {
      bench.sizes.erase(same);
    }
    document_ = with_bench(std::move(document_), bench);
    if (bench.sizes.empty()) std::erase_if(document_.bench, at_stage);
    return {};
  }
  Outcome operator()(const SetBench& command) {
    document_ = with_bench(std::move(document_), command.record);
    return {};
  }
  Outcome operator()(const SetBands& command) {
    document_.bands = command.bands;
    return {};
  }
  Outcome operator()(const SetPlan& command) {
    std::optional<ProjectPlan>& plan = document_.plan;
    plan = command.plan && plan ? keeping(*command.plan, *plan) : command.plan;
    return {};
  }

  Document take() { return std::move(document_); }

 private:
  // Puts a mark in where the command says; numbers run on from list to list.
  template <class Mark>
  void insert(std::vector<Mark>& list, const AddMark& command, MarkPart part, const Mark& mark) {
    const std::size_t number = command.mark.place.number;
    const std::size_t first = next_in(document_, command.mark, part).place.number - list.size();
    const std::size_t at = std::min(number - std::min(number, first), list.size());
    list.insert(list.begin() + static_cast<std::ptrdiff_t>(at), mark);
  }
  Outcome add_crossing(const AddMark& command) {
    ProjectReference* const grid = internal::reference_of(document_, command.mark);
    if (grid == nullptr || grid->kind != "grid") return no_list(command.mark);
    if (!is_somewhere(command.at)) return nowhere(document_, command.mark);
    const auto [column, row] = command.crossing;
    if (is_marked(*grid, command.crossing)) {
      return Problem{Code::kBadValue,
                     "The crossing at column " + std::to_string(column) + ", row " +
                         std::to_string(row) + " is marked already.",
                     "Drag its mark to move it, or choose another crossing.", ""};
    }
    insert(grid->crossings, command, MarkPart::kCrossing, {command.at, column, row});
    return {};
  }
  static void set_hidden(std::optional<ProjectHidden>& to,
                         const std::optional<ProjectHidden>& hidden) {
    to = hidden && to ? keeping(*hidden, *to) : hidden;
  }
  static Problem no_photo(std::size_t photo) { return not_there(numbered("photograph", photo)); }
  Problem no_mark(const MarkId& mark) const { return not_there(mark_words(document_, mark)); }
  Problem no_list(const MarkId& mark) const {
    if (mark.photo >= document_.photos.size()) return no_photo(mark.photo);
    if (mark.place.reference >= document_.photos[mark.photo].references.size())
      return not_there(numbered("reference", mark.place.reference));
    return {Code::kBadValue,
            capitalised(numbered("reference", mark.place.reference)) +
                " has nothing like that to mark, so it takes no marks.",
            "Mark what can be seen of it, or use another kind of reference.", ""};
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

struct Words {
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

Result<Document> apply(const Document& document, const Command& command) {
  Change change(document);
  if (auto problem = std::visit(change, command)) return *problem;
  Document changed = change.take();
  const std::string called = changed.name.empty() ? "this project" : changed.name;
  const Result<Done> checked = check_project(changed, called);
  if (!checked) return checked.problem();
  return changed;
}

std::string command_words(const Document& before, const Command& command) {
  return std::visit(Words{before}, command);
}

}  // namespace potshadow
