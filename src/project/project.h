// SPDX-License-Identifier: MIT
// The project file: what a potter marked and typed, loaded and saved without loss.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "project/kept_object.h"
#include "project/project_bench.h"
#include "project/project_reference.h"
#include "project/project_trace.h"

// Format: UTF-8 JSON, extension .potshadow, one object with "potshadow": 1 (the version of the
// format). Lengths in millimetres, marks in pixels of the upright photograph, photographs named
// relative to the project file. DEVELOPERS.md lists the keys.
//
// A missing key (or null) stands for its default, written beside each field below. Keys that this
// version does not know are kept on every level and written back on saving, in their old order, and
// numbers that did not change keep their spelling.
//
// Failure: anything the file can hold wrongly is a Problem that names the place in plain words
// ("In photo 1, reference 1 of 'jar.potshadow', 'width_mm' should be a number, but it is text.").
namespace potshadow {

inline constexpr int kProjectVersion = 1;
inline constexpr std::uintmax_t kMostProjectBytes = std::uintmax_t{64} * 1024 * 1024;

struct ProjectGlass {
  double thickness_mm = 8.0;
  double thickness_sd_mm = 1.0;
  double index = 1.52;
  KeptObject kept;
  friend bool operator==(const ProjectGlass&, const ProjectGlass&) = default;
};

// What the photograph's file was when it was marked; `sha256` empty and the others absent if
// unknown.
struct PhotoRecord {
  std::optional<int> width_px;   // upright by the file's own word, before `quarter_turns`
  std::optional<int> height_px;  // likewise
  std::optional<std::uintmax_t> bytes;
  std::string sha256;
  friend bool operator==(const PhotoRecord&, const PhotoRecord&) = default;
};

struct ProjectPhoto {
  std::string file;
  std::optional<double> focal_35mm;        // overrules the photograph's own statement
  std::optional<double> focal_sd_percent;  // of focal_35mm; 2 if not given
  bool cropped = false;
  // "quarter_turns": how often the upright picture is turned clockwise, 0-3. Marks are counted in
  // the turned picture.
  int quarter_turns = 0;
  // "direction_deg": how far round the vessel it was taken from, seen from above, against the first
  // photograph; none counts as from the same side.
  std::optional<double> direction_deg;
  std::optional<ProjectGlass> glass;
  std::vector<ProjectReference> references;
  ProjectMarks marks;
  std::optional<ProjectTrace> trace;  // marks of the hand overrule it: see join_trace.h
  PhotoRecord record;
  KeptObject kept;
  friend bool operator==(const ProjectPhoto&, const ProjectPhoto&) = default;
};

struct ProjectWall {
  double value_mm = 6.0;
  double sd_mm = 1.0;
  KeptObject kept;
  friend bool operator==(const ProjectWall&, const ProjectWall&) = default;
};

// Half a percentage point is how well one batch of test bars fixes a clay (common practice, no
// source).
inline constexpr double kDefaultShrinkageSdPercent = 0.5;

struct ProjectClay {
  std::string record;                       // key of a clay's record
  std::string name;                         // as printed
  std::optional<double> shrinkage_percent;  // total, linear, of the wet length
  double shrinkage_sd_percent = kDefaultShrinkageSdPercent;
  std::string stage;               // "wet" and so on
  std::optional<double> firing_c;  // how hot it is fired; the record's usual heat if not given
  KeptObject kept;
  friend bool operator==(const ProjectClay&, const ProjectClay&) = default;
};

// How the pot is to be built, wet; what is absent follows from the vessel and its clay.
struct ProjectPlan {
  std::optional<double> wall_mm{};      // at the foot; else the vessel's wall, enlarged
  std::optional<double> wall_rim_mm{};  // at the rim; else as at the foot
  std::optional<double> coil_mm{};      // as rolled
  std::optional<double> allowance_percent{};
  std::optional<double> cradle_mm{};  // height of its line
  KeptObject kept{};
  friend bool operator==(const ProjectPlan&, const ProjectPlan&) = default;
};

// A part of the vessel that no photograph shows, and what bounds it: see HiddenPart.
struct ProjectHidden {
  std::optional<double> low_mm;
  std::optional<double> high_mm;
  KeptObject kept;
  friend bool operator==(const ProjectHidden&, const ProjectHidden&) = default;
};

struct Project {
  std::string name;
  std::string notes;
  std::vector<ProjectPhoto> photos;
  double out_of_round_percent = 1.0;
  bool round_base = false;  // "base": "round"; "flat" if not given
  std::optional<ProjectHidden> hidden_foot;
  std::optional<ProjectHidden> hidden_rim;
  ProjectWall wall;
  std::optional<ProjectClay> clay;
  std::optional<ProjectPlan> plan;
  std::vector<ProjectBand> bands;
  std::vector<ProjectBench> bench;  // of the new pot; one a stage
  KeptObject kept;
  friend bool operator==(const Project&, const Project&) = default;
};

// Returns the project in a file's text; `file_name` is for messages only. Fails with kBadFormat
// (not JSON: line and column; not a project; a key twice; wrong types), kNewerVersion,
// kFileTooLarge (too many values), kBadValue (see check_project).
Result<Project> parse_project(std::string_view text, std::string_view file_name);

// Returns the text of the project's file, with a newline at the end.
std::string project_text(const Project& project);

// Returns Done if every number is one that can be. Fails with kBadValue and names the place:
// numbers that are not finite, sizes below zero or absurdly large, too many photos, references or
// marks. What is merely unfinished (no marks yet) passes.
Result<Done> check_project(const Project& project, std::string_view file_name);

// Returns the project in the file, which it leaves alone. Fails as read_file and parse_project do.
Result<Project> load_project(const std::filesystem::path& path);

// Writes the project to `path`, whole or not at all. Photographs whose record is empty and that
// can be read have their record filled in the written file. Fails as check_project and
// write_file_whole do. Slow: reads such photographs, waits for the disk.
Result<Done> save_project(const Project& project, const std::filesystem::path& path);

}  // namespace potshadow
