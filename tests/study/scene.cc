// SPDX-License-Identifier: MIT
#include "study/scene.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "study/optics.h"

namespace potshadow::study {
namespace {

using Vec = Eigen::Vector3d;
constexpr double kDeg = std::numbers::pi / 180.0;

// One photograph as it is being made. The plan's axes go by the view: `right`, and `away` from the
// camera.
struct Shot {
  Camera camera;
  Vec right = Vec::UnitX();
  Vec away = Vec::UnitY();
  double pane_to_axis_mm = 0.0;  // of its inner face
  PhotoInput told;
  PhotoInput exact;
};

// What the scene is made of, beside its photographs.
struct Things {
  Pot pot;
  Placed placed;
  double larger_mm = 0.0;
  double widest_mm = 0.0;
  double oval_sd = 0.0;
};

Eigen::Matrix3d random_tilt(Dice& dice) {
  const Vec turn(dice.normal(0.5 * kDeg), dice.normal(0.5 * kDeg), 0.0);
  const double angle = turn.norm();
  return Eigen::AngleAxisd(angle, angle > 0.0 ? Vec(turn / angle) : Vec::UnitX())
      .toRotationMatrix();
}

bool clear_of_pane(const Shot& shot, const Vec& point) {
  constexpr double kRoomMm = 2.0;
  return !shot.camera.pane || -point.dot(shot.camera.pane->inward) < shot.pane_to_axis_mm - kRoomMm;
}

// A flat reference's frame: a point (u, v) of its face is origin + u across + v up.
struct Face {
  Vec origin = Vec::Zero();
  Vec across = Vec::UnitX();
  Vec up = Vec::UnitZ();
  bool behind_glass = true;
  Vec at(double u, double v) const { return origin + u * across + v * up; }
};

// Seats a reference of the given extent and notes its offset, told and true. None where it would
// stick through the pane.
std::optional<Face> seat(Dice& dice, const Shot& shot, const Things& things, Place place,
                         bool by_line, double width, double height, FlatReference& told,
                         FlatReference& exact) {
  told.place = place;
  Face face;
  const double side = dice.side();
  const double gap = things.larger_mm * dice.even(0.05, 0.3);
  const double beside = side * (things.widest_mm + gap + width / 2.0);
  const auto give_riser = [&] {
    if (dice.chance(0.5)) {
      told.riser_mm = dice.even(10.0, std::max(12.0, std::min(60.0, 0.4 * things.pot.height())));
      if (dice.chance(0.2)) told.riser_mm = -told.riser_mm;
      told.riser_sd_mm = dice.even(1.0, 5.0);
    }
    exact = told;
    exact.riser_mm += dice.normal(told.riser_sd_mm);
  };
  if (place == Place::kOnGlass) {
    told.behind_glass = dice.chance(0.5);
    const Vec inward = shot.camera.pane->inward;
    const Vec along(inward.y(), -inward.x(), 0.0);
    const double inner = shot.pane_to_axis_mm;
    const double on_face = inner + (told.behind_glass ? 0.0 : shot.camera.pane->thickness_mm);
    if (by_line) give_riser();
    const bool distance = !by_line || dice.chance(0.3);
    exact = told;
    exact.riser_mm += by_line ? dice.normal(told.riser_sd_mm) : 0.0;
    if (distance) {
      told.glass_to_axis_sd_mm = exact.glass_to_axis_sd_mm = dice.even(2.0, 15.0);
      told.glass_to_axis_mm = on_face - dice.normal(told.glass_to_axis_sd_mm);
      exact.glass_to_axis_mm = on_face;
    }
    const double turn = dice.even(-10.0, 10.0) * kDeg;
    face.across = std::cos(turn) * along + std::sin(turn) * Vec::UnitZ();
    face.up = -std::sin(turn) * along + std::cos(turn) * Vec::UnitZ();
    face.origin = -on_face * inward + (beside - width / 2.0) * along +
                  dice.even(0.0, 0.6) * things.pot.height() * Vec::UnitZ();
    face.behind_glass = told.behind_glass;
    if (by_line) {
      std::array<PhotoPoint, 2> line;
      const double half = dice.even(0.3, 0.8) * things.larger_mm;
      for (std::size_t k = 0; k < 2; ++k) {
        const double sign = k == 0 ? -1.0 : 1.0;
        line[k] = seen(shot.camera,
                       -inner * inward + sign * half * along - exact.riser_mm * Vec::UnitZ(), true);
      }
      told.shelf_at_glass = exact.shelf_at_glass = line;
    }
    if (told.glass_to_axis_mm < 0.0) return std::nullopt;
    return face;
  }
  if (place == Place::kBeside) {
    told.depth_offset_mm = dice.even(-30.0, 30.0);
    told.depth_offset_sd_mm = dice.even(5.0, 25.0);
    exact = told;
    exact.depth_offset_mm += dice.normal(told.depth_offset_sd_mm);
    const double yaw = dice.even(-20.0, 20.0) * kDeg;
    face.across = std::cos(yaw) * shot.right + std::sin(yaw) * shot.away;
    const Vec centre = beside * shot.right + exact.depth_offset_mm * shot.away +
                       dice.even(0.0, 1.0) * things.pot.height() * Vec::UnitZ();
    face.origin = centre - width / 2.0 * face.across - height / 2.0 * Vec::UnitZ();
  } else {
    give_riser();
    const double yaw = dice.even(-25.0, 25.0) * kDeg;
    const double lean = place == Place::kStanding  ? 0.0
                        : place == Place::kLeaning ? dice.even(5.0, 45.0) * kDeg
                                                   : 90.0 * kDeg;
    const Vec back = -std::sin(yaw) * shot.right + std::cos(yaw) * shot.away;
    face.across = std::cos(yaw) * shot.right + std::sin(yaw) * shot.away;
    face.up = std::sin(lean) * back + std::cos(lean) * Vec::UnitZ();
    const bool in_front = dice.chance(0.3);
    Vec middle = beside * shot.right + dice.even(-1.0, 0.5) * things.widest_mm * shot.away;
    if (in_front) {
      middle = dice.even(-0.7, 0.7) * things.widest_mm * shot.right -
               (things.widest_mm + gap + height * std::sin(lean)) * shot.away;
    }
    face.origin = middle - width / 2.0 * face.across - exact.riser_mm * Vec::UnitZ();
  }
  for (const double u : {0.0, width}) {
    for (const double v : {0.0, height}) {
      if (!clear_of_pane(shot, face.at(u, v))) return std::nullopt;
    }
  }
  return face;
}

// Known sizes of things: told, and true.
struct Length {
  double told = 0.0;
  double exact = 0.0;
};
Length drawn(Dice& dice, double told, double sd) { return {told, told + dice.normal(sd)}; }

Place place_of(const std::string& words) {
  if (words == "standing") return Place::kStanding;
  if (words == "leaning") return Place::kLeaning;
  if (words.starts_with("on-glass")) return Place::kOnGlass;
  if (words == "beside") return Place::kBeside;
  return Place::kLying;
}

std::optional<std::vector<PhotoPoint>> spread(Dice& dice, const std::vector<PhotoPoint>& curve,
                                              std::size_t least, int count) {
  if (curve.size() < std::max<std::size_t>(least, 2)) return std::nullopt;
  // Even along the picture's curve, gaps not counted, each moved at random within its share.
  std::vector<double> way(curve.size());
  double longest = 0.0;
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const double step =
        std::hypot(curve[i].x_px - curve[i - 1].x_px, curve[i].y_px - curve[i - 1].y_px);
    way[i] = step;
    longest += step;
  }
  const double gap = 20.0 * longest / static_cast<double>(curve.size());
  for (std::size_t i = 1; i < curve.size(); ++i)
    way[i] = way[i - 1] + (way[i] > gap ? 0.0 : way[i]);
  std::vector<PhotoPoint> marks;
  for (int k = 0; k < count; ++k) {
    const double at = way.back() * (k + dice.even(0.0, 1.0)) / count;
    const auto found = std::lower_bound(way.begin(), way.end(), at);
    const auto i = static_cast<std::size_t>(std::min(found, way.end() - 1) - way.begin());
    marks.push_back(curve[i]);
  }
  return marks;
}

// The marks of a vessel; none where too little of it shows.
std::optional<Marks> marks_of(Dice& dice, const Camera& camera, const Placed& placed) {
  Marks marks;
  const int rim = dice.whole(10, 24);
  const int foot = dice.whole(6, 12);
  const Vec towards = camera.eye - placed.foot;
  const double front = std::atan2(towards.y(), towards.x());
  for (int i = 0; i < rim; ++i) {
    const double azimuth = front + 2.0 * std::numbers::pi * (i + dice.even(0.0, 1.0)) / rim;
    if (const auto p = ring_point(camera, placed, true, azimuth, true)) marks.rim.push_back(*p);
  }
  if (!placed.pot->round_base) {
    for (int i = 0; i < foot; ++i) {
      const double azimuth = front + 65.0 * kDeg * (2.0 * (i + dice.even(0.0, 1.0)) / foot - 1.0);
      if (const auto p = ring_point(camera, placed, false, azimuth, true)) marks.base.push_back(*p);
    }
    if (marks.base.size() < 3) return std::nullopt;
  }
  if (marks.rim.size() < 5) return std::nullopt;
  const int side = dice.whole(25, 60);
  const std::size_t least = placed.pot->wall.size() / kOutlineStride / 10;
  const auto left = spread(dice, outline(camera, placed, -1.0, true), least, side);
  const auto right = spread(dice, outline(camera, placed, 1.0, true), least, side);
  if (!left || !right) return std::nullopt;
  marks.left = *left;
  marks.right = *right;
  return marks;
}

bool add_flat(Dice& dice, Shot& shot, const Things& things, const KindOfScene& kind) {
  const Place place = place_of(kind.place);
  const bool by_line = kind.place == "on-glass-line";
  const auto point = [&](const Face& face, double u, double v) {
    return seen(shot.camera, face.at(u, v), face.behind_glass);
  };
  const double sd = dice.one_of<double>({0.1, 0.3, 1.0});
  const double extent = things.larger_mm * dice.even(0.15, 0.6);
  if (kind.kind == "rectangle") {
    RectangleReference told;
    RectangleReference exact;
    const Length width = drawn(dice, extent, sd);
    const Length height = drawn(dice, extent * dice.even(0.5, 1.2), sd);
    const auto face =
        seat(dice, shot, things, place, by_line, width.exact, height.exact, told, exact);
    if (!face) return false;
    exact.corners = {point(*face, 0.0, 0.0), point(*face, width.exact, 0.0),
                     point(*face, width.exact, height.exact), point(*face, 0.0, height.exact)};
    told.corners = exact.corners;
    told.width_mm = width.told;
    told.height_mm = height.told;
    exact.width_mm = width.exact;
    exact.height_mm = height.exact;
    told.size_sd_mm = exact.size_sd_mm = sd;
    shot.told.references.push_back(told);
    shot.exact.references.push_back(exact);
  } else if (kind.kind == "disc") {
    DiscReference told;
    DiscReference exact;
    const Length across = drawn(dice, extent, sd);
    const auto face =
        seat(dice, shot, things, place, by_line, across.exact, across.exact, told, exact);
    if (!face) return false;
    const int count = dice.whole(8, 20);
    const double r = across.exact / 2.0;
    for (int i = 0; i < count; ++i) {
      const double a = 2.0 * std::numbers::pi * (i + dice.even(0.0, 1.0)) / count;
      exact.edge.push_back(point(*face, r + r * std::cos(a), r + r * std::sin(a)));
    }
    told.edge = exact.edge;
    told.diameter_mm = across.told;
    exact.diameter_mm = across.exact;
    told.size_sd_mm = exact.size_sd_mm = sd;
    shot.told.discs.push_back(told);
    shot.exact.discs.push_back(exact);
  } else if (kind.kind == "length") {
    LengthReference told;
    LengthReference exact;
    const Length length = drawn(dice, extent, sd);
    const bool upright = place == Place::kStanding || place == Place::kLeaning;
    auto face = seat(dice, shot, things, place, by_line, upright ? 1.0 : length.exact,
                     upright ? length.exact : 1.0, told, exact);
    if (!face) return false;
    if (place == Place::kBeside) {
      // Square to the view as well as a hand can: 4 degrees (normal). Aslant at will.
      const double yaw = dice.normal(4.0 * kDeg);
      const double slant = dice.even(-90.0, 90.0) * kDeg;
      const Vec centre = face->at(length.exact / 2.0, 0.5);
      const Vec level = std::cos(yaw) * shot.right + std::sin(yaw) * shot.away;
      face->across = std::cos(slant) * level + std::sin(slant) * Vec::UnitZ();
      face->origin = centre - length.exact / 2.0 * face->across;
    } else if (place == Place::kLying || place == Place::kOnGlass) {
      const Vec centre = face->at(length.exact / 2.0, 0.0);
      const double turn = dice.even(-90.0, 90.0) * kDeg;
      face->across = (std::cos(turn) * face->across + std::sin(turn) * face->up).eval();
      face->origin = centre - length.exact / 2.0 * face->across;
      for (const double u : {0.0, length.exact}) {
        if (face->behind_glass && place == Place::kLying && !clear_of_pane(shot, face->at(u, 0.0)))
          return false;
      }
    }
    exact.ends = {point(*face, 0.0, 0.0),
                  upright ? point(*face, 0.0, length.exact) : point(*face, length.exact, 0.0)};
    told.ends = exact.ends;
    told.length_mm = length.told;
    exact.length_mm = length.exact;
    told.size_sd_mm = exact.size_sd_mm = sd;
    shot.told.lengths.push_back(told);
    shot.exact.lengths.push_back(exact);
  } else {
    GridReference told;
    GridReference exact;
    const int columns = dice.whole(2, 4);
    const int rows = dice.whole(1, 3);
    const double pitch_sd = sd / columns;
    const Length pitch = drawn(dice, extent / columns, pitch_sd);
    const auto face = seat(dice, shot, things, place, by_line, pitch.exact * columns,
                           pitch.exact * rows, told, exact);
    if (!face) return false;
    const auto cross = [&](int column, int row) {
      exact.crossings.push_back(
          {point(*face, pitch.exact * column, pitch.exact * row), column, row});
    };
    cross(0, 0);
    cross(columns, 0);
    cross(columns, rows);
    cross(0, rows);
    for (int column = 0; column <= columns; ++column) {
      for (int row = 0; row <= rows; ++row) {
        const bool corner = (column == 0 || column == columns) && (row == 0 || row == rows);
        if (!corner && dice.chance(0.6)) cross(column, row);
      }
    }
    told.crossings = exact.crossings;
    told.pitch_mm = pitch.told;
    exact.pitch_mm = pitch.exact;
    told.size_sd_mm = exact.size_sd_mm = pitch_sd;
    shot.told.grids.push_back(told);
    shot.exact.grids.push_back(exact);
  }
  return true;
}

// How well a catalogue states a size.
double catalogue_sd(Dice& dice, double value) {
  constexpr double kMostPart = 0.05;
  return std::min(dice.one_of<double>({0.3, 1.0, 3.0}), kMostPart * value);
}

// What a ruler reads: a diameter is taken across one direction of the oval.
double read_off(Dice& dice, const Pot& pot, SizeName name, double mean) {
  if (name == SizeName::kHeight) return mean;
  const double twice = 2.0 * dice.even(0.0, std::numbers::pi);
  return mean * (1.0 + pot.oval_cos * std::cos(twice) + pot.oval_sin * std::sin(twice));
}

bool add_neighbour(Dice& dice, Shot& shot, const Things& things) {
  Pot pot = random_pot(dice, things.larger_mm * dice.even(0.5, 1.2));
  pot.oval_cos = dice.normal(things.oval_sd);
  pot.oval_sin = dice.normal(things.oval_sd);
  NeighbourReference exact;
  if (dice.chance(0.3)) {
    exact.riser_mm = dice.side() * dice.even(5.0, 0.3 * things.pot.height());
    exact.riser_sd_mm = dice.even(1.0, 5.0);
  }
  exact.round_base = pot.round_base;
  exact.name =
      dice.one_of<SizeName>({SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kRimDiameter});
  exact.value_mm = *true_sizes(pot)[static_cast<std::size_t>(exact.name)];
  exact.sd_mm = catalogue_sd(dice, exact.value_mm);
  NeighbourReference told = exact;
  told.value_mm = read_off(dice, pot, exact.name, exact.value_mm) + dice.normal(exact.sd_mm);
  exact.riser_mm += dice.normal(exact.riser_sd_mm);
  Placed placed;
  placed.pot = &pot;
  placed.turn = random_tilt(dice);
  const double apart = things.widest_mm + pot.widest() + things.larger_mm * dice.even(0.05, 0.3);
  placed.foot = dice.side() * apart * shot.right +
                dice.even(-0.5, 0.5) * things.widest_mm * shot.away - exact.riser_mm * Vec::UnitZ();
  if (shot.camera.pane &&
      !clear_of_pane(shot, placed.foot - 1.1 * pot.widest() * shot.camera.pane->inward)) {
    return false;
  }
  const auto marks = marks_of(dice, shot.camera, placed);
  if (!marks) return false;
  exact.marks = *marks;
  told.marks = *marks;
  shot.told.neighbours.push_back(told);
  shot.exact.neighbours.push_back(exact);
  return true;
}

void add_known_size(Dice& dice, Shot& shot, const Pot& pot, const TrueSizes& truth, bool guess) {
  KnownSize exact;
  exact.name =
      dice.one_of<SizeName>({SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kRimDiameter});
  exact.value_mm = *truth[static_cast<std::size_t>(exact.name)];
  exact.guess = guess;
  exact.sd_mm = guess ? 0.1 * exact.value_mm : catalogue_sd(dice, exact.value_mm);
  KnownSize told = exact;
  do {
    told.value_mm = read_off(dice, pot, exact.name, exact.value_mm) + dice.normal(exact.sd_mm);
  } while (told.value_mm <= 0.0);
  shot.told.sizes.push_back(told);
  shot.exact.sizes.push_back(exact);
}

void add_distance(Dice& dice, Shot& shot, const Things& things) {
  KnownDistance exact;
  const Vec half = things.placed.turn * Vec(0.0, 0.0, things.pot.height() / 2.0);
  exact.value_mm = (shot.camera.eye - half).norm();
  exact.sd_mm = dice.even(5.0, 20.0);
  KnownDistance told = exact;
  told.value_mm += dice.normal(exact.sd_mm);
  shot.told.distances.push_back(told);
  shot.exact.distances.push_back(exact);
}

bool add_reference(Dice& dice, Shot& shot, const Things& things, const TrueSizes& truth,
                   const KindOfScene& kind) {
  if (kind.kind == "size" || kind.kind == "guess") {
    add_known_size(dice, shot, things.pot, truth, kind.kind == "guess");
  } else if (kind.kind == "distance") {
    add_distance(dice, shot, things);
  } else if (kind.kind == "neighbour") {
    return add_neighbour(dice, shot, things);
  } else {
    return add_flat(dice, shot, things, kind);
  }
  return true;
}

// What all photographs of one lens have in common.
struct LensDraw {
  double focal_told = 35.0;
  double focal_exact = 35.0;
  double focal_sd_percent = 2.0;
  double k1 = 0.0;
  double k1_sd = 0.02;
  double centre_sd_part = 0.005;  // of the longer side
  double centre_x_part = 0.0;
  double centre_y_part = 0.0;
};

LensDraw random_lens(Dice& dice) {
  LensDraw lens;
  lens.focal_told = dice.log_even(24.0, 85.0);
  const double way = dice.even(0.0, 1.0);
  if (way < 0.15) {
    lens.focal_sd_percent = 6.0;
  } else if (way < 0.3) {
    lens.focal_sd_percent = 0.4;
    lens.k1_sd = 0.002;
    lens.centre_sd_part = 0.001;
  }
  lens.focal_exact = lens.focal_told * std::exp(dice.normal(lens.focal_sd_percent / 100.0));
  lens.k1 = dice.normal(lens.k1_sd);
  lens.centre_x_part = dice.normal(lens.centre_sd_part);
  lens.centre_y_part = dice.normal(lens.centre_sd_part);
  return lens;
}

// The photograph's size in pixels, glass and lens; the camera's place is set by `aim`.
Shot new_shot(Dice& dice, const LensDraw& lens, const Things& things, bool glass) {
  Shot shot;
  PhotoInput& exact = shot.exact;
  const double longer = dice.one_of<int>({2016, 3000, 4032, 6000});
  const double shorter = longer * dice.one_of<double>({3.0 / 4.0, 2.0 / 3.0});
  const double upright = things.pot.height() > 2.0 * things.widest_mm ? 0.6 : 0.15;
  const bool tall = dice.chance(upright);
  exact.width_px = static_cast<int>(tall ? shorter : longer);
  exact.height_px = static_cast<int>(tall ? longer : shorter);
  exact.focal = FocalPrior{lens.focal_exact, lens.focal_sd_percent};
  exact.lens.k1 = lens.k1;
  exact.lens.k1_sd = lens.k1_sd;
  exact.lens.centre_sd_px = lens.centre_sd_part * longer;
  exact.lens.centre_x_px = lens.centre_x_part * longer;
  exact.lens.centre_y_px = lens.centre_y_part * longer;
  Camera& camera = shot.camera;
  // Equal angles across the diagonal: 43.2666 mm on film (CIPA DCG-001).
  camera.focal_px =
      lens.focal_exact * std::hypot(exact.width_px, exact.height_px) / std::hypot(36.0, 24.0);
  camera.middle_x_px = (exact.width_px - 1) / 2.0 + exact.lens.centre_x_px;
  camera.middle_y_px = (exact.height_px - 1) / 2.0 + exact.lens.centre_y_px;
  camera.k1 = lens.k1;
  shot.told = exact;
  shot.told.focal->focal_35mm = lens.focal_told;
  shot.told.lens.k1 = 0.0;
  shot.told.lens.centre_x_px = 0.0;
  shot.told.lens.centre_y_px = 0.0;
  if (glass) {
    GlassPane pane;
    pane.thickness_sd_mm = 1.0;
    pane.thickness_mm = dice.even(4.0, 12.0);
    shot.told.glass = pane;
    do {
      shot.exact.glass = pane;
      shot.exact.glass->thickness_mm += dice.normal(pane.thickness_sd_mm);
    } while (shot.exact.glass->thickness_mm < 0.5);
  }
  return shot;
}

// Where the camera stands and looks.
struct Stand {
  double direction_rad = 0.0;
  double elevation_rad = 0.0;
  double fill = 0.6;
  double off_right = 0.0;  // of where it looks from the vessel's middle, in larger extents
  double off_up = 0.0;
  double roll_rad = 0.0;
  double pane_turn_rad = 0.0;
  double pane_room_mm = 50.0;
};

Stand random_stand(Dice& dice, double direction_rad) {
  Stand stand;
  stand.direction_rad = direction_rad;
  stand.elevation_rad = dice.even(5.0, 40.0) * kDeg;
  stand.fill = dice.even(0.4, 0.8);
  stand.off_right = dice.even(-0.3, 0.3);
  stand.off_up = dice.even(-0.1, 0.1);
  stand.roll_rad = dice.normal(2.0 * kDeg);
  stand.pane_turn_rad = dice.normal(15.0 * kDeg);
  stand.pane_room_mm = dice.even(20.0, 200.0);
  return stand;
}

void aim(const Stand& stand, const Things& things, Shot& shot) {
  const double azimuth = stand.direction_rad - std::numbers::pi / 2.0;
  const Vec out(std::cos(azimuth), std::sin(azimuth), 0.0);
  shot.away = -out;
  shot.right = Vec(-out.y(), out.x(), 0.0);
  const double c = std::cos(stand.elevation_rad);
  const double s = std::sin(stand.elevation_rad);
  const double tall = things.pot.height() * c + 2.0 * things.widest_mm * s;
  const double part =
      std::max(2.0 * things.widest_mm / shot.exact.width_px, tall / shot.exact.height_px);
  double distance = shot.camera.focal_px * part / stand.fill;
  constexpr double kNearestMm = 350.0;
  distance = std::max({distance, kNearestMm, 2.0 * things.larger_mm});
  const Vec middle(0.0, 0.0, things.pot.height() / 2.0);
  shot.camera.eye = middle + distance * (c * out + s * Vec::UnitZ());
  const Vec target =
      middle + things.larger_mm * (stand.off_right * shot.right + stand.off_up * Vec::UnitZ());
  const Vec forward = (target - shot.camera.eye).normalized();
  const Vec right = forward.cross(Vec::UnitZ()).normalized();
  const Vec down = forward.cross(right);
  const double cr = std::cos(stand.roll_rad);
  const double sr = std::sin(stand.roll_rad);
  shot.camera.axes.row(0) = cr * right + sr * down;
  shot.camera.axes.row(1) = -sr * right + cr * down;
  shot.camera.axes.row(2) = forward;
  if (shot.exact.glass) {
    Pane pane;
    const double turned = std::atan2(-out.y(), -out.x()) + stand.pane_turn_rad;
    pane.inward = Vec(std::cos(turned), std::sin(turned), 0.0);
    pane.thickness_mm = shot.exact.glass->thickness_mm;
    pane.index = shot.exact.glass->index;
    const double to_eye = -shot.camera.eye.dot(pane.inward);
    const double nearest = 1.08 * things.widest_mm + 5.0;
    shot.pane_to_axis_mm = std::min(nearest + stand.pane_room_mm,
                                    std::max(nearest, 0.85 * to_eye - pane.thickness_mm));
    shot.camera.pane = pane;
  }
}

template <class Do>
void each_mark(PhotoInput& photo, const Do& act) {
  const auto all = [&](auto& list) {
    for (auto& p : list) act(p);
  };
  const auto vessel = [&](Marks& marks) {
    for (auto* list : {&marks.rim, &marks.base, &marks.left, &marks.right}) all(*list);
  };
  const auto line = [&](FlatReference& r) {
    if (r.shelf_at_glass) all(*r.shelf_at_glass);
  };
  vessel(photo.marks);
  for (auto& r : photo.references) all(r.corners), line(r);
  for (auto& r : photo.discs) all(r.edge), line(r);
  for (auto& r : photo.lengths) all(r.ends), line(r);
  for (auto& r : photo.grids) {
    for (auto& crossing : r.crossings) act(crossing.at);
    line(r);
  }
  for (auto& r : photo.neighbours) vessel(r.marks);
}

bool all_in_picture(PhotoInput& photo) {
  bool inside = true;
  each_mark(photo, [&](const PhotoPoint& p) {
    inside = inside && p.x_px > 2.0 && p.y_px > 2.0 && p.x_px < photo.width_px - 3.0 &&
             p.y_px < photo.height_px - 3.0;
  });
  return inside;
}

void number_references(EstimateInput& input) {
  std::size_t next = 0;
  const auto all = [&](auto& list) {
    for (auto& r : list) r.number = next++;
  };
  for (PhotoInput& photo : input.photos) {
    all(photo.references);
    all(photo.discs);
    all(photo.lengths);
    all(photo.grids);
    all(photo.neighbours);
    all(photo.sizes);
    all(photo.distances);
  }
}

// One photograph with the given references; none where it shows too little.
std::optional<Shot> photograph(Dice& dice, const LensDraw& lens, const Things& things,
                               const TrueSizes& truth, double direction_rad,
                               const std::vector<KindOfScene>& kinds) {
  bool glass = dice.chance(0.5);
  for (const KindOfScene& kind : kinds) glass = glass || kind.place.starts_with("on-glass");
  const Shot blank = new_shot(dice, lens, things, glass);
  Stand stand = random_stand(dice, direction_rad);
  constexpr int kTries = 24;
  for (int attempt = 0; attempt < kTries; ++attempt) {
    Shot shot = blank;
    aim(stand, things, shot);
    const auto marks = marks_of(dice, shot.camera, things.placed);
    if (!marks) return std::nullopt;
    shot.exact.marks = *marks;
    bool seated = true;
    for (const KindOfScene& kind : kinds) {
      seated = seated && add_reference(dice, shot, things, truth, kind);
    }
    if (seated && all_in_picture(shot.exact)) {
      const double longer = std::max(shot.exact.width_px, shot.exact.height_px);
      const double sd = longer * dice.log_even(0.0002, 0.0006);
      shot.told.marks = shot.exact.marks;
      shot.told.marks.sd_px = shot.exact.marks.sd_px = sd;
      for (auto& r : shot.told.neighbours) r.marks.sd_px = sd;
      for (auto& r : shot.exact.neighbours) r.marks.sd_px = sd;
      each_mark(shot.told, [&](PhotoPoint& p) {
        p.x_px += dice.normal(sd);
        p.y_px += dice.normal(sd);
      });
      shot.told.direction_deg = shot.exact.direction_deg = direction_rad / kDeg;
      return shot;
    }
    if (attempt % 3 == 2) stand.fill *= 0.88;  // step back
  }
  return std::nullopt;
}

std::vector<KindOfScene> single_kinds() {
  std::vector<KindOfScene> kinds;
  for (const char* kind : {"rectangle", "disc", "length", "grid"}) {
    for (const char* place :
         {"lying", "standing", "leaning", "on-glass", "on-glass-line", "beside"}) {
      kinds.push_back({kind, place});
    }
  }
  kinds.push_back({"neighbour", ""});
  kinds.push_back({"size", ""});
  kinds.push_back({"distance", ""});
  kinds.push_back({"guess", ""});
  return kinds;
}

}  // namespace

std::vector<KindOfScene> kinds_of_scene() {
  std::vector<KindOfScene> kinds = single_kinds();
  kinds.push_back({"two", ""});
  kinds.push_back({"views", ""});
  return kinds;
}

Scene random_scene(const KindOfScene& kind, std::uint64_t seed, std::uint64_t number) {
  Dice dice(seed, number);
  const std::vector<KindOfScene> singles = single_kinds();
  for (;;) {
    Scene scene;
    scene.seed = seed;
    scene.number = number;
    scene.kind = kind.kind;
    scene.place = kind.place;
    Things things;
    things.larger_mm = dice.log_even(60.0, 450.0);
    things.pot = random_pot(dice, things.larger_mm);
    things.oval_sd = dice.one_of<double>({0.0, 0.5, 1.0, 2.0}) / 100.0;
    things.pot.oval_cos = dice.normal(things.oval_sd);
    things.pot.oval_sin = dice.normal(things.oval_sd);
    things.widest_mm = things.pot.widest();
    scene.exact.wall_mm = std::clamp(0.025 * things.larger_mm, 3.0, 9.0);
    scene.exact.wall_sd_mm = 0.15 * scene.exact.wall_mm;
    scene.exact.out_of_round_percent = 100.0 * things.oval_sd;
    scene.exact.round_base = things.pot.round_base;
    scene.exact.photos.clear();
    scene.told = scene.exact;
    things.pot.wall_mm = scene.exact.wall_mm + dice.normal(scene.exact.wall_sd_mm);
    if (things.pot.wall_mm < 0.5) continue;
    scene.exact.wall_mm = things.pot.wall_mm;
    things.placed.pot = &things.pot;
    things.placed.turn = random_tilt(dice);
    scene.pot = things.pot;
    scene.truth = true_sizes(things.pot);

    const bool several = kind.kind == "views";
    const int views = several ? dice.whole(2, 5) : 1;
    const bool one_lens = dice.chance(0.6);
    LensDraw lens = random_lens(dice);
    for (int view = 0; view < views; ++view) {
      std::vector<KindOfScene> references;
      if (kind.kind == "two") {
        references = {dice.one_of(singles), dice.one_of(singles)};
      } else if (!several) {
        references = {kind};
      } else if (view == 0 || dice.chance(0.4)) {
        references = {dice.one_of(singles)};
      }
      if (kind.kind == "two" || several) {
        for (const KindOfScene& r : references) {
          scene.place += (scene.place.empty() ? "" : " + ") + r.kind + " " + r.place;
        }
      }
      if (view > 0 && !one_lens) lens = random_lens(dice);
      const double direction =
          view == 0 ? 0.0 : 2.0 * std::numbers::pi * (view + dice.even(-0.4, 0.4)) / views;
      LensDraw mine = lens;
      if (view > 0 && one_lens) {
        mine.focal_exact *= std::exp(dice.normal(0.003));
        mine.k1 += dice.normal(0.002);
        mine.centre_x_part = dice.normal(mine.centre_sd_part);
        mine.centre_y_part = dice.normal(mine.centre_sd_part);
      }
      const auto shot = photograph(dice, mine, things, scene.truth, direction, references);
      if (!shot) break;
      scene.told.photos.push_back(shot->told);
      scene.exact.photos.push_back(shot->exact);
      if (several && one_lens) {
        scene.told.photos.back().same_lens = scene.exact.photos.back().same_lens = 1;
      }
      if (view == 0) {
        const Vec half(0.0, 0.0, things.pot.height() / 2.0);
        const Vec sight = shot->camera.eye - half;
        scene.distance_mm = sight.norm();
        scene.eye_over_rim_mm = shot->camera.eye.z() - things.pot.height();
        scene.elevation_deg = std::asin(sight.z() / sight.norm()) / kDeg;
      }
    }
    if (scene.told.photos.size() != static_cast<std::size_t>(views)) continue;
    number_references(scene.told);
    number_references(scene.exact);
    return scene;
  }
}

}  // namespace potshadow::study
