// SPDX-License-Identifier: MIT
#include "project/answer_text.h"

#include <algorithm>
#include <array>
#include <numeric>
#include <utility>
#include <vector>

#include "project/one_line.h"
#include "project/report.h"
#include "project/stages_report.h"
#include "project/text_layout.h"
#include "vessel/sizes.h"

namespace potshadow {

using namespace internal;
namespace {

// What stands in place of the sizes where nothing gives a scale.
std::string no_scale_text() {
  return wrapped("! ",
                 "Nothing of known size was given, so how big the vessel is stays open: its shape "
                 "and proportions are all that the marks tell.") +
         wrapped("  ",
                 "Mark something whose size you know, such as a label, a card or a coin, or give "
                 "one size of the vessel itself, be it a guess; every size then follows.");
}

std::string sizes_text(const Measurement& measurement, LengthUnit unit) {
  if (measurement.answer.scale == ScaleSource::kNone) return no_scale_text();
  const bool guess = measurement.answer.scale == ScaleSource::kGuess;
  const bool inches = unit == LengthUnit::kInch;
  const std::optional<TotalShrinkage>& shrinkage = measurement.shrinkage;
  FigureColumn fired;
  FigureColumn wet;
  for (const MeasuredSize& size : measurement.answer.sizes) {
    const bool volume = size.name == SizeName::kCapacity;
    const auto to_figure = [&](const Measured& m) {
      return volume ? volume_figure(m) : length_figure(m, unit);
    };
    fired.add(to_figure(size.measured));
    if (!shrinkage) continue;
    wet.add(to_figure(wet_size(measurement, size)));
  }

  std::vector<bool> right{false, true, false, false};
  std::vector<std::string> heading{"Size", fired.heading("value"), "", "95 % interval"};
  if (inches) {
    right.push_back(true);
    heading.push_back("nearest 1/16");
  }
  if (shrinkage) {
    right.push_back(true);
    heading.push_back(wet.heading("wet"));
    if (inches) {
      right.push_back(true);
      heading.push_back("nearest 1/16");
    }
  }
  if (guess) {
    right.push_back(false);
    heading.emplace_back("");
  }
  Table table(right);
  table.add(heading);
  for (std::size_t i = 0; i < measurement.answer.sizes.size(); ++i) {
    const MeasuredSize& size = measurement.answer.sizes[i];
    const bool volume = size.name == SizeName::kCapacity;
    std::vector<std::string> row{std::string(size_words(size.name)), fired.middle(i),
                                 volume ? "ml" : std::string(unit_name(unit)), fired.interval(i)};
    const auto add_sixteenths = [&](const Measured& m) {
      if (inches) row.push_back(volume ? "" : sixteenths_text(Mm{m.value}));
    };
    add_sixteenths(size.measured);
    if (shrinkage) {
      row.push_back(wet.middle(i));
      add_sixteenths(wet_size(measurement, size));
    }
    if (guess) row.emplace_back("guess");
    table.add(row);
  }
  std::string out = table.text();
  if (guess) {
    out += wrapped("! ", guessed_scale_words(measurement, unit) +
                             " All sizes hang on it: the intervals hold as far as the guess does.");
  } else {
    out += "  The truth lies within ± and in the interval with 95 % probability.\n";
  }
  if (shrinkage) {
    const double percent = 100.0 * shrinkage->fraction_of_wet();
    out += wrapped("  ", "Wet: the size to make it, of a clay that shrinks by " +
                             fixed_text(percent, 1) + " ± " +
                             fixed_text(100.0 * shrinkage->half95_fraction(), 1) +
                             " % of its wet length.");
  }
  return out;
}

// --- In words ---------------------------------------------------------------------------------

std::string proportions_text(const Answer& answer) {
  std::string out = wrapped("  ", shape_words(answer.profile));
  constexpr int kMostDecimals = 3;
  Table table({false, true});
  FigureColumn column;
  for (const Proportion& proportion : answer.proportions) {
    column.add(figure(proportion.measured, kMostDecimals));
  }
  for (std::size_t i = 0; i < answer.proportions.size(); ++i) {
    table.add({answer.proportions[i].words, column.middle(i)});
  }
  return out + table.text();
}

// Returns "2.1 ± 0.8": 95 %, at most one decimal.
std::string figure_text(const Measured& m) {
  const Figure f = figure(m, 1);
  return f.value + " ± " + f.plus_minus;
}

std::string length_words(const Measured& mm, LengthUnit unit) {
  const Figure f = length_figure(mm, unit);
  return f.value + " ± " + f.plus_minus + " " + std::string(unit_name(unit));
}

Measured magnitude(const Measured& m) {
  return m.value < 0.0 ? Measured{-m.value, m.sd, -m.high95, -m.low95} : m;
}

// How the two outlines differ, where that is beyond chance.
std::string uneven_text(const Uneven& uneven, bool has_scale, LengthUnit unit) {
  const Measured lean = magnitude(uneven.lean_deg);
  const Measured widest = magnitude(normal_measured(uneven.widest_mm, uneven.widest_sd_mm));
  const bool leans = lean.low95 > 0.0;
  const bool bulges = widest.low95 > 0.0;
  std::string text = "The vessel ";
  if (leans || !bulges) {
    text += "leans by " + figure_text(lean) + "° to the " +
            (uneven.lean_deg.value < 0.0 ? "left" : "right");
  }
  if (leans == bulges) text += ", and beyond that ";
  if (bulges || !leans) {
    const int decimals = unit == LengthUnit::kMm ? 0 : 1;
    text += std::string(leans == bulges ? "" : "is uneven: ") + "its " +
            (uneven.widest_mm < 0.0 ? "right" : "left") + " side stands out by up to ";
    text += has_scale ? length_words(widest, unit) + ", at a height of " +
                            fixed_text(in_unit(Mm{uneven.at_height_mm}, unit), decimals) + " " +
                            std::string(unit_name(unit))
                      : figure_text(widest) + " % of the vessel's height, at " +
                            fixed_text(uneven.at_height_mm, 0) + " % of it";
  }
  return wrapped("! ", text + ".");
}

// What the vessel's plan and its two outlines show; nothing where they show nothing.
std::string roundness_text(const Answer& answer, LengthUnit unit) {
  std::string out;
  if (answer.out_of_round) {
    out += wrapped("  ", "Out of round: its widest diameter is " +
                             figure_text(answer.out_of_round->percent) +
                             " % larger than its narrowest.");
  }
  if (answer.uneven && answer.uneven->beyond_chance) {
    out += uneven_text(*answer.uneven, answer.scale != ScaleSource::kNone, unit);
  }
  return out;
}

std::string camera_text(const Measurement& measurement, LengthUnit unit) {
  const Answer& answer = measurement.answer;
  const int decimals = unit == LengthUnit::kMm ? 0 : 1;
  std::string out;
  for (std::size_t i = 0; i < answer.photos.size(); ++i) {
    const CameraAnswer& camera = answer.photos[i].camera;
    const double angle = camera.elevation_deg;
    std::string subject = "The photograph";
    if (answer.photos.size() > 1 && i < measurement.photo_indices.size()) {
      subject = "Photo " + std::to_string(measurement.photo_indices[i] + 1);
    }
    std::string away;
    if (answer.scale != ScaleSource::kNone) {
      away = fixed_text(in_unit(Mm{camera.distance_mm}, unit), decimals) + " " +
             std::string(unit_name(unit)) + " away, ";
    }
    subject.append(" was taken from ").append(away);
    subject.append(fixed_text(std::abs(angle), 0)).append("° ");
    subject.append(angle < 0.0 ? "below" : "above").append(" the level, with a lens like ");
    subject.append(fixed_text(camera.focal_35mm, 1)).append(" mm on 35 mm film.");
    out += wrapped("  ", subject);
  }
  return out;
}

// Marks this many standard deviations off are looked at again: 1 of 370 by chance.
constexpr double kFarOff = 3.0;

std::string fit_text(const Fit& fit) {
  // Scatter of some dozens of marks around what was stated varies by about a third.
  constexpr double kAsStated = 1.35;
  constexpr double kTwice = 2.0;
  std::string verdict = "which is good";
  if (fit.scatter_ratio > kAsStated) verdict = "which is more than you stated for them";
  if (fit.scatter_ratio > kTwice) verdict = "which is far more than you stated for them";
  std::string out =
      wrapped("  ", "The " + std::to_string(fit.marks) + " marks lie " + fixed_text(fit.rms_px, 1) +
                        " pixels from the fitted vessel on the whole, " + verdict + ".");
  std::string far_off;
  std::string farthest;
  for (const MarkResidual& mark : fit.worst) {
    std::string& list = mark.off_sd > kFarOff ? far_off : farthest;
    list += (list.empty() ? "" : ", ") + on_one_line(mark.mark) + " (" +
            fixed_text(mark.off_px, 1) + " px)";
  }
  if (!far_off.empty()) out += wrapped("! ", "Look again at: " + far_off + ".");
  if (far_off.empty() && !farthest.empty()) {
    out += wrapped("  ", "Farthest off: " + farthest + ".");
  }
  return out;
}

std::string budget_text(const Answer& answer) {
  constexpr std::size_t kMostNamed = 3;
  constexpr double kWorthNaming = 0.10;
  Table table({false, false});
  for (const MeasuredSize& size : answer.sizes) {
    std::array<std::size_t, kDoubtCount> order{};
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return size.budget[a] > size.budget[b]; });
    std::string causes;
    for (std::size_t i = 0; i < kMostNamed; ++i) {
      const double share = size.budget[order[i]];
      if (i > 0 && !(share >= kWorthNaming)) break;
      causes += (causes.empty() ? "" : ", ") +
                std::string(doubt_words(static_cast<DoubtSource>(order[i]))) + " " +
                fixed_text(100.0 * share, 0) + " %";
    }
    table.add({std::string(size_words(size.name)), causes});
  }
  return table.text();
}

// Returns "measure how high ..." for "Measure how high ...".
std::string inside_sentence(std::string words) {
  const bool capital =
      words.size() > 1 && words[0] >= 'A' && words[0] <= 'Z' && words[1] >= 'a' && words[1] <= 'z';
  if (capital) words[0] = static_cast<char>(words[0] - 'A' + 'a');
  return words;
}

// The one thing that would help most.
std::string advice_text(const Answer& answer, LengthUnit unit) {
  if (answer.advice.empty() || answer.scale == ScaleSource::kNone) return "";
  const Advice& best = answer.advice.front();
  const bool volume = best.size == SizeName::kCapacity;
  const Measured then = normal_measured(0.0, best.sd_then);
  const Figure f = volume ? volume_figure(then) : length_figure(then, unit);
  return wrapped("  ", "To narrow " + size_in_sentence(best.size) +
                           " most: " + inside_sentence(on_one_line(best.what)) +
                           ". It would then be known to ± " + f.plus_minus + " " +
                           (volume ? "ml" : std::string(unit_name(unit))) + ".");
}

std::string monte_carlo_text(const MonteCarlo& checked) {
  std::string differing;
  for (const RedrawnSize& size : checked.sizes) {
    if (!size.differs()) continue;
    differing += (differing.empty() ? "" : ", ") + std::string(size_words(size.name));
  }
  const std::string by = "Checked by redrawing " + std::to_string(checked.draws) + " times (" +
                         std::to_string(checked.failed) + " failed, seed " +
                         std::to_string(checked.seed) + "): ";
  if (differing.empty()) return wrapped("  ", by + "the intervals agree within a fifth.");
  return wrapped("! ", by + "the redrawn interval is used for " + differing + ".");
}

}  // namespace

std::string kind_words(const Profile& profile) {
  constexpr std::array kClasses{"plate", "dish", "bowl", "jar"};
  constexpr std::array kOpenings{"an open mouth", "a slightly drawn-in mouth", "a drawn-in mouth"};
  const Shape shape = shape_of(sizes_of(profile));
  return std::string("a ") + kClasses.at(static_cast<std::size_t>(shape.height_class)) + " with " +
         kOpenings.at(static_cast<std::size_t>(shape.opening));
}

std::string shape_words(const Profile& profile) {
  return "By its proportions the vessel is " + kind_words(profile) + ".";
}

std::string size_in_sentence(SizeName name) {
  return "the " + inside_sentence(std::string(size_words(name)));
}

std::string guessed_scale_words(const Measurement& measurement, LengthUnit unit) {
  if (measurement.answer.scale != ScaleSource::kGuess) return "";
  std::string guesses;
  for (const std::size_t index : measurement.photo_indices) {
    for (const ProjectReference& reference : measurement.project.photos.at(index).references) {
      const std::optional<SizeName> name = size_of_key(reference.size);
      if (reference.kind != "size" || !reference.guess || !name || !reference.value_mm) continue;
      const Measured guess =
          normal_measured(*reference.value_mm, reference.sd_mm.value_or(kDefaultKnownSizeSdMm));
      guesses += (guesses.empty() ? "" : ", ") + inside_sentence(std::string(size_words(*name))) +
                 " " + length_words(guess, unit);
    }
  }
  return "Scale guessed" + (guesses.empty() ? "" : ": " + guesses) + ".";
}

std::string answer_text(const Measurement& measurement, const std::string& file, LengthUnit unit) {
  const Answer& answer = measurement.answer;
  std::string photos;
  for (const std::size_t index : measurement.photo_indices) {
    const std::string& name = measurement.project.photos.at(index).file;
    if (!name.empty()) photos += (photos.empty() ? "" : ", ") + on_one_line(name);
  }
  const std::string word =
      measurement.photo_indices.size() > 1 ? ", photographs " : ", photograph ";
  std::string out = on_one_line(title_of(measurement.project, file)) + "\n";
  out += on_one_line(file) + (photos.empty() ? "" : word + photos) + "\n\n";
  out += sizes_text(measurement, unit);
  const bool checked = measurement.monte_carlo && !measurement.monte_carlo->sizes.empty();
  if (checked) out += monte_carlo_text(*measurement.monte_carlo);
  const std::string stages = stages_text(measurement, unit);
  if (!stages.empty()) out += "\nAt each stage\n" + stages;
  out += "\nShape\n" + proportions_text(answer) + roundness_text(answer, unit);
  if (!answer.sizes.empty()) {
    out += "\nWhat limits each size most (share of its doubt)\n" + budget_text(answer) +
           advice_text(answer, unit);
  }
  out += "\nFit\n" + fit_text(answer.fit) + camera_text(measurement, unit);
  if (!answer.notes.empty()) {
    out += "\nNotes\n";
    for (const Note& note : answer.notes) {
      out += wrapped(note.doubtful ? "! " : "- ", on_one_line(note.text));
    }
  }
  return out;
}

}  // namespace potshadow
