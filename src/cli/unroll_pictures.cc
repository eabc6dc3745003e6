// SPDX-License-Identifier: MIT
#include "cli/unroll_pictures.h"

#include <filesystem>
#include <numbers>
#include <utility>

#include "cli/kept_printer.h"
#include "photo/shown_picture.h"
#include "project/plan_report.h"
#include "project/sheet_set_request.h"
#include "unroll/png_file.h"
#include "unroll/wall_parts.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

constexpr double kRadPerDeg = std::numbers::pi / 180.0;

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

// Which parts of the wall are wanted.
WallWish wish_of(const UnrollOptions& options, const MadeVessel& made) {
  const TotalShrinkage& shrinkage = made.made.shrinkage;
  WallWish wish;
  wish.repeats = options.repeats;
  wish.front_rad = -std::numbers::pi / 2.0 + options.front_deg * kRadPerDeg;
  wish.size = {shrinkage.enlargement(SizeWay::kAcross), shrinkage.enlargement(SizeWay::kUpright)};
  wish.all_round = options.all_round;
  wish.unit = options.made.unit;
  wish.bands = painted_bands(made.measurement.project.bands);
  switch (options.parts) {
    case UnrolledParts::kWhole:
      break;
    case UnrolledParts::kStrips:
      wish.parts = WallParts::kStrips;
      break;
    case UnrolledParts::kBands:
      wish.parts = WallParts::kBands;
      break;
    case UnrolledParts::kTyped:
      wish.parts = WallParts::kBands;
      wish.bands.clear();
      for (const auto& [low, high] : options.heights_mm) {
        wish.bands.push_back({"Strip " + std::to_string(wish.bands.size() + 1), low, high});
      }
      break;
  }
  return wish;
}

std::string numbered_file(const std::string& file, std::size_t i, std::size_t count) {
  if (count == 1) return file;
  const fs::path path(file);
  return (path.parent_path() /
          (path.stem().string() + "-" + std::to_string(i + 1) + path.extension().string()))
      .string();
}

Result<Done> write_sheets(const UnrollOptions& options, const MadeVessel& made, WallParts parts,
                          std::vector<Pattern> pieces, std::chrono::system_clock::time_point now,
                          std::string& said) {
  const Result<SheetChoices> choices = sheet_choices(
      options.paper, options.made.unit, options.printer, options.most_pages, options.made.project);
  if (!choices) return choices.problem();
  const TemplateRequest facts =
      made_facts({made.measurement, options.made.project, made.made, made.vessel}, *choices, now);
  WallSheetWords words = wall_sheet_words(parts);
  PatternSheet sheet;
  sheet.title = std::move(words.title);
  sheet.how = std::move(words.how);
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
  const WallWish wish = wish_of(options, *made);
  Result<std::vector<FlatPart>> laid = wall_parts(face, wish);
  if (!laid) return laid.problem();
  std::vector<FlatPart> parts = std::move(laid).value();
  if (parts.empty()) {
    return Problem{Code::kCannotBeAnswered, "The project names no painted strip.",
                   "Give the heights with --strip, as --strip 40,75.", ""};
  }
  const double px_per_mm = options.px_per_mm.value_or(own_fineness(*photos, face, wish.size));

  std::string said;
  std::vector<Pattern> pieces;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    FlatPart& part = parts[i];
    const Result<Done> added = add_picture(face, wish, *photos, px_per_mm, part);
    if (!added) return added.problem();
    said += seen_words(part) + "\n";
    if (options.pdf) {
      pieces.push_back(piece_of(face, wish, part));
      part.picture = {};  // the piece has its own
      continue;
    }
    const Unrolled& picture = part.picture;
    const std::string file = numbered_file(options.output_file, i, parts.size());
    const Result<Done> written = write_output(file, png_of(picture), made->inputs);
    if (!written) return written.problem();
    said += "Wrote " + on_one_line(file) + ": " + std::to_string(picture.bgra.cols) + " x " +
            std::to_string(picture.bgra.rows) + " pixels, " +
            fixed_text(picture.bgra.cols / picture.px_per_mm, 0) + " x " +
            fixed_text(picture.bgra.rows / picture.px_per_mm, 0) + " mm.\n";
    part.picture = {};
  }
  if (options.pdf) {
    const Result<Done> written =
        write_sheets(options, *made, wish.parts, std::move(pieces), now, said);
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
