// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "project/project.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

constexpr const char* kText = R"({ "potshadow": 1,
  "bands": [ { "name": "Zigzag", "height_mm": 150.50, "top_mm": 170, "repeats": 12, "mine": 1 } ],
  "bench": [ { "stage": "leather_hard", "date": "2026-11-25", "sizes": [
                 { "size": "max_diameter", "value": 262.5, "sd": 0.8, "by": "me" } ] } ] })";

TEST(ProjectBench, IsReadAndKept) {
  const auto project = parse_project(kText, "jar");
  ASSERT_TRUE(project.ok()) << project.problem().what;
  ASSERT_EQ(project->bands.size(), 1U);
  EXPECT_EQ(project->bands[0].name, "Zigzag");
  EXPECT_EQ(project->bands[0].top_mm, 170.0);
  EXPECT_EQ(project->bands[0].repeats, 12);
  ASSERT_EQ(project->bench.size(), 1U);
  EXPECT_EQ(project->bench[0].stage, Stage::kLeatherHard);
  ASSERT_EQ(project->bench[0].sizes.size(), 1U);
  EXPECT_EQ(project->bench[0].sizes[0].size, SizeName::kMaxDiameter);
  EXPECT_EQ(project->bench[0].sizes[0].sd, 0.8);
  const std::string text = project_text(*project);
  EXPECT_EQ(*parse_project(text, "jar"), *project);
  EXPECT_THAT(text, HasSubstr("\"mine\": 1"));
  EXPECT_THAT(text, HasSubstr("\"by\": \"me\""));
  // A project without either has no word of them.
  EXPECT_EQ(project_text(Project()).find("bench"), std::string::npos);
}

TEST(ProjectBench, WhatCannotBeIsNamed) {
  struct Row {
    const char* text;
    const char* says;
  };
  int refused = 0;
  for (const Row& row :
       {Row{R"({"potshadow":1,"bench":[{"stage":"damp"}]})", "'stage' should be"},
        Row{R"({"potshadow":1,"bench":[{"stage":"wet","sizes":[{"size":"belly"}]}]})",
            "none that a vessel has"},
        Row{R"({"potshadow":1,"bench":[{"stage":"wet","sizes":[{"size":"height","value":-4}]}]})",
            "'value'"},
        Row{R"({"potshadow":1,"bands":[{"name":"Line"}]})", "'height_mm' is missing"},
        Row{R"({"potshadow":1,"bands":[{"height_mm":1e9}]})", "'height_mm'"},
        Row{R"({"potshadow":1,"bands":[{"height_mm":10,"repeats":-1}]})", "'repeats'"}}) {
    const auto project = parse_project(row.text, "jar");
    ASSERT_FALSE(project.ok()) << row.text;
    EXPECT_THAT(project.problem().what, HasSubstr(row.says));
    ++refused;
  }
  EXPECT_EQ(refused, 6);
}

}  // namespace
}  // namespace potshadow
