// SPDX-License-Identifier: MIT
#include "outline/board_pictures.h"

#include <algorithm>
#include <utility>

#include "outline/board.h"

namespace potshadow {
namespace {

// Says how a picture differs from the others in what all must have in common; empty where it does
// not.
std::string difference(const PhotoFacts& facts, const PhotoFacts& others) {
  const ExifFacts& a = facts.exif;
  const ExifFacts& b = others.exif;
  if (a.make != b.make || a.model != b.model || a.lens != b.lens ||
      a.focal_length != b.focal_length || a.digital_zoom != b.digital_zoom) {
    return "it was taken with another camera, lens or zoom than the others.";
  }
  if (facts.width_px != others.width_px || facts.height_px != others.height_px) {
    return "its size of " + std::to_string(facts.width_px) + " x " +
           std::to_string(facts.height_px) + " pixels is not that of the others.";
  }
  if (a.orientation != b.orientation) {
    return "the camera was held another way up than for the others.";
  }
  return "";
}

struct Probed {
  std::string file;
  PhotoFacts facts;
};

// Returns the facts that most pictures share; the earlier where as many share others. Requires at
// least one.
const PhotoFacts& commonest(const std::vector<Probed>& pictures) {
  const PhotoFacts* best = nullptr;
  std::ptrdiff_t most = 0;
  for (const Probed& picture : pictures) {
    const auto alike = std::count_if(pictures.begin(), pictures.end(), [&](const Probed& other) {
      return difference(other.facts, picture.facts).empty();
    });
    if (alike <= most) continue;
    most = alike;
    best = &picture.facts;
  }
  return *best;
}

}  // namespace

Result<BoardPictures> look_for_board(const std::vector<std::string>& files, int columns, int rows,
                                     const BoardWatch& watch) {
  BoardPictures seen;
  seen.given = files.size();
  std::vector<Probed> pictures;
  std::optional<Problem> unreadable;  // the first
  const auto leave_out = [&](const std::string& file, const Problem& problem) {
    seen.left_out.push_back({file, problem.what});
    if (!unreadable) unreadable = problem;
  };
  for (const std::string& file : files) {
    if (watch.stop.stop_requested()) return seen;
    Result<PhotoFacts> facts = probe_photo(file);
    if (facts) {
      pictures.push_back({file, std::move(facts).value()});
    } else if (facts.problem().code == Code::kFileMissing) {
      return facts.problem();  // a name mistyped
    } else {
      leave_out(file, facts.problem());
    }
  }
  const PhotoFacts most = pictures.empty() ? PhotoFacts() : commonest(pictures);
  std::vector<std::string> sums;  // of the files seen
  bool any_read = false;
  const auto look = [&](const Probed& picture) {
    const std::string unlike = difference(picture.facts, most);
    if (!unlike.empty()) {
      seen.left_out.push_back({picture.file, unlike});
      return;
    }
    if (std::find(sums.begin(), sums.end(), picture.facts.sha256) != sums.end()) {
      seen.left_out.push_back({picture.file, "it is the same picture as another."});
      return;
    }
    const Result<Picture> decoded = decode_photo(picture.file);
    if (!decoded) {
      leave_out(picture.file, decoded.problem());
      return;
    }
    any_read = true;
    sums.push_back(picture.facts.sha256);
    if (!seen.facts) seen.facts = decoded->facts;
    const auto corners = find_board(*decoded, columns, rows);
    if (!corners) {
      seen.left_out.push_back({picture.file, corners.problem().what});
      return;
    }
    seen.corners.push_back(*corners);
    seen.files.push_back(picture.file);
  };
  std::size_t dealt_with = seen.left_out.size();
  for (const Probed& picture : pictures) {
    if (watch.stop.stop_requested()) return seen;
    look(picture);
    if (watch.dealt_with) watch.dealt_with(++dealt_with);
  }
  if (!any_read && unreadable) return *unreadable;
  return seen;
}

Result<LensCalibration> calibrate_from_board(const BoardPictures& pictures,
                                             const BoardShape& shape) {
  if (pictures.corners.empty()) {
    return Problem{Code::kTooFewMarks,
                   "None of the pictures shows a whole board of " + std::to_string(shape.columns) +
                       " by " + std::to_string(shape.rows) + " inner corners.",
                   "Take pictures that show the whole board, sharp and evenly lit.", ""};
  }
  return calibrate_lens(pictures.corners, shape, pictures.facts->width_px,
                        pictures.facts->height_px);
}

std::vector<std::size_t> misfit_pictures(const LensCalibration& calibration) {
  constexpr double kFarWorse = 3.0;  // times the middle one: chance does not do that
  std::vector<std::size_t> found;
  std::vector<double> sorted = calibration.picture_rms_px;
  if (sorted.empty()) return found;
  std::sort(sorted.begin(), sorted.end());
  const double middle = sorted[sorted.size() / 2];
  for (std::size_t i = 0; i < calibration.picture_rms_px.size(); ++i) {
    if (calibration.picture_rms_px[i] > kFarWorse * middle) found.push_back(i);
  }
  return found;
}

}  // namespace potshadow
