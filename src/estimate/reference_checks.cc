// SPDX-License-Identifier: MIT
#include "estimate/reference_checks.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "geometry/conic.h"

namespace potshadow::internal {
namespace {

// A known size or distance that is vaguer than this part of itself says next to nothing.
constexpr double kMostVague = 0.2;

double cross(const PhotoPoint& o, const PhotoPoint& a, const PhotoPoint& b) {
  return (a.x_px - o.x_px) * (b.y_px - o.y_px) - (a.y_px - o.y_px) * (b.x_px - o.x_px);
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
    longest =
        std::max({longest, px_between(c[k], c[(k + 1) % 4]), px_between(c[k], c[(k + 2) % 4])});
  }
  // How far each corner stands off the diagonal of its neighbours: the least is how open it is.
  double openness = longest;
  for (std::size_t k = 0; k < 4; ++k) {
    const double base = px_between(c[k], c[(k + 2) % 4]);
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

// What all flat references have in common.
Finding check_place(const FlatReference& reference, const std::string& name,
                    const PhotoInput& photo) {
  if (!in_range(reference.riser_mm, -5000.0, 5000.0) ||
      !in_range(reference.riser_sd_mm, 0.0, 1000.0)) {
    return bad_value("The riser's height with " + name + " is out of range.",
                     "Give it in millimetres, 0 for none.");
  }
  if (reference.place == Place::kBeside &&
      (!in_range(reference.depth_offset_mm, -10000.0, 10000.0) ||
       !in_range(reference.depth_offset_sd_mm, 0.0, 1000.0))) {
    return bad_value("How far " + name + " is behind the vessel's middle is out of range.",
                     "Give it in millimetres, 0 for level with it, with how well it is known.");
  }
  const bool by_line = reference.glass_to_axis_mm == 0.0 && reference.shelf_at_glass.has_value();
  if (reference.place == Place::kOnGlass && reference.shelf_at_glass) {
    const auto& line = *reference.shelf_at_glass;
    const std::vector<PhotoPoint> marks(line.begin(), line.end());
    if (auto found = check_mark_list(marks, "shelf line", photo)) return found;
    if (px_between(line[0], line[1]) < 20.0) {
      return Problem{Code::kBadMarks,
                     "The two marks of the line where the shelf meets the glass, with " + name +
                         ", lie on one spot.",
                     "Put them far apart on that line.", ""};
    }
  }
  if (reference.place == Place::kOnGlass && !by_line &&
      (!in_range(reference.glass_to_axis_mm, 1.0, 10000.0) ||
       !in_range(reference.glass_to_axis_sd_mm, 0.0, 0.5 * reference.glass_to_axis_mm))) {
    return bad_value(
        "The distance from the glass to the vessel's axis is missing or out of range.",
        "Give it in millimetres, with how well it is known, or mark the line where the "
        "shelf meets the glass.");
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
  if (auto found = check_place(reference, name, photo)) return found;
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
  if (auto found = check_place(disc, name, photo)) return found;
  if (auto found = check_mark_list(disc.edge, "edge", photo)) return found;
  return check_edge(disc, name, std::min(photo.marks.sd_px, 5.0));
}

Finding check_length(const LengthReference& length, const PhotoInput& photo) {
  const std::string name = reference_words(length.number);
  if (!in_range(length.length_mm, 1.0, 10000.0) ||
      !in_range(length.size_sd_mm, 0.0, 0.5 * length.length_mm)) {
    return bad_value("The length of " + name + " cannot be right.",
                     "Give it in millimetres, and how well it is known.");
  }
  if (auto found = check_place(length, name, photo)) return found;
  const std::vector<PhotoPoint> ends(length.ends.begin(), length.ends.end());
  if (auto found = check_mark_list(ends, "end", photo)) return found;
  if (px_between(ends[0], ends[1]) < 10.0 * std::min(photo.marks.sd_px, 5.0)) {
    return Problem{Code::kBadMarks, "The two ends of " + name + " lie almost on one spot.",
                   "Mark its two ends.", ""};
  }
  if ((length.place == Place::kStanding || length.place == Place::kLeaning) &&
      ends[1].y_px > ends[0].y_px) {
    return Problem{Code::kBadMarks, "The upper end of " + name + " is below its foot.",
                   "Mark the end on the shelf first, then the upper one.", ""};
  }
  return {};
}

Finding check_grid(const GridReference& grid, const PhotoInput& photo) {
  const std::string name = reference_words(grid.number);
  if (!in_range(grid.pitch_mm, 1.0, 10000.0) ||
      !in_range(grid.size_sd_mm, 0.0, 0.5 * grid.pitch_mm)) {
    return bad_value("The size of the squares in " + name + " cannot be right.",
                     "Give the distance from one line to the next in millimetres, joint included, "
                     "and how well it is known.");
  }
  if (grid.crossings.size() < 4) {
    return Problem{Code::kTooFewMarks,
                   counted(grid.crossings.size(), "on " + name) + ", and four are needed.",
                   "Mark the four corners of a block of squares.", ""};
  }
  if (grid.crossings.size() > kMostMarks) {
    return bad_value("There are more than 20,000 marks on " + name + ".", "Thin them out.");
  }
  const auto& c = grid.crossings;
  const bool block = c[0].row == c[1].row && c[2].row == c[3].row && c[0].column == c[3].column &&
                     c[1].column == c[2].column && c[1].column > c[0].column && c[3].row > c[0].row;
  if (!block) {
    return bad_value("The first four marks of " + name + " are not the corners of a block.",
                     "Give how many squares lie between the corners, across and up, at least one.");
  }
  for (const GridReference::Crossing& crossing : c) {
    if (std::abs(crossing.column) > 10000 || std::abs(crossing.row) > 10000) {
      return bad_value("A crossing of " + name + " is counted too far away.",
                       "Count the squares from the block's lower left corner.");
    }
  }
  if (auto found = check_place(grid, name, photo)) return found;
  RectangleReference corners;
  static_cast<FlatReference&>(corners) = grid;
  std::vector<PhotoPoint> marks;
  for (std::size_t k = 0; k < c.size(); ++k) {
    marks.push_back(c[k].at);
    if (k < 4) corners.corners[k] = c[k].at;
  }
  if (auto found = check_mark_list(marks, "crossing", photo)) return found;
  return check_corners(corners, name, std::min(photo.marks.sd_px, 5.0));
}

Finding check_neighbour(const NeighbourReference& neighbour, const PhotoInput& photo) {
  const std::string name = reference_words(neighbour.number);
  if (neighbour.name != SizeName::kHeight && neighbour.name != SizeName::kMaxDiameter &&
      neighbour.name != SizeName::kRimDiameter) {
    return bad_value("The size of the neighbour in " + name + " cannot be used.",
                     "Give its height, its maximum diameter or its rim's.");
  }
  if (!in_range(neighbour.value_mm, 1.0, 10000.0)) {
    return bad_value("The " + small_size_words(neighbour.name) + " of the neighbour in " + name +
                         " cannot be right.",
                     "Give it in millimetres.");
  }
  if (!in_range(neighbour.sd_mm, 0.0, kMostVague * neighbour.value_mm)) {
    return bad_value("The uncertainty of the neighbour's size in " + name + " is out of range.",
                     "Give a figure in millimetres, at most a fifth of the size.");
  }
  if (!in_range(neighbour.riser_mm, -5000.0, 5000.0) ||
      !in_range(neighbour.riser_sd_mm, 0.0, 1000.0)) {
    return bad_value("The riser's height with " + name + " is out of range.",
                     "Give it in millimetres, 0 for none.");
  }
  const MarksNeeded needed{true, !neighbour.round_base, "neighbour's "};
  if (auto found = check_marks(photo, neighbour.marks, needed)) return found;
  // The same marks twice: the vessel itself.
  if (!neighbour.marks.rim.empty() && !photo.marks.rim.empty()) {
    const auto middle = [](const std::vector<PhotoPoint>& marks) {
      PhotoPoint mean;
      for (const PhotoPoint& p : marks) {
        mean.x_px += p.x_px / static_cast<double>(marks.size());
        mean.y_px += p.y_px / static_cast<double>(marks.size());
      }
      return mean;
    };
    double widest = 0.0;
    for (const PhotoPoint& p : photo.marks.rim) {
      widest = std::max(widest, px_between(p, photo.marks.rim.front()));
    }
    if (px_between(middle(neighbour.marks.rim), middle(photo.marks.rim)) < 0.1 * widest) {
      return Problem{Code::kBadMarks,
                     "The neighbour in " + name + " is marked where the vessel itself is.",
                     "Mark the other vessel, or give the size as one of the vessel's own.", ""};
    }
  }
  return {};
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

Finding check_references(const PhotoInput& photo, bool round_base) {
  for (const RectangleReference& reference : photo.references) {
    if (auto found = check_rectangle(reference, photo)) return found;
  }
  for (const DiscReference& disc : photo.discs) {
    if (auto found = check_disc(disc, photo)) return found;
  }
  for (const LengthReference& length : photo.lengths) {
    if (auto found = check_length(length, photo)) return found;
  }
  for (const GridReference& grid : photo.grids) {
    if (auto found = check_grid(grid, photo)) return found;
  }
  for (const KnownSize& size : photo.sizes) {
    if (auto found = check_size(size, round_base)) return found;
  }
  for (const KnownDistance& known : photo.distances) {
    if (auto found = check_distance(known)) return found;
  }
  return {};
}

Finding check_neighbours(const PhotoInput& photo) {
  for (const NeighbourReference& neighbour : photo.neighbours) {
    if (auto found = check_neighbour(neighbour, photo)) return found;
  }
  return {};
}

}  // namespace potshadow::internal
