// SPDX-License-Identifier: MIT
#include "photo/exif.h"

#include <libexif/exif-byte-order.h>
#include <libexif/exif-data.h>
#include <libexif/exif-utils.h>

#include <cctype>
#include <cmath>
#include <limits>
#include <memory>

namespace potshadow {
namespace {

struct ExifRelease {
  void operator()(ExifData* data) const { exif_data_unref(data); }
};
using ExifOwner = std::unique_ptr<ExifData, ExifRelease>;

// Bounds of what makes sense; beyond them a figure is an error of the writer. The longest lenses
// sold are below 2 m, the widest equivalents above 4 mm; a sensor pixel is 0.3 to 200 µm.
constexpr double kLeastFocalMm = 0.5;
constexpr double kMostFocalMm = 5000.0;
constexpr double kLeastFocal35Mm = 4.0;
constexpr double kLeastPerMm = 5.0;
constexpr double kMostPerMm = 3300.0;
constexpr double kMostDistanceMm = 1e6;  // 1 km, far beyond any display case
constexpr double kMostZoom = 1000.0;

constexpr std::size_t kLongestText = 128;
// libexif stops here too (a JPEG segment holds no more), and its sizes are of type unsigned int.
constexpr std::size_t kLongestBlock = 65'534 - 6;

ExifOwner load(std::string_view block) {
  ExifOwner data(exif_data_new());
  if (!data) return data;
  // Otherwise libexif fills in entries the standard asks for, with values nobody measured.
  exif_data_unset_option(data.get(), EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_set_option(data.get(), EXIF_DATA_OPTION_DONT_CHANGE_MAKER_NOTE);
  std::string marked("Exif\0\0", 6);
  marked += block.substr(0, kLongestBlock);
  exif_data_load_data(data.get(), reinterpret_cast<const unsigned char*>(marked.data()),
                      static_cast<unsigned>(marked.size()));
  return data;
}

// One block, with reads that check type and length.
class Block {
 public:
  explicit Block(ExifData* data) : data_(data), order_(exif_data_get_byte_order(data)) {}

  std::string text(ExifIfd directory, ExifTag tag) const {
    const ExifEntry* found = entry(directory, tag, EXIF_FORMAT_ASCII);
    if (!found) return {};
    std::string text;
    for (unsigned i = 0; i < found->size && text.size() < kLongestText; ++i) {
      const unsigned char byte = found->data[i];
      if (byte == 0) break;
      text += byte >= 0x20 && byte <= 0x7E ? static_cast<char>(byte) : '?';
    }
    const std::size_t first = text.find_first_not_of(' ');
    if (first == std::string::npos) return {};
    return text.substr(first, text.find_last_not_of(' ') - first + 1);
  }

  std::optional<std::uint32_t> whole_number(ExifIfd directory, ExifTag tag) const {
    if (const ExifEntry* found = entry(directory, tag, EXIF_FORMAT_SHORT)) {
      return exif_get_short(found->data, order_);
    }
    if (const ExifEntry* found = entry(directory, tag, EXIF_FORMAT_LONG)) {
      return exif_get_long(found->data, order_);
    }
    return std::nullopt;
  }

  // Returns a fraction's value where it is within [least, most].
  std::optional<double> fraction(ExifIfd directory, ExifTag tag, double least, double most) const {
    const ExifEntry* found = entry(directory, tag, EXIF_FORMAT_RATIONAL);
    if (!found) return std::nullopt;
    const ExifRational ratio = exif_get_rational(found->data, order_);
    if (ratio.denominator == 0) return std::nullopt;
    const double value = static_cast<double>(ratio.numerator) / ratio.denominator;
    if (!(value >= least && value <= most)) return std::nullopt;
    return value;
  }

 private:
  // Returns the entry where it is of this format and holds at least one value.
  const ExifEntry* entry(ExifIfd directory, ExifTag tag, ExifFormat format) const {
    const ExifEntry* found = exif_content_get_entry(data_->ifd[directory], tag);
    if (!found || found->format != format || !found->data || found->components < 1 ||
        found->size < exif_format_get_size(format)) {
      return nullptr;
    }
    return found;
  }

  ExifData* data_;
  ExifByteOrder order_;
};

// Returns millimetres in FocalPlaneResolutionUnit; 1 (no unit) and unknown ones give nothing.
std::optional<double> resolution_unit_mm(std::uint32_t unit) {
  switch (unit) {
    case 2:
      return 25.4;  // inch, also the default
    case 3:
      return 10.0;  // centimetre
    case 4:
      return 1.0;  // millimetre, outside the standard but seen in files
    default:
      return std::nullopt;
  }
}

std::optional<double> per_mm(const Block& block, ExifTag tag) {
  const auto unit_mm = resolution_unit_mm(
      block.whole_number(EXIF_IFD_EXIF, EXIF_TAG_FOCAL_PLANE_RESOLUTION_UNIT).value_or(2));
  if (!unit_mm) return std::nullopt;
  const auto per_unit =
      block.fraction(EXIF_IFD_EXIF, tag, kLeastPerMm * *unit_mm, kMostPerMm * *unit_mm);
  if (!per_unit) return std::nullopt;
  return *per_unit / *unit_mm;
}

std::optional<int> pixels(const Block& block, ExifTag tag) {
  const auto number = block.whole_number(EXIF_IFD_EXIF, tag);
  if (!number || *number == 0 ||
      *number > static_cast<std::uint32_t>(std::numeric_limits<std::int32_t>::max())) {
    return std::nullopt;
  }
  return static_cast<int>(*number);
}

// Returns "2024-05-31 14:05:09" for EXIF's "2024:05:31 14:05:09", and "" for anything else.
std::string date_text(std::string exif_date) {
  constexpr std::string_view kPattern = "0000:00:00 00:00:00";
  if (exif_date.size() != kPattern.size()) return {};
  for (std::size_t i = 0; i < kPattern.size(); ++i) {
    const bool digit = std::isdigit(static_cast<unsigned char>(exif_date[i])) != 0;
    if (kPattern[i] == '0' ? !digit : exif_date[i] != kPattern[i]) return {};
  }
  if (exif_date.starts_with("0000")) return {};  // a clock that was never set
  exif_date[4] = '-';
  exif_date[7] = '-';
  return exif_date;
}

}  // namespace

ExifFacts read_exif(std::string_view block_bytes) {
  ExifFacts facts;
  if (block_bytes.size() < 14) return facts;  // a TIFF header and an empty directory
  const ExifOwner data = load(block_bytes);
  if (!data) return facts;
  const Block block(data.get());

  const auto focal_35mm = block.whole_number(EXIF_IFD_EXIF, EXIF_TAG_FOCAL_LENGTH_IN_35MM_FILM);
  if (focal_35mm && *focal_35mm >= kLeastFocal35Mm && *focal_35mm <= kMostFocalMm) {
    facts.focal_35mm = *focal_35mm;
  }
  if (const auto focal =
          block.fraction(EXIF_IFD_EXIF, EXIF_TAG_FOCAL_LENGTH, kLeastFocalMm, kMostFocalMm)) {
    facts.focal_length = Mm{*focal};
  }
  facts.focal_plane_x_per_mm = per_mm(block, EXIF_TAG_FOCAL_PLANE_X_RESOLUTION);
  facts.focal_plane_y_per_mm = per_mm(block, EXIF_TAG_FOCAL_PLANE_Y_RESOLUTION);
  // In metres; 0 means unknown, and a numerator of all ones infinity.
  if (const auto metres = block.fraction(EXIF_IFD_EXIF, EXIF_TAG_SUBJECT_DISTANCE, 1e-3,
                                         kMostDistanceMm / 1000.0)) {
    facts.subject_distance = Mm{*metres * 1000.0};
  }
  const auto zoom = block.fraction(EXIF_IFD_EXIF, EXIF_TAG_DIGITAL_ZOOM_RATIO, 0.0, kMostZoom);
  if (zoom && *zoom > 1.0) facts.digital_zoom = zoom;  // 0 and 1 mean "not used"
  facts.pixel_width = pixels(block, EXIF_TAG_PIXEL_X_DIMENSION);
  facts.pixel_height = pixels(block, EXIF_TAG_PIXEL_Y_DIMENSION);

  const auto orientation = block.whole_number(EXIF_IFD_0, EXIF_TAG_ORIENTATION);
  if (orientation && *orientation >= 1 && *orientation <= 8) {
    facts.orientation = static_cast<int>(*orientation);
  }
  facts.make = block.text(EXIF_IFD_0, EXIF_TAG_MAKE);
  facts.model = block.text(EXIF_IFD_0, EXIF_TAG_MODEL);
  facts.lens = block.text(EXIF_IFD_EXIF, EXIF_TAG_LENS_MODEL);
  facts.taken = date_text(block.text(EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL));
  return facts;
}

bool swaps_sides(int orientation) { return orientation >= 5 && orientation <= 8; }

}  // namespace potshadow
