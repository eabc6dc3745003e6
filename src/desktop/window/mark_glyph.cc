// SPDX-License-Identifier: MIT
#include "desktop/window/mark_glyph.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace potshadow {
namespace {

ImU32 halo_of(ImU32 colour) {
  return paint(kHalo, 0.75 * static_cast<double>(colour >> 24U) / 255.0);
}

}  // namespace

void haloed_line(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width) {
  list.AddLine(from, to, halo_of(colour), width + 2.0F);
  list.AddLine(from, to, colour, width);
}

void haloed_path(ImDrawList& list, const ImVec2* points, int count, ImU32 colour, float width,
                 float dash, bool halo) {
  if (count < 2) return;
  if (dash <= 0.0F) {
    if (halo) list.AddPolyline(points, count, halo_of(colour), 0, width + 2.0F);
    list.AddPolyline(points, count, colour, 0, width);
    return;
  }
  // Dashes run on along the whole path, whatever its points.
  std::vector<std::vector<ImVec2>> dashes;
  bool on = true;
  float left = dash;
  std::vector<ImVec2> current{points[0]};
  for (int i = 1; i < count; ++i) {
    ImVec2 from = points[i - 1];
    const ImVec2 to = points[i];
    float length = std::hypot(to.x - from.x, to.y - from.y);
    while (length > left) {
      const float t = left / length;
      from = ImVec2(from.x + t * (to.x - from.x), from.y + t * (to.y - from.y));
      length -= left;
      if (on) {
        current.push_back(from);
        dashes.push_back(current);
      }
      on = !on;
      current = {from};
      left = dash;
    }
    left -= length;
    if (on) current.push_back(to);
  }
  if (on && current.size() > 1) dashes.push_back(current);
  for (const auto& piece : dashes) {
    const int pieces = static_cast<int>(piece.size());
    if (halo) list.AddPolyline(piece.data(), pieces, halo_of(colour), 0, width + 2.0F);
    list.AddPolyline(piece.data(), pieces, colour, 0, width);
  }
}

void mark_glyph(ImDrawList& list, ImVec2 centre, float radius, MarkKind kind, double grown,
                const Look& look) {
  const ImU32 colour = paint(mark_colour(kind));
  const ImU32 halo = paint(kHalo, 0.8);
  const float r = radius * static_cast<float>(grown);
  const float thick = look.px(1.6);
  const float rim = thick + look.px(1.8);
  switch (kind) {
    case MarkKind::kRim:
      list.AddCircle(centre, r, halo, 24, rim);
      list.AddCircle(centre, r, colour, 24, thick);
      break;
    case MarkKind::kBase: {
      // A bar on either side of the place, as if it stood on it.
      const float gap = 0.35F * r;
      for (const ImU32 ink : {halo, colour}) {
        const float width = ink == halo ? rim + look.px(1.2) : thick + look.px(1.2);
        list.AddLine(ImVec2(centre.x - 1.4F * r, centre.y), ImVec2(centre.x - gap, centre.y), ink,
                     width);
        list.AddLine(ImVec2(centre.x + gap, centre.y), ImVec2(centre.x + 1.4F * r, centre.y), ink,
                     width);
      }
      break;
    }
    case MarkKind::kLeft:
    case MarkKind::kRight: {
      // The wedge's point is the place; it points at the edge from outside.
      const float way = kind == MarkKind::kLeft ? -1.0F : 1.0F;
      const ImVec2 tip(centre.x + way * look.px(1.0), centre.y);
      const ImVec2 up(centre.x + way * 1.9F * r, centre.y - 0.85F * r);
      const ImVec2 down(centre.x + way * 1.9F * r, centre.y + 0.85F * r);
      list.AddTriangle(tip, up, down, halo, rim);
      list.AddTriangleFilled(tip, up, down, colour);
      break;
    }
    case MarkKind::kReference: {
      // A hook that opens along the two edges that meet.
      for (const ImU32 ink : {halo, colour}) {
        const float width = ink == halo ? rim : thick;
        list.AddLine(ImVec2(centre.x - 1.6F * r, centre.y), ImVec2(centre.x + 0.5F * r, centre.y),
                     ink, width);
        list.AddLine(ImVec2(centre.x, centre.y - 1.6F * r), ImVec2(centre.x, centre.y + 0.5F * r),
                     ink, width);
      }
      break;
    }
  }
}

void reference_glyph(ImDrawList& list, ImVec2 centre, float radius, MarkPart part, double grown,
                     const Look& look) {
  const float r = radius * static_cast<float>(grown);
  const float thick = look.px(1.6);
  const ImU32 colour = paint(mark_colour(MarkKind::kReference));
  const ImU32 halo = paint(kHalo, 0.8);
  const float rim = thick + look.px(1.8);
  const auto line = [&](float x0, float y0, float x1, float y1, ImU32 ink) {
    list.AddLine(ImVec2(centre.x + x0 * r, centre.y + y0 * r),
                 ImVec2(centre.x + x1 * r, centre.y + y1 * r), ink, ink == halo ? rim : thick);
  };
  switch (part) {
    case MarkPart::kVessel:
    case MarkPart::kCorner:
    case MarkPart::kEdge:
      mark_glyph(list, centre, radius, MarkKind::kReference, grown, look);
      break;
    case MarkPart::kEnd:
    case MarkPart::kCrossing:
    case MarkPart::kShelfLine:
      for (const ImU32 ink : {halo, colour}) {
        for (const float x : {-1.0F, 1.0F}) {
          for (const float y : {-1.0F, 1.0F}) line(0.3F * x, 0.3F * y, 1.2F * x, 1.2F * y, ink);
        }
      }
      break;
    case MarkPart::kRim:
      for (const ImU32 ink : {halo, colour}) {
        const float far = 1.3F * r;
        list.AddQuad(ImVec2(centre.x - far, centre.y), ImVec2(centre.x, centre.y - far),
                     ImVec2(centre.x + far, centre.y), ImVec2(centre.x, centre.y + far), ink,
                     ink == halo ? rim : thick);
      }
      break;
    case MarkPart::kBase:
      for (const ImU32 ink : {halo, colour}) {
        for (const float y : {-0.4F, 0.4F}) {
          line(-1.4F, y, -0.35F, y, ink);
          line(0.35F, y, 1.4F, y, ink);
        }
      }
      break;
    case MarkPart::kLeft:
    case MarkPart::kRight: {
      const float way = part == MarkPart::kLeft ? -1.0F : 1.0F;
      const ImVec2 tip(centre.x + way * look.px(1.0), centre.y);
      const ImVec2 up(centre.x + way * 1.9F * r, centre.y - 0.85F * r);
      const ImVec2 down(centre.x + way * 1.9F * r, centre.y + 0.85F * r);
      list.AddTriangle(tip, up, down, halo, rim);
      list.AddTriangle(tip, up, down, colour, thick);
      break;
    }
  }
}

}  // namespace potshadow
