// SPDX-License-Identifier: MIT
#include "sheets/page_painter.h"

#include <cairo-ft.h>
#include <fontconfig/fontconfig.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <map>
#include <numbers>
#include <optional>
#include <string_view>
#include <utility>

#include "core/printable.h"

namespace potshadow {
namespace {

struct ConfigDeleter {
  void operator()(FcConfig* p) const { FcConfigDestroy(p); }
};
struct PatternDeleter {
  void operator()(FcPattern* p) const { FcPatternDestroy(p); }
};
struct CharSetDeleter {
  void operator()(FcCharSet* p) const { FcCharSetDestroy(p); }
};
struct FaceDeleter {
  void operator()(cairo_font_face_t* p) const { cairo_font_face_destroy(p); }
};
struct ScaledDeleter {
  void operator()(cairo_scaled_font_t* p) const { cairo_scaled_font_destroy(p); }
};
struct OptionsDeleter {
  void operator()(cairo_font_options_t* p) const { cairo_font_options_destroy(p); }
};
using ConfigPtr = std::unique_ptr<FcConfig, ConfigDeleter>;
using PatternPtr = std::unique_ptr<FcPattern, PatternDeleter>;
using FacePtr = std::unique_ptr<cairo_font_face_t, FaceDeleter>;
using ScaledPtr = std::unique_ptr<cairo_scaled_font_t, ScaledDeleter>;

// Returns the installed font nearest to the wish. A null `family` asks for any sans-serif; a `c`
// other than 0 asks for a font that has that letter.
PatternPtr matched(FcConfig* config, const char* family, bool bold, char32_t c) {
  const PatternPtr wish(FcPatternCreate());
  const auto* name =
      reinterpret_cast<const FcChar8*>(family == nullptr ? "sans-serif" : family);  // bytes alike
  FcPatternAddString(wish.get(), FC_FAMILY, name);
  FcPatternAddInteger(wish.get(), FC_WEIGHT, bold ? FC_WEIGHT_BOLD : FC_WEIGHT_REGULAR);
  FcPatternAddInteger(wish.get(), FC_SLANT, FC_SLANT_ROMAN);
  FcPatternAddBool(wish.get(), FC_SCALABLE, FcTrue);
  if (c != 0) {
    const std::unique_ptr<FcCharSet, CharSetDeleter> letters(FcCharSetCreate());
    FcCharSetAddChar(letters.get(), c);
    FcPatternAddCharSet(wish.get(), FC_CHARSET, letters.get());
  }
  FcConfigSubstitute(config, wish.get(), FcMatchPattern);
  FcDefaultSubstitute(wish.get());
  FcResult result = FcResultMatch;
  return PatternPtr(FcFontMatch(config, wish.get(), &result));
}

bool is_family(const FcPattern* pattern, std::string_view family) {
  FcChar8* name = nullptr;
  for (int i = 0; FcPatternGetString(pattern, FC_FAMILY, i, &name) == FcResultMatch; ++i) {
    if (family == reinterpret_cast<const char*>(name)) return true;
  }
  return false;
}

struct Font {
  PatternPtr pattern;
  FacePtr face;
  bool has(char32_t c) const {
    FcCharSet* letters = nullptr;
    return FcPatternGetCharSet(pattern.get(), FC_CHARSET, 0, &letters) == FcResultMatch &&
           FcCharSetHasChar(letters, c) == FcTrue;
  }
};

std::optional<Font> font_of(PatternPtr pattern) {
  if (pattern == nullptr) return std::nullopt;
  FacePtr face(cairo_ft_font_face_create_for_pattern(pattern.get()));
  if (cairo_font_face_status(face.get()) != CAIRO_STATUS_SUCCESS) return std::nullopt;
  return Font{std::move(pattern), std::move(face)};
}

// One weight of type: the fonts to look in, first choice first.
class Type {
 public:
  Type(FcConfig* config, bool bold) : config_(config), bold_(bold) {
    constexpr std::array<const char*, 2> kFamilies = {"Inter", "DejaVu Sans"};
    for (const char* family : kFamilies) {
      PatternPtr pattern = matched(config, family, bold, 0);
      if (pattern == nullptr || !is_family(pattern.get(), family)) continue;
      if (auto font = font_of(std::move(pattern))) fonts_.push_back(std::move(*font));
    }
    own_ = !fonts_.empty();
    if (own_) return;
    if (auto font = font_of(matched(config, nullptr, bold, U'a')))
      fonts_.push_back(std::move(*font));
  }

  bool usable() const { return !fonts_.empty(); }
  bool own() const { return own_; }  // Inter or DejaVu Sans was found
  cairo_font_face_t* face(std::size_t font) const { return fonts_[font].face.get(); }

  // Returns which font has the letter, looking beyond the first choices if need be.
  std::optional<std::size_t> font_for(char32_t c) {
    for (std::size_t i = 0; i < fonts_.size(); ++i) {
      if (fonts_[i].has(c)) return i;
    }
    auto font = font_of(matched(config_, nullptr, bold_, c));
    if (!font || !font->has(c)) return std::nullopt;
    fonts_.push_back(std::move(*font));
    return fonts_.size() - 1;
  }

 private:
  FcConfig* config_;
  bool bold_;
  bool own_ = false;
  std::vector<Font> fonts_;
};

// ---- Text ----

struct UnitsPerMm {
  double x = 1.0;
  double y = 1.0;
};

struct Letter {
  std::size_t font = 0;
  unsigned long glyph = 0;
  double advance_mm = 0.0;
  double shift_mm = 0.0;  // to the middle of a digit's room
  bool digit = false;
  std::string utf8;
};

class TextSetter {
 public:
  TextSetter(cairo_t* cairo, const UnitsPerMm& units, Type& type, const Label& label)
      : cairo_(cairo), units_(units), type_(type), label_(label) {}

  // Draws the label.
  void set() {
    for (const char32_t c : printable_points(label_.text)) letters_.push_back(letter(c));
    shorten();
    double x = 0.0;
    if (label_.align == Align::kCentre) x = -width() / 2.0;
    if (label_.align == Align::kRight) x = -width();
    cairo_save(cairo_);
    cairo_translate(cairo_, label_.at.x_mm, label_.at.y_mm);
    if (label_.upwards) cairo_rotate(cairo_, -std::numbers::pi / 2.0);
    cairo_set_source_rgb(cairo_, label_.grey, label_.grey, label_.grey);
    std::size_t first = 0;
    while (first < letters_.size()) {
      std::size_t last = first + 1;
      while (last < letters_.size() && letters_[last].font == letters_[first].font) ++last;
      x = show(first, last, x);
      first = last;
    }
    cairo_restore(cairo_);
  }

 private:
  double width() const {
    double sum = 0.0;
    for (const Letter& l : letters_) sum += l.advance_mm;
    return sum;
  }

  void shorten() {
    if (width() <= label_.most_width_mm) return;
    const Letter dots = letter(U'…');
    double wide = width() + dots.advance_mm;
    while (!letters_.empty() && (wide > label_.most_width_mm || letters_.back().utf8 == " ")) {
      wide -= letters_.back().advance_mm;
      letters_.pop_back();
    }
    letters_.push_back(dots);
  }

  cairo_scaled_font_t* scaled(std::size_t font) {
    auto& slot = scaled_[font];
    if (slot == nullptr) {
      const std::unique_ptr<cairo_font_options_t, OptionsDeleter> options(
          cairo_font_options_create());
      // Grey, never the coloured rims that some screens want.
      cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
      cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
      cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
      cairo_matrix_t size;
      cairo_matrix_init_scale(&size, label_.size_mm, label_.size_mm);
      cairo_matrix_t to_units;
      cairo_matrix_init_scale(&to_units, units_.x, units_.y);
      if (label_.upwards) cairo_matrix_rotate(&to_units, -std::numbers::pi / 2.0);
      slot.reset(cairo_scaled_font_create(type_.face(font), &size, &to_units, options.get()));
    }
    return slot.get();
  }

  Letter letter(char32_t c) {
    Letter made;
    auto font = type_.font_for(c);
    if (!font) {
      c = kUnknownLetter;
      font = type_.font_for(c);
    }
    made.font = font.value_or(0);
    made.digit = c >= U'0' && c <= U'9';
    append_utf8(made.utf8, c);
    made.glyph = glyph_of(made.font, made.utf8, &made.advance_mm);
    if (made.digit && label_.tabular) {
      double room = 0.0;
      glyph_of(made.font, "0", &room);
      made.shift_mm = (room - made.advance_mm) / 2.0;
      made.advance_mm = room;
    }
    return made;
  }

  unsigned long glyph_of(std::size_t font, const std::string& utf8, double* advance_mm) {
    cairo_glyph_t* glyphs = nullptr;
    int count = 0;
    unsigned long index = 0;
    if (cairo_scaled_font_text_to_glyphs(scaled(font), 0.0, 0.0, utf8.data(),
                                         static_cast<int>(utf8.size()), &glyphs, &count, nullptr,
                                         nullptr, nullptr) == CAIRO_STATUS_SUCCESS &&
        count > 0) {
      index = glyphs[0].index;
      cairo_text_extents_t extents;
      cairo_scaled_font_glyph_extents(scaled(font), glyphs, 1, &extents);
      *advance_mm = extents.x_advance;
    }
    cairo_glyph_free(glyphs);
    return index;
  }

  // Shows letters [first, last), all of one font, from `x` on; returns where the next one goes.
  double show(std::size_t first, std::size_t last, double x) {
    std::string utf8;
    std::vector<cairo_glyph_t> glyphs;
    std::vector<cairo_text_cluster_t> clusters;
    for (std::size_t i = first; i < last; ++i) {
      const Letter& l = letters_[i];
      glyphs.push_back({l.glyph, x + l.shift_mm, 0.0});
      x += l.advance_mm;
      utf8 += l.utf8;
      // Digits set apart from each other stay one word for whoever searches or copies the text.
      const bool joins = label_.tabular && l.digit && i > first && letters_[i - 1].digit;
      if (joins) {
        clusters.back().num_bytes += static_cast<int>(l.utf8.size());
        ++clusters.back().num_glyphs;
      } else {
        clusters.push_back({static_cast<int>(l.utf8.size()), 1});
      }
    }
    cairo_set_scaled_font(cairo_, scaled(letters_[first].font));
    cairo_show_text_glyphs(cairo_, utf8.data(), static_cast<int>(utf8.size()), glyphs.data(),
                           static_cast<int>(glyphs.size()), clusters.data(),
                           static_cast<int>(clusters.size()),
                           static_cast<cairo_text_cluster_flags_t>(0));
    return x;
  }

  cairo_t* cairo_;
  UnitsPerMm units_;
  Type& type_;
  const Label& label_;
  std::vector<Letter> letters_;
  std::map<std::size_t, ScaledPtr> scaled_;
};

// ---- Pages ----

class PagePainter {
 public:
  PagePainter(Type& regular, cairo_t* cairo, const UnitsPerMm& units, Type& bold)
      : cairo_(cairo), units_(units), regular_(regular), bold_(bold) {}

  void operator()(const Stroke& stroke) {
    if (stroke.points.empty()) return;
    path(stroke.points, stroke.closed);
    cairo_set_line_width(cairo_, stroke.width_mm);
    cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_MITER);
    cairo_set_dash(cairo_, stroke.dash_mm.data(), static_cast<int>(stroke.dash_mm.size()), 0.0);
    cairo_set_source_rgb(cairo_, stroke.grey, stroke.grey, stroke.grey);
    cairo_stroke(cairo_);
  }

  void operator()(const Area& area) {
    if (area.points.empty()) return;
    path(area.points, true);
    cairo_set_source_rgb(cairo_, area.grey, area.grey, area.grey);
    cairo_fill(cairo_);
  }

  void operator()(const Label& label) {
    TextSetter(cairo_, units_, label.bold ? bold_ : regular_, label).set();
  }

  // Only what the clip shows goes in, so that a page's file does not hold its neighbours' pixels.
  void operator()(const Pixels& picture) {
    const PatternPixels& all = *picture.pixels;
    double left = 0.0;
    double top = 0.0;
    double right = 0.0;
    double bottom = 0.0;
    cairo_clip_extents(cairo_, &left, &top, &right, &bottom);
    const double wide = picture.box.width() / all.width_px;  // mm of a pixel
    const double high = picture.box.height() / all.height_px;
    const auto pixel = [](double mm, double from, double size, int most) {
      return static_cast<int>(std::clamp((mm - from) / size, 0.0, static_cast<double>(most)));
    };
    const int x0 = pixel(left, picture.box.left_mm, wide, all.width_px);
    const int y0 = pixel(top, picture.box.top_mm, high, all.height_px);
    const int x1 =
        std::min(pixel(right, picture.box.left_mm, wide, all.width_px) + 1, all.width_px);
    const int y1 =
        std::min(pixel(bottom, picture.box.top_mm, high, all.height_px) + 1, all.height_px);
    if (x1 <= x0 || y1 <= y0) return;
    const SurfacePtr part(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, x1 - x0, y1 - y0));
    if (cairo_surface_status(part.get()) != CAIRO_STATUS_SUCCESS) return;
    copy_pixels(all, x0, y0, part.get());
    cairo_save(cairo_);
    cairo_translate(cairo_, picture.box.left_mm + x0 * wide, picture.box.top_mm + y0 * high);
    cairo_scale(cairo_, wide, high);
    cairo_set_source_surface(cairo_, part.get(), 0.0, 0.0);
    cairo_paint(cairo_);
    cairo_restore(cairo_);
  }

 private:
  // Fills the surface from pixel (x0, y0) on; Cairo wants colours multiplied by what they cover.
  static void copy_pixels(const PatternPixels& from, int x0, int y0, cairo_surface_t* to) {
    constexpr int kBytes = 4;
    constexpr int kFull = 255;
    cairo_surface_flush(to);
    const int width = cairo_image_surface_get_width(to);
    for (int y = 0; y < cairo_image_surface_get_height(to); ++y) {
      const std::size_t start =
          static_cast<std::size_t>(y0 + y) * static_cast<std::size_t>(from.width_px) * kBytes +
          static_cast<std::size_t>(x0) * kBytes;
      const std::uint8_t* in = from.bgra.data() + start;
      unsigned char* row = cairo_image_surface_get_data(to) +
                           static_cast<std::ptrdiff_t>(y) * cairo_image_surface_get_stride(to);
      for (int x = 0; x < width; ++x, in += kBytes) {
        const std::uint32_t cover = in[3];
        const auto share = [&](std::uint8_t c) { return (c * cover + kFull / 2) / kFull; };
        const std::uint32_t argb =
            cover << 24U | share(in[2]) << 16U | share(in[1]) << 8U | share(in[0]);
        std::memcpy(row + static_cast<std::ptrdiff_t>(x) * kBytes, &argb, kBytes);
      }
    }
    cairo_surface_mark_dirty(to);
  }

  void path(const std::vector<PagePoint>& points, bool closed) {
    cairo_move_to(cairo_, points.front().x_mm, points.front().y_mm);
    for (std::size_t i = 1; i < points.size(); ++i) {
      cairo_line_to(cairo_, points[i].x_mm, points[i].y_mm);
    }
    if (closed) cairo_close_path(cairo_);
  }

  cairo_t* cairo_;
  UnitsPerMm units_;
  Type& regular_;
  Type& bold_;
};

}  // namespace

struct SheetFonts::Loaded {
  ConfigPtr config;
  Type regular;
  Type bold;
  explicit Loaded(ConfigPtr fonts)
      : config(std::move(fonts)), regular(config.get(), false), bold(config.get(), true) {}
};

SheetFonts::SheetFonts(std::unique_ptr<Loaded> loaded) : loaded_(std::move(loaded)) {}
SheetFonts::SheetFonts(SheetFonts&&) noexcept = default;
SheetFonts& SheetFonts::operator=(SheetFonts&&) noexcept = default;
SheetFonts::~SheetFonts() = default;

Result<SheetFonts> SheetFonts::load() {
  const Problem no_font{
      Code::kCannotBeAnswered, "No font is installed, so no sheet can be drawn.",
      "Install the Inter or the DejaVu fonts (Debian: fonts-inter, fonts-dejavu-core).", ""};
  ConfigPtr config(FcInitLoadConfigAndFonts());
  if (config == nullptr) return no_font;
  SheetFonts fonts(std::make_unique<Loaded>(std::move(config)));
  const Type& regular = fonts.loaded_->regular;
  const Type& bold = fonts.loaded_->bold;
  if (!regular.usable() || !bold.usable()) return no_font;
  std::vector<Note> notes;
  if (!regular.own() || !bold.own()) {
    notes.push_back(
        {"Neither the Inter nor the DejaVu Sans font is installed, so the sheet's text "
         "is set in another one.",
         false});
  }
  return {std::move(fonts), std::move(notes)};
}

void SheetFonts::paint(cairo_t* cairo, const PageDrawing& page, double units_per_mm) {
  cairo_save(cairo);
  const UnitsPerMm units{units_per_mm * page.stretch_x, units_per_mm * page.stretch_y};
  cairo_scale(cairo, units.x, units.y);
  PagePainter painter(loaded_->regular, cairo, units, loaded_->bold);
  for (const DrawnGroup& group : page.groups) {
    cairo_save(cairo);
    if (group.clip) {
      cairo_rectangle(cairo, group.clip->left_mm, group.clip->top_mm, group.clip->width(),
                      group.clip->height());
      cairo_clip(cairo);
    }
    for (const Drawn& item : group.items) std::visit(painter, item);
    cairo_restore(cairo);
  }
  cairo_restore(cairo);
}

}  // namespace potshadow
