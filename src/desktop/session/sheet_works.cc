// SPDX-License-Identifier: MIT
#include "desktop/session/sheet_works.h"

#include <algorithm>
#include <cmath>
#include <system_error>
#include <utility>

#include "core/files.h"
#include "exports/exported_file.h"
#include "project/sheet_set_request.h"
#include "sheets/drawn_pattern.h"
#include "unroll/png_file.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::pair<Printed, PatternKind>, 7> kOneKind{
    {{Printed::kProfile, PatternKind::kProfile},
     {Printed::kRib, PatternKind::kRib},
     {Printed::kRings, PatternKind::kRings},
     {Printed::kStick, PatternKind::kStick},
     {Printed::kCradle, PatternKind::kCradle},
     {Printed::kLid, PatternKind::kLid},
     {Printed::kSection, PatternKind::kSection}}};

// What is printed of it; a solid shows its section.
WantedSheets wanted_sheets(const SheetWish& wish) {
  WantedSheets wanted;
  wanted.patterns.left_handed = wish.print.left_handed;
  wanted.patterns.whole = wish.print.whole;
  switch (wish.print.printed) {
    case Printed::kAll:
      wanted.all = true;
      wanted.kinds.assign(kUsualKinds.begin(), kUsualKinds.end());
      wanted.bench = true;
      return wanted;
    case Printed::kBench:
      wanted.bench = true;
      return wanted;
    case Printed::kSolid:
      wanted.kinds = {PatternKind::kSection};
      return wanted;
    default:
      break;
  }
  for (const auto& [printed, kind] : kOneKind) {
    if (printed == wish.print.printed) wanted.kinds = {kind};
  }
  return wanted;
}

SheetChoices sheet_choices(const SheetOrder& order) {
  return {order.wish.paper,     order.wish.unit,          order.wish.print.way,
          order.source.printer, order.wish.print.printer, order.wish.most_pages,
          order.saved};
}

// One order with everything in it that the works share.
class Maker {
 public:
  Maker(const SheetOrder& order, WallStore& store, const SheetWatch& watch, VesselToMake vessel)
      : order_(order), store_(store), watch_(watch), vessel_(std::move(vessel)) {}

  const VesselToMake& vessel() const { return vessel_; }
  TemplateRequest facts() const { return made_facts(vessel_, sheet_choices(order_), order_.now); }

  Result<SheetSetRequest> request() const {
    return sheet_set_request(vessel_, wanted_sheets(order_.wish), *order_.book,
                             sheet_choices(order_), order_.now);
  }
  Result<std::shared_ptr<const WallPictures>> wall() const {
    return store_.wall(order_, vessel_.made, watch_);
  }
  // The pages, with notes.
  Result<std::vector<TemplatePage>> pages() const {
    if (!is_unrolled(order_.wish.print.printed)) {
      const Result<SheetSetRequest> made = request();
      if (!made) return made.problem();
      watch_.tell("Laying the sheets out", std::nullopt);
      Result<std::vector<TemplatePage>> pages = sheet_set_pages(*made);
      if (!pages) return pages;
      return {std::move(pages).value(), made.notes()};
    }
    const auto unrolled = wall();
    if (!unrolled) return unrolled.problem();
    const WallPictures& pictures = **unrolled;
    WallSheetWords words = wall_sheet_words(pictures.wish.parts);
    PatternSheet sheet;
    sheet.title = std::move(words.title);
    sheet.how = std::move(words.how);
    sheet.pieces = wall_pieces(pictures, order_.wish.unroll.repeats);
    watch_.tell("Laying the sheets out", std::nullopt);
    Result<std::vector<TemplatePage>> pages = pattern_sheet_pages({std::move(sheet)}, facts());
    if (!pages) return pages;
    return {std::move(pages).value(), pictures.notes};
  }

 private:
  const SheetOrder& order_;
  WallStore& store_;
  const SheetWatch& watch_;
  VesselToMake vessel_;
};

Result<Maker> maker_of(const SheetOrder& order, WallStore& store, const SheetWatch& watch) {
  const Measurement& measurement = *order.source.measurement;
  const Result<MadeSize> made = made_size(*measurement.clay, order.wish.stage);
  if (!made) return made.problem();
  Result<PatternVessel> vessel =
      pattern_vessel(measurement, order.source.file, *made, order.wish.unit);
  if (!vessel) return vessel.problem();
  return Maker(order, store, watch,
               {measurement, order.source.file, *made, std::move(vessel).value()});
}

// The unrolled parts as pages of their own, as large as they are.
std::vector<TemplatePage> part_pages(const WallPictures& wall, int repeats) {
  constexpr double kRoundMm = 8.0;
  std::vector<TemplatePage> pages;
  std::size_t number = 0;
  for (Pattern& piece : wall_pieces(wall, repeats)) {
    const PatternBox box = box_of(piece);
    TemplatePage page;
    page.title = piece.name;
    page.drawing.width_mm = box.width() + 2.0 * kRoundMm;
    page.drawing.height_mm = box.height() + 2.0 * kRoundMm;
    piece = with_stripes(std::move(piece), wall.parts[number++].flat);
    page.drawing.groups.push_back(
        {std::nullopt, drawn_pattern(piece, {kRoundMm - box.left_mm, kRoundMm + box.top_mm})});
    pages.push_back(std::move(page));
  }
  return pages;
}

SheetPlace place_of(const TemplatePage& page) {
  SheetPlace place{page.title, "", page.label, page.drawing.width_mm > page.drawing.height_mm};
  if (page.pieces.size() == 1) place.piece = page.pieces[0].name;
  return place;
}

void draw_pages(const std::vector<TemplatePage>& pages, const SheetWatch& watch,
                DrawnSheet& sheet) {
  double area_mm2 = 0.0;
  for (const TemplatePage& page : pages) {
    area_mm2 += page.drawing.width_mm * page.drawing.height_mm;
  }
  const double px_per_mm = std::min(kPagePxPerMm, std::sqrt(kMostSheetPixels / area_mm2));
  for (const TemplatePage& page : pages) {
    if (watch.stop.stop_requested()) return;
    const std::size_t number = sheet.pages.size();
    watch.tell("Drawing page " + std::to_string(number + 1) + " of " + std::to_string(pages.size()),
               static_cast<double>(number) / static_cast<double>(pages.size()));
    Result<PagePixels> pixels = page_picture(page.drawing, px_per_mm);
    if (!pixels) {
      sheet.pages.clear();
      sheet.places.clear();
      sheet.problem = pixels.problem();
      return;
    }
    sheet.pages.push_back(std::move(pixels).value());
    sheet.places.push_back(place_of(page));
  }
}

// Returns how many pages it would be, where it is their number that stands against them.
std::optional<int> pages_asked(SheetOrder order, WallStore& store, const SheetWatch& watch) {
  if (order.wish.most_pages >= kMostOfferedPages) return std::nullopt;
  order.wish.most_pages = kMostOfferedPages;
  const Result<Maker> maker = maker_of(order, store, watch);
  if (!maker) return std::nullopt;
  const Result<std::vector<TemplatePage>> pages = maker->pages();
  if (!pages) return std::nullopt;
  return static_cast<int>(pages->size());
}

std::string quoted_name(const fs::path& file) { return "'" + file.filename().string() + "'"; }

Result<SheetPdf> pdf_file(const Maker& maker) {
  Result<std::vector<TemplatePage>> pages = maker.pages();
  if (!pages) return pages.problem();
  return pdf_of_pages(std::move(pages).value(), maker.facts());
}

// Bytes, and what is said of them after the file's name.
Result<ExportedFile> made_file(const Maker& maker, const SheetWish& wish, SheetFormat format,
                               std::size_t part) {
  if (format == SheetFormat::kPdf) {
    Result<SheetPdf> pdf = pdf_file(maker);
    if (!pdf) return pdf.problem();
    std::string said = pdf->pages == 1 ? "1 page" : std::to_string(pdf->pages) + " pages";
    said += wish.print.printed == Printed::kBench
                ? ". Hang it over the bench"
                : ". Print at 100 % and measure the check bars before you cut";
    return ExportedFile{std::move(pdf).value().bytes, said};
  }
  if (format == SheetFormat::kPng) {
    const auto wall = maker.wall();
    if (!wall) return wall.problem();
    const std::vector<FlatPart>& parts = (*wall)->parts;
    const Unrolled& picture = parts.at(std::min(part, parts.size() - 1)).picture;
    return ExportedFile{png_of(picture),
                        std::to_string(picture.bgra.cols) + " × " +
                            std::to_string(picture.bgra.rows) + " pixels, " +
                            fixed_text(picture.bgra.cols / picture.px_per_mm, 0) + " × " +
                            fixed_text(picture.bgra.rows / picture.px_per_mm, 0) + " mm"};
  }
  const VesselToMake& vessel = maker.vessel();
  const std::string about = pattern_about(vessel.measurement, vessel.file, vessel.made);
  if (format == SheetFormat::kSvg || format == SheetFormat::kDxf) {
    const Result<SheetSetRequest> request = maker.request();
    if (!request) return request.problem();
    std::vector<PatternKind> kinds = request->kinds;
    // Of everything, only what is cut: the section shows the original's size.
    if (kinds.size() > 1) std::erase(kinds, PatternKind::kSection);
    return exported_pieces(format == SheetFormat::kSvg ? ExportFormat::kSvg : ExportFormat::kDxf,
                           kinds, vessel.vessel, request->choices, about);
  }
  SolidKind kind = wish.filled ? SolidKind::kOutside : SolidKind::kVessel;
  if (wish.print.printed == Printed::kCradle) kind = SolidKind::kCradle;
  if (wish.print.printed == Printed::kRib) kind = SolidKind::kRib;
  if (wish.print.printed == Printed::kProfile) kind = SolidKind::kProfile;
  return exported_solid(format == SheetFormat::kStl ? ExportFormat::kStl : ExportFormat::kObj, kind,
                        vessel.vessel, wanted_sheets(wish).patterns, {}, about);
}

}  // namespace

DrawnSheet draw_sheet(const SheetOrder& order, WallStore& store, const SheetWatch& watch) {
  DrawnSheet sheet;
  const Result<Maker> maker = maker_of(order, store, watch);
  if (!maker) {
    sheet.problem = maker.problem();
    return sheet;
  }
  if (is_unrolled(order.wish.print.printed) && order.wish.unroll.picture) {
    const auto wall = maker->wall();
    if (!wall) {
      sheet.problem = wall.problem();
      return sheet;
    }
    sheet.notes = (*wall)->notes;
    draw_pages(part_pages(**wall, order.wish.unroll.repeats), watch, sheet);
    return sheet;
  }
  const Result<std::vector<TemplatePage>> pages = maker->pages();
  if (!pages) {
    sheet.problem = pages.problem();
    if (pages.problem().code == Code::kCannotBeAnswered) {
      sheet.pages_asked = pages_asked(order, store, watch);
    }
    return sheet;
  }
  sheet.notes = pages.notes();
  draw_pages(*pages, watch, sheet);
  return sheet;
}

Result<std::string> write_sheet(const SheetOrder& order, SheetFormat format, std::size_t part,
                                const fs::path& file, WallStore& store, const SheetWatch& watch) {
  for (const ProjectPhoto& photo : order.source.measurement->project.photos) {
    std::error_code error;
    if (photo.file.empty() || !fs::equivalent(photo.file, file, error)) continue;
    return Problem{Code::kFileUnwritable,
                   quoted_name(file) + " is a photograph of the project and was left alone.",
                   "Choose another name.", ""};
  }
  const Result<Maker> maker = maker_of(order, store, watch);
  if (!maker) return maker.problem();
  watch.tell("Writing " + quoted_name(file), std::nullopt);
  const Result<ExportedFile> made = made_file(*maker, order.wish, format, part);
  if (!made) return made.problem();
  if (watch.stop.stop_requested()) return work_stopped();
  const Result<Done> written = write_file_whole(file, made->bytes);
  if (!written) return written.problem();
  return "Saved " + quoted_name(file) + ": " + made->said + ".";
}

}  // namespace potshadow
