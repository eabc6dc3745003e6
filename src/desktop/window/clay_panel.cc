// SPDX-License-Identifier: MIT
#include <imgui.h>

#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/cautions.h"
#include "desktop/words/clay_book_words.h"
#include "desktop/words/clay_words.h"
#include "desktop/words/figures_words.h"

namespace potshadow {
namespace {

constexpr double kThickestWallMm = 100.0;
constexpr const char* kUsually =
    "Two times in three it lies within this, 19 times in 20 within twice as much.";

void complain(Frame& frame, const Problem& problem) {
  kit::complain(frame, problem.what, problem.next);
}

bool blank(const std::string& text) { return text.find_first_not_of(" \t") == std::string::npos; }

// Which clay: one of the book's, or one that is told by its shrinkage alone.
void choose(Frame& frame, const ProjectClay& now) {
  const std::vector<ClayBody>& bodies = frame.session.clays().book().bodies;
  std::vector<std::string> entries{"Typed by hand"};
  std::size_t chosen = now.record.empty() ? 0 : entries.size() + bodies.size();
  for (const ClayBody& body : bodies) {
    if (body.record == now.record) chosen = entries.size();
    entries.push_back(clay_words(body));
  }
  if (chosen > bodies.size()) entries.push_back(now.record);  // not in this book
  const auto picked =
      kit::list(frame, "Which clay", entries, chosen, "From your book of clays, in the middle.");
  if (!picked || *picked == chosen || *picked > bodies.size()) return;
  ProjectClay clay = now;
  clay.record = *picked == 0 ? "" : bodies[*picked - 1].record;
  clay.firing_c.reset();
  if (*picked > 0) {
    clay.name.clear();
    clay.shrinkage_percent.reset();
  }
  frame.ask(Perform{SetClay{clay}});
  frame.state.clays.record = clay.record;
  frame.state.clays.bar.reset();
}

// What the book tells of the chosen clay.
void from_book(Frame& frame, const ProjectClay& now) {
  const ClayWork& work = frame.session.clay_work();
  if (work.problem) {
    kit::problem(frame, clay_problem_words(*work.problem));
  } else if (work.clay) {
    kit::note(frame, project_clay_sentence(*work.clay));
  }
  for (const Note& note : work.notes) {
    if (note.doubtful) kit::doubt(frame, note.text);
  }
  const auto heat = kit::number(frame, "Fired at", now.firing_c,
                                {.unit = "°C",
                                 .tooltip = "How hot this pot is fired. Between bars of two "
                                            "firings the shrinkage is interpolated.",
                                 .decimals = 0,
                                 .hint = "as usual"});
  if (!heat) return;
  ProjectClay clay = now;
  clay.firing_c = *heat;
  frame.ask(Perform{SetClay{clay}});
}

void typed(Frame& frame, const ProjectClay& now) {
  ProjectClay clay = now;
  const auto name =
      kit::text(frame, "Clay", clay.name,
                {.tooltip = "Its name, as it is to stand on the template.", .hint = "Buff mix"});
  if (name) clay.name = *name;
  const std::string percent = clay.shrinkage_percent ? typed_text(*clay.shrinkage_percent, 2) : "";
  const auto shrinkage = kit::text(
      frame, "Shrinkage, of the wet length", percent,
      {.unit = "%",
       .tooltip = "In all, from wet to fired, along a line. 12 means that 100 mm wet become 88.",
       .hint = "not known"});
  if (shrinkage && blank(*shrinkage)) {
    clay.shrinkage_percent.reset();
  } else if (shrinkage) {
    const auto typed = typed_shrinkage(*shrinkage);
    if (typed) {
      clay.shrinkage_percent = *typed;
    } else {
      complain(frame, typed.problem());
    }
  }
  const auto doubt =
      kit::text(frame, "Shrinkage usually within ±", typed_text(clay.shrinkage_sd_percent, 2),
                {.unit = "points",
                 .tooltip = "In percentage points, as your test bars differ; 0.5 is "
                            "common within one batch. " +
                            std::string(kUsually)});
  if (doubt) {
    const auto typed = typed_shrinkage_doubt(*doubt);
    if (typed) {
      clay.shrinkage_sd_percent = *typed;
    } else {
      complain(frame, typed.problem());
    }
  }
  if (clay != now) frame.ask(Perform{SetClay{clay}});
}

void wet_sizes(Frame& frame, const ProjectClayFigures& clay) {
  kit::heading(frame, std::string(kWetHeading));
  kit::note(frame, enlargement_sentence(clay.figures, clay.total));
  const Figures& figures = frame.session.figures();
  if (figures.measurement == nullptr) {
    kit::note(frame, "The sizes to make stand here once the vessel has been measured.");
    return;
  }
  for (const WetRow& row : wet_rows(*figures.measurement, frame.settings.unit)) {
    if (!row.leading) continue;
    kit::row(frame, row.label, row.wet + " ± " + row.wet_plus_minus);
    kit::tip(frame, "Fired: " + row.fired + " ± " + row.fired_plus_minus + " " + row.unit +
                        (row.wet_sixteenths.empty()
                             ? "."
                             : ". On the ruler, wet: " + row.wet_sixteenths + " in."));
  }
  kit::note(frame, "In " + std::string(unit_name(frame.settings.unit)) +
                       "; all sizes stand on the right.");
  if (!figures.current) {
    kit::note(frame, stale_words(figures.problem ? &*figures.problem : nullptr));
  }
}

void wall(Frame& frame) {
  kit::heading(frame, "Wall");
  const LengthUnit unit = frame.settings.unit;
  const double per_mm = in_unit(Mm{1.0}, unit);
  const ProjectWall& now = frame.document().wall;
  SetWall set{now.value_mm, now.sd_mm};
  bool changed = false;
  const auto take = [&](const std::optional<std::optional<double>>& typed, double& mm) {
    if (!typed) return;
    const double typed_mm = typed->value_or(-1.0) / per_mm;
    if (!(typed_mm >= 0.0 && typed_mm <= kThickestWallMm)) {
      kit::complain(frame, "That is not a thickness of a wall, so nothing was changed.",
                    "Type it in " + std::string(unit_name(unit)) + ", from 0 up to 100 mm.");
      return;
    }
    mm = typed_mm;
    changed = true;
  };
  const kit::FieldLook look{.unit = std::string(unit_name(unit)),
                            .tooltip =
                                "Of the original, as fired. Only the capacity needs it: the "
                                "photograph shows the outside.",
                            .decimals = unit == LengthUnit::kMm ? 2 : 3};
  take(kit::number(frame, "Thickness of the wall", now.value_mm * per_mm, look), set.value_mm);
  kit::FieldLook doubt_look = look;
  doubt_look.tooltip = kUsually;
  take(kit::number(frame, "Thickness usually within ±", now.sd_mm * per_mm, doubt_look), set.sd_mm);
  if (changed) frame.ask(Perform{set});
}

}  // namespace

void clay_panel(Frame& frame) {
  if (!frame.session.open()) {
    kit::words(frame, "Open a photograph first.");
    return;
  }
  const ProjectClay clay = frame.document().clay.value_or(ProjectClay{});
  choose(frame, clay);
  const bool own = clay.record.empty() || clay.shrinkage_percent.has_value();
  if (own && !clay.record.empty()) {
    kit::doubt(frame, "A shrinkage is typed for this pot, so it goes before the book's.");
    if (kit::button(frame, "Use the book's", {.accent = true})) {
      ProjectClay booked = clay;
      booked.shrinkage_percent.reset();
      frame.ask(Perform{SetClay{booked}});
    }
  }
  own ? typed(frame, clay) : from_book(frame, clay);
  const ClayWork& work = frame.session.clay_work();
  if (work.clay) kit::note(frame, shrinkage_example(work.clay->total));
  if (own && kit::fold(frame, "How to find it", !work.clay)) {
    kit::note(frame, std::string(shrinkage_explained()));
  }
  if (work.clay) wet_sizes(frame, *work.clay);
  wall(frame);
  kit::space(frame);
  if (kit::fold(frame, "Take care##clay", true)) {
    for (const std::string_view caution : cautions_for(Step::kClay)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow
