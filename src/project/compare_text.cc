// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "project/answer_text.h"
#include "project/clay_text.h"
#include "project/compare_report.h"
#include "project/csv_text.h"
#include "project/json_text.h"
#include "project/stages_report.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr std::size_t kMostListed = 3;  // in the paragraph

Measured percent_over(const Measured& ratio) {
  return {100.0 * (ratio.value - 1.0), 100.0 * ratio.sd, 100.0 * (ratio.low95 - 1.0),
          100.0 * (ratio.high95 - 1.0)};
}

std::string percent_words(double percent) {
  return fixed_text(std::abs(percent), 1) + " % " + (percent < 0.0 ? "smaller" : "larger");
}

std::string in_words(const Measured& mm, LengthUnit unit) {
  return words_of(length_figure(mm, unit)) + " " + std::string(unit_name(unit));
}

Measured magnitude(const Measured& m) {
  return m.value < 0.0 ? Measured{-m.value, m.sd, -m.high95, -m.low95} : m;
}

std::string height_words(double mm, LengthUnit unit) {
  return fixed_text(in_unit(Mm{mm}, unit), unit == LengthUnit::kMm ? 0 : 1);
}

std::string place_words(const ShapeDifference& shape, const DifferentPlace& place,
                        LengthUnit unit) {
  const Measured& gap = shape.scaled[place.row].gap_mm;
  std::string words = in_words(magnitude(gap), unit);
  words += gap.value > 0.0 ? " farther out" : " farther in";
  const std::string low = height_words(place.low_mm, unit);
  const std::string high = height_words(place.high_mm, unit);
  words += " at the " + std::string(part_words(place.part)) + " (" + low +
           (low == high ? "" : " to " + high) + " " + std::string(unit_name(unit)) + " up)";
  return words;
}

std::string listed(const std::vector<std::string>& items) {
  std::string out;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) out += i + 1 == items.size() ? " and " : ", ";
    out += items[i];
  }
  return out;
}

std::string scale_sentence(const VesselComparison& c) {
  const Measured percent = percent_over(c.shape->scale);
  const std::string between =
      "between " + percent_words(percent.low95) + " and " + percent_words(percent.high95);
  switch (c.scale_verdict) {
    case Comparison::kLarger:
    case Comparison::kSmaller:
      return "Taken as a whole, " + c.replica + " is " + percent_words(percent.value) + " than " +
             c.original + " (" + between + ").";
    case Comparison::kSame:
      return "Taken as a whole, " + c.replica + " is as large as " + c.original + ", to within " +
             fixed_text(std::max(std::abs(percent.low95), std::abs(percent.high95)), 1) + " %.";
    case Comparison::kCannotTell:
      break;
  }
  return "Whether " + c.replica + " is larger or smaller than " + c.original +
         " as a whole cannot be told: it is " + between + ".";
}

std::string shape_sentence(const VesselComparison& c, LengthUnit unit) {
  if (c.shape->places.empty()) {
    return " Once both are brought to one size, no part of its outline is different beyond doubt.";
  }
  std::vector<std::string> items;
  for (const DifferentPlace& place : c.shape->places) {
    if (items.size() == kMostListed) break;
    items.push_back(place_words(*c.shape, place, unit));
  }
  return " Once both are brought to one size, it is " + listed(items) + ".";
}

// Every size is told of, once.
std::string sizes_sentence(const VesselComparison& c, LengthUnit unit) {
  std::vector<std::string> off;
  std::vector<std::string> same;
  std::vector<std::string> open;
  for (const ComparedSize& size : c.sizes) {
    const SizeDifference& d = size.difference;
    const std::string name = size_in_sentence(size.name);
    if (d.verdict == Comparison::kSame) same.push_back(name);
    if (d.verdict == Comparison::kCannotTell) open.push_back(name);
    if (d.verdict != Comparison::kLarger && d.verdict != Comparison::kSmaller) continue;
    const Measured most = magnitude(d.together());
    off.push_back(name + " by " +
                  (size.name == SizeName::kCapacity ? words_of(volume_figure(most)) + " ml"
                                                    : in_words(most, unit)) +
                  (d.verdict == Comparison::kLarger ? " too large" : " too small"));
  }
  std::string out;
  if (!off.empty()) out += " Off beyond doubt: " + listed(off) + ".";
  if (!same.empty()) {
    out += " The same to within " + fixed_text(kSamePercent, 0) + " %: " + listed(same) + ".";
  }
  if (!open.empty()) {
    out += " It cannot be told whether " + listed(open) +
           (open.size() == 1 ? " differs." : " differ.");
  }
  return out;
}

// What is another shape by its proportions alone.
std::string proportions_sentence(const VesselComparison& c) {
  std::vector<std::string> off;
  for (const ComparedProportion& p : c.proportions) {
    const SizeDifference& d = p.difference;
    if (d.verdict != Comparison::kLarger && d.verdict != Comparison::kSmaller) continue;
    constexpr int kDecimals = 3;
    off.push_back(lower_first(p.words) + " (" + fixed_text(d.replica.value, kDecimals) + " for " +
                  fixed_text(d.original.value, kDecimals) + ")");
  }
  if (off.empty()) return "";
  return (off.size() == 1 ? " One proportion is another beyond doubt: "
                          : " These proportions are others beyond doubt: ") +
         listed(off) + ".";
}

// "Shelf jar was measured fired." or "... measured wet; its clay, Buff mix, shrinks by 12.0 ± 1.0 %
// of the wet length till it is fired."
std::string side_sentence(const std::string& title, Stage stage, Stage at,
                          const std::string& clay_name,
                          const std::optional<LinearShrinkage>& shrinkage) {
  std::string out = title + " was measured " + std::string(stage_words(stage));
  const std::string clay = clay_name.empty() ? "" : ", " + clay_name + ",";
  if (!shrinkage) return out + (clay_name.empty() ? "." : ", of " + clay_name + ".");
  out += stage < at ? "; its clay" + clay + " shrinks by "
                    : "; when it was " + std::string(stage_words(at)) + " its clay" + clay +
                          " had yet to shrink by ";
  out += percent_words(*shrinkage) + " " + basis_words(shrinkage->from);
  return out + (stage < at ? " till it is " + std::string(stage_words(at)) + "." : ".");
}

std::string sizes_table(const VesselComparison& c, LengthUnit unit) {
  Table table({false, true, true, true, false});
  table.add({std::string(unit_name(unit)), "original", "replica", "difference", ""});
  for (const ComparedSize& size : c.sizes) {
    const SizeDifference& d = size.difference;
    const bool volume = size.name == SizeName::kCapacity;
    const auto words = [&](const Measured& m) {
      return words_of(volume ? volume_figure(m) : length_figure(m, unit));
    };
    table.add({std::string(size_words(size.name)) + (volume ? ", ml" : ""), words(d.original),
               words(d.replica), words(d.together()), std::string(comparison_words(d.verdict))});
  }
  return table.text();
}

std::string proportions_table(const VesselComparison& c) {
  Table table({false, true, true, true, false});
  for (const ComparedProportion& p : c.proportions) {
    const SizeDifference& d = p.difference;
    constexpr int kDecimals = 3;
    const auto words = [&](const Measured& m) { return words_of(figure(m, kDecimals)); };
    table.add({p.words, words(d.original), words(d.replica), words(d.together()),
               std::string(comparison_words(d.verdict))});
  }
  return table.text();
}

std::string shape_text(const VesselComparison& c, LengthUnit unit) {
  const ShapeDifference& shape = *c.shape;
  constexpr int kDecimals = 3;
  Table table({false, true});
  table.add({"Replica over original, all over", words_of(figure(shape.scale, kDecimals))});
  table.add({"of heights alone", words_of(figure(shape.upright_scale, kDecimals))});
  table.add({"of widths alone", words_of(figure(shape.across_scale, kDecimals))});
  std::string out = table.text();
  out += wrapped(
      "  ", "Once both are brought to one size, the outlines are " +
                fixed_text(in_unit(Mm{shape.rms_mm}, unit), unit == LengthUnit::kMm ? 1 : 2) + " " +
                std::string(unit_name(unit)) + " apart (root of the mean square), with " +
                fixed_text(shape.area_mm2 / 100.0, 1) + " cm² between them on each side.");
  for (const DifferentPlace& place : shape.places) {
    out += wrapped("- ", place_words(shape, place, unit) + ".");
  }
  if (shape.places.empty()) out += wrapped("- ", "No part is different beyond doubt.");
  return out;
}

Json difference_json(const SizeDifference& d) {
  return {{"original", measured_json(d.original)},
          {"replica", measured_json(d.replica)},
          {"difference", measured_json(d.difference)},
          {"judged_by", d.judged_by},
          {"verdict", comparison_key(d.verdict)}};
}

Json rows_json(const std::vector<GapRow>& rows) {
  Json out = Json::array();
  for (const GapRow& row : rows) {
    out.push_back({{"height_mm", row.at.height_mm},
                   {"radius_mm", row.at.radius_mm},
                   {"part", part_words(row.part)},
                   {"gap_mm", measured_json(row.gap_mm)},
                   {"together_mm", row.together_mm},
                   {"differs", row.differs}});
  }
  return out;
}

Json shape_json(const ShapeDifference& shape) {
  Json out = {{"scale", measured_json(shape.scale)},
              {"upright_scale", measured_json(shape.upright_scale)},
              {"across_scale", measured_json(shape.across_scale)},
              {"area_mm2", shape.area_mm2},
              {"rms_mm", shape.rms_mm}};
  out["places"] = Json::array();
  for (const DifferentPlace& place : shape.places) {
    out["places"].push_back({{"part", part_words(place.part)},
                             {"from_mm", place.low_mm},
                             {"to_mm", place.high_mm},
                             {"gap_mm", measured_json(shape.scaled[place.row].gap_mm)}});
  }
  out["as_made"] = rows_json(shape.as_made);
  out["scaled"] = rows_json(shape.scaled);
  return out;
}

}  // namespace

std::string_view comparison_words(Comparison verdict) {
  switch (verdict) {
    case Comparison::kSame:
      return "the same, within the doubt";
    case Comparison::kLarger:
      return "larger";
    case Comparison::kSmaller:
      return "smaller";
    case Comparison::kCannotTell:
      return "cannot be told";
  }
  return "";
}

std::string comparison_sides(const VesselComparison& c) {
  return side_sentence(c.original, c.original_stage, c.at, c.original_clay_name,
                       c.original_shrinkage) +
         " " + side_sentence(c.replica, c.stage, c.at, c.clay_name, c.shrinkage);
}

std::string comparison_paragraph(const VesselComparison& c, LengthUnit unit) {
  std::string out;
  if (c.shape) out += scale_sentence(c) + shape_sentence(c, unit);
  if (!c.sizes.empty()) out += sizes_sentence(c, unit);
  out += proportions_sentence(c);
  return out.starts_with(' ') ? out.substr(1) : out;
}

std::string comparison_text(const VesselComparison& c, LengthUnit unit) {
  std::string out = c.replica + " against " + c.original + "\n";
  out += wrapped("  ", comparison_sides(c));
  const std::string paragraph = comparison_paragraph(c, unit);
  if (!paragraph.empty()) out += wrapped("  ", paragraph);
  if (!c.sizes.empty()) {
    out += "\nSizes, " + std::string(stage_words(c.at)) + "\n" + sizes_table(c, unit);
    out += wrapped(
        "  ",
        "Each ± is a 95 % interval; those of the differences are wide enough to hold all at "
        "once: of 100 pairs of like pots at most 5 have anything called different.");
  }
  for (const std::string& words : c.missing) out += wrapped("- ", words);
  if (!c.proportions.empty()) out += "\nProportions\n" + proportions_table(c);
  if (c.shape) out += "\nShape\n" + shape_text(c, unit);
  if (!c.notes.empty()) out += "\nNotes\n";
  for (const Note& note : c.notes) out += wrapped(note.doubtful ? "! " : "- ", note.text);
  return out;
}

std::string comparison_json(const VesselComparison& c) {
  Json json = {{"original", c.original},
               {"replica", c.replica},
               {"stage", stage_key(c.stage)},
               {"original_stage", stage_key(c.original_stage)},
               {"compared_at", stage_key(c.at)},
               {"shared_scale_sd", c.shared_scale_sd},
               {"summary", comparison_paragraph(c, LengthUnit::kMm)}};
  json["sizes_mm"] = Json::object();
  for (const ComparedSize& size : c.sizes) {
    const bool volume = size.name == SizeName::kCapacity;
    if (!volume)
      json["sizes_mm"][std::string(size_key(size.name))] = difference_json(size.difference);
    if (volume) json["capacity_ml"] = difference_json(size.difference);
  }
  json["proportions"] = Json::object();
  for (const ComparedProportion& p : c.proportions) {
    json["proportions"][p.key] = difference_json(p.difference);
  }
  json["scale_verdict"] = c.shape ? Json(comparison_key(c.scale_verdict)) : Json();
  json["shape"] = c.shape ? shape_json(*c.shape) : Json();
  json["notes"] = Json::array();
  for (const Note& note : c.notes) {
    json["notes"].push_back({{"text", note.text}, {"doubtful", note.doubtful}});
  }
  return json_text({{"format", 1}, {"comparison", std::move(json)}});
}

std::string comparison_csv(const VesselComparison& c) {
  std::string out = "profile,height_mm,radius_mm,part,gap_mm,sd,low95,high95,together,differs\r\n";
  const auto add = [&](const char* what, const std::vector<GapRow>& rows) {
    for (const GapRow& row : rows) {
      out += std::string(what) + "," + csv_number(row.at.height_mm) + "," +
             csv_number(row.at.radius_mm) + "," + std::string(part_words(row.part)) + "," +
             csv_number(row.gap_mm.value) + "," + csv_number(row.gap_mm.sd) + "," +
             csv_number(row.gap_mm.low95) + "," + csv_number(row.gap_mm.high95) + "," +
             csv_number(row.together_mm) + "," + (row.differs ? "1" : "0") + "\r\n";
    }
  };
  if (c.shape) {
    add("as_made", c.shape->as_made);
    add("scaled", c.shape->scaled);
  }
  return out;
}

}  // namespace potshadow
