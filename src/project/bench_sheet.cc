// SPDX-License-Identifier: MIT
#include "project/bench_sheet.h"

#include "core/check.h"
#include "project/answer_text.h"
#include "project/clay_text.h"
#include "project/plan_report.h"
#include "project/report.h"
#include "project/sheet_request.h"

namespace potshadow {

BenchSheetContent bench_sheet_content(const Measurement& measurement, const BuildPlan& plan,
                                      const std::string& file, LengthUnit unit,
                                      std::chrono::system_clock::time_point now) {
  POTSHADOW_CHECK(measurement.clay.has_value());
  const ProjectClayFigures& clay = *measurement.clay;
  BenchSheetContent content{.vessel_name = title_of(measurement.project, file),
                            .clay_name = clay.name.empty() ? "the clay" : clay.name,
                            .clay_sentence = clay_sentence(clay.figures),
                            .enlargement = enlargement_words(clay.figures),
                            .guessed_scale = guessed_scale_words(measurement, unit),
                            .date_line = day_in_words(now),
                            .unit = unit,
                            .sizes = {},
                            .plan = plan,
                            .cautions = {}};
  for (const MeasuredSize& size : measurement.answer.sizes) {
    BenchSheetContent::SizeRow row{
        std::string(size_words(size.name)), {}, size.name == SizeName::kCapacity};
    for (std::size_t i = 0; i < row.at_stage.size(); ++i) {
      row.at_stage[i] = at_stage(size, clay.figures, static_cast<Stage>(i)).measured;
    }
    content.sizes.push_back(std::move(row));
  }
  for (const std::string_view caution : clay_cautions()) content.cautions.emplace_back(caution);
  return content;
}

}  // namespace potshadow
