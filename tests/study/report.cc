// SPDX-License-Identifier: MIT
#include "study/report.h"

#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>

namespace potshadow::study {
namespace {

std::string number(double value, const char* form = "%.6g") {
  std::array<char, 64> text{};
  std::snprintf(text.data(), text.size(), form, value);
  return text.data();
}

template <class T>
std::string or_empty(const std::optional<T>& value) {
  return value ? number(*value) : std::string();
}

// RFC 4180.
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

std::string padded(std::string text, std::size_t width) {
  if (text.size() < width) text.append(width - text.size(), ' ');
  return text;
}

std::string title(const Group& group) {
  return group.place.empty() ? group.kind : group.kind + " " + group.place;
}

void size_rows(std::ostream& out, const std::vector<Trial>& trials) {
  out << "scene,kind,place,size,truth,value,sd,low95,high95,bound_sd,without_noise,covered\r\n";
  for (const Trial& trial : trials) {
    for (const SizeResult& size : trial.sizes) {
      if (!size.truth && !size.found) continue;
      out << trial.number << ',' << trial.kind << ',' << quoted(trial.place) << ','
          << size_key(size.name) << ',' << or_empty(size.truth) << ',';
      if (size.found) {
        out << number(size.found->value) << ',' << number(size.found->sd) << ','
            << number(size.found->low95) << ',' << number(size.found->high95) << ',';
      } else {
        out << ",,,,";
      }
      out << or_empty(size.bound_sd) << ',' << or_empty(size.noiseless) << ','
          << (size.both() ? (size.covered() ? "1" : "0") : "") << "\r\n";
    }
  }
}

void scene_rows(std::ostream& out, const std::vector<Trial>& trials) {
  out << "scene,kind,place,family,larger_mm,out_of_round_percent,focal_35mm,focal_sd_percent,"
         "elevation_deg,distance_mm,eye_over_rim_mm,glass,views,mark_sd_px,answered,scatter_ratio,"
         "rms_px,seconds,"
         "problem,problem_without_noise,notes,advice,sd_before,sd_promised,sd_got\r\n";
  for (const Trial& t : trials) {
    out << t.number << ',' << t.kind << ',' << quoted(t.place) << ',' << t.family << ','
        << number(t.larger_mm) << ',' << number(t.oval_percent) << ',' << number(t.focal_35mm)
        << ',' << number(t.focal_sd_percent) << ',' << number(t.elevation_deg) << ','
        << number(t.distance_mm) << ',' << number(t.eye_over_rim_mm) << ',' << (t.glass ? 1 : 0)
        << ',' << t.views << ',' << number(t.mark_sd_px) << ',' << (t.answered ? 1 : 0) << ','
        << number(t.scatter_ratio) << ',' << number(t.rms_px) << ',' << number(t.seconds) << ','
        << quoted(t.problem) << ',' << quoted(t.exact_problem) << ',' << quoted(t.notes) << ',';
    if (t.followed) {
      out << quoted(t.followed->what) << ',' << number(t.followed->sd_before) << ','
          << number(t.followed->sd_promised) << ',' << or_empty(t.followed->sd_got);
    } else {
      out << ",,,";
    }
    out << "\r\n";
  }
}

void group_rows(std::ostream& out, const Figures& figures) {
  out << "kind,place,scenes,failures,size,covered,of,covered_percent,covered_low,covered_high,"
         "bias_percent,rms_percent,robust_percent,half_width_percent,with_bound,rmse_to_bound,"
         "robust_to_bound,error_to_sd,not_given,made_up\r\n";
  std::vector<const Group*> groups{&figures.all};
  for (const Group& group : figures.groups) groups.push_back(&group);
  for (const Group& group : figures.conditions) groups.push_back(&group);
  for (const Group* group : groups) {
    for (const SizeFigures& f : group->sizes) {
      out << group->kind << ',' << group->place << ',' << group->scenes << ',' << group->failures
          << ',' << size_key(f.name) << ',' << f.covered.hits << ',' << f.covered.of << ','
          << number(100.0 * f.covered.part()) << ',' << number(100.0 * f.covered.low()) << ','
          << number(100.0 * f.covered.high()) << ',' << number(f.bias_percent) << ','
          << number(f.rms_percent) << ',' << number(f.robust_percent) << ','
          << number(f.width_percent) << ',' << f.with_bound << ',' << number(f.to_bound) << ','
          << number(f.to_bound_robust) << ',' << number(f.error_to_sd) << ',' << f.not_given << ','
          << f.made_up << "\r\n";
    }
  }
}

void group_line(std::ostream& out, const Group& group) {
  out << padded(title(group), 26) << padded(std::to_string(group.scenes), 6)
      << padded(std::to_string(group.failures), 4);
  for (const SizeName name : {SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kRimDiameter,
                              SizeName::kBaseDiameter, SizeName::kCapacity}) {
    const SizeFigures& f = group.sizes[static_cast<std::size_t>(name)];
    out << padded(number(100.0 * f.covered.part(), "%.0f") + " ±" +
                      number(f.width_percent, "%.2f") + " " + number(f.error_to_sd, "%.2f"),
                  18);
  }
  out << "\n";
}

void summary(std::ostream& out, const std::string& command, const std::vector<Trial>& trials,
             const Figures& figures) {
  out << "Made by: " << command << "\n\n";
  out << figures.all.scenes << " scenes, " << figures.all.failures << " without an answer.\n\n";
  out << "Coverage of the 95 % interval (with 95 % bounds), errors in percent of the size, and\n"
         "errors over the Cramer-Rao bound (plain; robust).\n\n";
  out << padded("size", 24) << padded("covered", 14) << padded("percent", 22) << padded("bias", 8)
      << padded("rms", 8) << padded("robust", 8) << padded("over bound", 16) << padded("over sd", 9)
      << "not given, made up\n";
  for (const SizeFigures& f : figures.all.sizes) {
    out << padded(std::string(size_words(f.name)), 24)
        << padded(std::to_string(f.covered.hits) + "/" + std::to_string(f.covered.of), 14)
        << padded(number(100.0 * f.covered.part(), "%.1f") + " (" +
                      number(100.0 * f.covered.low(), "%.1f") + "-" +
                      number(100.0 * f.covered.high(), "%.1f") + ")",
                  22)
        << padded(number(f.bias_percent, "%.2f"), 8) << padded(number(f.rms_percent, "%.2f"), 8)
        << padded(number(f.robust_percent, "%.2f"), 8)
        << padded(number(f.to_bound, "%.2f") + "; " + number(f.to_bound_robust, "%.2f"), 16)
        << padded(number(f.error_to_sd, "%.2f"), 9) << f.not_given << ", " << f.made_up << "\n";
  }
  out << "\nIn parts: scenes, failures, and for height, maximum, rim, base and capacity what is\n"
         "covered in percent, half the interval in percent, and the error over its sd.\n\n";
  for (const auto* part : {&figures.groups, &figures.conditions}) {
    for (const Group& group : *part) group_line(out, group);
    out << "\n";
  }
  if (!figures.promised_to_got.empty()) {
    double sum = 0.0;
    std::size_t near = 0;
    for (const double ratio : figures.promised_to_got) {
      sum += ratio;
      near += ratio > 0.8 && ratio < 1.25 ? 1U : 0U;
    }
    out << "\nAdvice followed in " << figures.promised_to_got.size()
        << " scenes: the interval got over the one promised is "
        << number(sum / static_cast<double>(figures.promised_to_got.size()), "%.3f")
        << " on average, within a quarter in " << near << ".\n";
  }
  if (!figures.reasons.empty()) out << "\nWithout an answer:\n";
  for (const auto& [reason, count] : figures.reasons) out << count << "  " << reason << "\n";
  for (const Trial& trial : trials) {
    if (trial.answered) continue;
    out << "scene " << trial.number << " (" << trial.kind << " " << trial.place << ", "
        << trial.family << ", " << number(trial.larger_mm, "%.0f") << " mm, "
        << number(trial.elevation_deg, "%.0f") << " degrees up)\n";
  }
}

void table(std::ostream& out, const Figures& figures) {
  out << "| size | truth within the 95 % interval | percent, with 95 % bounds | error, robust sd | "
         "over the bound: plain, robust |\n|---|---|---|---|---|\n";
  for (const SizeFigures& f : figures.all.sizes) {
    out << "| " << size_words(f.name) << " | " << f.covered.hits << " of " << f.covered.of << " | "
        << number(100.0 * f.covered.part(), "%.1f") << " ("
        << number(100.0 * f.covered.low(), "%.1f") << "-"
        << number(100.0 * f.covered.high(), "%.1f") << ") | " << number(f.robust_percent, "%.1f")
        << " % | " << number(f.to_bound, "%.2f") << ", " << number(f.to_bound_robust, "%.2f")
        << " |\n";
  }
}

bool write(const std::filesystem::path& file, const std::string& text) {
  std::ofstream out(file, std::ios::binary);
  out << text;
  out.close();
  return out.good();
}

}  // namespace

bool write_report(const std::filesystem::path& folder, const std::string& command,
                  const std::vector<Trial>& trials, const Figures& figures) {
  std::ostringstream sizes;
  size_rows(sizes, trials);
  std::ostringstream scenes;
  scene_rows(scenes, trials);
  std::ostringstream groups;
  group_rows(groups, figures);
  std::ostringstream text;
  summary(text, command, trials, figures);
  std::ostringstream markdown;
  table(markdown, figures);
  return write(folder / kTableFile, markdown.str()) && write(folder / kSizesFile, sizes.str()) &&
         write(folder / kScenesFile, scenes.str()) && write(folder / kGroupsFile, groups.str()) &&
         write(folder / kSummaryFile, text.str());
}

}  // namespace potshadow::study
