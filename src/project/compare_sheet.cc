// SPDX-License-Identifier: MIT
#include "project/compare_sheet.h"

#include <algorithm>
#include <array>
#include <utility>

#include "patterns/comparison.h"
#include "patterns/pattern_kinds.h"
#include "project/sheet_words.h"
#include "project/text_layout.h"
#include "sheets/sheet_set.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr double kDrawingHeightMm = 105.0;

Pattern words_of_comparison(const VesselComparison& c, LengthUnit unit) {
  std::vector<SheetParagraph> paragraphs{{comparison_sides(c)}, {comparison_paragraph(c, unit)}};
  for (const Note& note : c.notes) paragraphs.push_back({"! " + note.text, note.doubtful});
  return paragraphs_piece("In words", paragraphs);
}

Pattern table_of_comparison(const VesselComparison& c, LengthUnit unit) {
  std::vector<std::vector<std::string>> rows{
      {upper_first(stage_words(c.at)) + " size, " + std::string(unit_name(unit)), "original",
       "replica", "difference", ""}};
  const auto add = [&](const std::string& name, const SizeDifference& d, const auto& words) {
    rows.push_back({name, words(d.original), words(d.replica), words(d.together()),
                    std::string(comparison_words(d.verdict))});
  };
  for (const ComparedSize& size : c.sizes) {
    const bool volume = size.name == SizeName::kCapacity;
    add(std::string(size_words(size.name)) + (volume ? ", ml" : ""), size.difference,
        [&](const Measured& m) {
          return words_of(volume ? volume_figure(m) : length_figure(m, unit));
        });
  }
  for (const ComparedProportion& p : c.proportions) {
    constexpr int kDecimals = 3;
    add(p.words, p.difference, [](const Measured& m) { return words_of(figure(m, kDecimals)); });
  }
  return table_piece("Sizes", {{0.0}, {70.0, true}, {95.0, true}, {121.0, true}, {124.0}}, rows);
}

// The largest of the usual scales that fits, or the smallest of them.
template <typename Fits>
double largest_scale(const Fits& fits) {
  constexpr std::array<double, 8> kScales{1.0,       1.0 / 2.0, 1.0 / 3.0, 1.0 / 4.0,
                                          1.0 / 5.0, 0.1,       0.05,      0.02};
  const auto found = std::find_if(kScales.begin(), kScales.end(), fits);
  return found == kScales.end() ? kScales.back() : *found;
}

struct SectionOf {
  std::string title;
  const std::vector<ProfilePoint>& rows;
  std::optional<double> wall_mm;
};

// Nothing where there is no outline, or none that a wall so thick fits.
std::optional<Pattern> section_piece(const SectionOf& one, std::vector<std::string> words,
                                     double scale) {
  constexpr double kLineMm = 0.6;  // on paper, for a wall that is not known
  if (one.rows.size() < 2) return std::nullopt;
  const Result<Profile> profile = compared_profile(one.rows);
  const Result<TotalShrinkage> none = TotalShrinkage::from_percent_of_wet(0.0, 0.0);
  if (!profile || !none) return std::nullopt;
  const double wall = one.wall_mm.value_or(kLineMm / scale);
  words.push_back(one.wall_mm ? "Wall " + fixed_text(*one.wall_mm, 1) + " mm, as stated"
                              : "Wall not known");
  const PatternVessel vessel{.fired = *profile,
                             .band = {},
                             .shrinkage = *none,
                             .wall = {wall, wall},
                             .original_sizes = std::move(words)};
  PatternChoices choices;
  choices.section_scale = scale;
  Result<std::vector<Pattern>> pieces = patterns_of(PatternKind::kSection, vessel, choices);
  if (!pieces || pieces->empty()) return std::nullopt;
  std::vector<Pattern> all = std::move(pieces).value();
  return std::move(all.front());
}

}  // namespace

std::optional<Pattern> comparison_drawing(const VesselComparison& comparison, double most_width_mm,
                                          double most_height_mm, double& scale) {
  if (!comparison.shape || comparison.original_rows.size() < 2) return std::nullopt;
  const ShapeDifference& shape = *comparison.shape;
  ComparedOutlines outlines{
      comparison.original_rows, comparison.replica_rows, {}, shape.scale.value, {}};
  double height = 0.0;
  for (const GapRow& row : shape.scaled) {
    outlines.matched.push_back(row.at);
    const Measured& gap = row.gap_mm;
    outlines.gaps.push_back({row.at.height_mm, gap.value, (gap.high95 - gap.low95) / 2.0,
                             row.together_mm, row.differs});
    height = std::max(height, row.at.height_mm);
  }
  for (const ProfilePoint& p : outlines.original) height = std::max(height, p.height_mm);
  scale = largest_scale([&](double at) {
    return compared_width_mm(outlines, at) <= most_width_mm && height * at <= most_height_mm;
  });
  return compared_outlines(outlines, scale);
}

Result<Profile> compared_profile(const std::vector<ProfilePoint>& rows) {
  constexpr std::size_t kControls = 40;
  return Profile::through(rows, kControls);
}

std::vector<Pattern> comparison_sections(const VesselComparison& comparison, LengthUnit unit,
                                         double& scale) {
  const std::vector<SectionOf> both{
      {comparison.original, comparison.original_rows, comparison.original_wall_mm},
      {comparison.replica, comparison.replica_rows, comparison.replica_wall_mm}};
  double widest = 0.0;
  double highest = 0.0;
  for (const SectionOf& one : both) {
    for (const ProfilePoint& p : one.rows) {
      widest = std::max(widest, p.radius_mm);
      highest = std::max(highest, p.height_mm);
    }
  }
  constexpr double kMostWidthMm = 74.0;  // two beside each other
  constexpr double kMostHeightMm = 90.0;
  scale = largest_scale([&](double at) {
    return 2.0 * widest * at <= kMostWidthMm && highest * at <= kMostHeightMm;
  });
  std::vector<Pattern> pieces;
  for (std::size_t i = 0; i < both.size(); ++i) {
    std::vector<std::string> words{both[i].title};
    for (const ComparedSize& size : comparison.sizes) {
      if (size.name != SizeName::kHeight && size.name != SizeName::kMaxDiameter) continue;
      const Measured& m = i == 0 ? size.difference.original : size.difference.replica;
      words.push_back(std::string(size_words(size.name)) + " " + words_of(length_figure(m, unit)) +
                      " " + std::string(unit_name(unit)));
    }
    std::optional<Pattern> piece = section_piece(both[i], std::move(words), scale);
    if (piece) pieces.push_back(*std::move(piece));
  }
  return pieces;
}

std::vector<PatternSheet> comparison_sheets(const VesselComparison& comparison, LengthUnit unit,
                                            std::vector<Pattern> more) {
  PatternSheet first;
  first.title = "Replica and original";
  first.size_words = std::string(stage_words(comparison.at)) + " size";
  first.for_making = false;
  double scale = 1.0;
  std::optional<Pattern> drawing =
      comparison_drawing(comparison, kSheetWidthMm, kDrawingHeightMm, scale);
  first.scale = drawing ? "1:" + fixed_text(1.0 / scale, 0) : "";
  first.how = {"Solid: " + comparison.original + ". Dashed: " + comparison.replica +
                   ". Grey: the gap's 95 % interval; between the faint lines all heights together.",
               "Heavy: where the shapes differ beyond doubt. The drawing is not for cutting."};
  first.pieces.push_back(words_of_comparison(comparison, unit));
  if (drawing) first.pieces.push_back(*std::move(drawing));
  if (!comparison.sizes.empty() || !comparison.proportions.empty()) {
    first.pieces.push_back(table_of_comparison(comparison, unit));
  }
  std::vector<PatternSheet> sheets{std::move(first)};
  double section_scale = 1.0;
  std::vector<Pattern> pieces = comparison_sections(comparison, unit, section_scale);
  const bool sections = !pieces.empty();
  for (Pattern& piece : more) pieces.push_back(std::move(piece));
  if (pieces.empty()) return sheets;
  PatternSheet second;
  second.title = "Both beside each other";
  second.size_words = sheets.front().size_words;
  second.for_making = false;
  second.scale = sections ? "1:" + fixed_text(1.0 / section_scale, 0) : "";
  if (sections) second.how = {"Left of each: the wall cut through. Right: the outside."};
  second.pieces = std::move(pieces);
  sheets.push_back(std::move(second));
  return sheets;
}

std::string comparison_title(const VesselComparison& comparison) {
  return comparison.replica + " and " + comparison.original;
}

std::string comparison_drawing_words(const VesselComparison& comparison) {
  return std::string(stage_words(comparison.at)) + " size, scale 1:1, millimetres";
}

Result<Pattern> comparison_at_true_size(const VesselComparison& comparison) {
  constexpr double kFar = 1e6;
  double scale = 1.0;
  std::optional<Pattern> drawing = comparison_drawing(comparison, kFar, kFar, scale);
  if (drawing) return *std::move(drawing);
  return Problem{Code::kCannotBeAnswered, "There are no two outlines to draw over each other.",
                 "Give both a scale and an outline.", ""};
}

Result<SheetPdf> comparison_pdf(const VesselComparison& comparison, const SheetChoices& choices,
                                std::vector<Pattern> more,
                                std::chrono::system_clock::time_point now) {
  const Result<TemplateRequest> facts = sheet_facts(comparison_title(comparison), choices, now);
  if (!facts) return facts.problem();
  return pattern_sheet_set(comparison_sheets(comparison, choices.unit, std::move(more)), *facts);
}

}  // namespace potshadow
