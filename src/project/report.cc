// SPDX-License-Identifier: MIT
#include "project/report.h"

#include <cmath>
#include <filesystem>
#include <string_view>

#include "project/csv_text.h"
#include "project/json_text.h"
#include "project/stages_report.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr int kReportFormat = 1;

constexpr std::array kLengthSizes{SizeName::kHeight,       SizeName::kMaxDiameter,
                                  SizeName::kHeightOfMax,  SizeName::kNeckDiameter,
                                  SizeName::kHeightOfNeck, SizeName::kRimDiameter,
                                  SizeName::kBaseDiameter};

std::string_view scale_key(ScaleSource scale) {
  switch (scale) {
    case ScaleSource::kKnown:
      return "known";
    case ScaleSource::kGuess:
      return "guess";
    case ScaleSource::kNone:
      return "none";
  }
  return "none";
}

// Every size of a guessed scale says so itself.
Json marked_json(const Measured& measured, ScaleSource scale) {
  Json json = measured_json(measured);
  if (scale == ScaleSource::kGuess) json["guess"] = true;
  return json;
}

Json size_json(const MeasuredSize& size, ScaleSource scale) {
  Json json = measured_json(size.measured);
  json["camera_sd"] = size.camera_sd;
  if (scale == ScaleSource::kGuess) json["guess"] = true;
  return json;
}

Json sizes_json(const Answer& answer) {
  Json json = Json::object();
  for (const SizeName name : kLengthSizes) {
    const MeasuredSize* size = find_size(answer, name);
    json[std::string(size_key(name))] = size == nullptr ? Json() : size_json(*size, answer.scale);
  }
  return json;
}

Json wet_json(const Measurement& measurement) {
  const Answer& answer = measurement.answer;
  Json json = Json::object();
  for (const SizeName name : kLengthSizes) {
    const MeasuredSize* size = find_size(answer, name);
    json[std::string(size_key(name))] =
        size == nullptr ? Json() : marked_json(wet_size(measurement, *size), answer.scale);
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

// Rows of the profile, base first. Without a scale they are no millimetres, and are not called so.
Json profile_json(const Answer& answer) {
  const std::string unit = answer.scale == ScaleSource::kNone ? "_percent" : "_mm";
  Json rows = Json::array();
  for (const ProfileRow& row : answer.rows) {
    rows.push_back({{"height" + unit, row.height_mm},
                    {"radius" + unit, row.radius_mm},
                    {"sd" + unit, row.sd_mm}});
  }
  return rows;
}

Json camera_json(const CameraAnswer& camera, ScaleSource scale) {
  return {{"focal_35mm", camera.focal_35mm},
          {"focal_35mm_sd", camera.focal_35mm_sd},
          {"distance_mm", scale == ScaleSource::kNone ? Json() : Json(camera.distance_mm)},
          {"elevation_deg", camera.elevation_deg},
          {"elevation_sd_deg", camera.elevation_sd_deg}};
}

Json uneven_json(const Answer& answer) {
  if (!answer.uneven) return Json();
  const Uneven& uneven = *answer.uneven;
  const std::string unit = answer.scale == ScaleSource::kNone ? "_percent" : "_mm";
  return {{"lean_deg", measured_json(uneven.lean_deg)},
          {"widest" + unit, uneven.widest_mm},
          {"widest_sd" + unit, uneven.widest_sd_mm},
          {"at_height" + unit, uneven.at_height_mm},
          {"beyond_chance", uneven.beyond_chance}};
}

Json advice_json(const Answer& answer) {
  Json list = Json::array();
  for (const Advice& advice : answer.advice) {
    list.push_back({{"what", advice.what},
                    {"size", std::string(size_key(advice.size))},
                    {"sd_now", advice.sd_now},
                    {"sd_then", advice.sd_then}});
  }
  return list;
}

void add_wet(const Measurement& measurement, const MeasuredSize* capacity, Json& json) {
  json["shrinkage_percent_of_wet"] = Json();
  json["wet_mm"] = Json();
  json["wet_capacity_ml"] = Json();
  if (!measurement.shrinkage) return;
  const TotalShrinkage& shrinkage = *measurement.shrinkage;
  const Answer& answer = measurement.answer;
  json["shrinkage_percent_of_wet"] = shrinkage_json(shrinkage.linear());
  if (answer.scale != ScaleSource::kNone) json["wet_mm"] = wet_json(measurement);
  if (capacity != nullptr) {
    json["wet_capacity_ml"] = marked_json(wet_size(measurement, *capacity), answer.scale);
  }
}

void add_measurement(const Measurement& measurement, Json& json) {
  const Answer& answer = measurement.answer;
  const std::vector<ProjectPhoto>& photos = measurement.project.photos;
  json["photo"] = photos.at(measurement.photo_index).file;
  json["photos"] = Json::array();
  for (const std::size_t index : measurement.photo_indices) {
    json["photos"].push_back(photos.at(index).file);
  }
  json["scale"] = std::string(scale_key(answer.scale));
  json["sizes_mm"] = sizes_json(answer);
  const MeasuredSize* capacity = find_size(answer, SizeName::kCapacity);
  json["capacity_ml"] = capacity == nullptr ? Json() : size_json(*capacity, answer.scale);
  Json proportions = Json::object();
  for (const Proportion& proportion : answer.proportions) {
    proportions[proportion.key] = measured_json(proportion.measured);
  }
  json["proportions"] = std::move(proportions);
  add_wet(measurement, capacity, json);
  json["clay"] = clay_json(measurement);
  json["stages"] = stages_json(measurement);

  json["profile_unit"] = answer.scale == ScaleSource::kNone ? "percent_of_height" : "mm";
  json["profile"] = profile_json(answer);
  json["out_of_round_percent"] =
      answer.out_of_round ? measured_json(answer.out_of_round->percent) : Json();
  json["uneven"] = uneven_json(answer);
  json["camera"] = camera_json(answer.photos.front().camera, answer.scale);
  json["cameras"] = Json::array();
  for (const PhotoAnswer& photo : answer.photos) {
    json["cameras"].push_back(camera_json(photo.camera, answer.scale));
  }
  json["fit"] = fit_json(answer.fit);
  json["budget"] = budget_json(answer);
  json["advice"] = advice_json(answer);
  if (measurement.monte_carlo) {
    json["monte_carlo"] = monte_carlo_json(*measurement.monte_carlo);
  }
  Json notes = Json::array();
  for (const Note& note : answer.notes) {
    notes.push_back({{"text", note.text}, {"doubtful", note.doubtful}});
  }
  json["notes"] = std::move(notes);
}

}  // namespace

std::string title_of(const Project& project, const std::string& file) {
  if (!project.name.empty()) return project.name;
  return std::filesystem::path(file).stem().string();
}

std::string report_json_piece(const ReportEntry& entry) {
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
  // Written in its place, so that it stands as far in as it must.
  const std::string text = json_text({{"projects", Json::array({std::move(json)})}});
  const std::size_t start = text.find('[') + 1;
  return text.substr(start, text.rfind("\n  ]") - start);
}

std::string report_json_of(const std::vector<std::string>& pieces) {
  std::string text = "{\n  \"format\": " + std::to_string(kReportFormat) + ",\n  \"projects\": [";
  for (std::size_t i = 0; i < pieces.size(); ++i) text += (i == 0 ? "" : ",") + pieces[i];
  return text + (pieces.empty() ? "]\n}\n" : "\n  ]\n}\n");
}

std::string report_json(const std::vector<ReportEntry>& entries) {
  std::vector<std::string> pieces;
  pieces.reserve(entries.size());
  for (const ReportEntry& entry : entries) pieces.push_back(report_json_piece(entry));
  return report_json_of(pieces);
}

std::string report_csv_heading() { return "project,size,value,sd,low95,high95,unit,scale\r\n"; }

std::string report_csv_lines(const ReportEntry& entry) {
  std::string out;
  if (!entry.measurement.ok()) return out;
  const Answer& answer = entry.measurement->answer;
  const std::string title = csv_field(title_of(entry.measurement->project, entry.file));
  const auto add = [&](std::string_view what, const Measured& measured, std::string_view unit) {
    out += title + "," + std::string(what) + "," + csv_number(measured.value) + "," +
           csv_number(measured.sd) + "," + csv_number(measured.low95) + "," +
           csv_number(measured.high95) + "," + std::string(unit) + "," +
           std::string(scale_key(answer.scale)) + "\r\n";
  };
  for (const MeasuredSize& size : answer.sizes) {
    add(size_key(size.name), size.measured, size.name == SizeName::kCapacity ? "ml" : "mm");
  }
  if (answer.scale != ScaleSource::kNone) return out;
  for (const Proportion& proportion : answer.proportions) {
    add(proportion.key, proportion.measured, "ratio");
  }
  return out;
}

std::string report_csv(const std::vector<ReportEntry>& entries) {
  std::string out = report_csv_heading();
  for (const ReportEntry& entry : entries) out += report_csv_lines(entry);
  return out;
}

}  // namespace potshadow
