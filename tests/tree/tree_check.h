// SPDX-License-Identifier: MIT
// Checks of the source tree itself: who includes whom, and the form that every file has.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

// A tree is a list of files with their paths from the project's folder, so that a test can make a
// small wrong one up. Every check returns what it found wrong, in the order of the files; an empty
// list means that all is well. C++ is read line by line, not parsed: an include inside a comment
// over several lines counts as one.
namespace potshadow::tree {

struct SourceFile {
  std::string path;  // "src/core/text.h"
  std::string text;
};

struct Finding {
  std::string path;
  int line = 0;  // from 1; 0 where the whole file is meant
  std::string what;
  friend bool operator==(const Finding&, const Finding&) = default;
};

// Returns every text file of the project that stands in `root`, sorted by path. Left out: hidden
// folders other than .ci, build folders (build*), and files that hold a zero byte (pictures).
std::vector<SourceFile> read_tree(const std::filesystem::path& root);

// Every #include under src/: parts only in the direction of the part diagram, outside libraries
// only in the part that wraps them, nothing unknown, and the own header first.
std::vector<Finding> check_includes(const std::vector<SourceFile>& tree);

// Headers under src/ that another part reads, directly or through a second header: they show no
// outside library but Eigen, and OpenCV's core in photo and outline.
std::vector<Finding> check_public_headers(const std::vector<SourceFile>& tree);

// Licence line, purpose line, #pragma once and length of every C++ file; licence line of scripts.
std::vector<Finding> check_form(const std::vector<SourceFile>& tree);

// Words that must not stay behind: unfinished work, and folders of one person's machine.
std::vector<Finding> check_words(const std::vector<SourceFile>& tree);

// Every .cc file under src/ and tests/ is named in a CMakeLists.txt: none is forgotten.
std::vector<Finding> check_built(const std::vector<SourceFile>& tree);

// Returns the findings one a line, "path:line: what", for a failing test's message.
std::string listing(const std::vector<Finding>& findings);

}  // namespace potshadow::tree
