// SPDX-License-Identifier: MIT
// The painting of a measured vessel, unrolled from its photographs and kept for the next sheet.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/session/sheet_wish.h"
#include "project/pattern_request.h"
#include "unroll/wall_parts.h"

namespace potshadow {

// How a long work tells how far it is, and hears that it is to end.
struct SheetWatch {
  std::function<void(const std::string& words, std::optional<double> part)> tell;
  std::stop_token stop;
};

// Returned by works that were stopped; nobody sees it.
Problem work_stopped();

// All its pixels together; finer photographs are unrolled coarser.
inline constexpr double kMostWallPixels = 60e6;

struct WallPictures {
  PaintedFace face;
  WallWish wish;  // without repeats
  std::vector<FlatPart> parts;
  std::vector<Note> notes;  // how much is seen, from how many photographs
};

// The painting that was unrolled last. May be used from several threads.
class WallStore {
 public:
  // Returns the painting; one that differs in repeats alone is not unrolled again. Requires a wish
  // for something unrolled. Fails where a photograph cannot be read, and as wall_parts and unroll
  // do. Slow: a second or two.
  Result<std::shared_ptr<const WallPictures>> wall(const SheetOrder& order, const MadeSize& made,
                                                   const SheetWatch& watch);
  void forget();

 private:
  std::mutex mutex_;
  std::shared_ptr<const WallPictures> kept_;
  std::optional<SheetOrder> kept_of_;
};

// Returns the parts as pieces, with so many repeats of the motif; 0: each band's own.
std::vector<Pattern> wall_pieces(const WallPictures& wall, int repeats);

// Returns the piece with stripes on paper where it is blank or faded, for the window.
Pattern with_stripes(Pattern piece, const Development& flat);

}  // namespace potshadow
