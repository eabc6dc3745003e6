// SPDX-License-Identifier: MIT
#include "study/statements.h"

#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>

namespace potshadow::study {
namespace {

std::string number(double value, const char* form = "%.6g") {
  std::array<char, 64> text{};
  std::snprintf(text.data(), text.size(), form, value);
  return text.data();
}

// The statements of as_statements.
class Statements {
 public:
  explicit Statements(std::ostream& out) : out_(out) {}

  void set(const std::string& name, double value) {
    out_ << name << " = " << number(value, "%.12g") << ";\n";
  }
  void set(const std::string& name, int value) { out_ << name << " = " << value << ";\n"; }
  void set(const std::string& name, bool value) {
    out_ << name << " = " << (value ? "true" : "false") << ";\n";
  }
  void set(const std::string& name, SizeName value) {
    out_ << name << " = *size_of_key(\"" << size_key(value) << "\");\n";
  }
  template <class List>
  void points(const std::string& name, const List& list) {
    out_ << name << " = {";
    const char* comma = "";
    for (const PhotoPoint& p : list) {
      out_ << comma << "{" << number(p.x_px, "%.9g") << ", " << number(p.y_px, "%.9g") << "}";
      comma = ", ";
    }
    out_ << "};\n";
  }
  void marks(const std::string& name, const Marks& marks) {
    points(name + ".rim", marks.rim);
    points(name + ".base", marks.base);
    points(name + ".left", marks.left);
    points(name + ".right", marks.right);
    set(name + ".sd_px", marks.sd_px);
  }
  void flat(const std::string& name, const FlatReference& r) {
    constexpr std::array<const char*, 5> kPlaces = {"kLying", "kStanding", "kLeaning", "kOnGlass",
                                                    "kBeside"};
    out_ << name << ".number = " << r.number << ";\n";
    out_ << name << ".place = Place::" << kPlaces[static_cast<std::size_t>(r.place)] << ";\n";
    set(name + ".behind_glass", r.behind_glass);
    set(name + ".riser_mm", r.riser_mm);
    set(name + ".riser_sd_mm", r.riser_sd_mm);
    set(name + ".glass_to_axis_mm", r.glass_to_axis_mm);
    set(name + ".glass_to_axis_sd_mm", r.glass_to_axis_sd_mm);
    set(name + ".depth_offset_mm", r.depth_offset_mm);
    set(name + ".depth_offset_sd_mm", r.depth_offset_sd_mm);
    if (r.shelf_at_glass) {
      out_ << name << ".shelf_at_glass.emplace();\n";
      points("*" + name + ".shelf_at_glass", *r.shelf_at_glass);
    }
  }
  std::string added(const std::string& list) {
    out_ << list << ".emplace_back();\n";
    return list + ".back()";
  }
  std::ostream& out() { return out_; }

 private:
  std::ostream& out_;
};

void photo_statements(Statements& s, const PhotoInput& photo) {
  const std::string p = s.added("input.photos");
  s.set(p + ".width_px", photo.width_px);
  s.set(p + ".height_px", photo.height_px);
  if (photo.focal) {
    s.out() << p << ".focal = FocalPrior{" << number(photo.focal->focal_35mm, "%.12g") << ", "
            << number(photo.focal->sd_percent) << "};\n";
  }
  s.set(p + ".lens.k1", photo.lens.k1);
  s.set(p + ".lens.k1_sd", photo.lens.k1_sd);
  s.set(p + ".lens.centre_x_px", photo.lens.centre_x_px);
  s.set(p + ".lens.centre_y_px", photo.lens.centre_y_px);
  if (photo.lens.centre_sd_px) s.set(p + ".lens.centre_sd_px", *photo.lens.centre_sd_px);
  if (photo.same_lens) s.set(p + ".same_lens", *photo.same_lens);
  s.set(p + ".direction_deg", photo.direction_deg);
  if (photo.glass) {
    s.out() << p << ".glass = GlassPane{" << number(photo.glass->thickness_mm, "%.12g") << ", "
            << number(photo.glass->thickness_sd_mm) << ", " << number(photo.glass->index) << "};\n";
  }
  s.marks(p + ".marks", photo.marks);
  for (const RectangleReference& r : photo.references) {
    const std::string n = s.added(p + ".references");
    s.flat(n, r);
    s.set(n + ".width_mm", r.width_mm);
    s.set(n + ".height_mm", r.height_mm);
    s.set(n + ".size_sd_mm", r.size_sd_mm);
    for (std::size_t k = 0; k < r.corners.size(); ++k) {
      s.out() << n << ".corners[" << k << "] = {" << number(r.corners[k].x_px, "%.9g") << ", "
              << number(r.corners[k].y_px, "%.9g") << "};\n";
    }
  }
  for (const DiscReference& r : photo.discs) {
    const std::string n = s.added(p + ".discs");
    s.flat(n, r);
    s.set(n + ".diameter_mm", r.diameter_mm);
    s.set(n + ".size_sd_mm", r.size_sd_mm);
    s.points(n + ".edge", r.edge);
  }
  for (const LengthReference& r : photo.lengths) {
    const std::string n = s.added(p + ".lengths");
    s.flat(n, r);
    s.set(n + ".length_mm", r.length_mm);
    s.set(n + ".size_sd_mm", r.size_sd_mm);
    for (std::size_t k = 0; k < r.ends.size(); ++k) {
      s.out() << n << ".ends[" << k << "] = {" << number(r.ends[k].x_px, "%.9g") << ", "
              << number(r.ends[k].y_px, "%.9g") << "};\n";
    }
  }
  for (const GridReference& r : photo.grids) {
    const std::string n = s.added(p + ".grids");
    s.flat(n, r);
    s.set(n + ".pitch_mm", r.pitch_mm);
    s.set(n + ".size_sd_mm", r.size_sd_mm);
    for (const GridReference::Crossing& c : r.crossings) {
      s.out() << n << ".crossings.push_back({{" << number(c.at.x_px, "%.9g") << ", "
              << number(c.at.y_px, "%.9g") << "}, " << c.column << ", " << c.row << "});\n";
    }
  }
  for (const NeighbourReference& r : photo.neighbours) {
    const std::string n = s.added(p + ".neighbours");
    s.out() << n << ".number = " << r.number << ";\n";
    s.set(n + ".name", r.name);
    s.set(n + ".value_mm", r.value_mm);
    s.set(n + ".sd_mm", r.sd_mm);
    s.set(n + ".riser_mm", r.riser_mm);
    s.set(n + ".riser_sd_mm", r.riser_sd_mm);
    s.set(n + ".round_base", r.round_base);
    s.marks(n + ".marks", r.marks);
  }
  for (const KnownSize& r : photo.sizes) {
    const std::string n = s.added(p + ".sizes");
    s.out() << n << ".number = " << r.number << ";\n";
    s.set(n + ".name", r.name);
    s.set(n + ".value_mm", r.value_mm);
    s.set(n + ".sd_mm", r.sd_mm);
    s.set(n + ".guess", r.guess);
  }
  for (const KnownDistance& r : photo.distances) {
    const std::string n = s.added(p + ".distances");
    s.out() << n << ".number = " << r.number << ";\n";
    s.set(n + ".value_mm", r.value_mm);
    s.set(n + ".sd_mm", r.sd_mm);
  }
}

}  // namespace

std::string as_statements(const EstimateInput& input) {
  std::ostringstream out;
  Statements s(out);
  out << "EstimateInput input;\ninput.photos.clear();\n";
  s.set("input.out_of_round_percent", input.out_of_round_percent);
  s.set("input.round_base", input.round_base);
  s.set("input.wall_mm", input.wall_mm);
  s.set("input.wall_sd_mm", input.wall_sd_mm);
  for (const PhotoInput& photo : input.photos) photo_statements(s, photo);
  return out.str();
}

bool write_scene(const std::filesystem::path& folder, const Scene& scene) {
  std::ostringstream out;
  out << "// Scene " << scene.number << " of seed " << scene.seed << ": " << scene.kind << " "
      << scene.place << ", " << scene.pot.family << ", oval by "
      << number(100.0 * std::hypot(scene.pot.oval_cos, scene.pot.oval_sin)) << " %\n// Truth:";
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    if (!scene.truth[i]) continue;
    out << ' ' << size_key(static_cast<SizeName>(i)) << ' ' << number(*scene.truth[i], "%.8g");
  }
  out << "\n// As told:\n{\n"
      << as_statements(scene.told) << "}\n// Exact:\n{\n"
      << as_statements(scene.exact) << "}\n";
  std::ofstream file(folder / ("scene-" + std::to_string(scene.number) + ".txt"), std::ios::binary);
  file << out.str();
  file.close();
  return file.good();
}

}  // namespace potshadow::study
