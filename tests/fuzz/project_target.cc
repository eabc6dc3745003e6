// SPDX-License-Identifier: MIT
// The project file: what is read can be written, and is then read as the same.
#include "fuzz/must.h"
#include "project/project.h"

namespace {

using namespace potshadow;

// Without what was kept of each object's text, which a written file says in other words.
Project bare(Project project) {
  const auto forget = [](auto&... objects) { ((objects.kept = KeptObject()), ...); };
  forget(project, project.wall);
  if (project.hidden_foot) forget(*project.hidden_foot);
  if (project.hidden_rim) forget(*project.hidden_rim);
  if (project.clay) forget(*project.clay);
  if (project.plan) forget(*project.plan);
  for (ProjectBand& band : project.bands) forget(band);
  for (ProjectBench& bench : project.bench) {
    forget(bench);
    for (ProjectBenchSize& size : bench.sizes) forget(size);
  }
  for (ProjectPhoto& photo : project.photos) {
    forget(photo, photo.marks);
    if (photo.glass) forget(*photo.glass);
    if (photo.trace) forget(*photo.trace);
    for (ProjectReference& reference : photo.references) forget(reference, reference.marks);
  }
  return project;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto project = parse_project(fuzz::text_of(data, size), "jar.potshadow");
  if (!project.ok()) {
    fuzz::must_be_said(project.problem());
    return 0;
  }
  fuzz::must(check_project(*project, "jar.potshadow").ok(), "a project that was read can be kept");
  const std::string written = project_text(*project);
  const auto again = parse_project(written, "jar.potshadow");
  fuzz::must(again.ok(), "a written project can be read");
  fuzz::must(bare(*again) == bare(*project), "a written project is read as the same");
  fuzz::must(project_text(*again) == written, "a project is written the same again");
  return 0;
}
