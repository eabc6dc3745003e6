// SPDX-License-Identifier: MIT
#include "desktop/window/look.h"

#include <imgui_freetype.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/font_file.h"

namespace potshadow {
namespace {

// What potters write: Latin with its accents, Greek and Cyrillic for names, ± × ø, fractions,
// dashes, quotes, arrows and a tick.
constexpr std::array<ImWchar, 19> kLetters = {
    0x0020, 0x024F, 0x0370, 0x03FF, 0x0400, 0x04FF, 0x1E00, 0x1EFF, 0x2010, 0x2044,
    0x2150, 0x215E, 0x2190, 0x2193, 0x2212, 0x2213, 0x2713, 0x2713, 0};

struct Face {
  std::string file;
  std::string fallback;
};

ImFont* add_font(const Face& face, float size) {
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  ImFontConfig config;
  config.OversampleH = 1;
  config.PixelSnapH = true;
  ImFont* const font = atlas.AddFontFromFileTTF(face.file.c_str(), size, &config, kLetters.data());
  if (font != nullptr && !face.fallback.empty() && face.fallback != face.file) {
    config.MergeMode = true;
    atlas.AddFontFromFileTTF(face.fallback.c_str(), size, &config, kLetters.data());
  }
  return font;
}

// Gives all digits one width, so that figures stand under each other and do not jump.
void make_digits_even(ImFont& font) {
  float widest = 0.0F;
  for (ImWchar digit = '0'; digit <= '9'; ++digit) {
    widest = std::max(widest, font.GetCharAdvance(digit));
  }
  for (ImFontGlyph& glyph : font.Glyphs) {
    if (glyph.Codepoint < '0' || glyph.Codepoint > '9') continue;
    const float shift = std::floor(0.5F * (widest - glyph.AdvanceX));
    glyph.X0 += shift;
    glyph.X1 += shift;
    glyph.AdvanceX = widest;
    font.IndexAdvanceX[static_cast<int>(glyph.Codepoint)] = widest;
  }
}

void set_style(const Look& look) {
  ImGuiStyle& style = ImGui::GetStyle();
  style = ImGuiStyle();
  style.WindowPadding = ImVec2(16, 16);
  style.FramePadding = ImVec2(8, 6);
  style.ItemSpacing = ImVec2(8, 8);
  style.ItemInnerSpacing = ImVec2(8, 4);
  style.ScrollbarSize = 10;
  style.FrameRounding = 4;
  style.GrabRounding = 4;
  style.GrabMinSize = 12;
  style.ScrollbarRounding = 5;
  style.PopupRounding = 6;
  style.WindowBorderSize = 0;
  style.ChildBorderSize = 0;
  style.PopupBorderSize = 1;
  style.FrameBorderSize = 0;
  style.DisabledAlpha = 0.55F;
  style.ScaleAllSizes(static_cast<float>(look.scale));
  style.WindowBorderSize = 0;

  const ThemeColours& c = look.colours;
  const auto set = [&](ImGuiCol which, Colour colour, double opacity = 1.0) {
    style.Colors[which] = paint_vec(colour, opacity);
  };
  set(ImGuiCol_Text, c.text);
  set(ImGuiCol_TextDisabled, c.quiet);
  set(ImGuiCol_WindowBg, c.ground);
  set(ImGuiCol_ChildBg, c.ground, 0.0);
  set(ImGuiCol_PopupBg, c.sunk);
  set(ImGuiCol_Border, c.line, 0.5);
  set(ImGuiCol_FrameBg, c.sunk);
  set(ImGuiCol_FrameBgHovered, c.raised);
  set(ImGuiCol_FrameBgActive, c.raised);
  set(ImGuiCol_Button, c.raised);
  set(ImGuiCol_ButtonHovered, c.sunk);
  set(ImGuiCol_ButtonActive, c.band);
  set(ImGuiCol_Header, c.sunk);
  set(ImGuiCol_HeaderHovered, c.raised);
  set(ImGuiCol_HeaderActive, c.raised);
  set(ImGuiCol_CheckMark, c.accent);
  set(ImGuiCol_SliderGrab, c.accent);
  set(ImGuiCol_SliderGrabActive, c.accent);
  set(ImGuiCol_ScrollbarBg, c.ground, 0.0);
  set(ImGuiCol_ScrollbarGrab, c.line, 0.5);
  set(ImGuiCol_ScrollbarGrabHovered, c.line);
  set(ImGuiCol_ScrollbarGrabActive, c.accent);
  set(ImGuiCol_Separator, c.line, 0.4);
  set(ImGuiCol_TextSelectedBg, c.accent, 0.35);
  set(ImGuiCol_NavHighlight, c.accent);
  set(ImGuiCol_PlotHistogram, c.accent);
  set(ImGuiCol_ModalWindowDimBg, kHalo, 0.5);
}

}  // namespace

Result<Look> make_look(double scale, bool evening) {
  Look look;
  look.scale = scale;
  look.evening = evening;
  look.colours = evening ? evening_colours() : daylight_colours();
  const auto regular = font_file("Inter", FontWeight::kRegular);
  const auto semi_bold = font_file("Inter", FontWeight::kSemiBold);
  const auto other = font_file("DejaVu Sans", FontWeight::kRegular);
  if (!regular || !semi_bold || !other) {
    return Problem{Code::kCannotBeAnswered, "No font was found to write with.",
                   "Install the packages fonts-inter and fonts-dejavu-core.", ""};
  }
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
  atlas.FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
  const Face plain{*regular, *other};
  const Face strong{*semi_bold, *other};
  look.fonts.text = add_font(plain, look.px(15));
  look.fonts.note = add_font(plain, look.px(13));
  look.fonts.strong = add_font(strong, look.px(15));
  look.fonts.figure = add_font(strong, look.px(22));
  look.fonts.title = add_font(strong, look.px(28));
  if (look.fonts.title == nullptr || !atlas.Build()) {
    return Problem{Code::kCannotBeAnswered, "The fonts could not be read.",
                   "Install the packages fonts-inter and fonts-dejavu-core anew.", *regular};
  }
  for (ImFont* font : {look.fonts.text, look.fonts.note, look.fonts.strong, look.fonts.figure}) {
    make_digits_even(*font);
  }
  ImGui::GetIO().FontDefault = look.fonts.text;
  set_style(look);
  return look;
}

ImU32 paint(Colour colour, double opacity) {
  const auto alpha = static_cast<int>(std::lround(255.0 * std::clamp(opacity, 0.0, 1.0)));
  return IM_COL32(colour.red, colour.green, colour.blue, alpha);
}

ImVec4 paint_vec(Colour colour, double opacity) {
  return ImGui::ColorConvertU32ToFloat4(paint(colour, opacity));
}

}  // namespace potshadow
