// SPDX-License-Identifier: MIT
#include "cli/calibrate_options.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>
#include <tuple>
#include <utility>

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Finds the focal length of a camera, and how its lens bends the picture, from pictures of a
printed board. Photographs by that camera, with the same lens at the same zoom, then give narrower
intervals. Print the board first, and stick it flat on glass or a stiff board.

Usage: potshadow calibrate --board FILE.pdf [--paper a4|letter]
       potshadow calibrate PICTURE... [--square MM] [--inner COLSxROWS] [--save]

  --board FILE.pdf    write the board to print, at true size on one page; '-' stands for standard
                      output
  --paper a4|letter   the printer's paper; a4 if not given
  PICTURE             10 to 20 pictures of the board, tilted by 30 to 45 degrees to every side,
                      whole and sharp, the camera the same way up each time; those without the board
                      are left out
  --square MM         the side of a square as it was printed, in millimetres; 24 if not given
  --inner COLSxROWS   corners inside the board, where four squares meet; 9x6 if not given
  --save              keep what was found for the photographs that this camera, lens and zoom take:
                      'measure' and 'sheet' then use it, unless the project gives a focal length or
                      the photograph is cropped
  --help              show this text

Examples:
  potshadow calibrate --board board.pdf
  potshadow calibrate board-*.jpg --square 24 --save
)";

constexpr const char* kSeeHelp = "Run 'potshadow calibrate --help' to see how it is used.";

// Reads the side of a square.
std::optional<double> millimetres(OptionReader& reading, const Typed& text) {
  if (!text) return std::nullopt;
  double value = 0.0;
  const char* const end = text->data() + text->size();
  const auto [rest, error] = std::from_chars(text->data(), end, value);
  if (error != std::errc{} || rest != end || !std::isfinite(value)) {
    reading.complain("The value '" + *text + "' of --square is not a number.",
                     "Write it with digits and a point, for example --square 12.5.");
    return std::nullopt;
  }
  return value;
}

// Reads "9x6"; nothing where that is not two whole numbers a board can have.
std::optional<std::pair<int, int>> inner_corners(const std::string& text) {
  constexpr int kFewest = 3;
  constexpr int kMost = 60;
  std::pair<int, int> inner;
  const char* const end = text.data() + text.size();
  const auto [cross, first_error] = std::from_chars(text.data(), end, inner.first);
  if (first_error != std::errc{} || cross == end || *cross != 'x') return std::nullopt;
  const auto [rest, second_error] = std::from_chars(cross + 1, end, inner.second);
  if (second_error != std::errc{} || rest != end) return std::nullopt;
  if (inner.first < kFewest || inner.first > kMost) return std::nullopt;
  if (inner.second < kFewest || inner.second > kMost) return std::nullopt;
  return inner;
}

}  // namespace

std::variant<CalibrateOptions, CalibrateHelp, UsageProblem> parse_calibrate_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed board, paper, square, inner;
  bool save = false;
  const OptionSlots slots{
      {{"--board", &board}, {"--paper", &paper}, {"--square", &square}, {"--inner", &inner}},
      {{"--save", &save}},
      &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return CalibrateHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  CalibrateOptions options;
  options.pictures = names;
  options.board_file = reading.file("--board", board);
  options.paper = reading.paper(paper);
  options.save = save;
  options.square_text = square.value_or(fixed_text(kBoardSquareMm, 0));
  options.square_mm = millimetres(reading, square).value_or(kBoardSquareMm);
  constexpr double kLeastSquareMm = 1.0;
  constexpr double kMostSquareMm = 1000.0;
  if (!(options.square_mm >= kLeastSquareMm && options.square_mm <= kMostSquareMm)) {
    reading.complain("A square of " + options.square_text + " mm is no board's.",
                     "Give the side of one square, from 1 to 1000 mm.");
  }
  if (inner) {
    if (const auto corners = inner_corners(*inner)) {
      std::tie(options.columns, options.rows) = *corners;
    } else {
      reading.complain("The value '" + *inner + "' of --inner is not understood.",
                       "Write columns x rows of inner corners, from 3 to 60, as --inner 9x6.");
    }
  }
  const std::vector<std::string>& pictures = options.pictures;
  if (board && !(pictures.empty() && !square && !inner && !save)) {
    reading.complain("--board writes the board, and takes no pictures and nothing about them.",
                     "Run the command twice: with --board, and later with the pictures.");
  }
  if (!board && paper) {
    reading.complain("--paper was given without --board.", kSeeHelp);
  }
  if (!board && pictures.empty()) {
    reading.complain("No picture was named.",
                     "Name pictures of the board, or write the board with --board board.pdf.");
  }
  if (std::find(pictures.begin(), pictures.end(), "") != pictures.end()) {
    reading.complain("The name of a picture is empty.", kSeeHelp);
  }
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow
