// SPDX-License-Identifier: MIT
#include "desktop/window/textures.h"

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>

#include <algorithm>
#include <cmath>

namespace potshadow {
namespace {

constexpr int kTileSide = 1022;     // of new pixels; a border of one on each side makes 1024
constexpr int kTilesAFrame = 6;     // sent at most; about 3 MB each
constexpr double kSharpFrom = 4.0;  // above this zoom single pixels are shown as squares
constexpr std::size_t kMostTileBytes = std::size_t{256} * 1024 * 1024;

unsigned make_texture(bool sharp_when_large) {
  unsigned name = 0;
  glGenTextures(1, &name);
  glBindTexture(GL_TEXTURE_2D, name);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, sharp_when_large ? GL_NEAREST : GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  return name;
}

}  // namespace

Textures::~Textures() {
  for (const auto& [key, texture] : tiles_) glDeleteTextures(1, &texture.name);
  for (const auto& [key, texture] : pages_) glDeleteTextures(1, &texture.name);
  for (const auto& [key, texture] : layers_) glDeleteTextures(1, &texture.name);
}

const Textures::Texture* Textures::tile(const ShownPicture& picture, const TileKey& key, bool sharp,
                                        int& budget) {
  auto found = tiles_.find(key);
  if (found == tiles_.end()) {
    if (budget <= 0) return nullptr;
    --budget;
    const auto [revision, level, column, row] = key;
    const ShownPicture::Pixels whole = picture.whole(level);
    const int left = std::max(0, column * kTileSide - 1);
    const int top = std::max(0, row * kTileSide - 1);
    const int right = std::min(whole.width_px, (column + 1) * kTileSide + 1);
    const int bottom = std::min(whole.height_px, (row + 1) * kTileSide + 1);
    const ShownPicture::Pixels part = picture.part(level, left, top, right - left, bottom - top);
    Texture texture;
    texture.name = make_texture(false);
    texture.bytes = std::size_t{4} * static_cast<std::size_t>(part.width_px * part.height_px);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, static_cast<int>(part.bytes_per_row / 3));
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, part.width_px, part.height_px, 0, GL_BGR,
                 GL_UNSIGNED_BYTE, part.first);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
    found = tiles_.emplace(key, texture).first;
  }
  found->second.used = frame_;
  glBindTexture(GL_TEXTURE_2D, found->second.name);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, sharp ? GL_NEAREST : GL_LINEAR);
  return &found->second;
}

std::vector<Textures::Piece> Textures::photograph(const ShownPicture& picture,
                                                  std::uint64_t revision,
                                                  const PhotoTransform& transform, ScreenBox box,
                                                  bool& complete) {
  std::vector<Piece> pieces;
  int budget = kTilesAFrame;
  int wanted = 0;
  for (double scale = transform.scale(); scale < 0.5 && wanted + 1 < picture.levels(); ++wanted) {
    scale *= 2.0;
  }
  // The picture reaches from -0.5 to width - 0.5 in photo pixels, whatever the level.
  const PhotoPoint from = transform.to_photo({box.left, box.top});
  const PhotoPoint to = transform.to_photo({box.left + box.width, box.top + box.height});
  const auto show = [&](int level, bool must) {
    const ShownPicture::Pixels whole = picture.whole(level);
    const double across = static_cast<double>(picture.width_px()) / whole.width_px;
    const double down = static_cast<double>(picture.height_px()) / whole.height_px;
    const auto tiles_before = [](double pixels) {
      return static_cast<int>(std::floor(pixels / kTileSide));
    };
    const int columns = (whole.width_px + kTileSide - 1) / kTileSide;
    const int rows = (whole.height_px + kTileSide - 1) / kTileSide;
    const int first_column = std::clamp(tiles_before((from.x_px + 0.5) / across), 0, columns - 1);
    const int last_column = std::clamp(tiles_before((to.x_px + 0.5) / across), 0, columns - 1);
    const int first_row = std::clamp(tiles_before((from.y_px + 0.5) / down), 0, rows - 1);
    const int last_row = std::clamp(tiles_before((to.y_px + 0.5) / down), 0, rows - 1);
    bool all = true;
    std::vector<Piece> found;
    for (int row = first_row; row <= last_row; ++row) {
      for (int column = first_column; column <= last_column; ++column) {
        int unlimited = 1;
        const Texture* const texture =
            tile(picture, {revision, level, column, row}, transform.scale() >= kSharpFrom,
                 must ? unlimited : budget);
        if (texture == nullptr) {
          all = false;
          continue;
        }
        const int left = column * kTileSide;
        const int top = row * kTileSide;
        const int right = std::min(whole.width_px, left + kTileSide);
        const int bottom = std::min(whole.height_px, top + kTileSide);
        const int border_left = std::max(0, left - 1);
        const int border_top = std::max(0, top - 1);
        const double wide = std::min(whole.width_px, right + 1) - border_left;
        const double high = std::min(whole.height_px, bottom + 1) - border_top;
        found.push_back({texture->name, (left - border_left) / wide, (top - border_top) / high,
                         (right - border_left) / wide, (bottom - border_top) / high,
                         transform.to_screen({left * across - 0.5, top * down - 0.5}),
                         transform.to_screen({right * across - 0.5, bottom * down - 0.5})});
      }
    }
    pieces.insert(pieces.end(), found.begin(), found.end());
    return all;
  };
  // The fine level last, so that it covers the coarse one; alone where it is all there.
  const int coarsest = picture.levels() - 1;
  complete = show(wanted, false);
  if (!complete && coarsest != wanted) {
    std::vector<Piece> fine = std::move(pieces);
    pieces.clear();
    show(coarsest, true);
    pieces.insert(pieces.end(), fine.begin(), fine.end());
  }
  return pieces;
}

unsigned Textures::numbered(std::map<NumberedKey, Texture>& all, const NumberedKey& key,
                            int width_px, int height_px, bool clear,
                            const std::vector<unsigned char>& bgra) {
  auto found = all.find(key);
  if (found == all.end()) {
    Texture texture;
    texture.name = make_texture(false);
    texture.bytes = bgra.size();
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
    glTexImage2D(GL_TEXTURE_2D, 0, clear ? GL_RGBA8 : GL_RGB8, width_px, height_px, 0, GL_BGRA,
                 GL_UNSIGNED_BYTE, bgra.data());
    glGenerateMipmap(GL_TEXTURE_2D);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
    found = all.emplace(key, texture).first;
  }
  found->second.used = frame_;
  return found->second.name;
}

unsigned Textures::page(const PagePixels& pixels, std::uint64_t revision, std::size_t number) {
  return numbered(pages_, {revision, number}, pixels.width_px, pixels.height_px, false,
                  pixels.bytes);
}

unsigned Textures::layer(const PatternPixels& pixels, std::uint64_t revision, std::size_t number) {
  return numbered(layers_, {revision, number}, pixels.width_px, pixels.height_px, true,
                  pixels.bgra);
}

void Textures::end_frame() {
  constexpr std::uint64_t kPatience = 120;  // frames
  std::size_t bytes = 0;
  for (const auto& [key, texture] : tiles_) bytes += texture.bytes;
  for (auto it = tiles_.begin(); it != tiles_.end();) {
    const bool old = frame_ - it->second.used > kPatience;
    const bool too_much = bytes > kMostTileBytes && it->second.used < frame_;
    if (!old && !too_much) {
      ++it;
      continue;
    }
    bytes -= it->second.bytes;
    glDeleteTextures(1, &it->second.name);
    it = tiles_.erase(it);
  }
  for (auto* const all : {&pages_, &layers_}) {
    for (auto it = all->begin(); it != all->end();) {
      if (frame_ - it->second.used <= kPatience) {
        ++it;
        continue;
      }
      glDeleteTextures(1, &it->second.name);
      it = all->erase(it);
    }
  }
  ++frame_;
}

}  // namespace potshadow
