// SPDX-License-Identifier: MIT
#include "estimate/checks.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <string>

#include "estimate/known_size.h"
#include "geometry/conic.h"

namespace potshadow::internal {
namespace {

using Finding = std::optional<Problem>;

Problem bad_value(std::string what, std::string next) {
  return {Code::kBadValue, std::move(what), std::move(next), ""};
}

// A known size or distance that is vaguer than this part of itself says next to nothing.
constexpr double kMostVague = 0.2;

bool in_range(double value, double low, double high) {
  return std::isfinite(value) && value >= low && value <= high;
}

Finding check_numbers(const EstimateInput& input) {
  const PhotoInput& photo = input.photos.front();
  constexpr int kMostPx = 100000;
  if (photo.width_px < 1 || photo.height_px < 1 || photo.width_px > kMostPx ||
      photo.height_px > kMostPx) {
    return bad_value("The photograph has no usable size in pixels.",
                     "Check the photograph, or give its width and height.");
  }
  if (photo.focal && (!in_range(photo.focal->focal_35mm, 4.0, 3000.0) ||
                      !in_range(photo.focal->sd_percent, 0.01, 100.0))) {
    return bad_value("The focal length is not one a camera can have.",
                     "Give the 35 mm equivalent, for most phones between 13 and 120.");
  }
  if (!in_range(photo.lens.k1_sd, 0.0, 0.5)) {
    return bad_value("The doubt about lens distortion is out of range.", "Use 0.02.");
  }
  if (photo.glass && (!in_range(photo.glass->thickness_mm, 0.0, 200.0) ||
                      !in_range(photo.glass->thickness_sd_mm, 0.0, 100.0) ||
                      !in_range(photo.glass->index, 1.0, 2.5))) {
    return bad_value("The glass pane's thickness or index is out of range.",
                     "Give a thickness from 0 to 200 mm; the index of window glass is 1.52.");
  }
  if (!in_range(photo.marks.sd_px, 1e-4, 200.0)) {
    return bad_value("The stated precision of the marks is out of range.",
                     "Give the marks' standard deviation in pixels, about 1 for careful clicks.");
  }
  if (!in_range(input.out_of_round_percent, 0.0, 30.0)) {
    return bad_value("The out-of-round figure is out of range.",
                     "Give a percentage from 0 to 30; hand-built ware is about 1.");
  }
  if (!in_range(input.wall_mm, 0.0, 1000.0) || !in_range(input.wall_sd_mm, 0.0, 1000.0)) {
    return bad_value("The wall's thickness is out of range.",
                     "Give the wall's thickness in millimetres, about 6 for a small jar.");
  }
  return {};
}

double cross(const PhotoPoint& o, const PhotoPoint& a, const PhotoPoint& b) {
  return (a.x_px - o.x_px) * (b.y_px - o.y_px) - (a.y_px - o.y_px) * (b.x_px - o.x_px);
}

double distance(const PhotoPoint& a, const PhotoPoint& b) {
  return std::hypot(a.x_px - b.x_px, a.y_px - b.y_px);
}

Finding check_mark_list(const std::vector<PhotoPoint>& marks, const std::string& kind,
                        const PhotoInput& photo) {
  // A mark may lie a little outside the picture, never far from it.
  const double reach = std::max(photo.width_px, photo.height_px);
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if (!in_range(marks[i].x_px, -reach, photo.width_px + reach) ||
        !in_range(marks[i].y_px, -reach, photo.height_px + reach)) {
      return Problem{
          Code::kBadMarks,
          "The " + kind + " mark " + std::to_string(i + 1) + " lies far outside the photograph.",
          "Move it onto the photograph or delete it.", ""};
    }
  }
  return {};
}

std::string counted(std::size_t count, const std::string& where) {
  if (count == 0) return "There is no mark " + where;
  if (count == 1) return "There is one mark " + where;
  return "There are " + std::to_string(count) + " marks " + where;
}

Finding check_marks(const EstimateInput& input) {
  const Marks& marks = input.photos.front().marks;
  for (const auto& [list, kind] :
       {std::pair{&marks.rim, "rim"}, std::pair{&marks.base, "foot"},
        std::pair{&marks.left, "left"}, std::pair{&marks.right, "right"}}) {
    if (auto found = check_mark_list(*list, kind, input.photos.front())) return found;
  }
  const auto too_few = [](std::string what, std::string next) {
    return Problem{Code::kTooFewMarks, std::move(what), std::move(next), ""};
  };
  if (marks.rim.size() < kLeastRimMarks) {
    return too_few(counted(marks.rim.size(), "on the rim") + ", and at least five are needed.",
                   "Add marks on the outer edge of the lip, spread all round it.");
  }
  double widest = 0.0;
  for (const PhotoPoint& p : marks.rim) widest = std::max(widest, distance(p, marks.rim.front()));
  if (widest < 10.0 * std::min(marks.sd_px, 5.0)) {
    return Problem{Code::kBadMarks, "The marks on the rim lie all on one spot.",
                   "Spread them all round the outer edge of the lip.", ""};
  }
  if (!input.round_base && marks.base.size() < kLeastBaseMarks) {
    return too_few(counted(marks.base.size(), "on the foot") + ", and at least three are needed.",
                   "Add marks where the front of the foot meets the shelf, or say that the base "
                   "is round.");
  }
  if (marks.left.size() + marks.right.size() < kLeastOutlineMarks) {
    return too_few(counted(marks.left.size() + marks.right.size(), "on the outline") +
                       ", and at least six are needed.",
                   "Add marks down the left and right edges of the vessel.");
  }
  const std::size_t all =
      marks.rim.size() + marks.base.size() + marks.left.size() + marks.right.size();
  if (all > kMostMarks) {
    return bad_value("There are more than 20,000 marks.",
                     "Thin them out; a few hundred are plenty.");
  }
  return {};
}

Finding check_corners(const RectangleReference& reference, const std::string& name, double sd_px) {
  const auto& c = reference.corners;
  const auto bad_marks = [](std::string what, std::string next) {
    return Problem{Code::kBadMarks, std::move(what), std::move(next), ""};
  };
  std::array<double, 4> turn{};
  double longest = 0.0;
  for (std::size_t k = 0; k < 4; ++k) {
    turn[k] = cross(c[k], c[(k + 1) % 4], c[(k + 2) % 4]);
    longest = std::max({longest, distance(c[k], c[(k + 1) % 4]), distance(c[k], c[(k + 2) % 4])});
  }
  // How far each corner stands off the diagonal of its neighbours: the least is how open it is.
  double openness = longest;
  for (std::size_t k = 0; k < 4; ++k) {
    const double base = distance(c[k], c[(k + 2) % 4]);
    openness = std::min(openness, base > 0.0 ? std::abs(turn[k]) / base : 0.0);
  }
  const auto positive = std::count_if(turn.begin(), turn.end(), [](double t) { return t > 0.0; });
  if (openness < 3.0 * sd_px || openness < 0.01 * longest) {
    return bad_marks(
        "The corners of " + name + " lie almost on one line.",
        "Mark the four different corners, or use a reference that is not seen edge-on.");
  }
  if (positive != 0 && positive != 4) {
    return bad_marks("The corners of " + name + " are crossed or folded.",
                     "Mark them going round: lower left, lower right, upper right, upper left.");
  }
  if (positive == 4) {  // y runs down, so the right way round turns negative
    return bad_marks("The corners of " + name + " run the wrong way round.",
                     "Mark them in the order lower left, lower right, upper right, upper left.");
  }
  if (reference.place != Place::kOnGlass) {
    const double low = (c[0].y_px + c[1].y_px) / 2.0;
    const double high = (c[2].y_px + c[3].y_px) / 2.0;
    if (low < high) {
      return bad_marks("The first two corners of " + name + " are above the other two.",
                       "Start with the lower left corner, then the lower right one.");
    }
  }
  return {};
}

// What a rectangle and a disc have in common.
template <class Reference>
Finding check_place(const Reference& reference, const std::string& name) {
  if (!in_range(reference.riser_mm, -5000.0, 5000.0) ||
      !in_range(reference.riser_sd_mm, 0.0, 1000.0)) {
    return bad_value("The riser's height with " + name + " is out of range.",
                     "Give it in millimetres, 0 for none.");
  }
  if (reference.place == Place::kOnGlass &&
      (!in_range(reference.glass_to_axis_mm, 1.0, 10000.0) ||
       !in_range(reference.glass_to_axis_sd_mm, 0.0, 0.5 * reference.glass_to_axis_mm))) {
    return bad_value("The distance from the glass to the vessel's axis is missing or out of range.",
                     "Give it in millimetres, with how well it is known.");
  }
  return {};
}

Finding check_rectangle(const RectangleReference& reference, const PhotoInput& photo) {
  const std::string name = reference_words(reference.number);
  const double least = std::min(reference.width_mm, reference.height_mm);
  if (!in_range(reference.width_mm, 1.0, 10000.0) || !in_range(reference.height_mm, 1.0, 10000.0) ||
      !in_range(reference.size_sd_mm, 0.0, 0.5 * least)) {
    return bad_value("The size of " + name + " cannot be right.",
                     "Give its width and height in millimetres, and how well they are known.");
  }
  if (auto found = check_place(reference, name)) return found;
  const std::vector<PhotoPoint> corners(reference.corners.begin(), reference.corners.end());
  if (auto found = check_mark_list(corners, "corner", photo)) return found;
  return check_corners(reference, name, std::min(photo.marks.sd_px, 5.0));
}

Finding check_edge(const DiscReference& disc, const std::string& name, double sd_px) {
  if (disc.edge.size() < kLeastEdgeMarks) {
    return Problem{
        Code::kTooFewMarks,
        counted(disc.edge.size(), "on the edge of " + name) + ", and at least five are needed.",
        "Add marks on its outer edge, spread all round it.", ""};
  }
  const std::string round = "Put the marks on its outer edge, spread all round it.";
  std::vector<Eigen::Vector2d> points;
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  for (const PhotoPoint& p : disc.edge) {
    points.emplace_back(p.x_px, p.y_px);
    mean += points.back() / static_cast<double>(disc.edge.size());
  }
  Eigen::Matrix2d scatter = Eigen::Matrix2d::Zero();
  for (const Eigen::Vector2d& p : points) scatter += (p - mean) * (p - mean).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(scatter);
  Eigen::Vector2d reach = Eigen::Vector2d::Zero();  // along the short axis and the long one
  for (const Eigen::Vector2d& p : points) {
    reach = reach.cwiseMax((axes.eigenvectors().transpose() * (p - mean)).cwiseAbs());
  }
  // A disc's picture that is thinner than this tells nothing of how it lies.
  if (!(reach(0) > std::max(3.0 * sd_px, 0.02 * reach(1)))) {
    return Problem{Code::kBadMarks, "The marks on the edge of " + name + " lie almost on one line.",
                   round + " A disc that is seen edge-on cannot be used.", ""};
  }
  const Problem no_ellipse{Code::kBadMarks,
                           "The marks on the edge of " + name + " do not lie on an ellipse.",
                           round + " Move those that are off it.", ""};
  const auto conic = fit_ellipse(points);
  if (!conic) return no_ellipse;
  double squares = 0.0;
  for (const Eigen::Vector2d& p : points) {
    const Eigen::Vector3d slope = *conic * p.homogeneous();
    const double off = slope.dot(p.homogeneous()) / (2.0 * slope.head<2>().norm());
    squares += off * off;
  }
  const double rms = std::sqrt(squares / static_cast<double>(points.size()));
  if (!(rms < std::max(4.0 * sd_px, 0.05 * reach(1)))) return no_ellipse;
  return {};
}

Finding check_disc(const DiscReference& disc, const PhotoInput& photo) {
  const std::string name = reference_words(disc.number);
  if (!in_range(disc.diameter_mm, 1.0, 10000.0) ||
      !in_range(disc.size_sd_mm, 0.0, 0.5 * disc.diameter_mm)) {
    return bad_value("The diameter of " + name + " cannot be right.",
                     "Give it in millimetres, and how well it is known.");
  }
  if (auto found = check_place(disc, name)) return found;
  if (auto found = check_mark_list(disc.edge, "edge", photo)) return found;
  return check_edge(disc, name, std::min(photo.marks.sd_px, 5.0));
}

Finding check_size(const KnownSize& size, bool round_base) {
  const std::string name = reference_words(size.number);
  if (!can_give_scale(size.name)) {
    return bad_value("The " + small_size_words(size.name) + " in " + name +
                         " is too vague to take the scale from.",
                     "Give the height or one of the diameters instead.");
  }
  if (round_base && size.name == SizeName::kBaseDiameter) {
    return bad_value("A vessel with a round base has no base diameter, but " + name + " gives one.",
                     "Give another size, or say that the base is flat.");
  }
  if (!in_range(size.value_mm, 1.0, 10000.0)) {
    return bad_value("The " + small_size_words(size.name) + " in " + name + " cannot be right.",
                     "Give it in millimetres.");
  }
  if (!in_range(size.sd_mm, 0.0, kMostVague * size.value_mm)) {
    return bad_value("The uncertainty of the " + small_size_words(size.name) + " in " + name +
                         " is out of range.",
                     "Give a figure in millimetres, at most a fifth of the size.");
  }
  return {};
}

Finding check_distance(const KnownDistance& distance) {
  const std::string name = reference_words(distance.number);
  if (!in_range(distance.value_mm, 10.0, 100000.0)) {
    return bad_value("The camera's distance in " + name + " cannot be right.",
                     "Give it in millimetres, from the lens to the middle of the vessel.");
  }
  if (!in_range(distance.sd_mm, 0.0, kMostVague * distance.value_mm)) {
    return bad_value("The uncertainty of the camera's distance in " + name + " is out of range.",
                     "Give a figure in millimetres, at most a fifth of the distance.");
  }
  return {};
}

}  // namespace

std::string small_size_words(SizeName name) {
  std::string words(size_words(name));
  words.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(words.front())));
  return words;
}

std::string reference_words(std::size_t number) {
  return "reference " + std::to_string(number + 1);
}

Result<Done> check_input(const EstimateInput& input) {
  if (auto found = check_numbers(input)) return *found;
  if (input.photos.front().references.empty() && input.photos.front().discs.empty() &&
      input.photos.front().sizes.empty() && input.photos.front().distances.empty()) {
    return Problem{Code::kCannotBeAnswered, "Nothing of known size is marked in the photograph.",
                   "Mark the four corners of a card, label or sheet of known size, or the edge of "
                   "a coin, or give a size of the vessel from a catalogue.",
                   ""};
  }
  for (const RectangleReference& reference : input.photos.front().references) {
    if (auto found = check_rectangle(reference, input.photos.front())) return *found;
  }
  for (const DiscReference& disc : input.photos.front().discs) {
    if (auto found = check_disc(disc, input.photos.front())) return *found;
  }
  for (const KnownSize& size : input.photos.front().sizes) {
    if (auto found = check_size(size, input.round_base)) return *found;
  }
  for (const KnownDistance& distance : input.photos.front().distances) {
    if (auto found = check_distance(distance)) return *found;
  }
  if (auto found = check_marks(input)) return *found;
  std::vector<Note> notes;
  const Marks& marks = input.photos.front().marks;
  if (marks.left.empty() || marks.right.empty()) {
    notes.push_back({std::string("Only the ") + (marks.left.empty() ? "right" : "left") +
                         " outline is marked, so the sizes are less certain. Mark the other side "
                         "too if it can be seen.",
                     true});
  }
  return {Done{}, std::move(notes)};
}

}  // namespace potshadow::internal
