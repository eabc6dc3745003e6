// SPDX-License-Identifier: MIT
#include "unroll/wall_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace potshadow {
namespace {

// What is written below a piece.
std::vector<std::string> about(const PaintedFace& face, const WallWish& wish,
                               const FlatPart& part) {
  const std::string name(unit_name(wish.unit));
  const int decimals = wish.unit == LengthUnit::kMm ? 1 : 2;
  const auto length = [&](double mm) {
    return fixed_text(in_unit(Mm{mm}, wish.unit), decimals) + " " + name;
  };
  const auto edge = [&](const char* which, double along, double radius) {
    const double girth = 2.0 * std::numbers::pi * radius;
    std::string words = std::string(which) + " edge " +
                        length(wish.size.upright * face.profile_at(along).height_mm) +
                        " up, girth " + length(girth);
    if (part.repeats > 0) {
      words += ", " + std::to_string(part.repeats) + " repeats of " + length(girth / part.repeats);
    }
    return words;
  };
  const Development& flat = part.flat;
  std::vector<std::string> lines;
  if (wish.parts == WallParts::kWhole) {
    lines.push_back("As wide as the widest girth, " +
                    length(2.0 * std::numbers::pi * flat.low_radius_mm) + "; " +
                    length(flat.slant_mm) + " along the wall from foot to rim.");
  } else {
    lines.push_back(edge("Lower", flat.low_along_mm, flat.low_radius_mm) + ".");
    lines.push_back(edge("Upper", flat.high_along_mm, flat.high_radius_mm) + ".");
    lines.push_back("The wall leaves the strip by " + length(flat.bulge_mm) + " at most.");
  }
  lines.push_back("One pixel of the photographs is " + fixed_text(part.picture.finest_mm, 2) +
                  " to " + fixed_text(part.picture.coarsest_mm, 2) +
                  " mm on the pot where it is not faded.");
  return lines;
}

}  // namespace

Result<std::vector<FlatPart>> wall_parts(const PaintedFace& face, const WallWish& wish) {
  constexpr double kMostBulgeMm = 1.0;  // paper and plastic clay give way to that
  std::vector<FlatPart> parts;
  const auto add = [&](std::string name, const Development& flat, int repeats) {
    parts.push_back({std::move(name), flat, wish.repeats > 0 ? wish.repeats : repeats, {}});
  };
  switch (wish.parts) {
    case WallParts::kWhole:
      add("The whole wall", whole_face(face, wish.size, wish.front_rad), 0);
      break;
    case WallParts::kStrips:
      for (const Development& strip : strips_over(face, wish.size, wish.front_rad, kMostBulgeMm)) {
        add("Strip " + std::to_string(parts.size() + 1), strip, 0);
      }
      break;
    case WallParts::kBands:
      for (const PaintedBand& band : wish.bands) {
        if (!band.high_mm) continue;
        const Result<Development> strip =
            strip_between(face, face.along_at_height(band.low_mm),
                          face.along_at_height(*band.high_mm), wish.size, wish.front_rad);
        if (!strip) return strip.problem();
        add(band.name.empty() ? "Band " + std::to_string(parts.size() + 1) : band.name, *strip,
            band.repeats);
      }
      break;
  }
  return parts;
}

Result<Done> add_picture(const PaintedFace& face, const WallWish& wish,
                         const std::vector<UnrollPhoto>& photos, double px_per_mm, FlatPart& part) {
  UnrollChoices choices;
  choices.px_per_mm = px_per_mm;
  if (!wish.all_round) part.flat = seen_of(face, part.flat, photos, choices);
  Result<Unrolled> picture = unroll(face, part.flat, photos, choices);
  if (!picture) return picture.problem();
  part.picture = std::move(picture).value();
  return Done{};
}

Pattern piece_of(const PaintedFace& face, const WallWish& wish, const FlatPart& part) {
  std::vector<double> levels;
  for (const PaintedBand& band : wish.bands) {
    levels.push_back(face.along_at_height(band.low_mm));
    if (band.high_mm) levels.push_back(face.along_at_height(*band.high_mm));
  }
  return strip_pattern(part.flat, part.picture, part.repeats, levels,
                       {part.name, about(face, wish, part)});
}

double seen_percent(const FlatPart& part) {
  return 100.0 * part.picture.seen_part * part.flat.half_turn_rad / std::numbers::pi;
}

std::string seen_words(const FlatPart& part) {
  return part.name + ": " + fixed_text(seen_percent(part), 0) + " % of it is seen.";
}

WallSheetWords wall_sheet_words(WallParts parts) {
  const bool whole = parts == WallParts::kWhole;
  return {whole ? "The painting, unrolled" : "Painted strips to wrap round the pot",
          {whole ? "By angle across and along the wall upwards; only the widest place is as wide "
                   "as here."
                 : "Cut along the heavy line, wrap it round the pot and prick the painting "
                   "through.",
           "Blank: not on the photographs; faded: seen at a slant. Ask those whose design it is."}};
}

double own_fineness(const std::vector<UnrollPhoto>& photos, const PaintedFace& face,
                    const Enlargement& size) {
  constexpr double kLeast = 2.0;
  constexpr double kMost = 20.0;
  double finest = kLeast;
  for (const UnrollPhoto& photo : photos) {
    const double nearest =
        photo.view.eye_mm.head<2>().norm() - face.widest_radius_mm();  // level distance
    if (nearest > 0.0) {
      finest = std::max(finest, photo.view.lens.focal_px / (nearest * size.across));
    }
  }
  return std::min(std::ceil(finest), kMost);
}

}  // namespace potshadow
