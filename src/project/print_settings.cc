// SPDX-License-Identifier: MIT
#include "project/print_settings.h"

namespace potshadow {

std::string_view printed_word(Printed printed) {
  constexpr std::array<std::string_view, kPrinted.size()> kWords{
      "profile", "rib", "rings",  "stick", "cradle", "lid",  "section",
      "bench",   "all", "strips", "bands", "wall",   "solid"};
  return kWords.at(static_cast<std::size_t>(printed));
}

bool is_unrolled(Printed printed) {
  return printed == Printed::kStrips || printed == Printed::kBands || printed == Printed::kWall;
}

std::vector<SheetFormat> formats_of(Printed printed) {
  using enum SheetFormat;
  switch (printed) {
    case Printed::kBench:
      return {kPdf};
    case Printed::kStrips:
    case Printed::kBands:
    case Printed::kWall:
      return {kPdf, kPng};
    case Printed::kSolid:
      return {kStl, kObj};
    case Printed::kProfile:
    case Printed::kRib:
    case Printed::kCradle:
      return {kPdf, kSvg, kDxf, kStl, kObj};
    default:
      return {kPdf, kSvg, kDxf};
  }
}

std::string_view format_ending(SheetFormat format) {
  constexpr std::array<std::string_view, 6> kEndings{".pdf", ".png", ".svg",
                                                     ".dxf", ".stl", ".obj"};
  return kEndings.at(static_cast<std::size_t>(format));
}

}  // namespace potshadow
