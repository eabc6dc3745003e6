// SPDX-License-Identifier: MIT
// What a template says in words, ready to be set.
#pragma once

#include <string>
#include <vector>

#include "sheets/template_sheet.h"

namespace potshadow {

// One row of the table; the figures in the request's unit. Empty figures leave the cell empty.
struct SizeWords {
  std::string words;     // "Height", "Capacity, ml"
  std::string fired;     // "235.4"
  std::string fired_pm;  // "± 1.8"
  std::string wet;       // "267.5"
  std::string wet_pm;    // "± 3.6"
  std::string
      sixteenth;  // wet, to the nearest sixteenth of an inch; only where inches are asked for
};

struct TemplateWords {
  std::string name;                   // the vessel's, printable; "Vessel without a name" if empty
  std::string clay;                   // "Clay: Buff mix"
  std::string shrinkage;              // "Shrinkage: 12.0 % ± 0.5 % of the wet length"
  std::string scale;                  // that the scale is guessed, if it is
  std::string date;                   // as the caller gave it, printable
  std::string stage;                  // "wet"
  std::string paper;                  // "A4"
  std::string printer;                // what is made up for, if anything is
  std::string unit;                   // "mm"
  std::string along_card;             // written on the card itself
  std::vector<SizeWords> sizes;       // as the request's
  std::vector<std::string> using_it;  // how to use the card, one line each
  std::vector<std::string> joining;   // how to join several sheets; shown where there are several
  std::vector<std::string> cautions;  // what to take care of, one line each
};

// Returns the words for a request. `foot_to_axis_mm` is the foot's radius at the size to make, 0
// for none.
TemplateWords words_of(const TemplateRequest& request, double foot_to_axis_mm);

}  // namespace potshadow
