// SPDX-License-Identifier: MIT
#include "desktop/window/seen.h"

#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "desktop/window/process.h"

namespace potshadow::bench {
namespace {

using nlohmann::json;

Area area_of(const json& object) {
  return {object.at("x"), object.at("y"), object.at("width"), object.at("height")};
}

}  // namespace

std::optional<Seen> read_seen(const std::filesystem::path& file) {
  const std::string text = file_content(file);
  if (text.empty()) return std::nullopt;
  try {
    const json all = json::parse(text);
    Seen seen;
    seen.frame = all.at("frame");
    seen.idle = all.at("idle");
    seen.open = all.at("open");
    seen.step = all.at("step");
    seen.middle = all.at("middle");
    seen.question = all.at("question");
    seen.figures_problem = all.at("figures_problem");
    seen.theme = all.at("theme");
    seen.scale = all.at("scale");
    seen.unsaved = all.at("unsaved");
    seen.undo = all.at("undo");
    seen.steps = all.at("steps");
    seen.photo = all.at("photo");
    seen.photos = all.at("photos");
    seen.marks = all.at("marks").get<std::map<std::string, int>>();
    seen.traced = all.at("traced").get<std::map<std::string, int>>();
    seen.tracing = all.at("tracing");
    seen.trace_problem = all.at("trace_problem");
    seen.selected = all.at("selected");
    seen.figures = all.at("figures");
    seen.problem = all.at("problem");
    seen.status = all.at("status");
    seen.project_file = all.at("project_file");
    if (const auto sizes = all.find("sizes"); sizes != all.end() && sizes->is_object()) {
      for (const auto& [name, value] : sizes->items()) {
        if (value.is_number()) seen.sizes[name] = value;
      }
    }
    seen.wet_sizes = all.at("wet_sizes").get<std::map<std::string, double>>();
    seen.coils = all.at("coils");
    seen.printed = all.at("printed");
    seen.sheet_pages = all.at("sheet_pages");
    seen.sheet_page = all.at("sheet_page");
    seen.sheet_problem = all.at("sheet_problem");
    seen.sheet_saved = all.at("sheet_saved");
    seen.printers = all.at("printers");
    seen.bench_photo = all.at("bench_photo");
    seen.compared = all.at("compared");
    seen.compared_photos = all.at("compared_photos");
    seen.compared_file = all.at("compared_file");
    seen.bands_at = all.at("bands_at");
    seen.clay_from = all.at("clay_from");
    seen.page_scroll = all.value("page_scroll", 0.0);
    seen.page_problem = all.at("page_problem");
    seen.verdicts = all.at("verdicts");
    seen.page_notes = all.at("page_notes");
    seen.frame_ms_median = all.value("frame_ms_median", 0.0);
    seen.frame_ms_p95 = all.value("frame_ms_p95", 0.0);
    seen.drag_to_figures_ms = all.value("drag_to_figures_ms", 0.0);
    if (const auto canvas = all.find("canvas"); canvas != all.end() && canvas->is_object()) {
      seen.canvas = {area_of(*canvas), canvas->value("photo_left", 0.0),
                     canvas->value("photo_top", 0.0), canvas->value("pixels_per_photo_pixel", 0.0)};
    }
    for (const json& widget : all.at("widgets")) {
      seen.widgets.push_back({widget.at("name"), area_of(widget), widget.at("enabled")});
    }
    return seen;
  } catch (const json::exception& error) {
    throw std::runtime_error(std::string("the window's description cannot be read: ") +
                             error.what() + "\n" + text);
  }
}

std::optional<Widget> find_widget(const Seen& seen, const std::string& name) {
  std::optional<Widget> found;
  for (const Widget& widget : seen.widgets) {
    if (widget.name == name && (widget.enabled || !found || !found->enabled)) found = widget;
  }
  return found;
}

int marks_of(const Seen& seen, const std::string& kind) {
  const auto found = seen.marks.find(kind);
  return found == seen.marks.end() ? 0 : found->second;
}

std::string in_words(const Seen& seen) {
  std::ostringstream text;
  text << "frame " << seen.frame << (seen.idle ? ", idle" : ", busy") << ", step '" << seen.step
       << "', middle '" << seen.middle << "', question '" << seen.question << "', undo "
       << seen.undo << " of " << seen.steps << ", figures " << seen.figures << ", unsaved "
       << seen.unsaved << ", problem '" << seen.problem << "', figures problem '"
       << seen.figures_problem << "', status '" << seen.status << "', file '" << seen.project_file
       << "', page problem '" << seen.page_problem << "', marks";
  for (const auto& [kind, count] : seen.marks) text << " " << kind << " " << count;
  text << ", traced";
  for (const auto& [kind, count] : seen.traced) text << " " << kind << " " << count;
  text << ", trace problem '" << seen.trace_problem << "'";
  text << "\nwidgets:";
  for (const Widget& widget : seen.widgets) {
    text << " [" << widget.name << (widget.enabled ? "]" : " (off)]");
  }
  return text.str();
}

}  // namespace potshadow::bench
