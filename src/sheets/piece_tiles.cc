// SPDX-License-Identifier: MIT
#include "sheets/piece_tiles.h"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "patterns/curves.h"

namespace potshadow {
namespace {

// Returns whether a straight piece passes through a box. Source: Liang & Barsky, 1984.
bool passes(const PatternPoint& a, const PatternPoint& b, const PatternBox& box) {
  double from = 0.0;
  double to = 1.0;
  const double dx = b.x_mm - a.x_mm;
  const double dy = b.y_mm - a.y_mm;
  const auto clip = [&](double p, double q) {
    if (p == 0.0) return q >= 0.0;
    const double t = q / p;
    if (p < 0.0) {
      from = std::max(from, t);
    } else {
      to = std::min(to, t);
    }
    return from <= to;
  };
  return clip(-dx, a.x_mm - box.left_mm) && clip(dx, box.right_mm - a.x_mm) &&
         clip(-dy, a.y_mm - box.bottom_mm) && clip(dy, box.top_mm - a.y_mm);
}

// Returns whether any pixel in the box is more than see-through; looks at some of them.
bool shows(const PatternPicture& picture, const PatternBox& box) {
  constexpr double kLooksPerMm = 0.5;
  constexpr std::size_t kCover = 3;
  const PatternPixels& all = *picture.pixels;
  const auto index = [](double part, int count) {
    return static_cast<std::size_t>(std::clamp(part * count, 0.0, count - 1.0));
  };
  const double left = std::max(box.left_mm, picture.box.left_mm);
  const double right = std::min(box.right_mm, picture.box.right_mm);
  const double bottom = std::max(box.bottom_mm, picture.box.bottom_mm);
  const double top = std::min(box.top_mm, picture.box.top_mm);
  for (double y = bottom; y <= top; y += 1.0 / kLooksPerMm) {
    for (double x = left; x <= right; x += 1.0 / kLooksPerMm) {
      const std::size_t row = index((picture.box.top_mm - y) / picture.box.height(), all.height_px);
      const std::size_t column =
          index((x - picture.box.left_mm) / picture.box.width(), all.width_px);
      const std::size_t pixel = row * static_cast<std::size_t>(all.width_px) + column;
      if (all.bgra[4 * pixel + kCover] > 0) return true;
    }
  }
  return false;
}

// Returns whether any of the piece lies in the box.
bool shows(const Pattern& piece, const PatternBox& box) {
  for (const PatternPath& path : piece.paths) {
    for (std::size_t i = 0; i + 1 < path.points.size(); ++i) {
      if (passes(path.points[i], path.points[i + 1], box)) return true;
    }
    if (path.closed && passes(path.points.back(), path.points.front(), box)) return true;
  }
  return std::any_of(piece.texts.begin(), piece.texts.end(),
                     [&](const PatternText& text) { return passes(text.at, text.at, box); }) ||
         std::any_of(piece.pictures.begin(), piece.pictures.end(),
                     [&](const PatternPicture& picture) { return shows(picture, box); });
}

// Windows by row and column.
struct Grid {
  int rows = 0;
  int columns = 0;
  std::vector<bool> kept;
  std::size_t at(int row, int column) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column);
  }
  bool has(int row, int column) const {
    return row >= 0 && column >= 0 && row < rows && column < columns && kept[at(row, column)];
  }
};

// Returns whether one can walk from each kept window to every other over shared sides.
bool hangs_together(const Grid& grid) {
  std::vector<bool> reached(grid.kept.size(), false);
  std::vector<std::pair<int, int>> open;
  for (int row = 0; row < grid.rows && open.empty(); ++row) {
    for (int column = 0; column < grid.columns && open.empty(); ++column) {
      if (grid.has(row, column)) open.emplace_back(row, column);
    }
  }
  while (!open.empty()) {
    const auto [row, column] = open.back();
    open.pop_back();
    if (!grid.has(row, column) || reached[grid.at(row, column)]) continue;
    reached[grid.at(row, column)] = true;
    open.insert(open.end(),
                {{row + 1, column}, {row - 1, column}, {row, column + 1}, {row, column - 1}});
  }
  return reached == grid.kept;
}

class Joiner {
 public:
  Joiner(std::vector<PieceTile>& tiles, const Grid& grid) : tiles_(tiles), grid_(grid) {
    std::size_t index = 0;
    for (const bool kept : grid.kept) index_.push_back(kept ? index++ : 0);
  }

  void join_all() {
    for (int row = 0; row < grid_.rows; ++row) {
      for (int column = 0; column < grid_.columns; ++column) {
        if (!grid_.has(row, column)) continue;
        if (grid_.has(row + 1, column)) join(tile(row, column), tile(row + 1, column), true);
        if (grid_.has(row, column + 1)) join(tile(row, column), tile(row, column + 1), false);
      }
    }
  }

 private:
  PieceTile& tile(int row, int column) { return tiles_[index_[grid_.at(row, column)]]; }

  static PagePoint on_page(const PieceTile& tile, const PatternPoint& p) {
    return {tile.origin.x_mm + p.x_mm, tile.origin.y_mm - p.y_mm};
  }

  // `next` is cut along the seam and laid on `tile`.
  void join(PieceTile& tile, PieceTile& next, bool below) {
    constexpr double kInMm = 26.0;  // of a mark from the seam's ends
    const MapCell& cell = tile.cell;
    const double seam =
        below ? cell.bottom_mm + kOverlapMm / 2.0 : cell.right_mm - kOverlapMm / 2.0;
    const double from = below ? std::max(cell.left_mm, next.cell.left_mm)
                              : std::max(cell.bottom_mm, next.cell.bottom_mm);
    const double to = below ? std::min(cell.right_mm, next.cell.right_mm)
                            : std::min(cell.top_mm, next.cell.top_mm);
    const double in = std::min(kInMm, (to - from) / 4.0);
    const auto at = [&](double along) {
      return below ? PatternPoint{along, seam} : PatternPoint{seam, along};
    };
    std::string letters;
    for (const double along : {from + in, to - in}) {
      const std::string letter = letter_for(letters_++);
      letters += (letters.empty() ? "" : ", ") + letter;
      for (PieceTile* side : {&tile, &next}) {
        side->marks.push_back({letter, on_page(*side, at(along))});
      }
    }
    next.trims.push_back(trim_line(on_page(next, at(from)), on_page(next, at(to))));
    next.joins.push_back(cell.label + " (" + letters + ")");
  }

  std::vector<PieceTile>& tiles_;
  const Grid& grid_;
  std::vector<std::size_t> index_;
  std::size_t letters_ = 0;
};

}  // namespace

TiledPiece tiled_piece(const Pattern& piece, const PatternBox& box, const PageBox& window) {
  TiledPiece out;
  Grid grid;
  grid.columns = static_cast<int>(tiles_for(box.width(), window.width()));
  grid.rows = static_cast<int>(tiles_for(box.height(), window.height()));
  // Equal windows, no larger than they need be.
  const auto share = [](double length, int count, double most) {
    return std::min(most, (length + kOverlapMm * (count - 1)) / count);
  };
  const double width = share(box.width(), grid.columns, window.width());
  const double height = share(box.height(), grid.rows, window.height());
  std::vector<PieceTile> all;
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) {
      PieceTile tile;
      tile.cell.label = sheet_label(row, column);
      tile.cell.left_mm = box.left_mm + column * (width - kOverlapMm);
      tile.cell.right_mm = tile.cell.left_mm + width;
      tile.cell.top_mm = box.top_mm - row * (height - kOverlapMm);
      tile.cell.bottom_mm = tile.cell.top_mm - height;
      tile.window = {window.left_mm, window.top_mm, window.left_mm + width, window.top_mm + height};
      tile.origin = {window.left_mm - tile.cell.left_mm, window.top_mm + tile.cell.top_mm};
      // What it alone shows: without half of what it shares with each neighbour it has. Where it
      // has none the piece ends with the window, give or take rounding.
      const auto in = [](bool has_neighbour) { return has_neighbour ? kOverlapMm / 2.0 : -1.0; };
      grid.kept.push_back(
          shows(piece, PatternBox{tile.cell.left_mm + in(column > 0),
                                  tile.cell.bottom_mm + in(row + 1 < grid.rows),
                                  tile.cell.right_mm - in(column + 1 < grid.columns),
                                  tile.cell.top_mm - in(row > 0)}));
      all.push_back(std::move(tile));
    }
  }
  if (!hangs_together(grid)) grid.kept.assign(grid.kept.size(), true);
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (grid.kept[i]) out.tiles.push_back(std::move(all[i]));
  }
  Joiner(out.tiles, grid).join_all();
  constexpr double kMapToleranceMm = 0.5;  // a drawing that small needs few points
  for (const PatternPath& path : piece.paths) {
    if (path.line != PatternLine::kCut && path.line != PatternLine::kBold) continue;
    std::vector<ProfilePoint> outline;
    for (const PatternPoint& p : path.points) outline.push_back({p.x_mm, p.y_mm});
    // A run that returns to its start would be taken for a point.
    const std::size_t half = outline.size() / 2;
    const auto middle = outline.begin() + static_cast<std::ptrdiff_t>(half);
    std::vector<ProfilePoint> first =
        simplified(std::vector<ProfilePoint>(outline.begin(), middle + 1), kMapToleranceMm);
    const std::vector<ProfilePoint> rest =
        simplified(std::vector<ProfilePoint>(middle, outline.end()), kMapToleranceMm);
    first.insert(first.end(), rest.begin() + 1, rest.end());
    out.outlines.push_back(std::move(first));
  }
  return out;
}

}  // namespace potshadow
