// SPDX-License-Identifier: MIT
#include "cli/unroll_pictures.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <utility>

#include "cli/kept_printer.h"
#include "photo/shown_picture.h"
#include "project/sheet_request.h"
#include "sheets/sheet_set.h"
#include "unroll/png_file.h"
#include "unroll/strip_pattern.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

constexpr double kRadPerDeg = std::numbers::pi / 180.0;

// A part of the wall to lay flat.
struct Part {
  std::string name;
  Development flat;
  int repeats = 0;
};

Result<std::vector<UnrollPhoto>> photos_of(const MadeVessel& made, const fs::path& folder) {
  const Measurement& measurement = made.measurement;
  std::vector<UnrollPhoto> photos;
  for (std::size_t i = 0; i < measurement.photo_indices.size(); ++i) {
    const ProjectPhoto& photo = measurement.project.photos[measurement.photo_indices[i]];
    const Result<Picture> picture = decode_photo(folder / photo.file);
    if (!picture) return picture.problem();
    photos.push_back(
        {turned_picture(*picture, photo.quarter_turns).bgr, measurement.answer.photos[i].view});
  }
  return photos;
}

// Pixels to the millimetre at which the photograph that comes nearest keeps all it has.
double own_fineness(const std::vector<UnrollPhoto>& photos, const PaintedFace& face,
                    double enlargement) {
  constexpr double kLeast = 2.0;
  constexpr double kMost = 20.0;
  double finest = kLeast;
  for (const UnrollPhoto& photo : photos) {
    const double nearest =
        photo.view.eye_mm.head<2>().norm() - face.widest_radius_mm();  // level distance
    if (nearest > 0.0) {
      finest = std::max(finest, photo.view.lens.focal_px / (nearest * enlargement));
    }
  }
  return std::min(std::ceil(finest), kMost);
}

std::string number_text(std::size_t i) { return std::to_string(i + 1); }

Result<std::vector<Part>> parts_of(const UnrollOptions& options, const Project& project,
                                   const PaintedFace& face, const Enlargement& size,
                                   double front_rad) {
  constexpr double kMostBulgeMm = 1.0;  // paper and plastic clay give way to that
  std::vector<Part> parts;
  const auto add = [&](const std::string& name, double low_mm, double high_mm, int repeats) {
    const Result<Development> strip = strip_between(face, face.along_at_height(low_mm),
                                                    face.along_at_height(high_mm), size, front_rad);
    if (strip) parts.push_back({name, *strip, options.repeats > 0 ? options.repeats : repeats});
    return strip;
  };
  switch (options.parts) {
    case UnrolledParts::kWhole:
      parts.push_back({"The whole wall", whole_face(face, size, front_rad), options.repeats});
      break;
    case UnrolledParts::kStrips:
      for (const Development& strip : strips_over(face, size, front_rad, kMostBulgeMm)) {
        parts.push_back({"Strip " + number_text(parts.size()), strip, options.repeats});
      }
      break;
    case UnrolledParts::kBands:
      for (const ProjectBand& band : project.bands) {
        if (!band.top_mm) continue;
        const auto strip = add(band.name.empty() ? "Band " + number_text(parts.size()) : band.name,
                               band.height_mm, *band.top_mm, band.repeats);
        if (!strip) return strip.problem();
      }
      if (parts.empty()) {
        return Problem{Code::kCannotBeAnswered, "The project names no painted strip.",
                       "Give the heights with --strip, as --strip 40,75.", ""};
      }
      break;
    case UnrolledParts::kTyped:
      for (const auto& [low, high] : options.heights_mm) {
        const auto strip = add("Strip " + number_text(parts.size()), low, high, 0);
        if (!strip) return strip.problem();
      }
      break;
  }
  return parts;
}

// What is written below a piece.
std::vector<std::string> about(const Part& part, const PaintedFace& face, const Enlargement& size,
                               const Unrolled& picture, LengthUnit unit) {
  const std::string name(unit_name(unit));
  const int decimals = unit == LengthUnit::kMm ? 1 : 2;
  const auto length = [&](double mm) {
    return fixed_text(in_unit(Mm{mm}, unit), decimals) + " " + name;
  };
  const auto edge = [&](const char* which, double along, double radius) {
    const double girth = 2.0 * std::numbers::pi * radius;
    std::string words = std::string(which) + " edge " +
                        length(size.upright * face.profile_at(along).height_mm) + " up, girth " +
                        length(girth);
    if (part.repeats > 0) {
      words += ", " + std::to_string(part.repeats) + " repeats of " + length(girth / part.repeats);
    }
    return words;
  };
  const Development& flat = part.flat;
  std::vector<std::string> lines;
  if (flat.low_along_mm == 0.0 && flat.bulge_mm == 0.0 &&
      flat.low_radius_mm == flat.high_radius_mm) {
    lines.push_back("As wide as the widest girth, " +
                    length(2.0 * std::numbers::pi * flat.low_radius_mm) + "; " +
                    length(flat.slant_mm) + " along the wall from foot to rim.");
  } else {
    lines.push_back(edge("Lower", flat.low_along_mm, flat.low_radius_mm) + ".");
    lines.push_back(edge("Upper", flat.high_along_mm, flat.high_radius_mm) + ".");
    lines.push_back("The wall leaves the strip by " + length(flat.bulge_mm) + " at most.");
  }
  lines.push_back("One pixel of the photographs is " + fixed_text(picture.finest_mm, 2) + " to " +
                  fixed_text(picture.coarsest_mm, 2) + " mm on the pot where it is not faded.");
  return lines;
}

std::string numbered_file(const std::string& file, std::size_t i, std::size_t count) {
  if (count == 1) return file;
  const fs::path path(file);
  return (path.parent_path() /
          (path.stem().string() + "-" + number_text(i) + path.extension().string()))
      .string();
}

Result<Done> write_sheets(const UnrollOptions& options, const MadeVessel& made,
                          std::vector<Pattern> pieces, std::chrono::system_clock::time_point now,
                          std::string& said) {
  const Result<PrinterScale> printer = kept_printer(options.printer);
  if (!printer) return printer.problem();
  TemplateRequest facts =
      template_request(made.measurement, options.made.project, made.made.shrinkage,
                       {options.paper, options.made.unit}, now);
  facts.clay_name = made.made.clay_name;
  facts.stage = made.made.stage;
  facts.printer = *printer;
  facts.printer_name = options.printer;
  if (options.most_pages) facts.most_pages = static_cast<int>(*options.most_pages);
  const bool whole = options.parts == UnrolledParts::kWhole;
  PatternSheet sheet;
  sheet.title = whole ? "The painting, unrolled" : "Painted strips to wrap round the pot";
  sheet.how = {
      whole
          ? "By angle across and along the wall upwards; only the widest place is as wide as here."
          : "Cut along the heavy line, wrap it round the pot and prick the painting through.",
      "Blank: not on the photographs; faded: seen at a slant. Ask those whose design it is."};
  sheet.pieces = std::move(pieces);
  const Result<SheetPdf> pdf = pattern_sheet_set({sheet}, facts);
  if (!pdf) return pdf.problem();
  const Result<Done> written = write_output(options.output_file, pdf->bytes, made.inputs);
  if (!written) return written;
  said += "Wrote " + on_one_line(options.output_file) + ": " + std::to_string(pdf->pages) +
          (pdf->pages == 1 ? " page" : " pages") +
          " at true size.\nPrint at 100 % and lay a ruler on the check bars before you cut.\n";
  return Done{};
}

// Writes everything; returns what there is to say.
Result<std::string> unrolled(const UnrollOptions& options,
                             std::chrono::system_clock::time_point now) {
  const Result<MadeVessel> made = made_vessel(options.made);
  if (!made) return made.problem();
  std::error_code ignored;
  const Result<std::vector<UnrollPhoto>> photos =
      photos_of(*made, fs::absolute(options.made.project, ignored).parent_path());
  if (!photos) return photos.problem();
  const Answer& answer = made->measurement.answer;
  const PaintedFace face(answer.profile, answer.oval);
  const TotalShrinkage& shrinkage = made->made.shrinkage;
  const Enlargement size{shrinkage.enlargement(SizeWay::kAcross),
                         shrinkage.enlargement(SizeWay::kUpright)};
  const double front = -std::numbers::pi / 2.0 + options.front_deg * kRadPerDeg;
  const Result<std::vector<Part>> parts =
      parts_of(options, made->measurement.project, face, size, front);
  if (!parts) return parts.problem();
  UnrollChoices choices;
  choices.px_per_mm = options.px_per_mm.value_or(own_fineness(*photos, face, size.across));

  std::string said;
  std::vector<Pattern> pieces;
  for (std::size_t i = 0; i < parts->size(); ++i) {
    Part part = (*parts)[i];
    if (!options.all_round) part.flat = seen_of(face, part.flat, *photos, choices);
    const Result<Unrolled> picture = unroll(face, part.flat, *photos, choices);
    if (!picture) return picture.problem();
    const double round = part.flat.half_turn_rad / std::numbers::pi;
    said += part.name + ": " + fixed_text(100.0 * round * picture->seen_part, 0) +
            " % of it is seen.\n";
    if (options.pdf) {
      pieces.push_back(
          strip_pattern(part.flat, *picture, part.repeats, {},
                        {part.name, about(part, face, size, *picture, options.made.unit)}));
      continue;
    }
    const std::string file = numbered_file(options.output_file, i, parts->size());
    const Result<Done> written = write_output(file, png_of(*picture), made->inputs);
    if (!written) return written.problem();
    said += "Wrote " + on_one_line(file) + ": " + std::to_string(picture->bgra.cols) + " x " +
            std::to_string(picture->bgra.rows) + " pixels, " +
            fixed_text(picture->bgra.cols / picture->px_per_mm, 0) + " x " +
            fixed_text(picture->bgra.rows / picture->px_per_mm, 0) + " mm.\n";
  }
  if (options.pdf) {
    const Result<Done> written = write_sheets(options, *made, std::move(pieces), now, said);
    if (!written) return written.problem();
  }
  said += on_one_line(pattern_about(made->measurement, options.made.project, made->made)) + ".\n";
  for (const std::string& doubt : made->doubts) said += "! " + doubt + "\n";
  return said;
}

}  // namespace

ExitCode unroll_pictures(const UnrollOptions& options, std::chrono::system_clock::time_point now) {
  const Result<std::string> said = unrolled(options, now);
  const Result<Done> printed = said ? print_text(*said) : Result<Done>(said.problem());
  if (printed) return ExitCode::kDone;
  print_problem("", printed.problem());
  return exit_code_of(printed.problem());
}

}  // namespace potshadow
