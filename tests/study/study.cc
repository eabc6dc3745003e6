// SPDX-License-Identifier: MIT
// The study: random scenes, each put to the estimate and held against the truth.
#include <algorithm>
#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "study/figures.h"
#include "study/plots.h"
#include "study/report.h"
#include "study/scene.h"
#include "study/statements.h"
#include "study/trial.h"

namespace potshadow::study {
namespace {

constexpr const char* kHelp =
    "study --scenes N --seed S --jobs J --out FOLDER [options]\n"
    "\n"
    "Draws museum scenes from the priors that tests/study/scene.h states, puts each to the\n"
    "estimate, and writes what came of it:\n"
    "  sizes.csv scenes.csv summary.csv summary.txt table.md   tables\n"
    "  coverage.png errors.png bound.png widths.png            pictures\n"
    "  failures/scene-N.txt                                    scenes without an answer, as C++ "
    "statements\n"
    "\n"
    "  --kind LIST   only these, by commas: rectangle, disc, length, grid, neighbour, size,\n"
    "                distance, guess, two, views; or kind/place with lying, standing, leaning,\n"
    "                on-glass, on-glass-line, beside. Scenes take turns through the kinds.\n"
    "  --advice      also follow the first advice of each answer, and compare with its promise\n"
    "  --scene N     write FOLDER/scene-N.txt of that scene and say what came of it; no report\n"
    "  --check       fail where a size's coverage is below 95 % by more than four standard\n"
    "                deviations, or more than 4 of 100 scenes have no answer\n"
    "\n"
    "Priors, briefly (truth = stated + normal error, wherever an uncertainty is stated):\n"
    "  vessels       8 families, 60-450 mm; out of round 0-2 %; axis 0.5 degrees off\n"
    "  cameras       24-85 mm, EXIF 2 %, phone class 6 % or calibrated 0.4 %; k1 0.02; principal\n"
    "                point 0.5 %; 2016-6000 pixels; 5-40 degrees up; the vessel fills 40-80 %\n"
    "  glass         half of the scenes; 4-12 mm, known to 1; 15 degrees off square\n"
    "  marks         10-24 rim, 6-12 foot, 25-60 a side; 0.02-0.06 % of the longer side\n"
    "  references    15-60 % of the vessel; known to 0.1, 0.3 or 1 mm; risers to 1-5 mm,\n"
    "                pane to axis to 2-15 mm, depth to 5-25 mm, distance to 5-20 mm\n";

struct Options {
  std::uint64_t scenes = 1000;
  std::uint64_t seed = 1;
  unsigned jobs = 1;
  std::filesystem::path out;
  std::vector<KindOfScene> kinds = kinds_of_scene();
  bool advice = false;
  bool check = false;
  std::optional<std::uint64_t> scene;
};

std::vector<KindOfScene> chosen(const std::string& list) {
  std::vector<KindOfScene> kinds;
  std::size_t start = 0;
  while (start <= list.size()) {
    const std::size_t end = std::min(list.find(',', start), list.size());
    const std::string word = list.substr(start, end - start);
    const std::size_t slash = word.find('/');
    const std::string kind = word.substr(0, slash);
    const bool any_place = slash == std::string::npos;
    for (const KindOfScene& k : kinds_of_scene()) {
      if (k.kind == kind && (any_place || k.place == word.substr(slash + 1))) kinds.push_back(k);
    }
    start = end + 1;
  }
  return kinds;
}

std::optional<std::uint64_t> whole(const std::string& text) {
  if (text.empty() || text.find_first_not_of("0123456789") != std::string::npos) {
    return std::nullopt;
  }
  return std::strtoull(text.c_str(), nullptr, 10);
}

// Returns what is wrong with the options, or nothing.
std::optional<std::string> read_options(const std::vector<std::string>& words, Options& options) {
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    if (word == "--advice") {
      options.advice = true;
      continue;
    }
    if (word == "--check") {
      options.check = true;
      continue;
    }
    if (i + 1 >= words.size()) return "No such option, or its value is missing: " + word;
    const std::string& value = words[++i];
    const auto number = whole(value);
    if (word == "--out") {
      options.out = value;
    } else if (word == "--kind") {
      options.kinds = chosen(value);
      if (options.kinds.empty()) return "No such kind of scene: " + value;
    } else if (word == "--scenes" && number && *number > 0) {
      options.scenes = *number;
    } else if (word == "--seed" && number) {
      options.seed = *number;
    } else if (word == "--jobs" && number && *number > 0 && *number <= 256) {
      options.jobs = static_cast<unsigned>(*number);
    } else if (word == "--scene" && number) {
      options.scene = *number;
    } else {
      return "No such option, or not a number for it: " + word + " " + value;
    }
  }
  if (options.out.empty()) return "Say where the report is to go: --out FOLDER";
  return std::nullopt;
}

Scene scene_of(const Options& options, std::uint64_t number) {
  return random_scene(options.kinds[number % options.kinds.size()], options.seed, number);
}

std::vector<Trial> all_trials(const Options& options) {
  std::vector<Trial> trials(options.scenes);
  std::atomic<std::uint64_t> next{0};
  std::mutex talking;
  const auto work = [&] {
    for (std::uint64_t i = next++; i < options.scenes; i = next++) {
      const Scene scene = scene_of(options, i);
      trials[i] = tried(scene, options.advice);
      const std::scoped_lock lock(talking);
      if (!trials[i].answered && !write_scene(options.out / "failures", scene)) {
        std::cerr << "Scene " << i << " could not be written.\n";
      }
      if ((i + 1) % 100 == 0) std::cerr << i + 1 << " of " << options.scenes << " scenes\n";
    }
  };
  std::vector<std::thread> threads;
  for (unsigned j = 1; j < options.jobs; ++j) threads.emplace_back(work);
  work();
  for (std::thread& thread : threads) thread.join();
  return trials;
}

int one_scene(const Options& options, std::uint64_t number) {
  const Scene scene = scene_of(options, number);
  if (!write_scene(options.out, scene)) {
    std::cerr << "The scene could not be written.\n";
    return 1;
  }
  const Trial trial = tried(scene, options.advice);
  std::cout << trial.kind << " " << trial.place << ", " << trial.family << ", "
            << trial.elevation_deg << " degrees up, " << trial.distance_mm << " mm away\n"
            << (trial.answered ? trial.notes : trial.problem) << "\n"
            << trial.exact_problem << "\n";
  for (const SizeResult& size : trial.sizes) {
    if (!size.truth && !size.found) continue;
    std::printf("%-24s truth %9.3f  found %9.3f  sd %7.3f  bound %7.3f  without noise %9.3f\n",
                std::string(size_words(size.name)).c_str(), size.truth.value_or(0.0),
                size.found ? size.found->value : 0.0, size.found ? size.found->sd : 0.0,
                size.bound_sd.value_or(0.0), size.noiseless.value_or(0.0));
  }
  return trial.answered ? 0 : 1;
}

int run(const Options& options, const std::string& command) {
  std::error_code trouble;
  std::filesystem::create_directories(options.out / "failures", trouble);
  if (trouble) {
    std::cerr << "The folder cannot be made: " << options.out.string() << "\n";
    return 1;
  }
  if (options.scene) return one_scene(options, *options.scene);
  const std::vector<Trial> trials = all_trials(options);
  const Figures figures = figures_of(trials);
  if (!write_report(options.out, command, trials, figures) ||
      !write_plots(options.out, trials, figures)) {
    std::cerr << "The report could not be written.\n";
    return 1;
  }
  std::ifstream summary(options.out / kSummaryFile);
  std::cout << summary.rdbuf();
  if (!options.check) return 0;
  const std::vector<std::string> wrong = shortcomings(figures);
  for (const std::string& text : wrong) std::cerr << text << "\n";
  return wrong.empty() ? 0 : 1;
}

}  // namespace
}  // namespace potshadow::study

int main(int count, char** values) {
  const std::vector<std::string> words(values + 1, values + count);
  if (std::find(words.begin(), words.end(), "--help") != words.end()) {
    std::cout << potshadow::study::kHelp;
    return 0;
  }
  potshadow::study::Options options;
  if (const auto wrong = potshadow::study::read_options(words, options)) {
    std::cerr << *wrong << "\n\n" << potshadow::study::kHelp;
    return 2;
  }
  std::string command = "study";
  for (const std::string& word : words) command += " " + word;
  return potshadow::study::run(options, command);
}
