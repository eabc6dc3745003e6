// SPDX-License-Identifier: MIT
#include "project/printer_book.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <string>

#include "project/user_file.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;

class Printers : public testing::UserFile {
 public:
  std::filesystem::path file() const override { return folders().config / "printers.json"; }
};

TEST_F(Printers, ComeBackAsTheyWereKept) {
  const Result<PrinterBook> none = load_printer_book(folders());
  ASSERT_TRUE(none.ok());
  EXPECT_TRUE(none->printers.empty());
  PrinterBook book = with_printer(*none, "studio", {0.991, 0.986});
  book = with_printer(book, "attic", {1.002, 1.0});
  ASSERT_TRUE(save_printer_book(book, folders()).ok());
  const Result<PrinterBook> back = load_printer_book(folders());
  ASSERT_TRUE(back.ok());
  EXPECT_EQ(*back, book);
  EXPECT_EQ(back->printers[0].name, "attic");
  ASSERT_NE(find_printer(*back, "studio"), nullptr);
  EXPECT_EQ(find_printer(*back, "studio")->scale, (PrinterScale{0.991, 0.986}));
  EXPECT_EQ(find_printer(without_printer(*back, "studio"), "studio"), nullptr);
}

TEST_F(Printers, UnknownKeysStay) {
  put(R"({"potshadow_printers": 1, "ink": "black", "printers": [
      {"name": "studio", "across": 0.99, "along": 1.01, "tray": 2}]})");
  Result<PrinterBook> book = load_printer_book(folders());
  ASSERT_TRUE(book.ok());
  ASSERT_TRUE(save_printer_book(with_printer(*book, "studio", {1.0, 1.0}), folders()).ok());
  EXPECT_THAT(content(), HasSubstr("\"ink\": \"black\""));
  EXPECT_THAT(content(), HasSubstr("\"tray\": 2"));
}

TEST_F(Printers, DamagedBooksAreTold) {
  int looked = 0;
  for (const char* text :
       {"", "[]", "{\"potshadow_printers\": 1}", "{\"potshadow_printers\": 2, \"printers\": []}",
        R"({"potshadow_printers": 1, "printers": [{"name": "a", "across": 1}]})",
        R"({"potshadow_printers": 1, "printers": [{"name": "a", "across": 1, "along": 0.1}]})",
        R"({"potshadow_printers": 1, "printers": [{"name": "", "across": 1, "along": 1}]})",
        R"({"potshadow_printers": 1, "printers": [3]})"}) {
    put(text);
    const Result<PrinterBook> book = load_printer_book(folders());
    ASSERT_FALSE(book.ok()) << text;
    EXPECT_THAT(book.problem().what, HasSubstr("printers.json")) << text;
    EXPECT_FALSE(book.problem().next.empty());
    ++looked;
  }
  EXPECT_EQ(looked, 8);
}

TEST(PrinterScales, BarsOfACorrectedSheetImproveOnIt) {
  const Result<PrinterScale> first = printer_from_bars({99.1, 98.6}, {});
  ASSERT_TRUE(first.ok());
  EXPECT_NEAR(first->across, 0.991, 1e-12);
  EXPECT_NEAR(first->along, 0.986, 1e-12);
  // What the bars measure on a sheet drawn for `first` by a printer of 0.993 and 0.985.
  const Result<PrinterScale> better =
      printer_from_bars({100.0 * 0.993 / 0.991, 100.0 * 0.985 / 0.986}, *first);
  ASSERT_TRUE(better.ok());
  EXPECT_NEAR(better->across, 0.993, 1e-12);
  EXPECT_NEAR(better->along, 0.985, 1e-12);
}

TEST(PrinterScales, BarsThatNoPrinterPrintsAreRefused) {
  for (const double bar : {0.0, -5.0, 10.0, 79.0, 126.0, std::nan("")}) {
    EXPECT_FALSE(printer_from_bars({bar, 100.0}, {}).ok()) << bar;
    EXPECT_FALSE(printer_from_bars({100.0, bar}, {}).ok()) << bar;
  }
}

}  // namespace
}  // namespace potshadow
