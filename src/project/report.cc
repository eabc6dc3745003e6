// SPDX-License-Identifier: MIT
#include "project/report.h"

#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>

#include "project/json_text.h"

namespace potshadow {
namespace {

constexpr int kReportFormat = 1;

Json measured_json(const Measured& measured) {
  return Json{{"value", measured.value},
              {"sd", measured.sd},
              {"low95", measured.low95},
              {"high95", measured.high95}};
}

constexpr std::array kLengthSizes{SizeName::kHeight,       SizeName::kMaxDiameter,
                                  SizeName::kHeightOfMax,  SizeName::kNeckDiameter,
                                  SizeName::kHeightOfNeck, SizeName::kRimDiameter,
                                  SizeName::kBaseDiameter};

Json size_json(const MeasuredSize& size) {
  Json json = measured_json(size.measured);
  json["camera_sd"] = size.camera_sd;
  return json;
}

Json sizes_json(const Answer& answer) {
  Json json = Json::object();
  for (const SizeName name : kLengthSizes) {
    const MeasuredSize* size = find_size(answer, name);
    json[std::string(size_key(name))] = size == nullptr ? Json() : size_json(*size);
  }
  return json;
}

Json wet_json(const Answer& answer, const TotalShrinkage& shrinkage) {
  Json json = Json::object();
  for (const SizeName name : kLengthSizes) {
    const MeasuredSize* size = find_size(answer, name);
    json[std::string(size_key(name))] =
        size == nullptr ? Json() : measured_json(shrinkage.wet_length(size->measured));
  }
  return json;
}

Json budget_json(const Answer& answer) {
  Json json = Json::object();
  for (const MeasuredSize& size : answer.sizes) {
    Json shares = Json::object();
    for (std::size_t i = 0; i < kDoubtCount; ++i) {
      shares[std::string(doubt_key(static_cast<DoubtSource>(i)))] = size.budget[i];
    }
    json[std::string(size_key(size.name))] = std::move(shares);
  }
  return json;
}

Json fit_json(const Fit& fit) {
  Json worst = Json::array();
  for (const MarkResidual& mark : fit.worst) {
    worst.push_back({{"mark", mark.mark}, {"off_px", mark.off_px}, {"off_sd", mark.off_sd}});
  }
  return {{"rms_px", fit.rms_px},
          {"marks", fit.marks},
          {"scatter_ratio", fit.scatter_ratio},
          {"worst", std::move(worst)}};
}

// Every size that was redrawn, with its interval by first-order propagation and by the draws.
Json monte_carlo_json(const MonteCarlo& monte_carlo) {
  Json sizes = Json::object();
  for (const RedrawnSize& size : monte_carlo.sizes) {
    const Measured& first = size.first;
    sizes[std::string(size_key(size.name))] = {
        {"first_order", {{"sd", first.sd}, {"low95", first.low95}, {"high95", first.high95}}},
        {"redrawn",
         {{"mean", size.mean}, {"sd", size.sd}, {"low95", size.low95}, {"high95", size.high95}}},
        {"draws", size.draws},
        {"not_redrawn", size.not_redrawn},
        {"used", size.differs() ? "redrawn" : "first_order"}};
  }
  return {{"draws", monte_carlo.draws},
          {"failed", monte_carlo.failed},
          {"seed", monte_carlo.seed},
          {"sizes", std::move(sizes)}};
}

void add_measurement(const Measurement& measurement, Json& json) {
  const Answer& answer = measurement.answer;
  json["photo"] = measurement.project.photos.at(measurement.photo_index).file;
  json["sizes_mm"] = sizes_json(answer);
  const MeasuredSize* capacity = find_size(answer, SizeName::kCapacity);
  json["capacity_ml"] = capacity == nullptr ? Json() : size_json(*capacity);
  Json proportions = Json::object();
  for (const Proportion& proportion : answer.proportions) {
    proportions[proportion.key] = measured_json(proportion.measured);
  }
  json["proportions"] = std::move(proportions);

  json["shrinkage_percent_of_wet"] = Json();
  json["wet_mm"] = Json();
  json["wet_capacity_ml"] = Json();
  if (measurement.shrinkage) {
    const TotalShrinkage& shrinkage = *measurement.shrinkage;
    json["shrinkage_percent_of_wet"] = {{"value", 100.0 * shrinkage.fraction_of_wet()},
                                        {"sd", 100.0 * shrinkage.sd_fraction()}};
    json["wet_mm"] = wet_json(answer, shrinkage);
    if (capacity != nullptr) {
      json["wet_capacity_ml"] = measured_json(shrinkage.wet_volume(capacity->measured));
    }
  }

  Json rows = Json::array();
  for (const ProfileRow& row : answer.rows) {
    rows.push_back(
        {{"height_mm", row.height_mm}, {"radius_mm", row.radius_mm}, {"sd_mm", row.sd_mm}});
  }
  json["profile"] = std::move(rows);
  const CameraAnswer& camera = answer.photos.front().camera;
  json["camera"] = {{"focal_35mm", camera.focal_35mm},
                    {"focal_35mm_sd", camera.focal_35mm_sd},
                    {"distance_mm", camera.distance_mm},
                    {"elevation_deg", camera.elevation_deg},
                    {"elevation_sd_deg", camera.elevation_sd_deg}};
  json["fit"] = fit_json(answer.fit);
  json["budget"] = budget_json(answer);
  if (measurement.monte_carlo) {
    json["monte_carlo"] = monte_carlo_json(*measurement.monte_carlo);
  }
  Json notes = Json::array();
  for (const Note& note : answer.notes) {
    notes.push_back({{"text", note.text}, {"doubtful", note.doubtful}});
  }
  json["notes"] = std::move(notes);
}

// Returns a field quoted where it must be (RFC 4180, section 2, rules 5 to 7).
std::string csv_field(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

// Returns the shortest text that reads back as the same double; empty where not finite.
std::string csv_number(double value) {
  if (!std::isfinite(value)) return "";
  std::array<char, 32> buffer{};
  const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  POTSHADOW_CHECK(error == std::errc{});
  return {buffer.data(), end};
}

}  // namespace

std::string title_of(const Project& project, const std::string& file) {
  if (!project.name.empty()) return project.name;
  return std::filesystem::path(file).stem().string();
}

std::string report_json(const std::vector<ReportEntry>& entries) {
  Json projects = Json::array();
  for (const ReportEntry& entry : entries) {
    Json json = Json::object();
    if (entry.measurement.ok()) {
      json["project"] = title_of(entry.measurement->project, entry.file);
      json["file"] = entry.file;
      add_measurement(entry.measurement.value(), json);
    } else {
      json["project"] = Json();
      json["file"] = entry.file;
      const Problem& problem = entry.measurement.problem();
      json["problem"] = {{"what", problem.what}, {"next", problem.next}};
    }
    projects.push_back(std::move(json));
  }
  return json_text({{"format", kReportFormat}, {"projects", std::move(projects)}});
}

std::string report_csv(const std::vector<ReportEntry>& entries) {
  std::string out = "project,size,value,sd,low95,high95,unit\r\n";
  for (const ReportEntry& entry : entries) {
    if (!entry.measurement.ok()) continue;
    const std::string title = csv_field(title_of(entry.measurement->project, entry.file));
    for (const MeasuredSize& size : entry.measurement->answer.sizes) {
      const Measured& measured = size.measured;
      out += title + "," + std::string(size_key(size.name)) + "," + csv_number(measured.value) +
             "," + csv_number(measured.sd) + "," + csv_number(measured.low95) + "," +
             csv_number(measured.high95) + "," + (size.name == SizeName::kCapacity ? "ml" : "mm") +
             "\r\n";
    }
  }
  return out;
}

}  // namespace potshadow
