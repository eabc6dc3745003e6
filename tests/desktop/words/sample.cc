// SPDX-License-Identifier: MIT
#include "desktop/words/sample.h"

#include <filesystem>

namespace potshadow {
namespace {

const std::filesystem::path kSamples = POTSHADOW_SOURCE_DIR "/samples";

}  // namespace

Document sample_document() {
  return document_of(load_project(kSamples / "shelf-jar.potshadow").value(), kSamples);
}

Measurement sample_measurement() { return measure_project(sample_document(), kSamples).value(); }

PhotoFacts sample_facts() { return probe_photo(kSamples / "shelf-jar.jpg").value(); }

}  // namespace potshadow
