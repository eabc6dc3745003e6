// SPDX-License-Identifier: MIT
// Whole small pictures, through the libraries that decode them.
#include "fuzz/must.h"
#include "photo/decode.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace potshadow;
  const auto facts = probe_bytes(fuzz::text_of(data, size), "a.jpg");
  // Large pictures are slow to decode and show nothing more.
  constexpr long long kMostHere = 1'000'000;
  if (facts.ok() && static_cast<long long>(facts->width_px) * facts->height_px > kMostHere)
    return 0;
  const auto picture = decode_bytes(fuzz::text_of(data, size), "a.jpg");
  if (!picture.ok()) {
    fuzz::must_be_said(picture.problem());
    return 0;
  }
  fuzz::must(facts.ok(), "what is decoded has a header");
  fuzz::must(
      picture->bgr.cols == picture->facts.width_px && picture->bgr.rows == picture->facts.height_px,
      "a picture is as large as its header says");
  return 0;
}
