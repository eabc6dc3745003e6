// SPDX-License-Identifier: MIT
#include <string>

#include "project/bench_report.h"
#include "project/csv_text.h"
#include "project/report.h"
#include "project/stages_report.h"

namespace potshadow {

using namespace internal;
namespace {

std::string_view correction_key(Correction correction) {
  switch (correction) {
    case Correction::kAsYouLike:
      return "as_you_like";
    case Correction::kCutOnly:
      return "cut_only";
    case Correction::kNothing:
      break;
  }
  return "nothing";
}

Json size_json(const BenchSize& size) {
  Json json = Json::object();
  json["verdict"] = std::string(verdict_key(size.verdict));
  json["measured"] = measured_json(size.measured);
  json["target"] = measured_json(size.target);
  json["difference"] = measured_json(size.difference);
  json["difference_together"] = {{"low95", size.together_low95}, {"high95", size.together_high95}};
  json["right_within"] = size.right_within;
  json["fired"] = measured_json(size.fired);
  json["fired_difference"] = measured_json(size.fired_difference);
  json["doubt"] = Json::object();
  for (const BenchDoubt doubt : {BenchDoubt::kPhotograph, BenchDoubt::kClay, BenchDoubt::kBench}) {
    json["doubt"][std::string(bench_doubt_key(doubt))] =
        size.doubts.at(static_cast<std::size_t>(doubt));
  }
  json["correction"] = std::string(correction_key(size.correction));
  return json;
}

}  // namespace

std::string bench_json(const Measurement& original, const BenchAnswer& answer,
                       const PotEvidence& evidence, const std::string& file) {
  const BenchCheck& check = answer.check;
  Json json = Json::object();
  json["project"] = title_of(original.project, file);
  json["stage"] = std::string(stage_key(check.stage));
  json["guess"] = original.answer.scale == ScaleSource::kGuess;
  json["clay"] = clay_json(original);
  json["widening"] = check.widening;
  json["correct_first"] =
      check.first ? Json(std::string(size_key(answer.names[*check.first]))) : Json();
  json["sizes_mm"] = Json::object();
  json["capacity_ml"] = Json();
  for (std::size_t i = 0; i < answer.names.size(); ++i) {
    Json size = size_json(check.sizes[i]);
    if (answer.names[i] == SizeName::kCapacity) {
      json["capacity_ml"] = std::move(size);
    } else {
      json["sizes_mm"][std::string(size_key(answer.names[i]))] = std::move(size);
    }
  }
  json["shrank"] = evidence_json(evidence);
  json["notes"] = Json::array();
  for (const Note& note : answer.notes) {
    json["notes"].push_back({{"text", note.text}, {"doubtful", note.doubtful}});
  }
  return json_text({{"format", 1}, {"check", std::move(json)}});
}

std::string bench_csv(const Measurement& original, const BenchAnswer& answer,
                      const std::string& file) {
  std::string out =
      "project,stage,size,measured,measured_low95,measured_high95,target,target_low95,"
      "target_high95,difference,together_low95,together_high95,verdict,fired,fired_low95,"
      "fired_high95,unit\r\n";
  const auto interval = [](const Measured& m) {
    return csv_number(m.value) + "," + csv_number(m.low95) + "," + csv_number(m.high95) + ",";
  };
  for (std::size_t i = 0; i < answer.names.size(); ++i) {
    const BenchSize& size = answer.check.sizes[i];
    out += csv_field(title_of(original.project, file)) + "," +
           std::string(stage_key(answer.check.stage)) + "," +
           std::string(size_key(answer.names[i])) + "," + interval(size.measured) +
           interval(size.target) + csv_number(size.difference.value) + "," +
           csv_number(size.together_low95) + "," + csv_number(size.together_high95) + "," +
           std::string(verdict_key(size.verdict)) + "," + interval(size.fired) +
           (answer.names[i] == SizeName::kCapacity ? "ml" : "mm") + "\r\n";
  }
  return out;
}

}  // namespace potshadow
