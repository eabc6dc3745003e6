// SPDX-License-Identifier: MIT
#include "unroll/sampling.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core/utility.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>

namespace potshadow::internal {
namespace {

constexpr int kTileNodes = 32;

// Halvings of a photograph: pixel i of a level lies at i 2^level of the first.
std::vector<cv::Mat> halvings(const cv::Mat& bgr, double most_level) {
  std::vector<cv::Mat> levels{bgr};
  constexpr int kLeastSide = 8;
  while (static_cast<double>(levels.size()) < most_level + 2.0 &&
         std::min(levels.back().cols, levels.back().rows) > kLeastSide) {
    cv::Mat next;
    cv::pyrDown(levels.back(), next);
    levels.push_back(std::move(next));
  }
  return levels;
}

// A value between the nodes of a grid, at pixel (x, y).
class BetweenNodes {
 public:
  BetweenNodes(const cv::Mat& nodes, int step_px, int row_px) : step_px_(step_px) {
    const int node = row_px / step_px;
    const float part = static_cast<float>(row_px % step_px) / static_cast<float>(step_px);
    const float* low = nodes.ptr<float>(node);
    const float* high = nodes.ptr<float>(std::min(node + 1, nodes.rows - 1));
    row_.resize(static_cast<std::size_t>(nodes.cols));
    for (int i = 0; i < nodes.cols; ++i) {
      row_[static_cast<std::size_t>(i)] = low[i] + part * (high[i] - low[i]);
    }
  }
  float at(int x_px) const {
    const auto node = static_cast<std::size_t>(x_px / step_px_);
    const float part = static_cast<float>(x_px % step_px_) / static_cast<float>(step_px_);
    const std::size_t next = std::min(node + 1, row_.size() - 1);
    return row_[node] + part * (row_[next] - row_[node]);
  }

 private:
  int step_px_;
  std::vector<float> row_;
};

cv::Mat between(const cv::Mat& nodes, int step_px, const cv::Rect& tile) {
  cv::Mat out(tile.size(), CV_32F);
  for (int y = 0; y < tile.height; ++y) {
    const BetweenNodes row(nodes, step_px, tile.y + y);
    float* to = out.ptr<float>(y);
    for (int x = 0; x < tile.width; ++x) to[x] = row.at(tile.x + x);
  }
  return out;
}

// The nodes that a tile touches.
cv::Rect nodes_of(const cv::Rect& tile, int step_px, const cv::Size& nodes) {
  const int left = tile.x / step_px;
  const int top = tile.y / step_px;
  const int right = std::min((tile.x + tile.width) / step_px + 1, nodes.width - 1);
  const int bottom = std::min((tile.y + tile.height) / step_px + 1, nodes.height - 1);
  return {left, top, right - left + 1, bottom - top + 1};
}

// The photograph as it lies in a tile, sampled from the halvings that fit.
cv::Mat sampled(const Source& source, int step_px, const cv::Rect& tile, const cv::Rect& nodes) {
  const cv::Mat seen = source.grid.weight(nodes) > 0.0F;
  const double shrink = cv::mean(source.grid.shrink(nodes), seen)[0];
  const double level = std::clamp(std::log2(std::max(shrink, 1.0)), 0.0,
                                  static_cast<double>(source.levels.size()) - 1.0);
  const cv::Mat x = between(source.grid.x, step_px, tile);
  const cv::Mat y = between(source.grid.y, step_px, tile);
  const auto from = [&](int at) {
    cv::Mat out;
    const double scale = std::ldexp(1.0, -at);
    cv::remap(source.levels[static_cast<std::size_t>(at)], out, at == 0 ? x : cv::Mat(x * scale),
              at == 0 ? y : cv::Mat(y * scale), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    return out;
  };
  const int low = static_cast<int>(level);
  const double part = level - low;
  constexpr double kNoticeable = 0.05;
  cv::Mat out = from(low);
  if (part > kNoticeable && low + 1 < static_cast<int>(source.levels.size())) {
    cv::addWeighted(out, 1.0 - part, from(low + 1), part, 0.0, out);
  }
  return out;
}

void paint_tile(const std::vector<Source>& sources, int step_px, const cv::Rect& tile,
                cv::Mat& bgra) {
  struct Layer {
    cv::Mat colour;
    cv::Mat weight;
    std::array<float, 3> gain;
  };
  std::vector<Layer> layers;
  for (const Source& source : sources) {
    const cv::Rect nodes = nodes_of(tile, step_px, source.grid.weight.size());
    if (cv::countNonZero(source.grid.weight(nodes)) == 0) continue;
    layers.push_back({sampled(source, step_px, tile, nodes),
                      between(source.grid.weight, step_px, tile), source.gain});
  }
  if (layers.empty()) return;
  for (int y = 0; y < tile.height; ++y) {
    cv::Vec4b* to = bgra.ptr<cv::Vec4b>(tile.y + y) + tile.x;
    for (int x = 0; x < tile.width; ++x) {
      float all = 0.0F;
      float most = 0.0F;
      std::array<float, 3> colour{};
      for (const Layer& layer : layers) {
        const float weight = layer.weight.at<float>(y, x);
        if (!(weight > 0.0F)) continue;
        const cv::Vec3b& from = layer.colour.at<cv::Vec3b>(y, x);
        const float share = weight * weight;
        for (int c = 0; c < 3; ++c) {
          const auto at = static_cast<std::size_t>(c);
          colour[at] += share * layer.gain[at] * static_cast<float>(from[c]);
        }
        all += share;
        most = std::max(most, weight);
      }
      if (!(all > 0.0F)) continue;
      for (int c = 0; c < 3; ++c) {
        to[x][c] = cv::saturate_cast<uchar>(colour[static_cast<std::size_t>(c)] / all);
      }
      to[x][3] = cv::saturate_cast<uchar>(255.0F * most);
    }
  }
}

}  // namespace

Source source_of(ViewGrid grid, const cv::Mat& bgr) {
  double most = 1.0;
  cv::minMaxLoc(grid.shrink, nullptr, &most, nullptr, nullptr, grid.weight > 0.0F);
  constexpr double kForBrightness = 2.0;  // levels that match_brightness looks at
  return {std::move(grid), halvings(bgr, std::max(kForBrightness, std::log2(most)))};
}

void match_brightness(std::vector<Source>& sources) {
  constexpr int kLeastShared = 50;
  constexpr float kFull = 0.5F;
  for (std::size_t k = 1; k < sources.size(); ++k) {
    cv::Scalar before, own;
    int shared = 0;
    for (std::size_t j = 0; j < k; ++j) {
      const cv::Mat both = (sources[j].grid.weight > kFull) & (sources[k].grid.weight > kFull);
      const int count = cv::countNonZero(both);
      if (count == 0) continue;
      const cv::Scalar a = cv::mean(colours_at(sources[j].grid, sources[j].levels), both);
      const cv::Scalar b = cv::mean(colours_at(sources[k].grid, sources[k].levels), both);
      for (int c = 0; c < 3; ++c) {
        before[c] +=
            count * a[c] * static_cast<double>(sources[j].gain[static_cast<std::size_t>(c)]);
        own[c] += count * b[c];
      }
      shared += count;
    }
    if (shared < kLeastShared) continue;
    for (int c = 0; c < 3; ++c) {
      if (own[c] > 0.0)
        sources[k].gain[static_cast<std::size_t>(c)] = static_cast<float>(before[c] / own[c]);
    }
  }
}

cv::Mat painted(const std::vector<Source>& sources, int step_px, const cv::Size& size) {
  cv::Mat bgra = cv::Mat::zeros(size, CV_8UC4);
  const int side = kTileNodes * step_px;
  const int across = (size.width + side - 1) / side;
  const int down = (size.height + side - 1) / side;
  cv::parallel_for_(cv::Range(0, across * down), [&](const cv::Range& range) {
    for (int i = range.start; i < range.end; ++i) {
      const cv::Rect whole(0, 0, size.width, size.height);
      const cv::Rect tile(i % across * side, i / across * side, side, side);
      paint_tile(sources, step_px, tile & whole, bgra);
    }
  });
  return bgra;
}

}  // namespace potshadow::internal
