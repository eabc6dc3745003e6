// SPDX-License-Identifier: MIT
// Headers of pictures: size, kind, EXIF, and the focal length that comes of them.
#include "fuzz/must.h"
#include "photo/probe.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace potshadow;
  const auto facts = probe_bytes(fuzz::text_of(data, size), "a.jpg");
  if (!facts.ok()) {
    fuzz::must_be_said(facts.problem());
    return 0;
  }
  fuzz::must(facts->width_px > 0 && facts->height_px > 0, "a picture has a size");
  fuzz::must(facts->width_px <= kMostPixelsAlongASide && facts->height_px <= kMostPixelsAlongASide,
             "a side is within the limit");
  fuzz::must(static_cast<long long>(facts->width_px) * facts->height_px <= kMostPixels,
             "a picture is within the limit");
  fuzz::must(facts->turn >= 1 && facts->turn <= 8, "a turn is one of eight");
  if (facts->focal) fuzz::must(facts->focal->focal_35mm > 0.0, "a focal length is above nothing");
  return 0;
}
