// SPDX-License-Identifier: MIT
// The drawn section, as the shapes that are handed to the graphics card.
#include "desktop/window/section_shape.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

namespace potshadow {
namespace {

// Dear ImGui without a window.
class SectionShapes : public testing::Test {
 protected:
  void SetUp() override {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplaySize = ImVec2(800.0F, 800.0F);
    unsigned char* pixels = nullptr;
    int width = 0;
    int height = 0;
    io.Fonts->GetTexDataAsRGBA32(&pixels, &width, &height);
    ImGui::NewFrame();
  }
  void TearDown() override {
    ImGui::EndFrame();
    ImGui::DestroyContext();
  }
};

// A cylinder of 100 mm radius and 200 mm height, its wall unknown in the middle.
std::vector<ProfileRow> rows(double doubt_mm) {
  std::vector<ProfileRow> made;
  for (int i = 0; i <= 20; ++i) {
    const bool middle = i > 6 && i < 14;
    made.push_back({10.0 * i, 100.0, middle ? doubt_mm : 1.0});
  }
  return made;
}

TEST_F(SectionShapes, TheBandStaysWithinItsBox) {
  const ScreenBox box{100.0, 100.0, 300.0, 300.0};
  const Upright place{{250.0, 380.0}, 1.0};
  ImDrawList& list = *ImGui::GetForegroundDrawList();
  int drawn = 0;
  for (const double doubt_mm : {5.0, 500.0, 1e9}) {
    const int vertices = list.VtxBuffer.Size;
    draw_interval(list, rows(doubt_mm), place, IM_COL32_WHITE, box);
    if (list.VtxBuffer.Size > vertices) ++drawn;
  }
  EXPECT_EQ(drawn, 3);
  // Nothing else is in the list; what is cut off alike is one command.
  int checked = 0;
  for (const ImDrawCmd& command : list.CmdBuffer) {
    if (command.ElemCount == 0) continue;
    EXPECT_GE(command.ClipRect.x, box.left);
    EXPECT_GE(command.ClipRect.y, box.top);
    EXPECT_LE(command.ClipRect.z, box.left + box.width);
    EXPECT_LE(command.ClipRect.w, box.top + box.height);
    ++checked;
  }
  EXPECT_GE(checked, 1);
}

TEST_F(SectionShapes, TheCutIsLeftEmptyWhereTheProfileIsNotKnown) {
  std::vector<ProfilePoint> points;
  for (int i = 0; i <= 20; ++i) points.push_back({100.0, 10.0 * i});
  constexpr std::size_t kControls = 11;
  const Result<Profile> profile = Profile::through(points, kControls);
  ASSERT_TRUE(profile.ok());
  const SectionShape shape = section_shape(*profile, 8.0);
  Look look;
  look.colours.clay = {1, 200, 3};
  look.colours.drawing = {250, 0, 0};
  const Upright place{{250.0, 380.0}, 1.0};
  // Heights on the screen at which the clay of the cut wall is filled.
  const auto filled = [&](std::span<const ProfileRow> with) {
    ImDrawList& list = *ImGui::GetForegroundDrawList();
    const int first = list.VtxBuffer.Size;
    draw_section(look, list, shape, place, 1.0, with);
    std::vector<double> up;
    for (int i = first; i < list.VtxBuffer.Size; ++i) {
      const ImDrawVert& vertex = list.VtxBuffer[i];
      if (vertex.col == paint(look.colours.clay)) up.push_back(380.0 - vertex.pos.y);
    }
    return up;
  };
  const auto in_middle = [](const std::vector<double>& up) {
    return std::count_if(up.begin(), up.end(), [](double h) { return h > 70.0 && h < 130.0; });
  };
  EXPECT_GT(in_middle(filled({})), 20);
  EXPECT_GT(in_middle(filled(rows(5.0))), 20);
  const std::vector<double> open = filled(rows(500.0));
  EXPECT_EQ(in_middle(open), 0);
  EXPECT_GT(open.size(), 100U);  // above and below it is there
}

}  // namespace
}  // namespace potshadow
