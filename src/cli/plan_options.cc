// SPDX-License-Identifier: MIT
#include "cli/plan_options.h"

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Says how to build the vessel in the project's clay, at wet size: the clay and water to weigh out,
the cradle (puki) that its lower part is pressed into, coil after coil, where the wall is likeliest
to sag, and what the fired pot weighs and holds.

Usage: potshadow plan PROJECT [--wall L] [--wall-rim L] [--wall-sd L] [--coil L]
                      [--allowance PERCENT] [--cradle L] [--bands-at STAGE]
                      [--units mm|cm|in] [--json FILE]

  PROJECT              a project file (.potshadow) whose 'clay' names a record of your book, or
                       states a shrinkage
  --wall L             how thick the wet wall is; the project's own wall, enlarged, if not given
  --wall-rim L         how thick it is at the rim, if it tapers evenly from foot to rim
  --wall-sd L          how evenly you build, as a standard deviation; 0.5 mm if not given
  --coil L             how thick the coils are as rolled; 12 mm, or one and a half walls where that
                       is more, if not given
  --allowance PERCENT  clay to spare for scraping; 10 if not given
  --cradle L           the height of the line where the cradle ends; a quarter of the height, or
                       less where the pot is widest low down, if not given
  --bands-at STAGE     at what size the project's painted bands are spaced: wet, leather-hard,
                       bone-dry or fired; wet if not given
  --units mm|cm|in     the unit of these lengths and of what is printed; mm if not given
  --json FILE          write the plan as JSON, in millimetres, grams and millilitres; '-' stands for
                       standard output, and the text is then left out
  --help               show this text

Dust of dry clay, grog and sand holds silica: mix and clean wet, and wear a fitted respirator.

Examples:
  potshadow plan shelf-jar.potshadow
  potshadow plan shelf-jar.potshadow --wall 9 --wall-rim 6 --coil 14
)";

constexpr const char* kSeeHelp = "Run 'potshadow plan --help' to see how it is used.";

}  // namespace

std::variant<PlanOptions, PlanHelp, UsageProblem> parse_plan_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed wall, wall_rim, wall_sd, coil, allowance, cradle, bands_at, units, json;
  const OptionSlots slots{{{"--wall", &wall},
                           {"--wall-rim", &wall_rim},
                           {"--wall-sd", &wall_sd},
                           {"--coil", &coil},
                           {"--allowance", &allowance},
                           {"--cradle", &cradle},
                           {"--bands-at", &bands_at},
                           {"--units", &units},
                           {"--json", &json}},
                          {},
                          &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return PlanHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  PlanOptions options;
  options.project = reading.one_name(names, "project");
  options.unit = reading.unit(units);
  options.choices.wall_mm = reading.length("--wall", wall, options.unit);
  options.choices.wall_rim_mm = reading.length("--wall-rim", wall_rim, options.unit);
  options.choices.wall_sd_mm = reading.length("--wall-sd", wall_sd, options.unit);
  options.choices.coil_mm = reading.length("--coil", coil, options.unit);
  options.choices.allowance_percent = reading.number("--allowance", allowance);
  options.choices.cradle_mm = reading.length("--cradle", cradle, options.unit);
  options.choices.band_stage = reading.stage("--bands-at", bands_at).value_or(Stage::kWet);
  if (json) options.json_file = reading.output(json);
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow
