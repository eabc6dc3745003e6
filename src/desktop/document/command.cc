// SPDX-License-Identifier: MIT
#include "desktop/document/command.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <type_traits>

#include "core/text.h"
#include "desktop/document/mark_lists.h"
#include "desktop/document/turn_photo.h"
#include "project/bench_report.h"

namespace potshadow {
namespace {

constexpr double kFarthestPx = 1e7;  // beyond any photograph; check_project draws the same line

std::string numbered(const char* word, std::size_t index) {
  return std::string(word) + " " + std::to_string(index + 1);
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
          upper_first(mark_words(document, mark)) + " would lie far outside any photograph.",
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
    return internal::turn_photo(document_.photos[command.photo], command.quarter_turns);
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
                     upper_first(numbered("reference", place.reference)) + " has " +
                         (ends ? "both its ends" : "all its corners") + " already.",
                     ends ? "Drag an end to move it." : "Drag a corner to move it.", ""};
    }
    insert(*points, command, part, command.at);
    set_by_hand(command.mark);
    return {};
  }
  Outcome operator()(const MoveMarks& command) {
    for (const auto& [mark, at] : command.moves) {
      PhotoPoint* const point = internal::find_mark(document_, mark).point;
      if (point == nullptr) return no_mark(mark);
      if (!is_somewhere(at)) return nowhere(document_, mark);
      *point = at;
      set_by_hand(mark);
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
  // What the hand puts on a reference is no more precise than its other marks, whatever was found
  // of the reference before.
  void set_by_hand(const MarkId& mark) {
    ProjectReference* const reference = internal::reference_of(document_, mark);
    if (reference == nullptr || !reference->marks_sd_px) return;
    if (*reference->marks_sd_px < document_.photos[mark.photo].marks.sd_px) {
      reference->marks_sd_px.reset();
    }
  }
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
            upper_first(numbered("reference", mark.place.reference)) +
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

}  // namespace potshadow
