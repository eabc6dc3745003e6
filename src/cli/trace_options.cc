// SPDX-License-Identifier: MIT
#include "cli/trace_options.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>
#include <utility>

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Finds the edge of the vessel in a photograph: its outline on both sides, the outer edge of the
rim, and the front of the foot, each mark with its own precision. What is not clear is left out.
The marks go into the project. Marks made by hand stay, and count where they differ.

Usage: potshadow trace PROJECT [--photo N] [--box X,Y,X,Y] [--vessel X,Y,...]...
                       [--not-vessel X,Y,...]... [--references] [--picture FILE.png]
       potshadow trace PHOTOGRAPH --project FILE.potshadow --box X,Y,X,Y [...]

  PROJECT                   a project file (.potshadow), which is rewritten whole
  PHOTOGRAPH                a picture that has no project yet
  --project FILE.potshadow  the project to make of it; there must be none of that name
  --photo N                 which photograph of the project, from 1; 1 if not given
  --box X,Y,X,Y             two opposite corners of a rough box round the vessel, in pixels of the
                            upright photograph; where an earlier trace has one it may be left out
  --vessel X,Y,...          a line that lies on the vessel: two places or more, in pixels
  --not-vessel X,Y,...      a line on what is not the vessel: a neighbour in front, a shadow, a
                            handle. Either may be given more than once. The lines are kept; new
                            ones take the place of an earlier trace's
  --references              also set the marked corners of cards, and the points round coins, onto
                            their edges, from clicks up to 1.5 % of the photograph's longer side off
  --picture FILE.png        write the photograph with what was found drawn over it
  --help                    show this text

Examples:
  potshadow trace shelf-jar.potshadow --box 1200,600,2900,2500
  potshadow trace shelf-jar.potshadow --picture outline.png
  potshadow trace shelf-jar.potshadow --not-vessel 1300,1500,1350,2200
  potshadow trace case.jpg --project case.potshadow --box 1200,600,2900,2500
)";

constexpr const char* kSeeHelp = "Run 'potshadow trace --help' to see how it is used.";

// Reads "1200,600,2900,2500"; nothing where that is not numbers with commas between them.
std::optional<std::vector<double>> numbers_of(const std::string& text) {
  std::vector<double> numbers;
  const char* at = text.data();
  const char* const end = text.data() + text.size();
  while (true) {
    double number = 0.0;
    const auto [rest, error] = std::from_chars(at, end, number);
    if (error != std::errc{} || !std::isfinite(number)) return std::nullopt;
    numbers.push_back(number);
    if (rest == end) return numbers;
    if (*rest != ',') return std::nullopt;
    at = rest + 1;
  }
}

void take_strokes(const std::vector<std::string>& texts, bool vessel, OptionReader& reading,
                  TraceOptions& options) {
  constexpr std::size_t kMostNumbers = 2000;
  for (const std::string& text : texts) {
    const auto numbers = numbers_of(text);
    if (!numbers || numbers->size() < 4 || numbers->size() % 2 != 0 ||
        numbers->size() > kMostNumbers) {
      reading.complain("The line '" + text + "' is not understood.",
                       std::string("Write two places or more in pixels, as --") +
                           (vessel ? "" : "not-") + "vessel 1300,1500,1350,2200.");
      return;
    }
    TraceOptions::Stroke stroke{vessel, {}, text};
    for (std::size_t i = 0; i < numbers->size(); i += 2) {
      stroke.places_px.push_back({(*numbers)[i], (*numbers)[i + 1]});
    }
    options.strokes.push_back(std::move(stroke));
  }
}

}  // namespace

std::variant<TraceOptions, TraceHelp, UsageProblem> parse_trace_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed project, photo, box, picture;
  std::vector<std::string> vessel;
  std::vector<std::string> not_vessel;
  bool references = false;
  const OptionSlots slots{
      {{"--project", &project}, {"--photo", &photo}, {"--box", &box}, {"--picture", &picture}},
      {{"--references", &references}},
      &names,
      {{"--vessel", &vessel}, {"--not-vessel", &not_vessel}}};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return TraceHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  TraceOptions options;
  reading.names("project", names);
  if (names.size() > 1) {
    reading.complain("More than one file was named, and one photograph is traced at a time.",
                     "Run the command once for each.");
  }
  if (!names.empty()) options.file = names.front();
  options.project_file = reading.file("--project", project);
  options.picture_file = reading.file("--picture", picture);
  options.references = references;
  constexpr std::size_t kMostPhotos = 1000;
  options.photo = reading.whole<std::size_t>("--photo", photo, 1, kMostPhotos, std::size_t{1}) - 1;
  if (box) {
    options.box_text = *box;
    if (const auto numbers = numbers_of(*box); numbers && numbers->size() == 4) {
      options.box_px.emplace();
      std::copy(numbers->begin(), numbers->end(), options.box_px->begin());
    } else {
      reading.complain("The box '" + *box + "' is not understood.",
                       "Write two opposite corners in pixels, as --box 1200,600,2900,2500.");
    }
  }
  take_strokes(vessel, true, reading, options);
  take_strokes(not_vessel, false, reading, options);
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow
