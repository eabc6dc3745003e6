// SPDX-License-Identifier: MIT
// The EXIF block alone, from its TIFF header on.
#include <cmath>

#include "fuzz/must.h"
#include "photo/exif.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace potshadow;
  const ExifFacts facts = read_exif(fuzz::text_of(data, size));
  fuzz::must(facts.orientation >= 1 && facts.orientation <= 8, "an orientation is one of eight");
  for (const auto& number : {facts.focal_35mm, facts.focal_plane_x_per_mm,
                             facts.focal_plane_y_per_mm, facts.digital_zoom}) {
    if (number) fuzz::must(std::isfinite(*number) && *number > 0.0, "a figure can be used");
  }
  return 0;
}
