// SPDX-License-Identifier: MIT
#include "estimate/scene.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>

#include "vessel/sizes.h"

namespace potshadow::testing {
namespace {

nlohmann::json read_json(const std::string& path) {
  std::ifstream file(path);
  if (!file) {
    std::fprintf(stderr, "cannot read %s\n", path.c_str());
    std::exit(1);
  }
  return nlohmann::json::parse(file);
}

std::vector<PhotoPoint> points_of(const nlohmann::json& rows) {
  std::vector<PhotoPoint> points;
  for (const auto& row : rows) points.push_back({row.at(0).get<double>(), row.at(1).get<double>()});
  return points;
}

Place place_of(const std::string& name) {
  if (name == "lying") return Place::kLying;
  if (name == "standing") return Place::kStanding;
  if (name == "leaning") return Place::kLeaning;
  if (name == "beside") return Place::kBeside;
  return Place::kOnGlass;
}

std::array<std::optional<double>, kSizeCount> truth_of(const nlohmann::json& truth,
                                                       double wall_mm) {
  std::array<std::optional<double>, kSizeCount> out;
  const auto& sizes = truth.at("sizes_mm");
  for (std::size_t i = 0; i + 1 < kSizeCount; ++i) {
    const auto& value = sizes.at(std::string(size_key(static_cast<SizeName>(i))));
    if (!value.is_null()) out[i] = value.get<double>();
  }
  std::vector<ProfilePoint> line;
  for (const PhotoPoint& row : points_of(truth.at("profile"))) line.push_back({row.x_px, row.y_px});
  const Profile profile = Profile::through(line, 80).value();
  out[static_cast<std::size_t>(SizeName::kCapacity)] = capacity_ml(profile, Mm{wall_mm}, 2000);
  return out;
}

// Sets the picture, its camera and its pane.
void set_photo(const nlohmann::json& truth, PhotoInput& photo) {
  photo.width_px = truth.at("width_px");
  photo.height_px = truth.at("height_px");
  photo.focal = FocalPrior{truth.at("focal_35mm"), 2.0};
  if (!truth.at("pane").is_null()) {
    GlassPane pane;
    pane.thickness_mm = truth.at("pane").at("thickness_mm");
    pane.thickness_sd_mm = 1.0;
    pane.index = truth.at("pane").at("index");
    photo.glass = pane;
  }
}

}  // namespace

Scene load_scene(const std::string& name) {
  const std::string stem = std::string(POTSHADOW_SOURCE_DIR) + "/tests/scenes/" + name;
  const nlohmann::json truth = read_json(stem + ".json");
  const nlohmann::json marks = read_json(stem + ".marks.json");
  Scene scene;
  scene.name = name;
  PhotoInput& photo = scene.input.photos.front();
  set_photo(truth, photo);
  const auto& given = truth.at("reference");
  RectangleReference reference;
  reference.width_mm = given.at("width_mm");
  reference.height_mm = given.at("height_mm");
  reference.size_sd_mm = 0.3;
  reference.place = place_of(given.at("place"));
  reference.behind_glass = given.value("behind_glass", true);
  if (reference.place == Place::kOnGlass) {
    reference.glass_to_axis_mm = given.at("glass_to_axis_mm");
    reference.glass_to_axis_sd_mm = 1.0;
  }
  const std::vector<PhotoPoint> corners = points_of(marks.at("corners_px"));
  std::copy_n(corners.begin(), 4, reference.corners.begin());
  photo.references = {reference};
  photo.marks = {points_of(marks.at("rim_px")), points_of(marks.at("base_px")),
                 points_of(marks.at("left_px")), points_of(marks.at("right_px")), 1.0};
  scene.input.out_of_round_percent = 0.0;  // the renderer's vessels are truly round
  scene.input.round_base = truth.at("base") == "round";
  scene.input.wall_mm = truth.at("wall_mm");
  scene.input.wall_sd_mm = 0.0;
  scene.truth = truth_of(truth, scene.input.wall_mm);
  return scene;
}

EstimateInput noisy_input(const Scene& scene, std::size_t rim, std::size_t base,
                          std::size_t outline, double sd_px, std::uint64_t seed) {
  std::seed_seq sequence{seed, std::hash<std::string>{}(scene.name)};
  std::mt19937_64 random(sequence);
  std::normal_distribution<double> noise(0.0, sd_px);
  const auto moved = [&](PhotoPoint p) {
    p.x_px += noise(random);
    p.y_px += noise(random);
    return p;
  };
  const auto picked = [&](std::vector<PhotoPoint> points, std::size_t count) {
    std::shuffle(points.begin(), points.end(), random);
    points.resize(std::min(count, points.size()));
    for (PhotoPoint& p : points) p = moved(p);
    return points;
  };
  EstimateInput input = scene.input;
  Marks& marks = input.photos.front().marks;
  marks.rim = picked(marks.rim, rim);
  marks.base = picked(marks.base, base);
  marks.left = picked(marks.left, outline);
  marks.right = picked(marks.right, outline);
  marks.sd_px = sd_px;
  RectangleReference& reference = input.photos.front().references.front();
  for (PhotoPoint& corner : reference.corners) corner = moved(corner);

  // What the user states is off by as much as its own uncertainty says.
  const auto stated = [&](double truth, double sd) {
    return truth + sd * std::normal_distribution<double>()(random);
  };
  input.photos.front().focal->focal_35mm *=
      stated(1.0, input.photos.front().focal->sd_percent / 100.0);
  reference.width_mm = stated(reference.width_mm, reference.size_sd_mm);
  reference.height_mm = stated(reference.height_mm, reference.size_sd_mm);
  if (reference.place == Place::kOnGlass) {
    reference.glass_to_axis_mm = stated(reference.glass_to_axis_mm, reference.glass_to_axis_sd_mm);
  }
  if (input.photos.front().glass) {
    input.photos.front().glass->thickness_mm =
        std::max(0.0, stated(input.photos.front().glass->thickness_mm,
                             input.photos.front().glass->thickness_sd_mm));
  }
  return input;
}

// --- Furnished scenes ----------------------------------------------------------------------------
namespace {

// What a potter would state, as standard uncertainties in millimetres.
constexpr double kCardSd = 0.3;        // a label or card measured with a rule
constexpr double kDiscSd = 0.1;        // a coin or lid, from its standard
constexpr double kLengthSd = 0.3;      // two lines of a rule, or a stick cut to length
constexpr double kPitchSd = 0.1;       // of a tile, a row of ten measured with a tape
constexpr double kRiserSd = 1.0;       // a block or step, with a rule
constexpr double kPaneToAxisSd = 2.0;  // from the pane to the middle of the foot, with a tape
constexpr double kDepthSd = 3.0;       // how far a thing beside the vessel is before or behind it
constexpr double kCatalogueSd = 0.5;   // a catalogue that gives millimetres
constexpr double kDistanceSd = 5.0;    // from the lens to the vessel, with a tape
constexpr double kGuessPart = 0.05;    // of the size, what a potter would bet on

constexpr std::size_t kDiscMarks = 12;
constexpr std::size_t kGridMarks = 16;

template <class Reference>
void set_place(const nlohmann::json& thing, Reference& reference) {
  reference.place = place_of(thing.at("place"));
  reference.riser_mm = thing.at("riser_mm");
  if (reference.riser_mm != 0.0) reference.riser_sd_mm = kRiserSd;
  if (reference.place == Place::kOnGlass) {
    reference.behind_glass = thing.at("behind_glass");
    reference.glass_to_axis_mm = thing.at("glass_to_axis_mm");
    reference.glass_to_axis_sd_mm = kPaneToAxisSd;
  }
  if (reference.place == Place::kBeside) {
    reference.depth_offset_mm = thing.at("depth_offset_mm");
    reference.depth_offset_sd_mm = kDepthSd;
  }
}

std::string place_words(const FlatReference& reference) {
  static constexpr std::array<const char*, 5> kWords = {"lying", "standing", "leaning",
                                                        "on the glass", "beside"};
  std::string words = kWords.at(static_cast<std::size_t>(reference.place));
  if (reference.place == Place::kOnGlass && !reference.behind_glass) words += ", outer face";
  if (reference.riser_mm > 0.0) words += ", vessel on a riser";
  if (reference.riser_mm < 0.0) words += ", on a step";
  return words;
}

// Adds the reference to the photograph as a case of its own, and on the glass a second time with
// the line where shelf and pane meet in place of the distance.
template <class Reference>
void add_flat(FurnishedScene& scene, const EstimateInput& bare, const std::string& kind,
              std::vector<Reference> PhotoInput::*list, Reference reference,
              const std::vector<PhotoPoint>& shelf, double shelf_riser_mm) {
  EstimateInput input = bare;
  (input.photos.front().*list).push_back(reference);
  scene.cases.push_back({kind + " " + place_words(reference), input});
  if (reference.place != Place::kOnGlass) return;
  const std::string words = place_words(reference);
  reference.glass_to_axis_mm = 0.0;
  reference.glass_to_axis_sd_mm = 0.0;
  reference.riser_mm = shelf_riser_mm;
  reference.riser_sd_mm = kRiserSd;
  reference.shelf_at_glass = {shelf.front(), shelf.back()};
  (input.photos.front().*list).back() = reference;
  scene.cases.push_back({kind + " " + words + ", by the shelf's line", input});
}

Marks marks_of(const nlohmann::json& marks, const std::string& which) {
  return {points_of(marks.at(which + "_rim_px")), points_of(marks.at(which + "_base_px")),
          points_of(marks.at(which + "_left_px")), points_of(marks.at(which + "_right_px")), 1.0};
}

// Noise on marks, and what is stated drawn about the truth.
class Hand {
 public:
  Hand(double sd_px, std::uint64_t seed, const std::string& name) : sd_px_(sd_px) {
    std::vector<std::uint64_t> words = {seed};
    for (const char c : name) words.push_back(static_cast<unsigned char>(c));
    std::seed_seq sequence(words.begin(), words.end());
    random_.seed(sequence);
  }
  double stated(double truth, double sd) { return truth + sd * normal_(random_); }
  void move(PhotoPoint& p) {
    p.x_px += sd_px_ * normal_(random_);
    p.y_px += sd_px_ * normal_(random_);
  }
  template <class Points>
  void move_all(Points& points) {
    for (PhotoPoint& p : points) move(p);
  }
  // Keeps the first `fixed` and as many of the others as make `count`.
  template <class T>
  void pick(std::vector<T>& points, std::size_t count, std::size_t fixed = 0) {
    std::shuffle(points.begin() + static_cast<std::ptrdiff_t>(std::min(fixed, points.size())),
                 points.end(), random_);
    if (points.size() > count)
      points.erase(points.begin() + static_cast<std::ptrdiff_t>(count), points.end());
  }
  void pick_and_move(Marks& marks, std::size_t rim, std::size_t base, std::size_t outline) {
    pick(marks.rim, rim);
    pick(marks.base, base);
    pick(marks.left, outline);
    pick(marks.right, outline);
    for (auto* points : {&marks.rim, &marks.base, &marks.left, &marks.right}) move_all(*points);
    marks.sd_px = sd_px_;
  }
  void restate(FlatReference& reference) {
    reference.riser_mm = stated(reference.riser_mm, reference.riser_sd_mm);
    if (reference.glass_to_axis_mm != 0.0) {
      reference.glass_to_axis_mm =
          stated(reference.glass_to_axis_mm, reference.glass_to_axis_sd_mm);
    }
    reference.depth_offset_mm = stated(reference.depth_offset_mm, reference.depth_offset_sd_mm);
    if (reference.shelf_at_glass) move_all(*reference.shelf_at_glass);
  }

 private:
  double sd_px_;
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
};

}  // namespace

FurnishedScene load_furnished(const std::string& name) {
  const std::string stem = std::string(POTSHADOW_SOURCE_DIR) + "/tests/scenes/" + name;
  const nlohmann::json truth = read_json(stem + ".json");
  const nlohmann::json marks = read_json(stem + ".marks.json");
  EstimateInput bare;
  PhotoInput& photo = bare.photos.front();
  set_photo(truth, photo);
  photo.marks = marks_of(marks, "vessel");
  bare.out_of_round_percent = 0.0;  // the renderer's vessels are truly round
  bare.wall_mm = truth.at("wall_mm");
  bare.wall_sd_mm = 0.0;
  FurnishedScene scene;
  scene.name = name;
  scene.truth = truth_of(truth, bare.wall_mm);
  const double riser = truth.at("shelf_riser_mm");
  const std::vector<PhotoPoint> shelf =
      marks.contains("shelf") ? points_of(marks.at("shelf")) : std::vector<PhotoPoint>{};

  for (const auto& [key, thing] : truth.at("things").items()) {
    const std::string kind = thing.at("kind");
    const std::vector<PhotoPoint> points = points_of(marks.at(key));
    if (kind == "rectangle") {
      RectangleReference reference;
      set_place(thing, reference);
      reference.width_mm = thing.at("width_mm");
      reference.height_mm = thing.at("height_mm");
      reference.size_sd_mm = kCardSd;
      std::copy_n(points.begin(), 4, reference.corners.begin());
      add_flat(scene, bare, "rectangle", &PhotoInput::references, reference, shelf, riser);
    } else if (kind == "disc") {
      DiscReference reference;
      set_place(thing, reference);
      reference.diameter_mm = thing.at("diameter_mm");
      reference.size_sd_mm = kDiscSd;
      reference.edge = points;
      add_flat(scene, bare, "disc", &PhotoInput::discs, reference, shelf, riser);
    } else {
      LengthReference reference;
      set_place(thing, reference);
      reference.length_mm = thing.at("length_mm");
      reference.size_sd_mm = kLengthSd;
      std::copy_n(points.begin(), 2, reference.ends.begin());
      add_flat(scene, bare, "length", &PhotoInput::lengths, reference, shelf, riser);
    }
  }

  GridReference floor;
  floor.place = Place::kLying;
  floor.riser_mm = riser;
  floor.riser_sd_mm = riser != 0.0 ? kRiserSd : 0.0;
  floor.pitch_mm = truth.at("floor").at("pitch_mm");
  floor.size_sd_mm = kPitchSd;
  for (const auto& row : marks.at("floor")) {
    floor.crossings.push_back({{row.at(0), row.at(1)}, row.at(2), row.at(3)});
  }
  add_flat(scene, bare, "tiled floor", &PhotoInput::grids, floor, shelf, riser);

  const auto& other = truth.at("neighbour");
  for (const SizeName size : {SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kRimDiameter}) {
    NeighbourReference neighbour;
    neighbour.name = size;
    neighbour.value_mm = other.at("sizes_mm").at(std::string(size_key(size)));
    neighbour.sd_mm = kCatalogueSd;
    neighbour.riser_mm = other.at("riser_mm");
    neighbour.riser_sd_mm = neighbour.riser_mm != 0.0 ? kRiserSd : 0.0;
    neighbour.marks = marks_of(marks, "neighbour");
    EstimateInput input = bare;
    input.photos.front().neighbours.push_back(neighbour);
    scene.cases.push_back({"neighbour by its " + std::string(size_key(size)), input});
  }
  for (const SizeName size : {SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kRimDiameter}) {
    const double value = *scene.truth[static_cast<std::size_t>(size)];
    EstimateInput input = bare;
    input.photos.front().sizes = {{0, size, value, kCatalogueSd, false}};
    scene.cases.push_back({"catalogued " + std::string(size_key(size)), input});
    if (size != SizeName::kHeight) continue;
    input.photos.front().sizes = {{0, size, value, kGuessPart * value, true}};
    scene.cases.push_back({"guessed " + std::string(size_key(size)), input});
  }
  EstimateInput input = bare;
  input.photos.front().distances = {{0, truth.at("distance_mm"), kDistanceSd}};
  scene.cases.push_back({"measured distance", input});
  return scene;
}

EstimateInput noisy_case(const ScaleCase& scale, std::size_t rim, std::size_t base,
                         std::size_t outline, double sd_px, std::uint64_t seed) {
  Hand hand(sd_px, seed, scale.name);
  EstimateInput input = scale.input;
  PhotoInput& photo = input.photos.front();
  hand.pick_and_move(photo.marks, rim, base, outline);
  photo.focal->focal_35mm *= hand.stated(1.0, photo.focal->sd_percent / 100.0);
  if (photo.glass) {
    photo.glass->thickness_mm =
        std::max(0.0, hand.stated(photo.glass->thickness_mm, photo.glass->thickness_sd_mm));
  }
  for (RectangleReference& r : photo.references) {
    hand.move_all(r.corners);
    r.width_mm = hand.stated(r.width_mm, r.size_sd_mm);
    r.height_mm = hand.stated(r.height_mm, r.size_sd_mm);
    hand.restate(r);
  }
  for (DiscReference& r : photo.discs) {
    hand.pick(r.edge, kDiscMarks);
    hand.move_all(r.edge);
    r.diameter_mm = hand.stated(r.diameter_mm, r.size_sd_mm);
    hand.restate(r);
  }
  for (LengthReference& r : photo.lengths) {
    hand.move_all(r.ends);
    r.length_mm = hand.stated(r.length_mm, r.size_sd_mm);
    hand.restate(r);
  }
  for (GridReference& r : photo.grids) {
    hand.pick(r.crossings, kGridMarks, 4);
    for (GridReference::Crossing& c : r.crossings) hand.move(c.at);
    r.pitch_mm = hand.stated(r.pitch_mm, r.size_sd_mm);
    hand.restate(r);
  }
  for (NeighbourReference& r : photo.neighbours) {
    hand.pick_and_move(r.marks, rim, base, outline);
    r.value_mm = hand.stated(r.value_mm, r.sd_mm);
    r.riser_mm = hand.stated(r.riser_mm, r.riser_sd_mm);
  }
  for (KnownSize& k : photo.sizes) k.value_mm = hand.stated(k.value_mm, k.sd_mm);
  for (KnownDistance& k : photo.distances) k.value_mm = hand.stated(k.value_mm, k.sd_mm);
  return input;
}

}  // namespace potshadow::testing
