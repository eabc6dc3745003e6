// SPDX-License-Identifier: MIT
#include "project/join_references.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace potshadow {
namespace {

std::optional<Place> place_of(const std::string& text) {
  if (text == "lying") return Place::kLying;
  if (text == "standing") return Place::kStanding;
  if (text == "leaning") return Place::kLeaning;
  if (text == "on-glass") return Place::kOnGlass;
  if (text == "beside") return Place::kBeside;
  return std::nullopt;
}

// Why a reference cannot be used: `why` follows its name ("... has no width yet").
struct Unusable {
  std::string why;
  std::string next;
};

// Fills what all kinds but a neighbour have in common.
template <class Reference>
void copy_common(const ProjectReference& from, std::size_t number, Reference& to) {
  to.number = number;
  to.size_sd_mm = from.size_sd_mm;
  to.marks_sd_px = from.marks_sd_px;
  to.place = place_of(from.place).value();
  to.behind_glass = from.behind_glass;
  to.riser_mm = from.riser_mm;
  to.riser_sd_mm = from.riser_sd_mm;
  if (to.place == Place::kOnGlass) {
    to.glass_to_axis_mm = from.glass_to_axis_mm.value_or(0.0);
    to.glass_to_axis_sd_mm = from.glass_to_axis_sd_mm;
    to.shelf_at_glass = from.shelf_at_glass;
  }
  if (to.place == Place::kBeside) {
    to.depth_offset_mm = from.depth_offset_mm;
    to.depth_offset_sd_mm = from.depth_offset_sd_mm;
  }
}

// Says why the place of a reference cannot be used.
std::optional<Unusable> trouble_of_place(const ProjectReference& reference) {
  const std::string say_place =
      "Say its place: \"lying\", \"standing\", \"leaning\", \"on-glass\" or \"beside\".";
  if (reference.place.empty()) {
    return Unusable{"does not say yet where it is", say_place};
  }
  const std::optional<Place> place = place_of(reference.place);
  if (!place) {
    return Unusable{"has the place '" + reference.place + "', which this version does not know",
                    say_place};
  }
  if (place == Place::kOnGlass && !(reference.glass_to_axis_mm.value_or(0.0) > 0.0) &&
      !reference.shelf_at_glass) {
    return Unusable{"is on the glass, but how far that is from the vessel is not given yet",
                    "Give the distance from the glass to the middle of the vessel "
                    "('glass_to_axis_mm' in a project file), with its uncertainty, or mark the "
                    "line where the shelf meets the glass ('shelf_at_glass_px')."};
  }
  return std::nullopt;
}

Unusable without_size(const std::string& size, const std::string& key = "") {
  return {"has no " + size + " yet", "Measure it, or look its size up, and give it ('" +
                                         (key.empty() ? size : key) + "_mm' in a project file)."};
}

Unusable without_corners(std::size_t marked) {
  return {"has " + std::to_string(marked) + " of its 4 corners marked", "Mark all four corners."};
}

// Adds the rectangle to the input, or says why it cannot be used.
std::optional<Unusable> join_rectangle(const ProjectReference& reference, std::size_t number,
                                       PhotoInput& input) {
  if (!reference.width_mm) return without_size("width");
  if (!reference.height_mm) return without_size("height");
  if (reference.corners.size() != 4) return without_corners(reference.corners.size());
  RectangleReference rectangle;
  copy_common(reference, number, rectangle);
  rectangle.width_mm = *reference.width_mm;
  rectangle.height_mm = *reference.height_mm;
  std::copy(reference.corners.begin(), reference.corners.end(), rectangle.corners.begin());
  input.references.push_back(rectangle);
  return std::nullopt;
}

// Adds the disc to the input, or says why it cannot be used.
std::optional<Unusable> join_disc(const ProjectReference& reference, std::size_t number,
                                  PhotoInput& input) {
  if (!reference.diameter_mm) return without_size("diameter");
  constexpr std::size_t kFewestOnEdge = 5;  // what an ellipse takes
  const std::size_t marked = reference.edge.size();
  if (marked < kFewestOnEdge) {
    return Unusable{"has " + std::to_string(marked) + (marked == 1 ? " mark" : " marks") +
                        " on its edge, and a disc needs at least " + std::to_string(kFewestOnEdge),
                    "Mark more points, spread all round its edge."};
  }
  DiscReference disc;
  copy_common(reference, number, disc);
  disc.diameter_mm = *reference.diameter_mm;
  disc.edge = reference.edge;
  input.discs.push_back(std::move(disc));
  return std::nullopt;
}

// Adds the known length to the input, or says why it cannot be used.
std::optional<Unusable> join_length(const ProjectReference& reference, std::size_t number,
                                    PhotoInput& input) {
  if (!reference.length_mm) return without_size("length");
  if (reference.ends.size() != 2) {
    return Unusable{"has " + std::to_string(reference.ends.size()) + " of its 2 ends marked",
                    "Mark both ends."};
  }
  LengthReference length;
  copy_common(reference, number, length);
  length.length_mm = *reference.length_mm;
  std::copy(reference.ends.begin(), reference.ends.end(), length.ends.begin());
  input.lengths.push_back(length);
  return std::nullopt;
}

// Adds the grid to the input, or says why it cannot be used.
std::optional<Unusable> join_grid(const ProjectReference& reference, std::size_t number,
                                  PhotoInput& input) {
  if (!reference.pitch_mm) return without_size("distance from line to line", "pitch");
  if (reference.corners.size() != 4) return without_corners(reference.corners.size());
  GridReference grid;
  copy_common(reference, number, grid);
  grid.pitch_mm = *reference.pitch_mm;
  const int columns = reference.columns;
  const int rows = reference.rows;
  grid.crossings = {{reference.corners[0], 0, 0},
                    {reference.corners[1], columns, 0},
                    {reference.corners[2], columns, rows},
                    {reference.corners[3], 0, rows}};
  for (const ProjectReference::Crossing& crossing : reference.crossings) {
    grid.crossings.push_back({crossing.at, crossing.column, crossing.row});
  }
  input.grids.push_back(std::move(grid));
  return std::nullopt;
}

// Adds the neighbour to the input, or says why it cannot be used.
std::optional<Unusable> join_neighbour(const ProjectReference& reference, std::size_t number,
                                       PhotoInput& input) {
  const std::optional<SizeName> name = size_of_key(reference.size);
  const bool usable_name =
      name == SizeName::kHeight || name == SizeName::kMaxDiameter || name == SizeName::kRimDiameter;
  if (!usable_name || !reference.value_mm) {
    return Unusable{"has no size yet",
                    "Look up the height, the maximum diameter or the rim diameter of that vessel "
                    "and give it ('height_mm', 'max_diameter_mm' or 'rim_diameter_mm' in a project "
                    "file)."};
  }
  NeighbourReference neighbour;
  neighbour.number = number;
  neighbour.name = *name;
  neighbour.value_mm = *reference.value_mm;
  neighbour.sd_mm = reference.sd_mm.value_or(kDefaultKnownSizeSdMm);
  neighbour.riser_mm = reference.riser_mm;
  neighbour.riser_sd_mm = reference.riser_sd_mm;
  neighbour.round_base = reference.round_base;
  const ProjectMarks& marks = reference.marks;
  neighbour.marks = {marks.rim, marks.base, marks.left, marks.right, input.marks.sd_px};
  const std::string missing = missing_marks(neighbour.marks, true, !reference.round_base);
  if (!missing.empty()) {
    return Unusable{missing,
                    "Mark that vessel as the other: its rim, its foot unless its base is round, "
                    "and both sides of its outline."};
  }
  input.neighbours.push_back(std::move(neighbour));
  return std::nullopt;
}

// Adds a size of the vessel to the input, or says why it cannot be used.
std::optional<Unusable> join_size(const ProjectReference& reference, std::size_t number,
                                  PhotoInput& input) {
  const std::string say_size =
      "Say which: \"height\", \"max_diameter\", \"neck_diameter\", \"rim_diameter\" or "
      "\"base_diameter\".";
  if (reference.size.empty()) {
    return Unusable{"does not say yet which size of the vessel it gives", say_size};
  }
  const std::optional<SizeName> name = size_of_key(reference.size);
  if (!name) {
    return Unusable{"gives the size '" + reference.size + "', which this version does not know",
                    say_size};
  }
  if (!reference.value_mm) {
    return Unusable{"does not give the size yet",
                    "Give it in millimetres ('value_mm' in a project file)."};
  }
  input.sizes.push_back({number, *name, *reference.value_mm,
                         reference.sd_mm.value_or(kDefaultKnownSizeSdMm), reference.guess});
  return std::nullopt;
}

// Adds a measured distance to the input, or says why it cannot be used.
std::optional<Unusable> join_distance(const ProjectReference& reference, std::size_t number,
                                      PhotoInput& input) {
  if (!reference.value_mm) {
    return Unusable{"does not say yet how far away the camera was",
                    "Give the distance from the lens to the middle of the vessel in millimetres "
                    "('value_mm' in a project file)."};
  }
  input.distances.push_back(
      {number, *reference.value_mm, reference.sd_mm.value_or(kDefaultDistanceSdMm)});
  return std::nullopt;
}

// Adds the reference to the input, or says why it cannot be used. The input's marks must be there.
std::optional<Unusable> join_reference(const ProjectReference& reference, std::size_t number,
                                       PhotoInput& input) {
  using Join = std::optional<Unusable> (*)(const ProjectReference&, std::size_t, PhotoInput&);
  struct Kind {
    std::string_view name;
    Join join;
    bool has_place;
  };
  constexpr std::array<Kind, 7> kKinds{{{"rectangle", join_rectangle, true},
                                        {"disc", join_disc, true},
                                        {"length", join_length, true},
                                        {"grid", join_grid, true},
                                        {"neighbour", join_neighbour, false},
                                        {"size", join_size, false},
                                        {"distance", join_distance, false}}};
  const auto kind = std::find_if(kKinds.begin(), kKinds.end(), [&](const Kind& candidate) {
    return candidate.name == reference.kind;
  });
  if (kind == kKinds.end()) {
    return Unusable{"is of the kind '" + reference.kind + "', which this version does not know",
                    "Use a rectangle or a disc, such as a label, a card or a coin."};
  }
  if (kind->has_place) {
    if (auto trouble = trouble_of_place(reference)) return trouble;
  }
  return kind->join(reference, number, input);
}

}  // namespace

std::string missing_marks(const Marks& marks, bool needs_rim, bool needs_base) {
  // What the estimate asks for.
  constexpr std::size_t kFewestOnRim = 5;
  constexpr std::size_t kFewestOnBase = 3;
  constexpr std::size_t kFewestOnOutline = 6;
  const auto too_few = [](std::size_t count, const char* where, std::size_t fewest) {
    return "has " + std::to_string(count) + (count == 1 ? " mark" : " marks") + " on the " + where +
           ", and at least " + std::to_string(fewest) + " are needed";
  };
  const std::size_t outline = marks.left.size() + marks.right.size();
  if (needs_rim && marks.rim.size() < kFewestOnRim) {
    return too_few(marks.rim.size(), "rim", kFewestOnRim);
  }
  if (needs_base && marks.base.size() < kFewestOnBase) {
    return too_few(marks.base.size(), "foot", kFewestOnBase);
  }
  if (outline < kFewestOnOutline) return too_few(outline, "outline", kFewestOnOutline);
  return "";
}

std::vector<LeftOutReference> join_references(const ProjectPhoto& photo, std::size_t photo_index,
                                              PhotoInput& input) {
  std::vector<LeftOutReference> left_out;
  for (std::size_t i = 0; i < photo.references.size(); ++i) {
    const std::optional<Unusable> trouble = join_reference(photo.references[i], i, input);
    if (!trouble) continue;
    left_out.push_back(
        {photo_index,
         i,
         {"Photo " + std::to_string(photo_index + 1) + ", reference " + std::to_string(i + 1) +
              " " + trouble->why + ", so it was left out. " + trouble->next,
          true}});
  }
  return left_out;
}

}  // namespace potshadow
