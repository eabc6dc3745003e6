// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "project/answer_text.h"
#include "project/bench_report.h"
#include "project/clay_text.h"
#include "project/one_line.h"
#include "project/report.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

bool is_volume(SizeName name) { return name == SizeName::kCapacity; }

// The difference with the interval that the verdict goes by.
Measured judged(const BenchSize& size) {
  return {size.difference.value, size.difference.sd, size.together_low95, size.together_high95};
}

Figure figure_of(const Measured& m, bool volume, LengthUnit unit) {
  return volume ? volume_figure(m) : length_figure(m, unit);
}

std::string unit_words(bool volume, LengthUnit unit) {
  return volume ? " ml" : " " + std::string(unit_name(unit));
}

// "14 ± 10 mm", without a sign.
std::string amount(const BenchSize& size, LengthUnit unit) {
  Measured off = judged(size);
  if (off.value < 0.0) off = {-off.value, off.sd, -off.high95, -off.low95};
  const bool volume = size.kind == PartKind::kCapacity;
  return words_of(figure_of(off, volume, unit)) + unit_words(volume, unit);
}

std::string short_verdict(Verdict verdict) {
  constexpr std::array<const char*, 4> kWords{"right", "larger", "smaller", "cannot tell yet"};
  return kWords.at(static_cast<std::size_t>(verdict));
}

bool is_off(const BenchSize& size) {
  return size.verdict == Verdict::kLarger || size.verdict == Verdict::kSmaller;
}

std::string percent_off(const BenchSize& size) {
  return fixed_text(100.0 * std::abs(size.difference.value) / size.target.value, 1) + " %";
}

std::string table_text(const BenchAnswer& answer, LengthUnit unit) {
  FigureColumn measured;
  FigureColumn target;
  FigureColumn difference;
  FigureColumn fired;
  for (std::size_t i = 0; i < answer.names.size(); ++i) {
    const BenchSize& size = answer.check.sizes[i];
    const bool volume = is_volume(answer.names[i]);
    measured.add(figure_of(size.measured, volume, unit));
    target.add(figure_of(size.target, volume, unit));
    difference.add(figure_of(judged(size), volume, unit));
    fired.add(figure_of(size.fired, volume, unit));
  }
  const bool is_fired = answer.check.stage == Stage::kFired;
  std::vector<bool> right{false, true, true, true, false};
  std::vector<std::string> heading{std::string(unit_name(unit)), "it is", "it should be",
                                   "difference", "verdict"};
  if (!is_fired) {
    right.push_back(true);
    heading.emplace_back("when fired");
  }
  Table table(right);
  table.add(heading);
  for (std::size_t i = 0; i < answer.names.size(); ++i) {
    std::vector<std::string> cells{
        std::string(size_words(answer.names[i])) + (is_volume(answer.names[i]) ? ", ml" : ""),
        measured.middle(i), target.middle(i), difference.middle(i),
        short_verdict(answer.check.sizes[i].verdict)};
    if (!is_fired) cells.push_back(fired.middle(i));
    table.add(cells);
  }
  return table.text();
}

std::string first_text(const BenchAnswer& answer, LengthUnit unit) {
  const BenchCheck& check = answer.check;
  if (check.first) {
    const BenchSize& size = check.sizes[*check.first];
    return wrapped("! ", "Correct first " + size_in_sentence(answer.names[*check.first]) +
                             ": it is " + verdict_words(size, unit) + ", " + percent_off(size) +
                             ". " + correction_words(size));
  }
  const bool any_off = std::any_of(check.sizes.begin(), check.sizes.end(), is_off);
  if (any_off) {
    return wrapped("! ", check.stage == Stage::kFired
                             ? "It is fired: what is off can only be made anew."
                             : "What is off cannot be corrected any more at this stage.");
  }
  return "";
}

// The greatest doubt of the sizes that cannot be told, the widest of them first.
std::string doubts_text(const BenchAnswer& answer) {
  std::string out;
  std::array<std::string, 3> sizes;
  for (std::size_t i = 0; i < answer.names.size(); ++i) {
    const BenchSize& size = answer.check.sizes[i];
    if (size.verdict != Verdict::kCannotTell) continue;
    std::string& list = sizes.at(static_cast<std::size_t>(size.greatest));
    list += (list.empty() ? "" : ", ") + size_in_sentence(answer.names[i]);
  }
  for (std::size_t doubt = 0; doubt < sizes.size(); ++doubt) {
    if (sizes.at(doubt).empty()) continue;
    out += wrapped("- ", "Cannot be told yet: " + sizes.at(doubt) + ". " +
                             doubt_words(static_cast<BenchDoubt>(doubt)));
  }
  return out;
}

}  // namespace

std::string verdict_words(const BenchSize& size, LengthUnit unit) {
  if (is_off(size)) return short_verdict(size.verdict) + " by " + amount(size, unit);
  if (size.verdict == Verdict::kCannotTell) return short_verdict(size.verdict);
  const bool volume = size.kind == PartKind::kCapacity;
  return "right, to within ± " + figure_of(judged(size), volume, unit).plus_minus +
         unit_words(volume, unit);
}

std::string correction_words(const BenchSize& size) {
  const bool larger = size.difference.value > 0.0;
  if (size.correction == Correction::kNothing) return "";
  if (size.correction == Correction::kCutOnly) {
    return size.kind == PartKind::kHeight
               ? "Cut the rim down; add the rest of the shrinkage before you cut."
               : "Pare or scrape the wall down, as far as its thickness allows.";
  }
  switch (size.kind) {
    case PartKind::kHeight:
      return larger ? "Cut the rim down while it is wet." : "Add to the rim while it is wet.";
    case PartKind::kDiameter:
      return larger ? "Press the wall in while it is wet." : "Push the wall out while it is wet.";
    default:
      return larger ? "Move the form down while it is wet." : "Move the form up while it is wet.";
  }
}

std::string doubt_words(BenchDoubt doubt) {
  switch (doubt) {
    case BenchDoubt::kPhotograph:
      return "The photograph of the original leaves most open; 'potshadow measure' says what would "
             "narrow it.";
    case BenchDoubt::kClay:
      return "The clay leaves most open; more test bars would narrow it.";
    case BenchDoubt::kBench:
      break;
  }
  return "The measuring on the bench leaves most open; measure at more places round the pot, or "
         "take its girth.";
}

std::string bench_text(const Measurement& original, const BenchAnswer& answer,
                       const PotEvidence& evidence, const std::string& file, LengthUnit unit) {
  const BenchCheck& check = answer.check;
  std::string out = on_one_line(title_of(original.project, file)) + ": the pot on the bench, " +
                    std::string(stage_words(check.stage)) + "\n";
  const std::string guessed = guessed_scale_words(original, unit);
  if (!guessed.empty()) out += wrapped("! ", guessed);
  out += table_text(answer, unit);
  std::string about = "Each ± is a 95 % interval";
  about += check.sizes.size() > 1
               ? "; those of the differences are wide enough to hold all at once."
               : ".";
  if (check.stage != Stage::kFired && original.clay) {
    const std::string& name = original.clay->name;
    about += " By " + on_one_line(name.empty() ? "the clay" : name) + ": " +
             clay_sentence(original.clay->figures);
  }
  out += wrapped("  ", about);
  out += first_text(answer, unit) + doubts_text(answer) + evidence_text(evidence);
  if (!answer.notes.empty()) out += "\nNotes\n";
  for (const Note& note : answer.notes) {
    out += wrapped(note.doubtful ? "! " : "- ", on_one_line(note.text));
  }
  return out;
}

}  // namespace potshadow
