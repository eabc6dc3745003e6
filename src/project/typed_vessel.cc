// SPDX-License-Identifier: MIT
#include "project/typed_vessel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <optional>
#include <utility>

#include "core/text.h"
#include "project/answer_text.h"
#include "project/one_line.h"
#include "project/typed_outline.h"
#include "project/typed_pot.h"

namespace potshadow {
namespace {

constexpr double kLeastMm = 5.0;  // a pot smaller or larger than this was typed in another unit
constexpr double kMostMm = 3000.0;

std::string with_words(const MeasuredSize& size) {
  return std::string(size_words(size.name)) + " " + fixed_text(size.measured.value, 1) + " mm";
}

// What sizes of one pot cannot be.
std::optional<Problem> contradiction(const ComparedVessel& vessel) {
  const auto next = "Check the figures and the unit in '" + on_one_line(vessel.file) + "'.";
  for (const MeasuredSize& size : vessel.sizes) {
    if (size.name == SizeName::kCapacity) continue;
    const bool small_part = size.name != SizeName::kHeight && size.name != SizeName::kMaxDiameter;
    if ((small_part || size.measured.value >= kLeastMm) && size.measured.value <= kMostMm) continue;
    return Problem{Code::kBadValue,
                   with_words(size) + " is no size of a pot. Is it in another unit?", next, ""};
  }
  struct Order {
    SizeName less;
    SizeName more;
  };
  constexpr std::array<Order, 5> kOrders{{{SizeName::kNeckDiameter, SizeName::kMaxDiameter},
                                          {SizeName::kRimDiameter, SizeName::kMaxDiameter},
                                          {SizeName::kBaseDiameter, SizeName::kMaxDiameter},
                                          {SizeName::kHeightOfMax, SizeName::kHeight},
                                          {SizeName::kHeightOfNeck, SizeName::kHeight}}};
  for (const Order& order : kOrders) {
    const MeasuredSize* const less = find_size(vessel, order.less);
    const MeasuredSize* const more = find_size(vessel, order.more);
    if (less == nullptr || more == nullptr) continue;
    const double doubt = kNormal95 * std::hypot(less->measured.sd, more->measured.sd);
    if (less->measured.value - more->measured.value <= doubt) continue;
    return Problem{Code::kBadValue,
                   with_words(*less) + " is more than " + lower_first(with_words(*more)) +
                       ", which cannot be of one pot.",
                   next, ""};
  }
  return std::nullopt;
}

// Takes what the outline gives: all, but for the sizes that were typed.
void take_outline(TypedOutline outline, ComparedVessel& vessel) {
  for (const OutlineGap& gap : outline.gaps) {
    vessel.notes.push_back({"Between " + fixed_text(gap.low_mm, 0) + " and " +
                                fixed_text(gap.high_mm, 0) +
                                " mm up the profile has a gap, and is taken straight there.",
                            true});
  }
  for (const MeasuredSize& drawn : outline.sizes) {
    const MeasuredSize* const typed = find_size(vessel, drawn.name);
    if (typed == nullptr) {
      vessel.sizes.push_back(drawn);
      continue;
    }
    if (drawn.name != SizeName::kMaxDiameter) continue;
    const double apart = typed->measured.value - drawn.measured.value;
    if (std::abs(apart) <= kNormal95 * std::hypot(typed->measured.sd, drawn.measured.sd)) continue;
    vessel.notes.push_back({"The typed maximum diameter and the profile's (" +
                                fixed_text(drawn.measured.value, 1) + " mm) disagree.",
                            true});
  }
  vessel.form = std::move(outline.form);
  vessel.kind = std::move(outline.kind);
}

Result<ComparedVessel> vessel_of(const TypedStage& typed, const TypedPot& pot,
                                 const std::string& file, Stage stage) {
  ComparedVessel vessel;
  vessel.title =
      pot.name.empty() ? on_one_line(std::filesystem::path(file).stem().string()) : pot.name;
  vessel.file = file;
  vessel.stage = typed.stage.value_or(stage);
  vessel.sizes = typed.sizes;
  if (!typed.outline.empty()) {
    Result<TypedOutline> outline = typed_outline(typed, file);
    if (!outline) return outline.problem();
    take_outline(std::move(outline).value(), vessel);
  }
  std::sort(vessel.sizes.begin(), vessel.sizes.end(),
            [](const MeasuredSize& a, const MeasuredSize& b) { return a.name < b.name; });
  if (auto problem = contradiction(vessel)) return *problem;
  add_proportions(vessel);
  return vessel;
}

}  // namespace

bool names_typed_vessel(const std::string& file) {
  std::string ending = std::filesystem::path(file).extension().string();
  for (char& c : ending) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return ending == ".txt" || ending == ".csv";
}

Result<std::vector<ComparedVessel>> typed_vessels(std::string_view text, const std::string& file,
                                                  Stage stage, const Result<ClayBook>& book) {
  if (text.find('\0') != std::string_view::npos) {
    return Problem{Code::kBadFormat, "'" + on_one_line(file) + "' is no text.",
                   "Give a text with a line for each size, as 'height = 235 ± 2'.", ""};
  }
  const Result<TypedPot> pot = read_typed_pot(text, file);
  if (!pot) return pot.problem();
  std::optional<ProjectClayFigures> clay;
  if (pot->clay) {
    Project project;
    project.clay = pot->clay;
    const bool by_record = !project.clay->record.empty() && !project.clay->shrinkage_percent;
    if (by_record && !book) return book.problem();
    const auto found = project_clay(project, book ? *book : ClayBook());
    if (!found) return found.problem();
    clay = *found;
  }
  std::vector<ComparedVessel> vessels;
  for (const TypedStage& typed : pot->stages) {
    if (!typed.holds_anything()) continue;
    Result<ComparedVessel> vessel = vessel_of(typed, *pot, file, stage);
    if (!vessel) return vessel.problem();
    vessels.push_back(std::move(vessel).value());
    vessels.back().clay = clay;
  }
  if (vessels.empty()) {
    return Problem{Code::kTooFewMarks, "'" + on_one_line(file) + "' gives no size and no profile.",
                   "Write a line for each size, as 'height = 235 ± 2'.", ""};
  }
  return vessels;
}

}  // namespace potshadow
