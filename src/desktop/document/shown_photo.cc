// SPDX-License-Identifier: MIT
#include "desktop/document/shown_photo.h"

#include <algorithm>

namespace potshadow {
namespace {

// Indices of the measured photographs in the project, in the order of the answer's.
std::vector<std::size_t> measured_indices(const Measurement& measurement) {
  if (!measurement.photo_indices.empty()) return measurement.photo_indices;
  return {measurement.photo_index};
}

}  // namespace

std::size_t photo_after(const Document& before, const Document& after, std::size_t shown) {
  const std::vector<ProjectPhoto>& old = before.photos;
  const std::vector<ProjectPhoto>& now = after.photos;
  if (now.empty()) return 0;
  const std::size_t last = now.size() - 1;
  const auto apart = std::mismatch(old.begin(), old.end(), now.begin(), now.end());
  const auto first = static_cast<std::size_t>(apart.second - now.begin());
  if (now.size() > old.size()) return first;
  if (now.size() < old.size()) {
    const std::size_t gone = old.size() - now.size();
    if (shown < first) return shown;
    return std::min(last, shown >= first + gone ? shown - gone : first);
  }
  const bool own = shown <= last && old[shown] != now[shown];
  return own || first > last ? std::min(shown, last) : first;
}

const PhotoAnswer* answer_of_photo(const Measurement& measurement, const Document& document,
                                   std::size_t photo) {
  const std::vector<ProjectPhoto>& then = measurement.project.photos;
  if (photo >= document.photos.size()) return nullptr;
  const auto same = [&](const ProjectPhoto& other) {
    return other.file == document.photos[photo].file;
  };
  std::size_t index = photo;
  if (index >= then.size() || !same(then[index])) {
    index = static_cast<std::size_t>(std::find_if(then.begin(), then.end(), same) - then.begin());
  }
  const std::vector<std::size_t> indices = measured_indices(measurement);
  const auto found = std::find(indices.begin(), indices.end(), index);
  const auto at = static_cast<std::size_t>(found - indices.begin());
  if (found == indices.end() || at >= measurement.answer.photos.size()) return nullptr;
  return &measurement.answer.photos[at];
}

MarkId mark_in(const Measurement& measurement, const MarkPlace& place) {
  const std::vector<std::size_t> indices = measured_indices(measurement);
  MarkId mark{place.photo < indices.size() ? indices[place.photo] : 0, place};
  mark.place.photo = 0;
  return mark;
}

}  // namespace potshadow
