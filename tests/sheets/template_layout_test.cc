// SPDX-License-Identifier: MIT
#include "sheets/template_layout.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "patterns/gauge.h"
#include "sheets/words.h"
#include "vessels.h"

namespace potshadow {
namespace {

Result<Gauge> gauge_for(const TemplateRequest& request) {
  return gauge_of(request.fired_profile, request.band, request.shrinkage);
}

using test::kEnlargement;
using test::request_for;
using test::Vessel;

// Half of the 0.1 mm promised on paper.
constexpr double kSheetPath = 0.05;
// Rounding over a few operations on lengths up to a metre.
constexpr double kExact = 1e-9;
// What any ordinary printer can print up to.
constexpr double kPrintableMm = 8.0;

std::vector<Vessel> vessels() {
  return {test::cup(), test::jar(), test::storage(), test::dish(), test::vat()};
}

TemplateLayout layout_of(const TemplateRequest& request) {
  const auto layout = template_layout(request);
  EXPECT_TRUE(layout.ok());
  return *layout;
}

bool inside(const PageBox& box, PagePoint p) {
  return p.x_mm >= box.left_mm && p.x_mm <= box.right_mm && p.y_mm >= box.top_mm &&
         p.y_mm <= box.bottom_mm;
}

PagePoint on_page(const TemplatePage& page, ProfilePoint p) {
  return {page.gauge_origin.x_mm + p.radius_mm, page.gauge_origin.y_mm - p.height_mm};
}

std::vector<Label> labels_of(const TemplatePage& page) {
  std::vector<Label> labels;
  for (const DrawnGroup& group : page.drawing.groups) {
    for (const Drawn& item : group.items) {
      if (const Label* label = std::get_if<Label>(&item)) labels.push_back(*label);
    }
  }
  return labels;
}

std::vector<std::string> texts_of(const TemplateLayout& layout) {
  std::vector<std::string> texts;
  for (const TemplatePage& page : layout.pages) {
    for (const Label& label : labels_of(page)) texts.push_back(label.text);
  }
  return texts;
}

TEST(TemplateLayout, ProfileIsTheFiredOneEnlarged) {
  int checked = 0;
  for (const Vessel& vessel : vessels()) {
    const TemplateLayout layout = layout_of(request_for(vessel));
    const std::size_t last = layout.wet_profile.size() - 1;
    for (std::size_t i = 0; i <= last; i += last / 20) {
      const ProfilePoint p = layout.wet_profile[i];
      const double truth = kEnlargement * vessel.radius_at(p.height_mm / kEnlargement);
      EXPECT_NEAR(p.radius_mm, truth, kSheetPath) << vessel.name << " at " << p.height_mm;
      ++checked;
    }
    EXPECT_NEAR(layout.wet_profile.back().height_mm, vessel.height() * kEnlargement, kExact);
    EXPECT_NEAR(layout.card_right_mm, vessel.widest() * kEnlargement + kCardBackMm, kSheetPath);
  }
  EXPECT_EQ(checked, 5 * 21);
}

// 4 in is 101.6 mm by definition of the inch.
TEST(TemplateLayout, EveryPageCarriesFourCheckBars) {
  int pages = 0;
  for (const Vessel& vessel : vessels()) {
    for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
      for (const TemplatePage& page : layout_of(request_for(vessel, paper)).pages) {
        std::multiset<std::string> found;
        for (const CheckBar& bar : page.bars) {
          const double length = bar.standing ? bar.box.height() : bar.box.width();
          EXPECT_NEAR(length, bar.length_mm, kExact);
          const bool metric = std::abs(length - 100.0) < kExact;
          EXPECT_TRUE(metric || std::abs(length - 101.6) < kExact) << length;
          found.insert(std::string(metric ? "100 mm " : "4 in ") + (bar.standing ? "up" : "flat"));
        }
        EXPECT_THAT(found,
                    testing::ElementsAre("100 mm flat", "100 mm up", "4 in flat", "4 in up"));
        ++pages;
      }
    }
  }
  EXPECT_GT(pages, 20);
}

const std::string kGuessed = "Scale guessed: height 260 ± 20 mm.";

// Every vessel on both papers, of a known and of a guessed scale.
std::vector<TemplateRequest> requests() {
  std::vector<TemplateRequest> all;
  for (const Vessel& vessel : vessels()) {
    for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
      all.push_back(request_for(vessel, paper));
      all.push_back(all.back());
      all.back().guessed_scale = kGuessed;
    }
  }
  return all;
}

TEST(TemplateLayout, AGuessedScaleIsSaidOnEveryPage) {
  int pages = 0;
  for (const TemplateRequest& request : requests()) {
    const bool guessed = !request.guessed_scale.empty();
    for (const TemplatePage& page : layout_of(request).pages) {
      int said = 0;
      int on_card = 0;
      for (const Label& label : labels_of(page)) {
        if (label.text == kGuessed) ++said;
        if (label.text.find("scale guessed") != std::string::npos) ++on_card;
      }
      EXPECT_EQ(said, guessed ? 1 : 0) << request.vessel_name;
      if (!guessed) {
        EXPECT_EQ(on_card, 0);
      }
      ++pages;
    }
    // The card goes on without its page.
    const std::vector<std::string> texts = texts_of(layout_of(request));
    const auto written = testing::Contains(testing::HasSubstr("1:1 · scale guessed · Buff mix"));
    if (guessed) {
      EXPECT_THAT(texts, written) << request.vessel_name;
    }
  }
  EXPECT_GT(pages, 40);
}

TEST(TemplateLayout, NothingLeavesWhatPrintersPrint) {
  int points = 0;
  for (const TemplateRequest& request : requests()) {
    for (const TemplatePage& page : layout_of(request).pages) {
      const PageBox printable{kPrintableMm, kPrintableMm, page.drawing.width_mm - kPrintableMm,
                              page.drawing.height_mm - kPrintableMm};
      const auto check = [&](PagePoint p) {
        EXPECT_TRUE(inside(printable, p))
            << request.vessel_name << ": " << p.x_mm << ", " << p.y_mm;
        ++points;
      };
      for (const DrawnGroup& group : page.drawing.groups) {
        if (group.clip) {
          check({group.clip->left_mm, group.clip->top_mm});
          check({group.clip->right_mm, group.clip->bottom_mm});
          continue;
        }
        for (const Drawn& item : group.items) {
          if (const Label* label = std::get_if<Label>(&item)) check(label->at);
          if (const Area* area = std::get_if<Area>(&item)) {
            for (const PagePoint& p : area->points) check(p);
          }
          if (const Stroke* stroke = std::get_if<Stroke>(&item)) {
            for (const PagePoint& p : stroke->points) check(p);
          }
        }
      }
    }
  }
  EXPECT_GT(points, 1000);
}

TEST(TemplateLayout, EveryPieceOfTheProfileIsOnSomePage) {
  int checked = 0;
  for (const Vessel& vessel : vessels()) {
    for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
      const TemplateLayout layout = layout_of(request_for(vessel, paper));
      const double right = layout.card_right_mm;
      std::vector<ProfilePoint> wanted = layout.wet_profile;
      wanted.push_back({right, 0.0});
      wanted.push_back({right, layout.card_top_mm});
      for (const ProfilePoint& p : wanted) {
        const bool shown =
            std::any_of(layout.pages.begin(), layout.pages.end(), [&](const TemplatePage& page) {
              return page.has_gauge && inside(page.window, on_page(page, p));
            });
        EXPECT_TRUE(shown) << vessel.name << " at " << p.radius_mm << ", " << p.height_mm;
        ++checked;
      }
    }
  }
  EXPECT_GT(checked, 10 * 2000);
}

TEST(TemplateLayout, BarsAndTextKeepOffTheCard) {
  // Words are at most this far from the wanted clearance by the height of their letters.
  constexpr double kLeastGapMm = 1.5;
  int compared = 0;
  for (const TemplateRequest& request : requests()) {
    const TemplateLayout layout = layout_of(request);
    for (const TemplatePage& page : layout.pages) {
      if (!page.has_gauge) continue;
      for (const ProfilePoint& p : layout.wet_profile) {
        const PagePoint q = on_page(page, p);
        if (!inside(page.window, q)) continue;
        for (const CheckBar& bar : page.bars) {
          const PageBox wide{bar.box.left_mm - kLeastGapMm, bar.box.top_mm - kLeastGapMm,
                             bar.box.right_mm + kLeastGapMm, bar.box.bottom_mm + kLeastGapMm};
          EXPECT_FALSE(inside(wide, q)) << request.vessel_name;
          ++compared;
        }
      }
      for (std::size_t a = 0; a < page.bars.size(); ++a) {
        for (std::size_t b = a + 1; b < page.bars.size(); ++b) {
          const PageBox& p = page.bars[a].box;
          const PageBox& q = page.bars[b].box;
          EXPECT_TRUE(p.right_mm < q.left_mm || q.right_mm < p.left_mm || p.bottom_mm < q.top_mm ||
                      q.bottom_mm < p.top_mm);
        }
      }
    }
  }
  EXPECT_GT(compared, 10000);
}

TEST(TemplateLayout, SmallAndMiddlingPotsTakeOnePage) {
  EXPECT_EQ(layout_of(request_for(test::cup())).pages.size(), 1U);
  EXPECT_EQ(layout_of(request_for(test::cup(), Paper::kLetter)).pages.size(), 1U);
  // 235 mm fired is 267 mm wet: fits upright A4 (297 mm), not US Letter (279.4 mm) with margins.
  EXPECT_EQ(layout_of(request_for(test::jar())).pages.size(), 1U);
  EXPECT_EQ(layout_of(request_for(test::jar(), Paper::kLetter)).pages.size(), 2U);
}

TEST(TemplateLayout, PaperHasItsStandardSize) {
  // ISO 216: A4 is 210 x 297 mm. US Letter is 8.5 x 11 in.
  const PageDrawing a4 = layout_of(request_for(test::jar())).pages.front().drawing;
  EXPECT_NEAR(std::min(a4.width_mm, a4.height_mm), 210.0, kExact);
  EXPECT_NEAR(std::max(a4.width_mm, a4.height_mm), 297.0, kExact);
  const PageDrawing letter =
      layout_of(request_for(test::jar(), Paper::kLetter)).pages.front().drawing;
  EXPECT_NEAR(std::min(letter.width_mm, letter.height_mm), 215.9, kExact);
  EXPECT_NEAR(std::max(letter.width_mm, letter.height_mm), 279.4, kExact);
}

TEST(TemplateTiles, MarksTieAllSheetsTogether) {
  int vessels_split = 0;
  for (const Vessel& vessel : {test::storage(), test::dish(), test::vat()}) {
    for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
      const TemplateLayout layout = layout_of(request_for(vessel, paper));
      struct Place {
        const TemplatePage* page;
        ProfilePoint at;
      };
      std::map<std::string, std::vector<Place>> places;
      std::set<std::string> labels;
      std::size_t sheets = 0;
      for (const TemplatePage& page : layout.pages) {
        if (!page.has_gauge) continue;
        ++sheets;
        EXPECT_FALSE(page.label.empty());
        EXPECT_TRUE(labels.insert(page.label).second) << page.label;
        for (const RegistrationMark& mark : page.marks) {
          EXPECT_TRUE(inside(page.window, mark.at)) << vessel.name << " " << mark.letter;
          places[mark.letter].push_back(
              {&page,
               {mark.at.x_mm - page.gauge_origin.x_mm, page.gauge_origin.y_mm - mark.at.y_mm}});
        }
      }
      ASSERT_GT(sheets, 1U) << vessel.name;
      std::map<const TemplatePage*, std::set<const TemplatePage*>> joined;
      for (const auto& [letter, pair] : places) {
        ASSERT_EQ(pair.size(), 2U) << letter;
        EXPECT_NE(pair[0].page, pair[1].page);
        EXPECT_NEAR(pair[0].at.radius_mm, pair[1].at.radius_mm, kExact);
        EXPECT_NEAR(pair[0].at.height_mm, pair[1].at.height_mm, kExact);
        joined[pair[0].page].insert(pair[1].page);
        joined[pair[1].page].insert(pair[0].page);
      }
      // From any sheet every other one can be reached from mark to mark.
      std::set<const TemplatePage*> reached;
      std::vector<const TemplatePage*> waiting = {joined.begin()->first};
      while (!waiting.empty()) {
        const TemplatePage* page = waiting.back();
        waiting.pop_back();
        if (!reached.insert(page).second) continue;
        for (const TemplatePage* next : joined[page]) waiting.push_back(next);
      }
      EXPECT_EQ(reached.size(), sheets) << vessel.name;
      ++vessels_split;
    }
  }
  EXPECT_EQ(vessels_split, 6);
}

TEST(TemplateTiles, NeighboursShareTheOverlap) {
  int seams = 0;
  for (const Vessel& vessel : {test::storage(), test::dish(), test::vat()}) {
    const TemplateLayout layout = layout_of(request_for(vessel));
    for (const TemplatePage& a : layout.pages) {
      for (const TemplatePage& b : layout.pages) {
        if (!a.has_gauge || !b.has_gauge) continue;
        const double a_bottom = a.gauge_origin.y_mm - a.window.bottom_mm;
        const double b_top = b.gauge_origin.y_mm - b.window.top_mm;
        const double a_right = a.window.right_mm - a.gauge_origin.x_mm;
        const double b_left = b.window.left_mm - b.gauge_origin.x_mm;
        if (a.label[0] + 1 == b.label[0] && a.label.substr(1) == b.label.substr(1)) {
          EXPECT_NEAR(b_top - a_bottom, kOverlapMm, kExact);
          ++seams;
        }
        if (a.label[0] == b.label[0] && a.label[1] + 1 == b.label[1]) {
          EXPECT_NEAR(a_right - b_left, kOverlapMm, kExact);
          ++seams;
        }
      }
    }
  }
  EXPECT_GT(seams, 8);
}

TEST(TemplateTiles, EverySheetSaysWhichItIs) {
  const TemplateLayout layout = layout_of(request_for(test::vat()));
  int sheets = 0;
  for (std::size_t i = 0; i < layout.pages.size(); ++i) {
    const TemplatePage& page = layout.pages[i];
    std::vector<std::string> texts;
    for (const Label& label : labels_of(page)) texts.push_back(label.text);
    const std::string paged = std::to_string(i + 1) + " of " + std::to_string(layout.pages.size());
    EXPECT_THAT(texts, testing::Contains(testing::HasSubstr("age " + paged)));
    if (!page.has_gauge) continue;
    EXPECT_THAT(texts, testing::Contains(testing::HasSubstr("Sheet " + page.label + ",")));
    EXPECT_THAT(texts, testing::Contains(page.label)) << "on the page map";
    ++sheets;
  }
  EXPECT_GT(sheets, 4);
}

TEST(TemplateWords, NameClayShrinkageAndWetSizes) {
  // The 95 % half-width of a standard deviation of 0.255 points is 0.50 points.
  const TemplateLayout layout = layout_of(request_for(test::jar(), Paper::kA4, 0.255));
  const std::vector<std::string> texts = texts_of(layout);
  EXPECT_THAT(texts, testing::IsSupersetOf({"Shelf jar", "Clay: Buff mix",
                                            "Shrinkage: 12.0 % ± 0.5 % of the wet length",
                                            "Page 1 of 1 · A4 · 25 November 2026",
                                            "Measure this bar before cutting", "100 mm", "4 in"}));
  // 235 / 0.88 = 267.0; its uncertainty is 1.96 sqrt((0.9 / 0.88)^2 + (235 x 0.00255 / 0.88^2)^2)
  // = 2.5. 4200 ml / 0.88^3 = 6163 ml, printed to tens. By hand.
  EXPECT_THAT(texts, testing::IsSupersetOf({"235.0", "± 1.8", "267.0", "± 2.5", "6160"}));
  EXPECT_THAT(texts, testing::Contains("Capacity to the brim, ml"));
  EXPECT_THAT(texts, testing::Contains(testing::HasSubstr("silica")));
  EXPECT_THAT(texts, testing::Contains(testing::HasSubstr("Not for food or drink")));
  EXPECT_THAT(texts, testing::Contains(testing::HasSubstr("maker's mark")));
  EXPECT_THAT(texts, testing::Contains(testing::HasSubstr("Local rules")));
  // 55 / 0.88 = 62.5.
  EXPECT_THAT(texts, testing::Contains("The foot's edge is 62.5 mm from the centre line."));
}

TEST(TemplateWords, HeightsAndDiametersGoByTheirOwnShrinkage) {
  TemplateRequest request = request_for(test::jar());
  const auto along = [](double fraction) {
    return normal_shrinkage(Stage::kWet, Stage::kFired, fraction, 0.0);
  };
  request.shrinkage = request.shrinkage.with_ways(along(0.2), along(0.1)).value();
  request.sizes = {{"Height", normal_measured(240.0, 0.9), false, SizeWay::kUpright},
                   {"Rim diameter", normal_measured(90.0, 0.6), false, SizeWay::kAcross},
                   {"Capacity to the brim", normal_measured(648.0, 6.0), true}};
  const TemplateWords words = words_of(request, 0.0);
  EXPECT_EQ(words.sizes.at(0).wet, "300.0");
  EXPECT_EQ(words.sizes.at(1).wet, "100.0");
  EXPECT_EQ(words.sizes.at(2).wet, "1000");
  EXPECT_EQ(words.shrinkage, "Shrinkage: upright 20.0 %, across 10.0 % of the wet length");
  EXPECT_THAT(words.along_card, testing::HasSubstr("20.0 % upright and 10.0 % across"));
}

TEST(TemplateWords, InchesComeAsDecimalsAndSixteenths) {
  TemplateRequest request = request_for(test::jar());
  request.unit = LengthUnit::kInch;
  const std::vector<std::string> texts = texts_of(layout_of(request));
  // 235 mm = 9.252 in; 267.05 mm = 10.514 in, nearest sixteenth 10 1/2.
  EXPECT_THAT(texts, testing::IsSupersetOf({"9.25", "10.51", "10 1/2", "fired, in", "wet, in"}));
}

TEST(TemplateWords, BigVolumesAreLitres) {
  TemplateRequest request = request_for(test::storage());
  request.sizes.back().fired = normal_measured(31900.0, 90.0);
  const std::vector<std::string> texts = texts_of(layout_of(request));
  // 31.9 l / 0.88^3 = 46.81 l.
  EXPECT_THAT(texts, testing::IsSupersetOf({"Capacity to the brim, l", "31.90", "46.81"}));
}

TEST(Ruler, FiguresStandAtTheirHeights) {
  struct Row {
    LengthUnit unit;
    std::string figure;
    double height_mm;
  };
  const std::vector<Row> rows = {{LengthUnit::kMm, "50", 50.0},  {LengthUnit::kMm, "250", 250.0},
                                 {LengthUnit::kCm, "5", 50.0},   {LengthUnit::kCm, "25", 250.0},
                                 {LengthUnit::kInch, "2", 50.8}, {LengthUnit::kInch, "10", 254.0}};
  // From the middle of a digit to its base line.
  constexpr double kHalfDigitMm = 1.2;
  int found = 0;
  for (const Row& row : rows) {
    TemplateRequest request = request_for(test::jar());
    request.unit = row.unit;
    const TemplateLayout layout = layout_of(request);
    const TemplatePage& page = layout.pages.front();
    for (const Label& label : labels_of(page)) {
      if (label.text != row.figure || !label.tabular) continue;
      if (label.at.x_mm < page.gauge_origin.x_mm + layout.card_right_mm - 10.0) continue;
      EXPECT_NEAR(page.gauge_origin.y_mm - label.at.y_mm, row.height_mm, kHalfDigitMm);
      ++found;
    }
  }
  EXPECT_EQ(found, 6);
}

TEST(Gauge, NamesThePlaces) {
  const auto names_of = [](const Vessel& vessel) {
    const auto gauge = gauge_for(request_for(vessel));
    EXPECT_TRUE(gauge.ok());
    std::vector<std::string> names;
    for (const GaugeName& name : gauge->names) names.push_back(name.words);
    return names;
  };
  EXPECT_THAT(names_of(test::jar()), testing::ElementsAre("foot", "widest", "neck", "rim"));
  EXPECT_THAT(names_of(test::dish()), testing::ElementsAre("foot", "rim, widest"));
  const Vessel round{"Round bowl", {{{0, 0}, {90, 0}, {130, 50}, {130, 100}}}};
  EXPECT_EQ(names_of(round).front(), "base");
}

// On a cylinder of radius 100 mm fired the normal is level: the band's half-width is
// 1.96 sqrt((sd / 0.88)^2 + (100 u / 0.88^2)^2), with u the shrinkage's deviation as a fraction.
TEST(Gauge, BandHoldsBothDoubts) {
  const Vessel pipe{"Pipe", {{{100, 0}, {100, 50}, {100, 100}, {100, 150}}}};
  for (const double shrinkage_sd : {0.0, 0.5}) {
    TemplateRequest request = request_for(pipe, Paper::kA4, shrinkage_sd);
    for (int i = 0; i <= 15; ++i) request.band.push_back({10.0 * i, 100.0, 0.8});
    const auto gauge = gauge_for(request);
    ASSERT_TRUE(gauge.ok());
    const double half =
        1.959964 * std::hypot(0.8 / 0.88, 100.0 * shrinkage_sd / 100.0 / (0.88 * 0.88));
    const auto [least, most] = std::minmax_element(
        gauge->band.begin(), gauge->band.end(),
        [](const ProfilePoint& a, const ProfilePoint& b) { return a.radius_mm < b.radius_mm; });
    EXPECT_NEAR(least->radius_mm, 100.0 * kEnlargement - half, 1e-4);
    EXPECT_NEAR(most->radius_mm, 100.0 * kEnlargement + half, 1e-4);
  }
}

TEST(Gauge, EdgeRadiiBetweenTwoHeights) {
  const auto gauge = gauge_for(request_for(test::jar()));
  ASSERT_TRUE(gauge.ok());
  const Vessel vessel = test::jar();
  const double low = 100.0;
  const double high = 120.0;
  // The jar narrows steadily between these heights.
  EXPECT_NEAR(greatest_edge_radius(*gauge, low, high),
              kEnlargement * vessel.radius_at(low / kEnlargement), kSheetPath);
  EXPECT_NEAR(least_edge_radius(*gauge, low, high),
              kEnlargement * vessel.radius_at(high / kEnlargement), kSheetPath);
  EXPECT_EQ(least_edge_radius(*gauge, -20.0, -10.0), gauge->right_mm);
}

TEST(BadTemplate, IsRefusedWithAdvice) {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  std::vector<std::pair<TemplateRequest, Code>> bad;
  const Vessel speck{"Speck", {{{0.1, 0}, {0.1, 0.1}, {0.1, 0.2}, {0.1, 0.3}}}};
  bad.emplace_back(request_for(speck), Code::kBadValue);
  const Vessel flat{"Flat", {{{10, 0}, {20, 0}, {30, 0}, {40, 0}}}};
  bad.emplace_back(request_for(flat), Code::kBadValue);
  const Vessel tower{"Tower", {{{4000, 0}, {6000, 3000}, {5000, 6000}, {4000, 9000}}}};
  bad.emplace_back(request_for(tower), Code::kCannotBeAnswered);
  const Vessel world{"World", {{{4e7, 0}, {6e7, 3e7}, {5e7, 6e7}, {4e7, 9e7}}}};
  bad.emplace_back(request_for(world), Code::kBadValue);
  bad.emplace_back(request_for(test::cup()), Code::kBadValue);
  bad.back().first.sizes[2].fired.value = kNan;
  bad.emplace_back(request_for(test::cup()), Code::kBadValue);
  bad.back().first.sizes[2].fired.sd = -1.0;
  bad.emplace_back(request_for(test::cup()), Code::kBadValue);
  bad.back().first.band = {{0.0, 20.0, 1.0}, {10.0, 22.0, kNan}};
  bad.emplace_back(request_for(test::cup()), Code::kBadValue);
  bad.back().first.band = {{0.0, 20.0, 1.0}, {10.0, 22.0, -0.5}};
  bad.emplace_back(request_for(test::cup()), Code::kCannotBeAnswered);
  bad.back().first.sizes.resize(40, bad.back().first.sizes.front());
  bad.emplace_back(request_for(test::cup()), Code::kCannotBeAnswered);
  bad.back().first.has_scale = false;
  int refused = 0;
  for (const auto& [request, code] : bad) {
    const auto layout = template_layout(request);
    ASSERT_FALSE(layout.ok()) << request.vessel_name << " " << refused;
    EXPECT_EQ(layout.problem().code, code);
    EXPECT_TRUE(layout.problem().what.ends_with(".")) << layout.problem().what;
    EXPECT_TRUE(layout.problem().next.ends_with(".")) << layout.problem().next;
    ++refused;
  }
  EXPECT_EQ(refused, 10);
}

TEST(BadTemplate, TooManyPagesSaysHowMany) {
  const Vessel tower{"Tower", {{{4000, 0}, {6000, 3000}, {5000, 6000}, {4000, 9000}}}};
  const auto layout = template_layout(request_for(tower));
  ASSERT_FALSE(layout.ok());
  EXPECT_THAT(layout.problem().what, testing::HasSubstr("60"));
}

}  // namespace
}  // namespace potshadow
