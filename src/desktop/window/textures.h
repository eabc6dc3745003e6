// SPDX-License-Identifier: MIT
// Pictures on the graphics card: the photograph in tiles, the sheets' pages, layers of pictures.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <tuple>
#include <vector>

#include "desktop/canvas/photo_transform.h"
#include "patterns/pattern.h"
#include "photo/shown_picture.h"
#include "sheets/page_picture.h"

// A photograph may be larger than a texture can be, so it is cut into tiles; the level that fits
// the zoom is used, and only what is in sight is sent, a few tiles a frame. Until they are there
// the coarsest level shows. Tiles that have not been in sight for long are given back.
namespace potshadow {

class Textures {
 public:
  Textures() = default;
  ~Textures();
  Textures(const Textures&) = delete;
  Textures& operator=(const Textures&) = delete;

  // A piece of the photograph: texture, its place in the texture (0..1), its place on the screen.
  struct Piece {
    unsigned texture = 0;
    double u0 = 0.0, v0 = 0.0, u1 = 1.0, v1 = 1.0;
    ScreenPoint from;
    ScreenPoint to;
  };

  // Returns what to draw, from back to front, to show the picture in the box. `revision` says which
  // picture it is. `complete` is set to false while tiles are still to be sent.
  std::vector<Piece> photograph(const ShownPicture& picture, std::uint64_t revision,
                                const PhotoTransform& transform, ScreenBox box, bool& complete);

  // Returns the texture of a page.
  unsigned page(const PagePixels& pixels, std::uint64_t revision, std::size_t number);

  // Returns the texture of a picture that is clear in places, one of those of `revision`.
  unsigned layer(const PatternPixels& pixels, std::uint64_t revision, std::size_t number);

  // Gives back what has not been used of late.
  void end_frame();

 private:
  struct Texture {
    unsigned name = 0;
    std::uint64_t used = 0;  // number of the frame
    std::size_t bytes = 0;
  };
  using TileKey = std::tuple<std::uint64_t, int, int, int>;  // revision, level, column, row
  const Texture* tile(const ShownPicture& picture, const TileKey& key, bool sharp, int& budget);

  std::map<TileKey, Texture> tiles_;
  using NumberedKey = std::pair<std::uint64_t, std::size_t>;  // revision, which one
  unsigned numbered(std::map<NumberedKey, Texture>& all, const NumberedKey& key, int width_px,
                    int height_px, bool clear, const std::vector<unsigned char>& bgra);

  std::map<NumberedKey, Texture> pages_;
  std::map<NumberedKey, Texture> layers_;
  std::uint64_t frame_ = 1;
};

}  // namespace potshadow
