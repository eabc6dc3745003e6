// SPDX-License-Identifier: MIT
// The fields of the reference that is chosen, from its size to its marks.
#pragma once

#include <imgui.h>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "desktop/window/frame.h"
#include "desktop/words/reference_words.h"

namespace potshadow {

inline constexpr const char* kUsually =
    "Two times in three it lies within this, 19 times in 20 within twice as much.";
// The folds of sizes, followed by the reference's index.
inline constexpr const char* kSizeFold = "Its size##";

// Draws what its functions name, and gathers what was typed. The kind decides which are called.
class ReferenceEditor {
 public:
  ReferenceEditor(Frame& frame, std::size_t index, const ProjectReference& now)
      : frame_(frame), index_(index), value_(now) {}

  // --- By kind (reference_sizes.cc)
  void size();        // of what has a place
  void known_size();  // of the vessel itself or its neighbour
  void distance();
  // --- By place (reference_place.cc)
  void place();
  void glass();
  void beside();
  void riser();
  // --- On the photograph (reference_marks.cc, reference_crossings.cc)
  void marks();

  // Asks for what was changed, as one step.
  void finish() {
    if (changed_) frame_.ask(Perform{SetReference{frame_.state.photo, index_, value_}});
  }

 private:
  template <class Typed, class Value>
  void take(const std::optional<Typed>& typed, Value& value) {
    if (!typed) return;
    value = *typed;
    changed_ = true;
  }
  std::optional<Place> where() const { return place_of_key(value_.place); }
  bool is_neighbour() const { return value_.kind == "neighbour"; }
  void value_field(const std::string& label, const std::string& tooltip);
  void place_tile(const PlaceWords& words, ImVec2 size);
  std::vector<std::string> tile_lines(const PlaceWords& words, float width) const;
  float tile_words_height(const PlaceWords& words, float width) const;
  void shelf_line();
  void corner_buttons();
  void along_edges() const;
  void neighbour_row(MarkKind kind);
  void neighbour_marks();
  void crossings();
  void crossing_row(std::size_t index);
  void set_crossing(std::size_t index, GridPlace place);
  void crossing_by_numbers();

  Frame& frame_;
  std::size_t index_;
  ProjectReference value_;
  bool changed_ = false;
};

}  // namespace potshadow
