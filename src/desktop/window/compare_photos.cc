// SPDX-License-Identifier: MIT
#include "desktop/window/compare_photos.h"

#include <imgui.h>

#include <algorithm>
#include <cstdint>
#include <string>

#include "core/text.h"
#include "desktop/session/comparer.h"
#include "desktop/window/kit.h"

namespace potshadow {
namespace {

constexpr double kMostHeight = 520.0;  // of a picture, at 100 %
constexpr double kBetween = 16.0;

// Which layer of a comparison's pictures a texture is.
enum Layer : std::size_t { kOriginal, kReplica, kOriginalOutlined, kReplicaOutlined, kSeries };

ImTextureID texture_of(Frame& frame, const PatternPixels& pixels, Layer layer) {
  const std::uint64_t revision = frame.session.comparison().revision;
  return reinterpret_cast<ImTextureID>(
      static_cast<std::uintptr_t>(frame.textures.layer(pixels, revision, layer)));
}

// How one lies over the other.
void ways(Frame& frame, CompareState& state) {
  if (kit::choice(frame, "Through each other", !state.wipe, {.width = 0.0})) state.wipe = false;
  ImGui::SameLine();
  if (kit::choice(frame, "Wiped", state.wipe, {.width = 0.0})) state.wipe = true;
}

void how_much(Frame& frame, CompareState& state, double axis_part) {
  constexpr double kPercent = 100.0;
  if (!state.wipe) {
    kit::slider(frame, "How much of the replica shows", state.share, 0.0, 1.0, 0.5,
                fixed_text(kPercent * state.share, 0) + " %%");
    return;
  }
  double at = state.wipe_at.value_or(axis_part);
  if (kit::slider(frame, "Where the replica begins", at, 0.0, 1.0, axis_part,
                  fixed_text(kPercent * at, 0) + " %% from the left")) {
    state.wipe_at = at;
  }
}

}  // namespace

void photos_over(Frame& frame) {
  const PhotoLayers& layers = frame.session.comparison().work->photos->layers;
  CompareState& state = frame.state.compare;
  ways(frame, state);
  const float room = ImGui::GetContentRegionAvail().x;
  const float aspect =
      static_cast<float>(layers.original.width_px) / static_cast<float>(layers.original.height_px);
  const ImVec2 size(std::min(room, aspect * frame.look.px(kMostHeight)),
                    std::min(room / aspect, frame.look.px(kMostHeight)));
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const ImVec2 to(from.x + size.x, from.y + size.y);
  ImGui::InvisibleButton("photo over photo", size);
  kit::describe_last(frame, "Photo over photo");
  if (state.wipe && ImGui::IsItemActive()) {
    const double at = static_cast<double>((ImGui::GetIO().MousePos.x - from.x) / size.x);
    state.wipe_at = std::clamp(at, 0.0, 1.0);
  }
  kit::tip(frame, state.wipe ? "Drag to move the line." : "");
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddImage(texture_of(frame, layers.original, kOriginal), from, to);
  const ImTextureID replica = texture_of(frame, layers.replica, kReplica);
  if (state.wipe) {
    const auto part = static_cast<float>(state.wipe_at.value_or(layers.axis_part));
    const float x = from.x + part * size.x;
    list.AddImage(replica, ImVec2(x, from.y), to, ImVec2(part, 0.0F), ImVec2(1.0F, 1.0F));
    list.AddLine(ImVec2(x, from.y), ImVec2(x, to.y), paint(kHalo, 0.6), frame.look.px(3));
    list.AddLine(ImVec2(x, from.y), ImVec2(x, to.y), paint(kFitted), frame.look.px(1));
  } else {
    const auto alpha = static_cast<int>(255.0 * state.share + 0.5);
    list.AddImage(replica, from, to, ImVec2(0.0F, 0.0F), ImVec2(1.0F, 1.0F),
                  IM_COL32(255, 255, 255, alpha));
  }
  // The slider is as wide as the picture.
  ImGui::BeginChild("over", ImVec2(size.x, frame.look.px(56)), false,
                    ImGuiWindowFlags_NavFlattened | ImGuiWindowFlags_NoScrollbar);
  how_much(frame, state, layers.axis_part);
  ImGui::EndChild();
}

void photos_beside(Frame& frame) {
  const ComparisonView& view = frame.session.comparison();
  const ComparedPhotos& photos = *view.work->photos;
  const double wide = photos.original_outlined.width_mm + photos.replica_outlined.width_mm;
  const double high =
      std::max(photos.original_outlined.height_mm, photos.replica_outlined.height_mm);
  const double room = static_cast<double>(ImGui::GetContentRegionAvail().x);
  const double gap = static_cast<double>(frame.look.px(kBetween));
  const double scale =
      std::min((room - gap) / wide, static_cast<double>(frame.look.px(kMostHeight)) / high);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const auto bottom = static_cast<float>(scale * high);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  ImFont* const font = frame.look.fonts.note;
  float left = corner.x;
  const auto show = [&](const OutlinedPhoto& photo, Layer layer, const std::string& title) {
    const ImVec2 to(left + static_cast<float>(scale * photo.width_mm), corner.y + bottom);
    const ImVec2 from(left, to.y - static_cast<float>(scale * photo.height_mm));
    list.AddImage(texture_of(frame, photo.pixels, layer), from, to);
    const ImVec4 clip(left, to.y, to.x, to.y + 2.0F * font->FontSize);
    list.AddText(font, font->FontSize, ImVec2(left, to.y + frame.look.px(4)),
                 paint(frame.look.colours.quiet), title.c_str(), nullptr, 0.0F, &clip);
    left = to.x + static_cast<float>(gap);
  };
  show(photos.original_outlined, kOriginalOutlined, photos.original.title);
  show(photos.replica_outlined, kReplicaOutlined, photos.replica.title);
  ImGui::Dummy(ImVec2(static_cast<float>(room), bottom + 1.6F * font->FontSize));
  kit::describe_last(frame, "Photographs beside each other");
}

void series_drawing(Frame& frame) {
  const PatternPixels& drawing = frame.session.comparison().work->drawing;
  if (drawing.width_px == 0) return;
  const float room = ImGui::GetContentRegionAvail().x;
  const float aspect = static_cast<float>(drawing.width_px) / static_cast<float>(drawing.height_px);
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const ImVec2 size(room, room / aspect);
  ImGui::Dummy(size);
  kit::describe_last(frame, "Series in small");
  ImGui::GetWindowDrawList()->AddImage(texture_of(frame, drawing, kSeries), from,
                                       ImVec2(from.x + size.x, from.y + size.y));
}

}  // namespace potshadow
