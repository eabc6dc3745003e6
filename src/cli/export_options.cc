// SPDX-License-Identifier: MIT
#include "cli/export_options.h"

#include <array>
#include <optional>
#include <string_view>
#include <utility>

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Writes the vessel's patterns for a laser or a plotter (.svg, .dxf), or the vessel and what helps to
build it as a solid for a printer or a mill (.stl, .obj), at the size to make it. All are in
millimetres. The end of the file's name chooses the format.

Usage: potshadow export PROJECT --output FILE.svg|.dxf [--kind KIND[,KIND...]] [...]
       potshadow export PROJECT --output FILE.stl|.obj [--kind KIND] [...]

  PROJECT                 a project file (.potshadow)
  --output FILE           where it goes; an existing file is replaced whole, or stays as it was
  --kind KIND             for .svg and .dxf one or more of profile (if not given), rib, rings,
                          stick, cradle, lid and section; they come side by side, with a line of 100
                          mm to check. Layers: cut, mark, text
                          for .stl and .obj one of vessel (if not given: with its wall), outside
                          (filled up to the rim), cradle (the mould), rib and profile (as plates)
  --scale 1:N             of the section drawing, which shows the original; 1:1 if not given
  --tolerance MM          how far facets may lie from the true surface; 0.05 if not given
  --plate MM              how thick a plate is; 3 if not given
)";

constexpr const char* kHelpEnd =
    R"(  --help                  show this text

Hot wire, laser and mill: follow their makers' rules, and never cut what you don't know the fumes
of.

Examples:
  potshadow export shelf-jar.potshadow --output gauge.svg
  potshadow export shelf-jar.potshadow --output card.dxf --kind profile,rings,stick
  potshadow export shelf-jar.potshadow --output jar.stl --stage fired --wall 6
  potshadow export shelf-jar.potshadow --output mould.stl --kind cradle
)";

constexpr const char* kSeeHelp = "Run 'potshadow export --help' to see how it is used.";

constexpr std::array<std::pair<std::string_view, ExportFormat>, 4> kEndings{
    {{".svg", ExportFormat::kSvg},
     {".dxf", ExportFormat::kDxf},
     {".stl", ExportFormat::kStl},
     {".obj", ExportFormat::kObj}}};

std::optional<ExportFormat> format_of(std::string name) {
  for (char& c : name) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  for (const auto& [ending, format] : kEndings) {
    if (name.ends_with(ending)) return format;
  }
  return std::nullopt;
}

}  // namespace

std::variant<ExportOptions, ExportHelp, UsageProblem> parse_export_arguments(
    const std::vector<std::string>& arguments) {
  MadeTyped made;
  Typed output, kind, scale, tolerance, thick;
  OptionSlots slots{{{"--output", &output},
                     {"--kind", &kind},
                     {"--scale", &scale},
                     {"--tolerance", &tolerance},
                     {"--plate", &thick}}};
  made.add_to(slots);
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return ExportHelp{std::string(kHelp) + kMadeHelp + kHelpEnd};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  ExportOptions options;
  options.made = made.read(reading);
  options.output_file = reading.output(output);
  const std::optional<ExportFormat> format = format_of(options.output_file);
  if (!format) {
    reading.complain("The name '" + options.output_file + "' does not say which format is meant.",
                     "End it in .svg, .dxf, .stl or .obj.");
  }
  options.format = format.value_or(ExportFormat::kSvg);
  if (is_flat(options.format)) {
    options.patterns =
        reading.list<PatternKind>("--kind", kind.value_or("profile"), pattern_kind,
                                  "profile, rib, rings, stick, cradle, lid and section");
  } else {
    const std::optional<SolidKind> solid = solid_kind(kind.value_or("vessel"));
    if (!solid) {
      reading.complain("There is no solid '" + kind.value_or("") + "'.",
                       "Use one of vessel, outside, cradle, rib and profile.");
    }
    options.solid = solid.value_or(options.solid);
  }
  options.made.patterns.section_scale = reading.scale("--scale", scale).value_or(1.0);
  options.choices.tolerance_mm =
      reading.number("--tolerance", tolerance).value_or(options.choices.tolerance_mm);
  options.choices.plate_mm = reading.number("--plate", thick).value_or(options.choices.plate_mm);
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow
