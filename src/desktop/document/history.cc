// SPDX-License-Identifier: MIT
#include "desktop/document/history.h"

#include <algorithm>
#include <type_traits>

namespace potshadow {
namespace {

std::vector<MarkId> moved_marks(const MoveMarks& command) {
  std::vector<MarkId> marks;
  for (const auto& [mark, at] : command.moves) marks.push_back(mark);
  std::sort(marks.begin(), marks.end());
  return marks;
}

// Whether `after` only sets again what `before` set: a nudge further on, a letter more.
struct Continues {
  bool operator()(const SetLens& before, const SetLens& after) const {
    return before.photo == after.photo;
  }
  bool operator()(const SetGlass& before, const SetGlass& after) const {
    return before.photo == after.photo;
  }
  bool operator()(const SetDirection& before, const SetDirection& after) const {
    return before.photo == after.photo;
  }
  bool operator()(const SetReference& before, const SetReference& after) const {
    return before.photo == after.photo && before.reference == after.reference;
  }
  bool operator()(const MoveMarks& before, const MoveMarks& after) const {
    return moved_marks(before) == moved_marks(after);
  }
  bool operator()(const SetMarkPrecision& before, const SetMarkPrecision& after) const {
    return before.photo == after.photo;
  }
  template <class Before, class After>
  bool operator()(const Before&, const After&) const {
    constexpr bool kOneField =
        std::is_same_v<After, SetName> || std::is_same_v<After, SetNotes> ||
        std::is_same_v<After, SetOutOfRound> || std::is_same_v<After, SetRoundBase> ||
        std::is_same_v<After, SetHiddenFoot> || std::is_same_v<After, SetHiddenRim> ||
        std::is_same_v<After, SetWall> || std::is_same_v<After, SetClay> ||
        std::is_same_v<After, SetPlan>;
    return kOneField && std::is_same_v<Before, After>;
  }
};

}  // namespace

History::History(Document opened, std::string opened_words) {
  entries_.push_back(
      {std::move(opened_words), std::make_shared<const Document>(std::move(opened)), std::nullopt});
  mark_saved();
}

Result<Done> History::perform(const Command& command, bool continues) {
  Result<Document> changed = apply(document(), command);
  if (!changed) return changed.problem();
  if (*changed == document()) return Done{};
  auto next = std::make_shared<const Document>(std::move(changed).value());
  Entry& last = entries_.back();
  const bool is_last = at_ + 1 == entries_.size();
  const bool saved_here = saved_ && *saved_ == last.document;
  if (continues && is_last && !saved_here && last.command &&
      std::visit(Continues(), *last.command, command)) {
    if (*next == *entries_[at_ - 1].document) {
      entries_.pop_back();  // back where it started
      --at_;
    } else {
      last = {command_words(document(), command), std::move(next), command};
    }
    return Done{};
  }
  entries_.resize(at_ + 1);
  entries_.push_back({command_words(document(), command), std::move(next), command});
  ++at_;
  return Done{};
}

bool History::undo() {
  if (at_ == 0) return false;
  --at_;
  return true;
}

bool History::redo() {
  if (at_ + 1 == entries_.size()) return false;
  ++at_;
  return true;
}

bool History::go_to(std::size_t entry) {
  if (entry >= entries_.size()) return false;
  at_ = entry;
  return true;
}

std::vector<std::string> History::steps() const {
  std::vector<std::string> words;
  words.reserve(entries_.size());
  for (const Entry& entry : entries_) words.push_back(entry.words);
  return words;
}

std::optional<std::string> History::undo_words() const {
  if (at_ == 0) return std::nullopt;
  return entries_[at_].words;
}

std::optional<std::string> History::redo_words() const {
  if (at_ + 1 == entries_.size()) return std::nullopt;
  return entries_[at_ + 1].words;
}

void History::mark_saved() { saved_ = snapshot(); }

void History::mark_never_saved() { saved_.reset(); }

bool History::unsaved() const {
  if (!saved_) return true;
  return *saved_ != entries_[at_].document && **saved_ != document();
}

}  // namespace potshadow
