// SPDX-License-Identifier: MIT
#include "project/sheet_request.h"

#include <ctime>
#include <system_error>

#include "project/answer_text.h"
#include "project/report.h"

namespace potshadow {
namespace {

std::string date_text(std::chrono::system_clock::time_point now, const char* format) {
  const std::time_t seconds = std::chrono::system_clock::to_time_t(now);
  std::tm utc{};
  if (gmtime_r(&seconds, &utc) == nullptr) return "";
  char text[64] = {};
  const std::size_t length = std::strftime(text, sizeof text, format, &utc);
  return {text, length};
}

// The day the project was saved, or that of printing where it was not.
std::string date_line(std::chrono::system_clock::time_point now,
                      const std::optional<std::chrono::system_clock::time_point>& saved) {
  return saved ? "saved " + day_in_words(*saved) : day_in_words(now);
}

}  // namespace

std::optional<std::chrono::system_clock::time_point> saved_at(const std::filesystem::path& file) {
  std::error_code problem;
  const auto time = std::filesystem::last_write_time(file, problem);
  if (problem) return std::nullopt;
  return std::chrono::time_point_cast<std::chrono::system_clock::duration>(
      std::chrono::file_clock::to_sys(time));
}

TemplateRequest template_request(const Measurement& measurement, const std::string& file,
                                 const TotalShrinkage& shrinkage, const SheetChoices& choices,
                                 std::chrono::system_clock::time_point now) {
  const Answer& answer = measurement.answer;
  const Project& project = measurement.project;
  TemplateRequest request{.vessel_name = title_of(project, file),
                          .fired_profile = answer.profile,
                          .band = {},
                          .sizes = {},
                          .clay_name = "",
                          .shrinkage = shrinkage,
                          .paper = choices.paper,
                          .date_line = date_line(now, choices.saved),
                          .created_iso = date_text(now, "%Y-%m-%dT%H:%M:%SZ"),
                          .unit = choices.unit,
                          .has_scale = answer.scale != ScaleSource::kNone,
                          .guessed_scale = guessed_scale_words(measurement, choices.unit),
                          .printer = choices.printer,
                          .printer_name = choices.printer_name,
                          .most_pages = choices.most_pages,
                          .page_way = choices.way};
  if (project.clay) {
    request.clay_name = project.clay->name.empty() ? project.clay->record : project.clay->name;
  }
  for (const ProfileRow& row : answer.rows) {
    request.band.push_back({row.height_mm, row.radius_mm, row.sd_mm});
  }
  for (const MeasuredSize& size : answer.sizes) {
    request.sizes.push_back({std::string(size_words(size.name)), size.measured,
                             size.name == SizeName::kCapacity, way_of(size.name)});
  }
  return request;
}

std::string day_in_words(std::chrono::system_clock::time_point now) {
  std::string day = date_text(now, "%e %B %Y");
  if (day.starts_with(' ')) day.erase(0, 1);
  return day;
}

std::string iso_date(std::chrono::system_clock::time_point now) {
  return date_text(now, "%Y-%m-%d");
}

}  // namespace potshadow
