// SPDX-License-Identifier: MIT
#include "desktop/session/compare_works.h"

#include <algorithm>
#include <utility>

#include "desktop/session/background.h"
#include "exports/flat_files.h"
#include "project/compare_sheet.h"
#include "project/series_sheet.h"
#include "sheets/pattern_picture.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

Problem no_photograph(const std::string& title) {
  return {Code::kCannotBeAnswered, "There is no photograph of '" + title + "' to be shown here.",
          "Sizes and outlines are compared all the same.", ""};
}

Result<ComparedPhoto> first_photo(const CompareSide& side, const fs::path& folder, double factor,
                                  FactsCache& cache, const std::stop_token& stop) {
  if (!side.measurement) return no_photograph(side.vessel.title);
  const ProjectPhoto& photo = side.measurement->project.photos[side.measurement->photo_index];
  const LoadedPhoto loaded = load_photo(folder / photo.file, photo.quarter_turns, cache, stop);
  if (loaded.problem) return *loaded.problem;
  if (loaded.picture == nullptr) return no_photograph(side.vessel.title);
  return compared_photo(side.vessel.title, loaded.picture->bgr, side.measurement->answer, factor);
}

void add_inputs(const CompareSide& side, std::vector<fs::path>& inputs) {
  const fs::path file = side.vessel.file;
  if (!file.empty()) inputs.push_back(file);
  if (!side.measurement) return;
  for (const ProjectPhoto& photo : side.measurement->project.photos) {
    if (!photo.file.empty()) inputs.push_back(file.parent_path() / photo.file);
  }
}

// Both photographs of a comparison, or why they cannot be laid over each other.
void add_photos(const CompareSide& original, const CompareSide& replica, FactsCache& cache,
                const std::stop_token& stop, ComparedWork& work) {
  constexpr int kMostPx = 1600;  // as large as a page shows them on a large screen
  if (!original.vessel.scaled || !replica.vessel.scaled) {
    work.photos_problem =
        Problem{Code::kCannotBeAnswered,
                "Of one of the two nothing says how big it is, so they are not laid over each "
                "other.",
                "Mark something of known size in its photograph.", ""};
    return;
  }
  const auto folder_of = [](const CompareSide& side) {
    return fs::path(side.vessel.file).parent_path();
  };
  Result<ComparedPhoto> one =
      first_photo(original, folder_of(original), work.comparison->original_factor, cache, stop);
  Result<ComparedPhoto> other =
      first_photo(replica, folder_of(replica), work.comparison->replica_factor, cache, stop);
  if (!one || !other) {
    work.photos_problem = one ? other.problem() : one.problem();
    return;
  }
  PhotoLayers layers = photo_layers(*one, *other, kMostPx);
  const auto outlined = [](const ComparedPhoto& photo) {
    OutlinedPhoto whole = outlined_photo(photo, 1.0);  // to know how large it is
    return outlined_photo(photo, kMostPx / std::max(whole.width_mm, whole.height_mm));
  };
  OutlinedPhoto original_outlined = outlined(*one);
  OutlinedPhoto replica_outlined = outlined(*other);
  work.photos = std::make_shared<const ComparedPhotos>(
      ComparedPhotos{std::move(one).value(), std::move(other).value(), std::move(layers),
                     std::move(original_outlined), std::move(replica_outlined)});
}

Result<ComparedWork> two_pots(const CompareSide& original, const CompareSide& replica, Stage at,
                              const CompareTools& tools, const std::stop_token& stop) {
  Result<VesselComparison> found = compare_sides(original, replica, at);
  if (!found) return found.problem();
  ComparedWork work;
  work.comparison = std::move(found).value();
  if (auto curve = compared_profile(work.comparison->original_rows)) {
    work.original_profile = std::move(curve).value();
  }
  if (auto curve = compared_profile(work.comparison->replica_rows)) {
    work.replica_profile = std::move(curve).value();
  }
  add_photos(original, replica, tools.cache, stop, work);
  return work;
}

Result<ComparedWork> a_series(const CompareSide& original, const std::vector<CompareSide>& others,
                              Stage at) {
  std::vector<ComparedVessel> pots;
  for (const CompareSide& side : others) pots.push_back(side.vessel);
  const bool fired = at == Stage::kFired;
  Result<PotSeries> series =
      pot_series(original.vessel, pots, fired ? std::nullopt : std::optional(at));
  if (!series) return series.problem();
  ComparedWork work;
  work.series = std::move(series).value();
  // As large as a page in the window shows it.
  constexpr double kScale = 0.125;
  constexpr double kMostWidthMm = 220.0;
  constexpr int kLongPx = 1800;
  const Pattern drawing = series_drawing(*work.series, kScale, kMostWidthMm);
  if (Result<PagePixels> page = pattern_picture(drawing, kLongPx)) {
    work.drawing = {page->width_px, page->height_px, std::move(page->bytes)};
    for (std::size_t i = 3; i < work.drawing.bgra.size(); i += 4) work.drawing.bgra[i] = 255;
  }
  return work;
}

}  // namespace

Result<ComparedWork> compared_work(const CompareQuestion& question, const CompareTools& tools,
                                   const std::stop_token& stop) {
  const CompareWish& wish = question.wish;
  const Result<CameraBook> book = load_camera_book(tools.folders);
  const CameraBook cameras = book ? *book : CameraBook();
  CompareSide open{compared_vessel(*question.measurement, question.file.string()),
                   *question.measurement,
                   side_camera(*question.measurement, {},
                               tools.make_probe(question.measurement->project), cameras)};
  open.vessel.title = question.title;
  std::vector<CompareSide> others;
  for (const OtherPot& pot : wish.others) {
    if (pot.on_bench) {
      for (ComparedVessel& vessel :
           bench_vessels(question.bench, question.measurement->clay, "My pot")) {
        others.push_back({.vessel = std::move(vessel), .measurement = std::nullopt});
      }
      continue;
    }
    const Result<std::vector<CompareSide>> sides =
        read_compare_sides(pot.file, pot.stage, tools.make_probe, tools.clays, cameras);
    if (!sides) return sides.problem();
    others.insert(others.end(), sides->begin(), sides->end());
  }
  if (others.empty()) {
    return Problem{Code::kTooFewMarks, "The Check step keeps no sizes of a pot any more.",
                   "Measure the pot there and keep its sizes, or choose another pot.", ""};
  }
  // The pot in the end, where an original is given at several stages.
  if (wish.open_is_replica) open.vessel.stage = wish.open_stage;
  Result<ComparedWork> found =
      wish.open_is_replica ? two_pots(others.back(), open, wish.at, tools, stop)
      : others.size() == 1 ? two_pots(open, others.front(), wish.at, tools, stop)
                           : a_series(open, others, wish.at);
  if (!found) return found.problem();
  ComparedWork work = std::move(found).value();
  add_inputs(open, work.inputs);
  for (const CompareSide& side : others) add_inputs(side, work.inputs);
  return work;
}

Result<std::string> comparison_bytes(const ComparedWork& work, const ComparisonFile& wanted,
                                     std::chrono::system_clock::time_point now) {
  const SheetChoices choices{wanted.paper, wanted.unit};
  if (wanted.part == ComparisonPart::kSheet) {
    std::vector<Pattern> more;
    if (work.photos) {
      more.push_back(photos_side_by_side(work.photos->original, work.photos->replica));
    }
    const Result<SheetPdf> pdf =
        work.series ? series_pdf(*work.series, choices, now)
                    : comparison_pdf(*work.comparison, choices, std::move(more), now);
    if (!pdf) return pdf.problem();
    return pdf->bytes;
  }
  const bool drawn = wanted.part == ComparisonPart::kDrawing;
  if (work.series) {
    const Pattern drawing = series_drawing_for_file(*work.series);
    if (!drawn) return pattern_png(drawing);
    return svg_of(drawing,
                  {"Series after " + work.series->original, series_drawing_words(*work.series)});
  }
  if (drawn) {
    const Result<Pattern> drawing = comparison_at_true_size(*work.comparison);
    if (!drawing) return drawing.problem();
    return svg_of(*drawing,
                  {comparison_title(*work.comparison), comparison_drawing_words(*work.comparison)});
  }
  if (!work.photos) return *work.photos_problem;
  return photo_over_png(work.photos->original, work.photos->replica, wanted.over);
}

}  // namespace potshadow
