// SPDX-License-Identifier: MIT
#include "desktop/words/reference_words.h"

#include <algorithm>
#include <utility>

#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/outline_words.h"
#include "project/reference_table.h"

namespace potshadow {
namespace {

constexpr std::array<std::string_view, kCornerCount> kUpright{"lower left", "lower right",
                                                              "upper right", "upper left"};
constexpr std::array<std::string_view, kCornerCount> kFlat{"near left", "near right", "far right",
                                                           "far left"};

constexpr std::array<KindWords, kKindCount> kKinds{
    {{"rectangle", "Rectangle", "Rectangle",
      "A flat thing with right angles, such as a label: type its size and mark its four corners."},
     {"disc", "Disc", "Disc",
      "A flat round thing, such as a coin: type its diameter and mark points all round its edge."},
     {"length", "Known length", "Known length",
      "Two points a known length apart, such as the ends of a ruler or of a label's edge: type the "
      "length and mark both."},
     {"grid", "Tiles", "A tile floor or wall",
      "Equal square tiles: measure from joint to joint, over several tiles and divided by their "
      "number, then mark the corners of a block of whole tiles."},
     {"neighbour", "The pot beside it", "The pot beside it",
      "Another round vessel on the same shelf, of which the label or the catalogue gives a size: "
      "mark it as you mark your own.",
      false},
     {"size", "Size of the pot", "A size of the pot itself",
      "One size of your pot that a label or a catalogue gives, or that you would bet on.", false},
     {"distance", "Camera distance", "How far the camera was",
      "From the lens to the middle of the pot, at half its height, measured with a tape.", false}}};

constexpr std::array<PlaceWords, kPlaceCount> kPlaces{
    {{Place::kLying, "lying", "Lying on the shelf", "lying",
      "It lies flat on the shelf that the vessel stands on.",
      "Both ends are on the shelf that the vessel stands on, in any direction.", kFlat},
     {Place::kStanding, "standing", "Standing upright", "standing",
      "It stands upright, its lower edge on the shelf.",
      "The first end is on the shelf, the second straight above it.", kUpright},
     {Place::kLeaning, "leaning", "Leaning back", "leaning",
      "Its lower edge is on the shelf and it leans back; how far does not matter.",
      "The first end is on the shelf, and it leans back; how far does not matter.", kUpright},
     {Place::kOnGlass, "on-glass", "Flat against the glass", "on the glass",
      "It is held flat against the pane; you also say how far the pane is from the middle of the "
      "vessel, or mark where the shelf meets the pane.",
      "Both ends are on the pane; you also say how far the pane is from the middle of the vessel, "
      "or mark where the shelf meets the pane.",
      kUpright},
     {Place::kBeside, "beside", "Held beside the vessel", "beside it",
      "It is upright at any height, facing you, its middle as far away as that of the vessel.",
      "It is beside the vessel, square to your view, its middle as far away as that of the vessel.",
      kUpright}}};

bool is_disc(const ProjectReference& reference) { return reference.kind == "disc"; }

// Two places in millimetres hold the sizes of cards as their standards give them.
std::string size_number(double mm, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kCm ? 3 : 2;
  return typed_text(in_unit(Mm{mm}, unit), decimals);
}

bool positive(const std::optional<double>& value) { return value.value_or(0.0) > 0.0; }

std::string name_of(const ProjectReference& reference) {
  const CommonObject* object =
      reference.object.empty() ? nullptr : find_object(common_objects(), reference.object);
  if (object != nullptr) return object->name;
  if (reference.kind == "size" && reference.guess) return "Guess";
  const std::optional<KindWords> kind = kind_words(reference.kind);
  return kind ? std::string(kind->name) : "Reference of another kind";
}

// Which size of a vessel is given; nothing where it is not said, or cannot be used.
std::optional<SizeName> known_name(const ProjectReference& reference) {
  const std::optional<SizeName> name = size_of_key(reference.size);
  if (!name) return std::nullopt;
  const std::vector<SizeName> knowable = knowable_sizes(reference.kind == "neighbour");
  return std::find(knowable.begin(), knowable.end(), *name) == knowable.end() ? std::nullopt : name;
}

// --- What it lacks ------------------------------------------------------------------------------

struct Lack {
  std::string order;  // "Mark its four corners."
  std::string brief;  // in the list: "4 corners missing"; empty where the size's text says it
};

std::string quoted(std::string_view field) { return "'" + std::string(field) + "'"; }

void lack_of_size(const ProjectReference& reference, std::vector<Lack>& lacks) {
  const std::string& kind = reference.kind;
  if (kind == "disc" && !positive(reference.diameter_mm)) {
    lacks.push_back({"Type its " + quoted(reference_field::kDiameter) +
                         ", or choose it from the common objects.",
                     ""});
  } else if (kind == "length" && !positive(reference.length_mm)) {
    lacks.push_back({"Type its " + quoted(reference_field::kLength) + ".", ""});
  } else if (kind == "grid" && !positive(reference.pitch_mm)) {
    lacks.push_back({"Type the length " + quoted(reference_field::kPitch) + ".", ""});
  } else if (kind == "distance" && !positive(reference.value_mm)) {
    lacks.push_back({"Type the distance " + quoted(reference_field::kDistance) + ".", ""});
  } else if (kind == "size" || kind == "neighbour") {
    if (!known_name(reference)) {
      lacks.push_back({"Choose " + quoted(reference_field::kWhichSize) +
                           (kind == "size" ? " of the pot is known." : " of that vessel is known."),
                       ""});
    } else if (!positive(reference.value_mm)) {
      lacks.push_back({"Type that size under " + quoted(reference_field::kValue) + ".", ""});
    }
  } else if (kind == "rectangle" &&
             (!positive(reference.width_mm) || !positive(reference.height_mm))) {
    const std::string width = quoted(reference_field::kWidth);
    const std::string height = quoted(reference_field::kHeight);
    const std::string what = positive(reference.width_mm)    ? height
                             : positive(reference.height_mm) ? width
                                                             : width + " and " + height;
    lacks.push_back({"Type its " + what + ", or choose it from the common objects.", ""});
  }
}

void lack_of_place(const ProjectReference& reference, std::vector<Lack>& lacks) {
  const std::optional<Place> place = place_of_key(reference.place);
  if (!place) {
    lacks.push_back(
        {"Say where it is: on the shelf, on the glass or beside the vessel.", "place missing"});
  }
  if (place == Place::kOnGlass && !positive(reference.glass_to_axis_mm) &&
      !reference.shelf_at_glass) {
    lacks.push_back({"Type the distance " + quoted(reference_field::kGlass) +
                         ", and how sure you are of it; or press " +
                         quoted(reference_field::kShelfLine) + ".",
                     "distance missing"});
  }
}

void lack_of_corners(const ProjectReference& reference, std::vector<Lack>& lacks) {
  const std::size_t marked = reference.corners.size();
  if (marked == kCornerCount) return;
  if (marked > kCornerCount) {
    lacks.push_back({"Keep four corners and take the others out.", "too many corners"});
    return;
  }
  const std::string left = counted(kCornerCount - marked, "corner", "corners") + " missing";
  if (marked == 0) {
    lacks.push_back({reference.kind == "grid" ? "Mark the four corners of a block of tiles."
                                              : "Mark its four corners.",
                     left});
    return;
  }
  lacks.push_back(
      {"Mark " + counted(kCornerCount - marked, "more corner", "more corners") + " of it.", left});
}

void lack_of_neighbour_marks(const ProjectReference& reference, std::vector<Lack>& lacks) {
  struct Part {
    MarkKind kind;
    const char* whole;
    const char* one;
  };
  constexpr std::array<Part, 3> kParts{{{MarkKind::kRim, "rim", "rim mark"},
                                        {MarkKind::kBase, "foot", "foot mark"},
                                        {MarkKind::kLeft, "sides", "side mark"}}};
  for (const Part& part : kParts) {
    const std::size_t count = marks_wanting(part.kind, reference.marks, reference.round_base);
    if (count == 0) continue;
    const std::string one = part.one;
    const std::string brief = counted(count, one, one + "s") + " missing";
    const bool none = count == mark_kind_words(part.kind, reference.round_base).least;
    lacks.push_back(
        {"Mark " +
             (none ? std::string("that vessel's ")
                   : counted(count, "more point", "more points") + " on that vessel's ") +
             part.whole + ".",
         brief});
  }
}

void lack_of_marks(const ProjectReference& reference, std::vector<Lack>& lacks) {
  const std::string& kind = reference.kind;
  if (kind == "rectangle" || kind == "grid") {
    lack_of_corners(reference, lacks);
  } else if (kind == "disc" && reference.edge.size() < kLeastEdgeMarks) {
    lacks.push_back(
        {edge_prompt(reference.edge.size()),
         counted(kLeastEdgeMarks - reference.edge.size(), "point", "points") + " missing"});
  } else if (kind == "length" && reference.ends.size() < kEndCount) {
    lacks.push_back(reference.ends.empty() ? Lack{"Mark both its ends.", "2 ends missing"}
                                           : Lack{"Mark its other end.", "1 end missing"});
  } else if (kind == "neighbour") {
    lack_of_neighbour_marks(reference, lacks);
  }
}

std::vector<Lack> all_lacks(const ProjectReference& reference) {
  const std::optional<KindWords> kind = kind_words(reference.kind);
  if (!kind) {
    return {{"Use a flat rectangle or a disc; this kind of reference is kept, but not used yet.",
             "not used"}};
  }
  std::vector<Lack> lacks;
  lack_of_size(reference, lacks);
  if (kind->has_place) lack_of_place(reference, lacks);
  lack_of_marks(reference, lacks);
  return lacks;
}

}  // namespace

std::array<KindWords, kKindCount> all_reference_kinds() { return kKinds; }

std::optional<KindWords> kind_words(std::string_view key) {
  for (const KindWords& words : kKinds) {
    if (words.key == key) return words;
  }
  return std::nullopt;
}

std::vector<SizeName> knowable_sizes(bool neighbour) {
  if (neighbour) return {SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kRimDiameter};
  return {SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kNeckDiameter,
          SizeName::kRimDiameter, SizeName::kBaseDiameter};
}

PlaceWords place_words(Place place) { return kPlaces.at(static_cast<std::size_t>(place)); }

std::array<PlaceWords, kPlaceCount> all_places() { return kPlaces; }

std::optional<Place> place_of_key(std::string_view key) {
  for (const PlaceWords& words : kPlaces) {
    if (words.key == key) return words.place;
  }
  return std::nullopt;
}

std::string corner_order(Place place) {
  std::string order;
  const PlaceWords words = place_words(place);
  for (std::size_t i = 0; i < kCornerCount; ++i) {
    order += (i == 0 ? "" : ", ") + std::to_string(i + 1) + " " + std::string(words.corners[i]);
  }
  return order;
}

std::string corner_prompt(Place place, std::size_t marked) {
  if (marked >= kCornerCount) return "All four corners are marked.";
  return "Corner " + std::to_string(marked + 1) + " of 4: the " +
         std::string(place_words(place).corners[marked]) + ".";
}

std::string edge_prompt(std::size_t marked) {
  if (marked >= kLeastEdgeMarks) {
    return std::to_string(marked) + " points marked, which is enough; more make it surer.";
  }
  if (marked == 0) return "Mark at least 5 points round its edge, spread all round it.";
  return "Mark at least " + counted(kLeastEdgeMarks - marked, "more point", "more points") +
         " round its edge.";
}

std::string end_prompt(Place place, std::size_t marked) {
  if (marked >= kEndCount) return "Both ends are marked.";
  const bool on_shelf = place == Place::kStanding || place == Place::kLeaning;
  if (marked == 0)
    return on_shelf ? "End 1 of 2: the one on the shelf." : "End 1 of 2: either one.";
  return on_shelf ? "End 2 of 2: the upper one." : "End 2 of 2: the other one.";
}

std::string shelf_line_prompt(std::size_t marked) {
  if (marked >= 2) return "The line where shelf and glass meet is marked.";
  if (marked == 1) return "Click on the same line again, well away from the first.";
  return "Click on the line where the shelf meets the glass, near one end.";
}

std::string crossings_prompt(std::size_t marked) {
  if (marked == 0) return "Click where joints cross. Column and row are counted from corner 1.";
  return counted(marked, "further crossing", "further crossings") +
         " marked. Press one to see it or to change its numbers.";
}

std::string crossing_words(std::size_t index, GridPlace place) {
  return std::to_string(index + 1) + "  Column " + std::to_string(place.column) + ", row " +
         std::to_string(place.row);
}

std::string reference_prompt(const ProjectReference& reference) {
  const Place place = place_of_key(reference.place).value_or(Place::kStanding);
  if (is_disc(reference)) return edge_prompt(reference.edge.size());
  if (reference.kind == "length") return end_prompt(place, reference.ends.size());
  if (reference.kind == "neighbour") {
    return "Mark its rim, its foot and both its sides, as those of your pot.";
  }
  return corner_prompt(place, reference.corners.size());
}

std::string refined_words(const ProjectReference& reference) {
  const std::string what =
      is_disc(reference) ? "Its marks lie on its edge now" : "Its corners lie on its edges now";
  const auto sd_px = reference.marks_sd_px;
  return what + (sd_px ? ", to " + fixed_text(*sd_px, 1) + " px." : ".");
}

std::string reference_size_text(const ProjectReference& reference, LengthUnit unit) {
  const std::string unit_text = " " + std::string(unit_name(unit));
  const std::string none = "size not given";
  const auto one = [&](const std::string& before, const std::optional<double>& mm) {
    return positive(mm) ? before + size_number(*mm, unit) + unit_text : none;
  };
  const std::string& kind = reference.kind;
  if (kind == "disc") return one("ø ", reference.diameter_mm);
  if (kind == "length") return one("", reference.length_mm);
  if (kind == "grid") {
    return one(std::to_string(reference.columns) + " × " + std::to_string(reference.rows) + " of ",
               reference.pitch_mm);
  }
  if (kind == "size" || kind == "neighbour") {
    const std::optional<SizeName> name = known_name(reference);
    return name ? one(with_small_start(std::string(size_words(*name))) + " ", reference.value_mm)
                : none;
  }
  if (kind == "distance") {
    return positive(reference.value_mm) ? one("", reference.value_mm) : "distance not given";
  }
  if (!positive(reference.width_mm) || !positive(reference.height_mm)) return none;
  return size_number(*reference.width_mm, unit) + " × " + size_number(*reference.height_mm, unit) +
         unit_text;
}

std::string reference_title(const ProjectReference& reference, LengthUnit unit) {
  return name_of(reference) + ", " + reference_size_text(reference, unit);
}

std::string reference_summary(const ProjectReference& reference, LengthUnit unit) {
  std::string text = reference_size_text(reference, unit);
  const std::optional<Place> place = place_of_key(reference.place);
  const std::optional<KindWords> kind = kind_words(reference.kind);
  if (kind && kind->has_place && place) text += ", " + std::string(place_words(*place).brief);
  const std::vector<Lack> lacks = all_lacks(reference);
  const std::string state = lacks.empty() ? "complete" : lacks.front().brief;
  // A size that is not given says so itself.
  return lacks.empty() || !state.empty() ? text + ", " + state : text;
}

std::vector<std::string> reference_missing(const ProjectReference& reference) {
  std::vector<std::string> missing;
  for (Lack& lack : all_lacks(reference)) missing.push_back(std::move(lack.order));
  return missing;
}

}  // namespace potshadow
