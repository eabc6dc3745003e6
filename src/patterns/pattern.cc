// SPDX-License-Identifier: MIT
#include "patterns/pattern.h"

#include <algorithm>
#include <cstddef>
#include <cstring>
#include <limits>
#include <utility>

#include "core/check.h"

namespace potshadow {
namespace {

// Calls `change` with every point of the pattern.
template <class Change>
void change_points(Pattern& pattern, Change change) {
  for (PatternPath& path : pattern.paths)
    std::for_each(path.points.begin(), path.points.end(), change);
  for (PatternArea& area : pattern.areas)
    std::for_each(area.points.begin(), area.points.end(), change);
  for (PatternText& text : pattern.texts) change(text.at);
}

// Anticlockwise, in blocks that fit into the processor's memory.
std::shared_ptr<const PatternPixels> quarter_turned(const PatternPixels& pixels) {
  PatternPixels turned{pixels.height_px, pixels.width_px, {}};
  turned.bgra.resize(pixels.bgra.size());
  constexpr std::size_t kBytes = 4;
  constexpr std::size_t kBlock = 32;
  const auto width = static_cast<std::size_t>(pixels.width_px);
  const auto height = static_cast<std::size_t>(pixels.height_px);
  for (std::size_t top = 0; top < height; top += kBlock) {
    for (std::size_t left = 0; left < width; left += kBlock) {
      for (std::size_t column = left; column < std::min(left + kBlock, width); ++column) {
        for (std::size_t row = top; row < std::min(top + kBlock, height); ++row) {
          std::memcpy(&turned.bgra[kBytes * ((width - 1 - column) * height + row)],
                      &pixels.bgra[kBytes * (row * width + column)], kBytes);
        }
      }
    }
  }
  return std::make_shared<const PatternPixels>(std::move(turned));
}

}  // namespace

PatternBox box_of(const Pattern& pattern) {
  constexpr double kFar = std::numeric_limits<double>::max();
  PatternBox box{kFar, kFar, -kFar, -kFar};
  const auto take = [&](const PatternPoint& p) {
    box.left_mm = std::min(box.left_mm, p.x_mm);
    box.right_mm = std::max(box.right_mm, p.x_mm);
    box.bottom_mm = std::min(box.bottom_mm, p.y_mm);
    box.top_mm = std::max(box.top_mm, p.y_mm);
  };
  for (const PatternPath& path : pattern.paths)
    std::for_each(path.points.begin(), path.points.end(), take);
  for (const PatternArea& area : pattern.areas)
    std::for_each(area.points.begin(), area.points.end(), take);
  for (const PatternText& text : pattern.texts) {
    constexpr double kBelowLine = 0.3;  // of letters such as g
    const double below = kBelowLine * text.size_mm;
    const PatternPoint& at = text.at;
    if (text.upwards) {
      take({at.x_mm - text.size_mm, at.y_mm});
      take({at.x_mm + below, at.y_mm});
    } else {
      take({at.x_mm, at.y_mm - below});
      take({at.x_mm, at.y_mm + text.size_mm});
    }
  }
  for (const PatternPicture& picture : pattern.pictures) {
    take({picture.box.left_mm, picture.box.bottom_mm});
    take({picture.box.right_mm, picture.box.top_mm});
  }
  POTSHADOW_CHECK(box.left_mm <= box.right_mm);
  return box;
}

Pattern moved(Pattern pattern, double dx_mm, double dy_mm) {
  change_points(pattern, [&](PatternPoint& p) { p = {p.x_mm + dx_mm, p.y_mm + dy_mm}; });
  for (PatternPicture& picture : pattern.pictures) {
    PatternBox& box = picture.box;
    box = {box.left_mm + dx_mm, box.bottom_mm + dy_mm, box.right_mm + dx_mm, box.top_mm + dy_mm};
  }
  return pattern;
}

Pattern mirrored(Pattern pattern) {
  POTSHADOW_CHECK(pattern.pictures.empty());
  change_points(pattern, [](PatternPoint& p) { p.x_mm = -p.x_mm; });
  for (PatternText& text : pattern.texts) {
    if (text.upwards) {
      // Letters stand to the left of their base line, so it moves by their height.
      constexpr double kLetterHeight = 0.73;
      text.at.x_mm += kLetterHeight * text.size_mm;
    } else if (text.align != PatternAlign::kCentre) {
      text.align = text.align == PatternAlign::kLeft ? PatternAlign::kRight : PatternAlign::kLeft;
    }
  }
  return pattern;
}

std::optional<Pattern> quarter_turned(const Pattern& pattern) {
  Pattern turned = pattern;
  for (PatternText& text : turned.texts) {
    if (text.upwards) return std::nullopt;
    text.upwards = true;
  }
  change_points(turned, [](PatternPoint& p) { p = {-p.y_mm, p.x_mm}; });
  for (PatternPicture& picture : turned.pictures) {
    const PatternBox& box = picture.box;
    picture.pixels = quarter_turned(*picture.pixels);
    picture.box = {-box.top_mm, box.left_mm, -box.bottom_mm, box.right_mm};
  }
  return turned;
}

std::vector<double> spread(const std::vector<double>& wanted, double apart, double most) {
  std::vector<double> places;
  places.reserve(wanted.size());
  for (const double place : wanted) {
    places.push_back(places.empty() ? place : std::max(place, places.back() + apart));
  }
  // Whatever was pushed beyond the end comes back, and pushes back what is before it.
  for (std::size_t i = places.size(); i-- > 0;) {
    places[i] = std::min(places[i], most);
    most = places[i] - apart;
  }
  return places;
}

void add_line(Pattern& pattern, PatternPoint from, PatternPoint to, PatternLine line) {
  pattern.paths.push_back({{from, to}, line, false});
}

PatternText& add_text(Pattern& pattern, std::string words, PatternPoint at, double size_mm) {
  PatternText& text = pattern.texts.emplace_back();
  text.words = std::move(words);
  text.at = at;
  text.size_mm = size_mm;
  return text;
}

}  // namespace potshadow
