// SPDX-License-Identifier: MIT
#include "photo/probe.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "core/files.h"

namespace potshadow {
namespace {

// Shrinking a picture rounds its sides to whole pixels, which changes their ratio by up to 0.5 px
// in some hundreds; a crop that matters changes it by more than this.
constexpr double kSameShape = 0.01;

double long_by_short(double a, double b) { return std::max(a, b) / std::min(a, b); }

// Says when the picture's shape is not the one that the camera recorded. The long side is compared
// with the short one, because programs that turn a picture often leave the recorded sides alone.
std::vector<Note> crop_notes(const PhotoFacts& facts, const std::filesystem::path& path) {
  if (!facts.exif.pixel_width || !facts.exif.pixel_height) return {};
  const double recorded = long_by_short(*facts.exif.pixel_width, *facts.exif.pixel_height);
  const double present = long_by_short(facts.width_px, facts.height_px);
  if (std::abs(present / recorded - 1.0) <= kSameShape) return {};
  return {{"The picture '" + path.string() + "' was probably cropped: the camera recorded " +
               std::to_string(*facts.exif.pixel_width) + " × " +
               std::to_string(*facts.exif.pixel_height) + " pixels, the file has " +
               std::to_string(facts.width_px) + " × " + std::to_string(facts.height_px) +
               ". Use the whole picture if you have it, or mark this one as cropped.",
           true}};
}

}  // namespace

Result<PhotoFacts> probe_bytes(std::string_view bytes, const std::filesystem::path& path) {
  auto header = read_picture_header(bytes, path);
  if (!header) return header.problem();
  PhotoFacts facts;
  facts.kind = header->kind;
  facts.stored_width_px = header->stored_width;
  facts.stored_height_px = header->stored_height;
  facts.bytes = bytes.size();
  facts.sha256 = sha256_hex(bytes);
  facts.exif = read_exif(header->exif_block);
  facts.turn = header->kind == PictureKind::kHeif ? 1 : facts.exif.orientation;
  facts.width_px = header->decoded_width;
  facts.height_px = header->decoded_height;
  if (swaps_sides(facts.turn)) std::swap(facts.width_px, facts.height_px);
  std::vector<Note> notes = crop_notes(facts, path);
  const auto focal = focal_from_exif(facts.exif, facts.stored_width_px, facts.stored_height_px);
  notes.insert(notes.end(), focal.notes().begin(), focal.notes().end());
  facts.focal = *focal;
  return {std::move(facts), std::move(notes)};
}

Result<PhotoFacts> probe_photo(const std::filesystem::path& path) {
  const auto bytes = read_file(path, kMostPhotoBytes);
  if (!bytes) return bytes.problem();
  return probe_bytes(*bytes, path);
}

}  // namespace potshadow
