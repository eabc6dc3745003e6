// SPDX-License-Identifier: MIT
#include "desktop/words/cautions.h"

namespace potshadow {
namespace {

constexpr std::string_view kLast = "Local codes and licensed practice come first.";

}  // namespace

std::vector<std::string_view> cautions_for(Step step) {
  switch (step) {
    case Step::kPhoto:
      return {"Follow the museum's own rules on photographs.", kLast};
    case Step::kReference:
    case Step::kOutline:
      return {};
    case Step::kSizes:
      return {
          "Follow the museum's own rules on copying designs, and ask the community that a "
          "design belongs to.",
          "Put your maker's mark and the date on every replica, so that it can never pass for "
          "an original.",
          kLast};
    case Step::kClay:
      return {
          "Dust of dry clay, temper and grog holds silica that harms the lungs. Work wet, clean "
          "wet, and wear a fitted respirator.",
          "Firing in the open: follow the local rules on burning and use no accelerants. "
          "Protect eyes and hands, and have water at hand.",
          "Clays with lime lose strength, and may flake, if fired past the heat at which the "
          "lime breaks down.",
          "Low-fired and unglazed ware is not for food or drink unless it has been tested.", kLast};
    case Step::kPlan:
      return {"Mix clay and temper wet, and wear a fitted respirator where it is dry.", kLast};
    case Step::kCheck:
      return {
          "Low-fired and unglazed ware is not for food or drink unless it has been tested.",
          "Put your maker's mark and the date on it, so that it can never pass for an original.",
          kLast};
    case Step::kCompare:
      return {
          "Put your maker's mark and the date on every replica, so that it can never pass for an "
          "original.",
          "Low-fired and unglazed ware is not for food or drink unless it has been tested.", kLast};
    case Step::kTemplates:
      break;
  }
  return {"Cut templates away from your hand, with a sharp knife, on a firm mat.",
          "Put your maker's mark and the date on every replica, so that it can never pass for an "
          "original.",
          kLast};
}

}  // namespace potshadow
