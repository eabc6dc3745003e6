// SPDX-License-Identifier: MIT
#include "project/sheet_set_request.h"

#include <utility>

#include "project/bench_page_request.h"
#include "project/one_line.h"

namespace potshadow {
namespace {

Note left_out(std::string_view what, const Problem& why) {
  return {std::string(what) + " left out: " + on_one_line(why.what), true};
}

// Takes out the kinds that this vessel cannot have, saying why.
void leave_out(SheetSetRequest& request, std::vector<Note>& notes) {
  std::vector<PatternKind> kept;
  for (const PatternKind kind : request.kinds) {
    const Result<std::vector<Pattern>> pieces = patterns_of(kind, request.vessel, request.choices);
    if (pieces.ok() || pieces.problem().code != Code::kCannotBeAnswered) {
      kept.push_back(kind);
    } else {
      notes.push_back(left_out(pattern_title(kind), pieces.problem()));
    }
  }
  request.kinds = std::move(kept);
}

}  // namespace

TemplateRequest made_facts(const VesselToMake& vessel, const SheetChoices& choices,
                           std::chrono::system_clock::time_point now) {
  TemplateRequest facts =
      template_request(vessel.measurement, vessel.file, vessel.made.shrinkage, choices, now);
  facts.clay_name = vessel.made.clay_name;
  facts.stage = vessel.made.stage;
  return facts;
}

Result<SheetSetRequest> sheet_set_request(const VesselToMake& vessel, const WantedSheets& wanted,
                                          const Result<ClayBook>& book, const SheetChoices& choices,
                                          std::chrono::system_clock::time_point now) {
  SheetSetRequest request{.facts = made_facts(vessel, choices, now),
                          .vessel = vessel.vessel,
                          .choices = wanted.patterns,
                          .kinds = wanted.kinds,
                          .section_scale = wanted.section_scale};
  std::vector<Note> notes;
  if (wanted.all) leave_out(request, notes);
  if (wanted.bench) {
    Result<BenchSheet> bench = bench_page_request(vessel.measurement, book, vessel.made.wall_mm,
                                                  wanted.patterns.cradle_mm, choices.unit);
    if (bench.ok()) {
      request.bench = std::move(bench).value();
    } else if (!wanted.all) {
      return bench.problem();
    } else {
      notes.push_back(left_out("Bench sheet", bench.problem()));
    }
  }
  return {std::move(request), std::move(notes)};
}

}  // namespace potshadow
