// SPDX-License-Identifier: MIT
// PDF sheets with hostile names in every place where a name can stand.
#include <array>

#include "fuzz/must.h"
#include "sheets/sheet_set.h"

namespace {

using namespace potshadow;

void must_be_whole(const Result<SheetPdf>& pdf) {
  if (!pdf.ok()) {
    fuzz::must_be_said(pdf.problem());
    return;
  }
  fuzz::must(pdf->pages > 0, "a sheet has a page");
  fuzz::must(pdf->bytes.starts_with("%PDF-"), "a PDF begins as one");
  fuzz::must(pdf->bytes.find("%%EOF", pdf->bytes.size() - 16) != std::string::npos,
             "a PDF is whole");
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::Bytes bytes(data, size);
  const auto profile = Profile::from_controls({{55, 0}, {190, 80}, {20, 190}, {75, 235}});
  const auto shrinkage = TotalShrinkage::from_percent_of_wet(12.0, 0.5);
  fuzz::must(profile.ok() && shrinkage.ok(), "the jar of this target is one");
  const unsigned choice = bytes.byte();
  TemplateRequest request{bytes.text(),
                          *profile,
                          {},
                          {},
                          bytes.text(),
                          *shrinkage,
                          choice % 2 == 0 ? Paper::kA4 : Paper::kLetter,
                          bytes.text(),
                          "2026-11-25"};
  if (choice % 4 == 3) request.created_iso = bytes.text();
  if (choice % 8 == 5) request.guessed_scale = bytes.text();
  request.printer_name = bytes.text();
  request.sizes = {{bytes.text(), normal_measured(235.0, 0.9), false}};
  must_be_whole(template_sheet(request));

  PatternSheet sheet{bytes.text()};
  sheet.scale = bytes.text();
  sheet.how = {bytes.text(), bytes.text()};
  Pattern piece{bytes.text()};
  piece.paths.push_back({{{0, 0}, {80, 0}, {80, 60}}, PatternLine::kCut, true});
  while (!bytes.empty() && piece.texts.size() < 4) {
    add_text(piece, bytes.text(), {10.0, 10.0}, 2.8).upwards = bytes.byte() % 2 == 1;
  }
  sheet.pieces.push_back(piece);
  must_be_whole(pattern_sheet_set({sheet}, request));
  return 0;
}
