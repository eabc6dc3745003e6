// SPDX-License-Identifier: MIT
#include "desktop/words/print_words.h"

#include "core/text.h"

namespace potshadow {
namespace {

struct PrintedWords {
  std::string_view title;
  std::string_view note;
};

PrintedWords words_of(Printed printed) {
  switch (printed) {
    case Printed::kProfile:
      return {"Profile gauge", "A card held against the outside of the pot while it is built."};
    case Printed::kRib:
      return {"Inside rib", "A rib that gives the inside its form."};
    case Printed::kRings:
      return {"Ring gauges", "Half rings laid round rim, neck, widest place and foot."};
    case Printed::kStick:
      return {"Height stick", "The height of every feature, to stand beside the pot."};
    case Printed::kCradle:
      return {"Cradle template", "To turn the cradle (puki) with that holds the lower part."};
    case Printed::kLid:
      return {"Lid seat", "Gauges for the mouth and for the flange of a lid."};
    case Printed::kSection:
      return {"Section drawing",
              "Wall and inside on the left, outside on the right, at the original's size."};
    case Printed::kBench:
      return {"Bench sheet", "One page for the wall: sizes, clay, cradle, coils, cautions."};
    case Printed::kAll:
      return {"All sheets", "All of the above but the lid, as far as this pot can have them."};
    case Printed::kStrips:
      return {"Painting, in strips",
              "The painting off the photographs, on strips that wrap round the pot."};
    case Printed::kBands:
      return {"Painting, by bands", "A strip for each painted band that the step Plan names."};
    case Printed::kWall:
      return {"Painting, laid flat", "The whole wall as one picture, by angle and along the wall."};
    case Printed::kSolid:
      break;
  }
  return {"Vessel as a solid",
          "For a printer or a mill that makes solids. Its section is shown here, at the "
          "original's size."};
}

std::string measured(double scale) { return fixed_text(100.0 * scale, 2); }

}  // namespace

std::string_view printed_title(Printed printed) { return words_of(printed).title; }
std::string_view printed_note(Printed printed) { return words_of(printed).note; }

bool has_hands(Printed printed) {
  return printed == Printed::kProfile || printed == Printed::kRib || printed == Printed::kRings ||
         printed == Printed::kCradle || printed == Printed::kAll;
}

std::string_view page_way_title(PageWay way) {
  switch (way) {
    case PageWay::kUpright:
      return "Upright";
    case PageWay::kLying:
      return "Lying";
    case PageWay::kFewest:
      break;
  }
  return "As takes fewest";
}

std::string_view format_title(SheetFormat format) {
  switch (format) {
    case SheetFormat::kPng:
      return "PNG";
    case SheetFormat::kSvg:
      return "SVG";
    case SheetFormat::kDxf:
      return "DXF";
    case SheetFormat::kStl:
      return "STL";
    case SheetFormat::kObj:
      return "OBJ";
    case SheetFormat::kPdf:
      break;
  }
  return "PDF";
}

std::string_view format_note(SheetFormat format) {
  switch (format) {
    case SheetFormat::kPng:
      return "The picture alone, of the part that is shown. It knows its size.";
    case SheetFormat::kSvg:
      return "For a laser, a plotter or a drawing program, in millimetres, on layers to cut, to "
             "mark and to write.";
    case SheetFormat::kDxf:
      return "For a laser or a plotter, in millimetres, on layers to cut, to mark and to write.";
    case SheetFormat::kStl:
      return "A closed solid in millimetres, for a printer or a mill that makes solids.";
    case SheetFormat::kObj:
      return "A closed solid in millimetres, for a program that models solids.";
    case SheetFormat::kPdf:
      break;
  }
  return "The pages, to be printed at 100 %.";
}

std::string printer_sentence(const OwnPrinter& printer) {
  return "100 mm come out as " + measured(printer.scale.across) + " across and " +
         measured(printer.scale.along) + " along the paper.";
}

std::string bars_sentence(const std::string& printer) {
  const std::string made = printer.empty() ? "made for no printer" : "made for '" + printer + "'";
  return "Print a sheet " + made +
         " at 100 % and measure its bars of 100 mm: across is along the paper's short side.";
}

std::string many_sheets_question(int pages) {
  return "That takes " + std::to_string(pages) +
         " sheets of paper. Check the size of the reference first.";
}

}  // namespace potshadow
