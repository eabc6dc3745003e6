// SPDX-License-Identifier: MIT
#include "desktop/words/photo_words.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <filesystem>
#include <string_view>

#include "core/measured.h"
#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/trace_words.h"
#include "project/one_line.h"

namespace potshadow {
namespace {

constexpr double kDefaultFocalSdPercent = 2.0;  // of a typed focal length, as in a project

std::string focal_text(double focal_35mm) {
  return "like " + typed_text(focal_35mm, 1) + " mm on 35 mm film";
}

std::string within_percent(double sd_percent) {
  return percent_text(kNormal95 * sd_percent / 100.0);
}

std::string camera_text(const ExifFacts& exif) {
  if (exif.make.empty() || exif.model.starts_with(exif.make)) return exif.model;
  return exif.model.empty() ? exif.make : exif.make + " " + exif.model;
}

// "2024-05-31 14:05:09" as "31 May 2024, 14:05"; anything else as it stands.
std::string taken_text(const std::string& taken) {
  constexpr std::array<std::string_view, 12> kMonths{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  constexpr std::string_view kPattern = "dddd-dd-dd dd:dd";
  if (taken.size() < kPattern.size()) return taken;
  for (std::size_t i = 0; i < kPattern.size(); ++i) {
    const bool digit = taken[i] >= '0' && taken[i] <= '9';
    if (kPattern[i] == 'd' ? !digit : taken[i] != kPattern[i]) return taken;
  }
  const int month = std::stoi(taken.substr(5, 2));
  if (month < 1 || month > 12) return taken;
  return std::to_string(std::stoi(taken.substr(8, 2))) + " " +
         std::string(kMonths.at(static_cast<std::size_t>(month - 1))) + " " + taken.substr(0, 4) +
         ", " + taken.substr(11, 5);
}

std::string bytes_text(std::uintmax_t bytes) {
  constexpr double kMega = 1e6;
  constexpr double kKilo = 1e3;
  const double count = static_cast<double>(bytes);
  if (count >= kMega / 10.0) return fixed_text(count / kMega, 1) + " MB";
  return fixed_text(std::max(1.0, count / kKilo), 0) + " kB";
}

FactRow focal_row(const PhotoFacts& facts, const ProjectPhoto& photo) {
  FactRow row{"Focal length", "–", "the file does not say", !photo.focal_35mm};
  if (facts.focal) {
    row.value = focal_text(facts.focal->focal_35mm);
    row.note = within_percent(facts.focal->sd_percent) +
               (facts.focal->stated ? ", as the file says it"
                                    : ", worked out from the lens and the sensor");
    row.doubtful = false;
  }
  if (photo.focal_35mm) row.note += "; yours is used instead";
  return row;
}

bool has_focal(const PhotoFacts* facts, const ProjectPhoto& photo) {
  return photo.focal_35mm || (facts != nullptr && facts->focal);
}

}  // namespace

std::string megapixels_text(int width_px, int height_px) {
  constexpr double kMega = 1e6;
  constexpr double kManyMega = 20.0;  // beyond, tenths say nothing
  const double mega = static_cast<double>(width_px) * height_px / kMega;
  const double shown = std::max(mega, 0.1);
  return (mega < 0.1 ? "less than " : "") + typed_text(shown, mega < kManyMega ? 1 : 0) +
         " megapixels";
}

std::vector<PhotoLine> photo_lines(const Project& project) {
  std::vector<PhotoLine> lines;
  for (const ProjectPhoto& photo : project.photos) {
    PhotoLine line;
    const std::filesystem::path file(photo.file);
    line.name = photo.file.empty() ? "no file" : on_one_line(file.stem().string());
    const auto same_name = [&](const ProjectPhoto& other) {
      return std::filesystem::path(other.file).stem() == file.stem();
    };
    if (!photo.file.empty() &&
        std::count_if(project.photos.begin(), project.photos.end(), same_name) > 1) {
      line.name += " in " + on_one_line(file.parent_path().filename().string());
    }
    const ProjectMarks marks = counted_marks(photo);
    const std::size_t count =
        marks.rim.size() + marks.base.size() + marks.left.size() + marks.right.size();
    line.marked = count > 0;
    line.words =
        on_one_line(photo.file.empty() ? line.name : photo.file) + ": " +
        (line.marked ? counted(count, "mark", "marks") + " on the vessel"
                     : std::string("no marks yet, so it is left out")) +
        ", " +
        (photo.references.empty() ? "no reference"
                                  : counted(photo.references.size(), "reference", "references"));
    if (photo.direction_deg) {
      line.words += ", seen from " + typed_text(*photo.direction_deg, 1) + "°";
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

std::vector<FactRow> found_rows(const PhotoFacts& facts, const ProjectPhoto& photo) {
  std::vector<FactRow> rows;
  const std::string camera = camera_text(facts.exif);
  if (!camera.empty()) rows.push_back({"Camera", camera, "", false});
  if (!facts.exif.lens.empty()) rows.push_back({"Lens", facts.exif.lens, "", false});
  rows.push_back(focal_row(facts, photo));
  const bool across = photo.quarter_turns % 2 != 0;
  const int width = across ? facts.height_px : facts.width_px;
  const int height = across ? facts.width_px : facts.height_px;
  rows.push_back({"Size", std::to_string(width) + " × " + std::to_string(height) + " pixels",
                  megapixels_text(width, height), false});
  const std::string taken = taken_text(facts.exif.taken);
  rows.push_back({"Taken", taken.empty() ? "–" : taken,
                  taken.empty() ? "the file does not say" : "by the camera's clock", false});
  rows.push_back({"File", std::string(kind_name(facts.kind)) + ", " + bytes_text(facts.bytes),
                  "never changed by Potshadow", false});
  return rows;
}

std::vector<FactRow> assumed_rows(const PhotoFacts* facts, const ProjectPhoto& photo) {
  std::vector<FactRow> rows;
  if (photo.focal_35mm) {
    const double sd = photo.focal_sd_percent.value_or(kDefaultFocalSdPercent);
    rows.push_back({"Focal length", focal_text(*photo.focal_35mm),
                    within_percent(sd) + ", as you gave it", false});
  } else if (facts != nullptr && !facts->focal) {
    rows.push_back(
        {"Focal length", "found from the marks alone", "every interval is wider for it", true});
  }
  if (photo.cropped) {
    rows.push_back(
        {"Middle of the frame", "not known", "the picture is cropped, so this is left open", true});
  } else {
    rows.push_back({"Middle of the frame", "the middle of the picture",
                    "within 1 % of its width; the picture is not cropped", false});
  }
  rows.push_back({"Lens", "draws straight lines straight", "a slight bend is allowed for", false});
  if (photo.glass) {
    const FigureText thick = length_figure(
        normal_measured(photo.glass->thickness_mm, photo.glass->thickness_sd_mm), LengthUnit::kMm);
    rows.push_back({"Pane", thick.value + " ± " + thick.plus_minus + " mm thick",
                    "flat and upright, between you and the vessel", false});
  } else {
    rows.push_back({"Pane", "none", "nothing but air before the vessel", false});
  }
  rows.push_back({"Vessel", "upright on a level shelf", "within 1°", false});
  rows.push_back({"Marks", "each within " + typed_text(photo.marks.sd_px, 2) + " px",
                  "two times in three; twice as far 19 times in 20", false});
  return rows;
}

std::vector<Note> photo_warnings(const PhotoFacts* facts, const ProjectPhoto& photo) {
  std::vector<Note> notes;
  if (facts != nullptr && facts->exif == ExifFacts{}) {
    notes.push_back(
        {"The file holds nothing about its camera, as after editing or sending it. Use "
         "the original file if you have it.",
         true});
  }
  if (facts != nullptr && !has_focal(facts, photo)) {
    notes.push_back(
        {"The lens's focal length is not known, so every interval is wider. Type it if "
         "you can find it out.",
         true});
  }
  if (photo.cropped) {
    notes.push_back(
        {"The picture is cropped, so the middle of the frame is lost and the intervals "
         "are wider. Use the whole picture if you have it.",
         true});
  }
  constexpr int kFewPixels = 1000;  // along the longer side: a mark is then 1 of 500 of a pot
  if (facts != nullptr && std::max(facts->width_px, facts->height_px) < kFewPixels) {
    notes.push_back({"The picture is small, " + std::to_string(facts->width_px) + " × " +
                         std::to_string(facts->height_px) +
                         " pixels, so marks cannot be placed well. Use the original file if it is "
                         "larger.",
                     true});
  }
  return notes;
}

}  // namespace potshadow
