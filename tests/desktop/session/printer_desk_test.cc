// SPDX-License-Identifier: MIT
#include "desktop/session/printer_desk.h"

#include <gtest/gtest.h>

#include <fstream>

#include "core/files.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

constexpr double kRounding = 1e-12;  // of two products

class Printers : public testing::Test {
 protected:
  UserFolders folders() const {
    return {folder_.path() / "config", folder_.path() / "state", folder_.path() / "data"};
  }
  std::filesystem::path file() const { return folders().config / "printers.json"; }

 private:
  TemporaryFolder folder_;
};

TEST_F(Printers, BarsOfACorrectedSheetSharpenTheCorrection) {
  PrinterDesk desk(folders());
  ASSERT_TRUE(desk.keep("studio", {99.0, 98.0}, "").ok());
  EXPECT_NEAR(desk.scale_of("studio")->across, 0.99, kRounding);
  EXPECT_NEAR(desk.scale_of("studio")->along, 0.98, kRounding);
  ASSERT_TRUE(desk.keep("studio", {100.5, 100.0}, "studio").ok());
  EXPECT_NEAR(desk.scale_of("studio")->across, 0.99 * 1.005, kRounding);
  EXPECT_NEAR(desk.scale_of("studio")->along, 0.98, kRounding);
  EXPECT_EQ(*desk.scale_of(""), PrinterScale());
  // What another desk finds in the file.
  EXPECT_EQ(PrinterDesk(folders()).book(), desk.book());
}

TEST_F(Printers, WhatCannotBeIsRefusedAndNothingIsWritten) {
  PrinterDesk desk(folders());
  EXPECT_FALSE(desk.keep("", {99.0, 98.0}, "").ok());
  EXPECT_FALSE(desk.keep("studio", {39.0, 98.0}, "").ok());
  EXPECT_FALSE(desk.keep("studio", {99.0, 98.0}, "another").ok());
  EXPECT_FALSE(desk.scale_of("studio").ok());
  EXPECT_FALSE(std::filesystem::exists(file()));
}

TEST_F(Printers, WhatAnotherProgramKeptIsSeenAndStays) {
  PrinterDesk desk(folders());
  EXPECT_FALSE(desk.look());
  PrinterDesk other(folders());
  ASSERT_TRUE(other.keep("office", {101.0, 101.0}, "").ok());
  EXPECT_TRUE(desk.look());
  EXPECT_TRUE(desk.scale_of("office").ok());
  ASSERT_TRUE(other.keep("library", {99.0, 99.0}, "").ok());
  ASSERT_TRUE(desk.keep("studio", {99.0, 98.0}, "").ok());  // without having looked
  EXPECT_EQ(desk.book().printers.size(), 3U);
  ASSERT_TRUE(desk.forget("office").ok());
  EXPECT_EQ(PrinterDesk(folders()).book().printers.size(), 2U);
}

TEST_F(Printers, ADamagedBookIsNeverWrittenOver) {
  std::filesystem::create_directories(folders().config);
  const std::string damaged = "{\"potshadow_printers\": ";
  std::ofstream(file(), std::ios::binary) << damaged;
  PrinterDesk desk(folders());
  EXPECT_TRUE(desk.problem());
  EXPECT_FALSE(desk.keep("studio", {99.0, 98.0}, "").ok());
  EXPECT_FALSE(desk.forget("studio").ok());
  EXPECT_EQ(*read_file(file(), 1000), damaged);
}

}  // namespace
}  // namespace potshadow
