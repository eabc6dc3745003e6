// SPDX-License-Identifier: MIT
#include "cli/trace_photograph.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <optional>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include "cli/cameras.h"
#include "cli/progress_line.h"
#include "core/text.h"
#include "outline/trace_picture.h"
#include "photo/shown_picture.h"
#include "project/refine_marks.h"
#include "project/shared_files.h"
#include "project/trace_project.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

// Which project is to be written where, before anything is traced.
struct Work {
  Project project;
  fs::path file;
  std::optional<std::string> print;  // of the file, before it was read
};

Result<Work> new_project(const TraceOptions& options) {
  std::error_code ignored;
  if (fs::exists(options.project_file, ignored)) {
    return Problem{Code::kBadValue, "There is a file '" + options.project_file + "' already.",
                   "Trace that project, or give the new one another name.", ""};
  }
  Work work{{}, options.project_file, {}};
  const fs::path folder = fs::absolute(work.file, ignored).parent_path();
  const fs::path photo = fs::absolute(options.file, ignored);
  ProjectPhoto& added = work.project.photos.emplace_back();
  added.file = photo.lexically_relative(folder).generic_string();
  if (added.file.empty()) added.file = photo.generic_string();
  work.project.name = photo.stem().string();
  return work;
}

Result<Work> work_of(const TraceOptions& options) {
  if (!options.project_file.empty()) return new_project(options);
  const std::optional<std::string> print = print_of_file(options.file);
  Result<Project> project = load_project(options.file);
  if (!project) {
    Problem problem = project.problem();
    if (fs::path(options.file).extension() != ".potshadow") {
      problem.next = "For a photograph add --project and the name of the project to make of it.";
    }
    return problem;
  }
  if (options.photo >= project->photos.size()) {
    return Problem{Code::kBadValue,
                   "The project has no photo " + std::to_string(options.photo + 1) + ": it has " +
                       std::to_string(project->photos.size()) + ".",
                   "Name one of them with --photo.", ""};
  }
  return Work{std::move(project).value(), options.file, print};
}

// What is to be traced: the box and the strokes that were typed, else those of the trace before.
Result<ProjectTrace> wanted(const TraceOptions& options, const ProjectPhoto& photo) {
  ProjectTrace trace = photo.trace.value_or(ProjectTrace());
  if (options.box_px) {
    const std::array<double, 4>& box = *options.box_px;
    trace.box = {PhotoPoint{box[0], box[1]}, PhotoPoint{box[2], box[3]}};
  } else if (!photo.trace) {
    return Problem{Code::kCannotBeAnswered,
                   "It was not said where in the photograph the vessel is.",
                   "Add a rough box round it, as --box 1200,600,2900,2500.", ""};
  }
  if (!options.strokes.empty()) trace.strokes.clear();
  for (const TraceOptions::Stroke& typed : options.strokes) {
    constexpr double kWidthPart = 0.01;  // of the box's height
    ProjectTrace::Stroke stroke{
        typed.vessel, kWidthPart * std::abs(trace.box[1].y_px - trace.box[0].y_px), {}};
    for (const auto& [x, y] : typed.places_px) stroke.points.push_back({x, y});
    trace.strokes.push_back(std::move(stroke));
  }
  return trace;
}

std::string edge_line(const std::string& name, const std::vector<TracedPoint>& points) {
  std::string line = "  " + pad_right(name, 12) + pad_left(std::to_string(points.size()), 5);
  if (points.empty()) return line + "\n";
  std::vector<double> sds;
  for (const TracedPoint& point : points) sds.push_back(point.sd_px);
  const auto middle = sds.begin() + static_cast<std::ptrdiff_t>(sds.size() / 2);
  std::nth_element(sds.begin(), middle, sds.end());
  return line + "   ± " + fixed_text(*middle, 2) + " px\n";
}

double length_of(const ProjectTrace::Doubtful& stretch) {
  double length = 0.0;
  for (std::size_t i = 1; i < stretch.points.size(); ++i) {
    const PhotoPoint& a = stretch.points[i - 1];
    const PhotoPoint& b = stretch.points[i];
    length += std::hypot(a.x_px - b.x_px, a.y_px - b.y_px);
  }
  return length;
}

// Names what was left out, the longest first, and only counts the shorter ones.
std::string doubtful_lines(std::vector<ProjectTrace::Doubtful> stretches) {
  constexpr std::size_t kNamed = 4;
  std::sort(stretches.begin(), stretches.end(),
            [](const auto& a, const auto& b) { return length_of(a) > length_of(b); });
  std::string text;
  for (std::size_t i = 0; i < std::min(kNamed, stretches.size()); ++i) {
    const ProjectTrace::Doubtful& stretch = stretches[i];
    if (stretch.points.empty()) continue;
    const auto place = [](const PhotoPoint& point) {
      return fixed_text(point.x_px, 0) + "," + fixed_text(point.y_px, 0);
    };
    const std::string edge = stretch.edge == "base" ? "foot" : stretch.edge;
    text += "? " + edge + " from " + place(stretch.points.front()) + " to " +
            place(stretch.points.back()) + " left out: " + on_one_line(stretch.why) + "\n";
  }
  if (stretches.size() > kNamed) {
    const std::size_t more = stretches.size() - kNamed;
    text += "? " + std::to_string(more) + (more == 1 ? " shorter stretch" : " shorter stretches") +
            " left out\n";
  }
  return text;
}

std::string words_of(const TracedPhoto& traced) {
  const ProjectTrace& trace = traced.trace;
  std::string text = "Marks on the vessel, with how precise a typical one is:\n";
  text += edge_line("rim", trace.rim) + edge_line("left side", trace.left) +
          edge_line("right side", trace.right) + edge_line("foot", trace.base);
  text += doubtful_lines(trace.doubtful);
  for (const Note& note : traced.notes) {
    text += (note.doubtful ? "! " : "  ") + on_one_line(note.text) + "\n";
  }
  return text;
}

// Sets the references' marks onto their edges, as far as that can be done, and says how that went.
std::string refine_references(const Picture& picture, std::vector<ProjectReference>& references) {
  std::string text;
  for (std::size_t i = 0; i < references.size(); ++i) {
    if (!can_refine(references[i])) continue;
    const std::string name = "Reference " + std::to_string(i + 1);
    const Result<RefinedMarks> refined = refine_marks(references[i], picture);
    if (!refined) {
      text +=
          "! " + name + " stays as it was marked. " + on_one_line(refined.problem().what) + "\n";
      continue;
    }
    references[i] = refined->reference;
    text += "  " + name + " lies on its edges";
    if (const auto& sd_px = references[i].marks_sd_px)
      text += ", ± " + fixed_text(*sd_px, 2) + " px";
    text += ".\n";
    for (const Note& note : refined->notes) text += "! " + on_one_line(note.text) + "\n";
  }
  return text;
}

}  // namespace

ExitCode trace_photograph(const TraceOptions& options) {
  const auto fail = [&](const Problem& problem) {
    print_problem(options.file, problem);
    return exit_code_of(problem);
  };
  const Result<Work> found = work_of(options);
  if (!found) return fail(found.problem());
  Work work = *found;
  ProjectPhoto& photo = work.project.photos[options.photo];
  const Result<ProjectTrace> trace = wanted(options, photo);
  if (!trace) return fail(trace.problem());
  const fs::path folder = work.file.parent_path();
  const Result<Picture> decoded = decode_photo(folder / photo.file);
  if (!decoded) return fail(decoded.problem());
  const Picture picture = turned_picture(*decoded, photo.quarter_turns);

  std::string on_references;
  if (options.references) on_references = refine_references(picture, photo.references);

  Result<TracedPhoto> traced = [&] {
    ProgressLine line("Tracing " + on_one_line(photo.file));
    TraceWatch watch;
    watch.done = [&](double part) { line.show(static_cast<int>(100.0 * part), 100); };
    return trace_photo(work.project, options.photo, folder, picture, *trace,
                       probe_with_own_cameras(work.project), watch);
  }();
  if (!traced) return fail(traced.problem());
  photo.trace = traced->trace;
  // The picture first: if it cannot be written the project stays as it was.
  if (!options.picture_file.empty()) {
    const Result<std::string> png = trace_picture_png(picture, traced->shown);
    if (!png) return fail(png.problem());
    const Result<Done> written =
        write_output(options.picture_file, *png, {work.file, folder / photo.file});
    if (!written) return fail(written.problem());
  }
  const Result<Done> saved =
      save_if_unchanged(work.project, work.file, work.print, "Run the same command once more.");
  if (!saved) return fail(saved.problem());
  const Result<Done> printed = print_text(words_of(*traced) + on_references);
  return printed.ok() ? ExitCode::kDone : fail(printed.problem());
}

}  // namespace potshadow
