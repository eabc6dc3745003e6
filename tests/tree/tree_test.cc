// SPDX-License-Identifier: MIT
// Each check is tried on small wrong trees first, then run over the project.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "core/temporary_folder.h"
#include "tree/tree_check.h"

namespace potshadow::tree {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

auto finding(const std::string& path, int line, const std::string& part_of_what) {
  return AllOf(Field(&Finding::path, path), Field(&Finding::line, line),
               Field(&Finding::what, HasSubstr(part_of_what)));
}

const std::string kGoodHeader =
    "// SPDX-License-Identifier: MIT\n// Sizes of a jar.\n#pragma once\n";

// The project that this test was built from.
class Project : public testing::Test {
 protected:
  std::vector<SourceFile> tree_ = read_tree(POTSHADOW_SOURCE_DIR);
};

TEST(Includes, DownTheDiagramIsAllowed) {
  EXPECT_THAT(check_includes({{"src/sheets/gauge.cc",
                               "#include \"clay/shrinkage.h\"\n"
                               "#include \"core/text.h\"\n"
                               "#include <cairo-pdf.h>\n"
                               "#include <sys/stat.h>\n"
                               "#include <Eigen/Core>\n"
                               "#include <vector>\n"}}),
              IsEmpty());
}

TEST(Includes, UpTheDiagramIsCaught) {
  EXPECT_THAT(check_includes({{"src/vessel/profile.cc",
                               "#include <vector>\n"
                               "#include \"estimate/answer.h\"\n"}}),
              ElementsAre(finding("src/vessel/profile.cc", 2, "must not include estimate")));
  EXPECT_THAT(check_includes({{"src/core/text.h", "#include \"geometry/camera.h\"\n"}}),
              ElementsAre(finding("src/core/text.h", 1, "must not include geometry")));
}

TEST(Includes, AcrossTheDiagramIsCaught) {
  EXPECT_THAT(check_includes({{"src/compare/shape.cc", "#include \"clay/shrinkage.h\"\n"}}),
              ElementsAre(finding("src/compare/shape.cc", 1, "must not include clay")));
  EXPECT_THAT(check_includes({{"src/cli/main.cc", "#include \"desktop/window.h\"\n"}}),
              ElementsAre(finding("src/cli/main.cc", 1, "must not include desktop")));
}

TEST(Includes, SpacesDoNotHideAnInclude) {
  EXPECT_THAT(check_includes({{"src/core/text.cc", "  #  include   \"cli/run.h\"\n"}}),
              ElementsAre(finding("src/core/text.cc", 1, "must not include cli")));
}

TEST(Includes, FolderOfItsOwnPartMustBeWritten) {
  EXPECT_THAT(check_includes({{"src/core/text.cc", "#include \"units.h\"\n"}}),
              ElementsAre(finding("src/core/text.cc", 1, "does not start with a part's name")));
}

TEST(Includes, LibraryOutsideItsPartIsCaught) {
  EXPECT_THAT(check_includes({{"src/vessel/sizes.cc", "#include <opencv2/core.hpp>\n"}}),
              ElementsAre(finding("src/vessel/sizes.cc", 1, "OpenCV")));
  EXPECT_THAT(check_includes({{"src/cli/main.cc", "#include <nlohmann/json.hpp>\n"}}),
              ElementsAre(finding("src/cli/main.cc", 1, "nlohmann_json")));
  EXPECT_THAT(check_includes({{"src/project/project.cc", "#include <ceres/ceres.h>\n"}}),
              ElementsAre(finding("src/project/project.cc", 1, "Ceres")));
}

TEST(Includes, OpenCvInGeometryStaysOutOfHeaders) {
  EXPECT_THAT(check_includes({{"src/geometry/pose.cc", "#include <opencv2/calib3d.hpp>\n"}}),
              IsEmpty());
  EXPECT_THAT(check_includes({{"src/geometry/pose.h", "#include <opencv2/calib3d.hpp>\n"}}),
              ElementsAre(finding("src/geometry/pose.h", 1, "OpenCV")));
}

TEST(Includes, UnknownLibraryOrPartIsCaught) {
  EXPECT_THAT(check_includes({{"src/core/text.cc", "#include <curl/curl.h>\n"}}),
              ElementsAre(finding("src/core/text.cc", 1, "no library that the project knows")));
  EXPECT_THAT(check_includes({{"src/extra/new.cc", "\n"}}),
              ElementsAre(finding("src/extra/new.cc", 0, "no part of the diagram")));
}

TEST(Includes, OwnHeaderComesFirst) {
  const SourceFile header{"src/core/text.h", ""};
  EXPECT_THAT(check_includes(
                  {header, {"src/core/text.cc", "#include <string>\n#include \"core/text.h\"\n"}}),
              ElementsAre(finding("src/core/text.cc", 0, "first include")));
  EXPECT_THAT(check_includes(
                  {header, {"src/core/text.cc", "#include \"core/text.h\"\n#include <string>\n"}}),
              IsEmpty());
}

TEST(PublicHeaders, LibraryInAHeaderThatOthersReadIsCaught) {
  const SourceFile reader{"src/cli/main.cc", "#include \"estimate/estimate.h\"\n"};
  EXPECT_THAT(
      check_public_headers({{"src/estimate/estimate.h", "#include <ceres/ceres.h>\n"}, reader}),
      ElementsAre(finding("src/estimate/estimate.h", 1, "Ceres")));
  EXPECT_THAT(check_public_headers({{"src/estimate/estimate.h",
                                     "namespace ceres { class Problem; }\n"
                                     "void solve(ceres::Problem& problem);\n"},
                                    reader}),
              ElementsAre(finding("src/estimate/estimate.h", 2, "Ceres")));
}

TEST(PublicHeaders, LibraryBehindASecondHeaderIsCaught) {
  EXPECT_THAT(check_public_headers({{"src/cli/main.cc", "#include \"estimate/estimate.h\"\n"},
                                    {"src/estimate/estimate.h", "#include \"estimate/solve.h\"\n"},
                                    {"src/estimate/solve.h", "#include <ceres/ceres.h>\n"}}),
              ElementsAre(finding("src/estimate/solve.h", 1, "Ceres")));
}

TEST(PublicHeaders, HeaderThatOnlyItsPartReadsIsFree) {
  EXPECT_THAT(check_public_headers({{"src/estimate/estimate.cc", "#include \"estimate/solve.h\"\n"},
                                    {"src/estimate/solve.h", "#include <ceres/ceres.h>\n"}}),
              IsEmpty());
}

TEST(PublicHeaders, PicturesAndEigenMayBeShown) {
  EXPECT_THAT(check_public_headers({{"src/cli/main.cc",
                                     "#include \"photo/decode.h\"\n"
                                     "#include \"geometry/camera.h\"\n"},
                                    {"src/photo/decode.h",
                                     "#include <opencv2/core.hpp>\n"
                                     "cv::Mat decode();\n"},
                                    {"src/geometry/camera.h",
                                     "#include <Eigen/Core>\n"
                                     "// cv::Mat in a comment\n"}}),
              IsEmpty());
}

TEST(Form, GoodFilesPass) {
  EXPECT_THAT(check_form({{"src/core/text.h", kGoodHeader},
                          {"src/core/text.cc", "// SPDX-License-Identifier: MIT\n"},
                          {"tests/run.sh", "#!/bin/sh\n# SPDX-License-Identifier: MIT\n"},
                          {"samples/truth.json", "{}\n"}}),
              IsEmpty());
}

TEST(Form, MissingLicenceIsCaught) {
  EXPECT_THAT(check_form({{"src/core/empty.cc", ""},
                          {"src/core/late.cc", "\n// SPDX-License-Identifier: MIT\n"},
                          {"tests/run.sh", "#!/bin/sh\n"},
                          {".ci/run", "#!/bin/sh\n"}}),
              ElementsAre(finding("src/core/empty.cc", 1, "licence"),
                          finding("src/core/late.cc", 1, "licence"),
                          finding("tests/run.sh", 1, "licence"), finding(".ci/run", 1, "licence")));
}

TEST(Form, HeaderWithoutPurposeOrGuardIsCaught) {
  EXPECT_THAT(check_form({{"src/core/a.h", "// SPDX-License-Identifier: MIT\n#pragma once\n"},
                          {"src/core/b.h", "// SPDX-License-Identifier: MIT\n// Sizes.\n"}}),
              ElementsAre(finding("src/core/a.h", 2, "purpose"),
                          finding("src/core/b.h", 0, "#pragma once")));
}

TEST(Form, LongHeaderIsCaught) {
  std::string text = kGoodHeader;
  while (std::count(text.begin(), text.end(), '\n') < 200) text += "\n";
  EXPECT_THAT(check_form({{"src/core/a.h", text}}), IsEmpty());
  EXPECT_THAT(check_form({{"src/core/a.h", text + "\n"}}),
              ElementsAre(finding("src/core/a.h", 0, "200 lines")));
}

TEST(Words, UnfinishedWorkIsCaught) {
  const std::string word = std::string("TO") + "DO";
  EXPECT_THAT(check_words({{"src/core/a.cc", "int a;\n// " + word + ": finish\n"}}),
              ElementsAre(finding("src/core/a.cc", 2, word)));
  EXPECT_THAT(check_words({{"src/core/a.cc", "int " + word + "ROKI;\n"}}), IsEmpty());
}

TEST(Words, FolderOfOneMachineIsCaught) {
  const std::string folder = std::string("/ho") + "me/ann/jar.jpg";
  EXPECT_THAT(check_words({{"README.md", folder + "\n"}}),
              ElementsAre(finding("README.md", 1, "folder")));
  EXPECT_THAT(check_words({{"README.md", "open '" + folder + "'\n"}}),
              ElementsAre(finding("README.md", 1, "folder")));
}

TEST(Words, FoldersOfTheProjectAreFree) {
  EXPECT_THAT(check_words({{"README.md", "See samples/home/jar.jpg and ../root/jar.jpg\n"}}),
              IsEmpty());
}

TEST(Built, ForgottenFilesAreCaught) {
  EXPECT_THAT(
      check_built({{"src/core/CMakeLists.txt",
                    "potshadow_part(NAME core\n  SOURCES text.cc\n"
                    "  TESTS text_test.cc ${folder}/more_test.cc)\n"},
                   {"src/core/files.cc", ""},
                   {"src/core/text.cc", ""},
                   {"src/vessel/text.cc", ""},
                   {"tests/CMakeLists.txt", "potshadow_tests(tree_tests SOURCES tree/a_test.cc)\n"},
                   {"tests/core/files_test.cc", ""},
                   {"tests/core/more_test.cc", ""},
                   {"tests/core/text_test.cc", ""},
                   {"tests/tree/a_test.cc", ""}}),
      ElementsAre(finding("src/core/files.cc", 0, "CMakeLists.txt"),
                  finding("src/vessel/text.cc", 0, "CMakeLists.txt"),
                  finding("tests/core/files_test.cc", 0, "CMakeLists.txt")));
}

TEST(ReadTree, TakesTextAndLeavesBuildsAndPictures) {
  const TemporaryFolder folder;
  for (const char* name : {"src/core/a.cc", "build/b.cc", "build-x/c.cc", ".git/d", ".ci/run",
                           "src/build/e.cc", "README.md"}) {
    std::filesystem::create_directories((folder.path() / name).parent_path());
    std::ofstream(folder.path() / name) << "text of " << name;
  }
  std::ofstream(folder.path() / "jar.png", std::ios::binary) << std::string("\x89PNG\0", 5);
  const std::vector<SourceFile> tree = read_tree(folder.path());
  ASSERT_EQ(tree.size(), 4U);
  EXPECT_EQ(tree[0].path, ".ci/run");
  EXPECT_EQ(tree[1].path, "README.md");
  EXPECT_EQ(tree[2].path, "src/build/e.cc");
  EXPECT_EQ(tree[3].path, "src/core/a.cc");
  EXPECT_EQ(tree[3].text, "text of src/core/a.cc");
}

TEST(Listing, IsOneFindingALine) {
  EXPECT_EQ(listing({{"a.cc", 3, "x"}, {"b.h", 0, "y"}}), "a.cc:3: x\nb.h:0: y\n");
}

TEST_F(Project, IsReadWhole) {
  const auto count = [&](const std::string& end) {
    return std::count_if(tree_.begin(), tree_.end(),
                         [&](const SourceFile& file) { return file.path.ends_with(end); });
  };
  // Far fewer would mean that the checks below looked at nothing; each part has several.
  EXPECT_GE(count(".h"), 20);
  EXPECT_GE(count(".cc"), 40);
  EXPECT_GE(count("CMakeLists.txt"), 11);
}

TEST_F(Project, IncludesFollowThePartDiagram) { EXPECT_EQ(listing(check_includes(tree_)), ""); }

TEST_F(Project, PublicHeadersShowNoOutsideLibrary) {
  EXPECT_EQ(listing(check_public_headers(tree_)), "");
}

TEST_F(Project, EveryFileHasItsForm) { EXPECT_EQ(listing(check_form(tree_)), ""); }

TEST_F(Project, NoWordStaysBehind) { EXPECT_EQ(listing(check_words(tree_)), ""); }

TEST_F(Project, EveryFileIsBuilt) { EXPECT_EQ(listing(check_built(tree_)), ""); }

}  // namespace
}  // namespace potshadow::tree
