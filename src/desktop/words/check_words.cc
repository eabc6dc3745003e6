// SPDX-License-Identifier: MIT
#include "desktop/words/check_words.h"

#include <algorithm>

#include "desktop/words/figure_text.h"
#include "project/answer_text.h"
#include "project/clay_text.h"

namespace potshadow {
namespace {

std::string in_unit_words(const Measured& m, bool volume, LengthUnit unit) {
  const FigureText text = volume ? volume_figure(m) : length_figure(m, unit);
  return text.value + " ± " + text.plus_minus;
}

// As doubt_words, for those who have the window before them.
std::string open_words(BenchDoubt doubt) {
  if (doubt != BenchDoubt::kPhotograph) return doubt_words(doubt);
  return "The photograph of the original leaves most open; the Sizes step says what would help.";
}

bool is_off(const BenchSize& size) {
  return size.verdict == Verdict::kLarger || size.verdict == Verdict::kSmaller;
}

}  // namespace

std::string check_words(const BenchSize& size, LengthUnit unit) {
  std::string words = with_large_start(verdict_words(size, unit)) + ".";
  const std::string more = size.verdict == Verdict::kCannotTell ? open_words(size.greatest)
                           : is_off(size)                       ? correction_words(size)
                                                                : "";
  return more.empty() ? words : words + " " + more;
}

std::string when_fired_words(const BenchSize& size, Stage stage, LengthUnit unit) {
  if (stage == Stage::kFired) return "";
  const bool volume = size.kind == PartKind::kCapacity;
  const double original = size.fired.value - size.fired_difference.value;
  const int decimals = volume ? 0 : (unit == LengthUnit::kMm ? 1 : 2);
  return "Fired it will be " + in_unit_words(size.fired, volume, unit) + " " +
         (volume ? "ml" : std::string(unit_name(unit))) + "; the original has " +
         fixed_text(volume ? original : in_unit(Mm{original}, unit), decimals) + ".";
}

std::string target_words(const Measured& target, SizeName name, LengthUnit unit) {
  return in_unit_words(target, name == SizeName::kCapacity, unit);
}

bool has_size_off(const BenchAnswer& answer) {
  return std::any_of(answer.check.sizes.begin(), answer.check.sizes.end(), is_off);
}

std::string pot_sentence(const BenchAnswer& answer) {
  const std::vector<BenchSize>& sizes = answer.check.sizes;
  if (answer.check.first) {
    const BenchSize& size = sizes[*answer.check.first];
    return "Correct " + size_in_sentence(answer.names[*answer.check.first]) + " first. " +
           correction_words(size);
  }
  if (has_size_off(answer)) {
    return answer.check.stage == Stage::kFired
               ? "It is fired: what is off can only be made anew."
               : "What is off cannot be corrected any more at this stage.";
  }
  const auto open =
      static_cast<std::size_t>(std::count_if(sizes.begin(), sizes.end(), [](const BenchSize& size) {
        return size.verdict == Verdict::kCannotTell;
      }));
  if (open == 0) return "The pot is right, as far as it was measured.";
  if (open == sizes.size()) return "It cannot be told yet whether the pot is right.";
  return "What can be told of it is right; of " + counted(open, "size", "sizes") +
         " it cannot be told yet.";
}

std::string evidence_sentence(const StageEvidence& evidence) {
  return "From " + std::string(stage_words(evidence.from)) + " to " +
         std::string(stage_words(evidence.to)) + " this pot shrank by " +
         percent_words(evidence.pot.shrinkage) + " " + basis_words(evidence.from) + ", by " +
         counted(evidence.names.size(), "size", "sizes") + ".";
}

std::string tool_words(BenchTool tool) {
  switch (tool) {
    case BenchTool::kCaliper:
      return "Calipers";
    case BenchTool::kTape:
      return "Tape or ruler";
    case BenchTool::kGirth:
      break;
  }
  return "Tape laid round";
}

}  // namespace potshadow
