// SPDX-License-Identifier: MIT
#include "photo/tiff.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "photo/bytes.h"

namespace potshadow {
namespace {

constexpr std::uint32_t kNewSubfileType = 0x00FE;
constexpr std::uint32_t kImageWidth = 0x0100;
constexpr std::uint32_t kImageLength = 0x0101;
constexpr std::uint32_t kStripOffsets = 0x0111;
constexpr std::uint32_t kStripByteCounts = 0x0117;
constexpr std::uint32_t kTileOffsets = 0x0144;
constexpr std::uint32_t kTileByteCounts = 0x0145;
constexpr std::uint32_t kExifDirectory = 0x8769;
constexpr std::uint32_t kDngVersion = 0xC612;

// What read_exif looks for: make, model, orientation; and in the EXIF directory date, distances,
// focal figures, pixel sizes and lens.
constexpr std::array<std::uint32_t, 3> kMainTags{0x010F, 0x0110, 0x0112};
constexpr std::array<std::uint32_t, 11> kExifTags{0x9003, 0x9206, 0x920A, 0xA002, 0xA003, 0xA20E,
                                                  0xA20F, 0xA210, 0xA404, 0xA405, 0xA434};
// Longer values are not worth gathering, and 14 of these stay far below 64 KiB.
constexpr std::uint64_t kLongestValue = 1024;

struct Entry {
  std::uint32_t tag = 0;
  std::uint32_t type = 0;
  std::uint32_t count = 0;
  std::uint64_t value_at = 0;
  std::uint64_t value_bytes = 0;
};

struct Directory {
  std::vector<Entry> entries;
  bool whole = false;  // its table lies inside the file
};

// Bytes of one value of each TIFF type, 0 for unknown types.
std::uint64_t type_size(std::uint32_t type) {
  constexpr std::array<std::uint64_t, 14> kSizes{0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4};
  return type < kSizes.size() ? kSizes[type] : 0;
}

Directory read_directory(const ByteReader& reader, std::uint64_t at) {
  Directory directory;
  const auto count = reader.u16(at);
  if (!count) return directory;
  directory.whole = true;
  for (std::uint64_t i = 0; i < *count; ++i) {
    const std::uint64_t entry_at = at + 2 + 12 * i;
    if (!reader.holds(entry_at, 12)) {
      directory.whole = false;
      break;
    }
    Entry entry;
    entry.tag = *reader.u16(entry_at);
    entry.type = *reader.u16(entry_at + 2);
    entry.count = *reader.u32(entry_at + 4);
    entry.value_bytes = type_size(entry.type) * entry.count;
    if (entry.value_bytes == 0) continue;
    entry.value_at = entry.value_bytes <= 4 ? entry_at + 8 : *reader.u32(entry_at + 8);
    // A value outside the file is as good as none; the strips' own entries are asked for later.
    if (reader.holds(entry.value_at, entry.value_bytes)) directory.entries.push_back(entry);
  }
  return directory;
}

const Entry* find(const Directory& directory, std::uint32_t tag) {
  const auto found = std::find_if(directory.entries.begin(), directory.entries.end(),
                                  [&](const Entry& entry) { return entry.tag == tag; });
  return found == directory.entries.end() ? nullptr : &*found;
}

// Returns the i-th value of an entry of whole numbers.
std::optional<std::uint32_t> value(const ByteReader& reader, const Entry& entry, std::uint64_t i) {
  if (i >= entry.count) return std::nullopt;
  if (entry.type == 1) return reader.u8(entry.value_at + i);
  if (entry.type == 3) return reader.u16(entry.value_at + 2 * i);
  if (entry.type == 4 || entry.type == 13) return reader.u32(entry.value_at + 4 * i);
  return std::nullopt;
}

std::optional<std::uint32_t> first_value(const ByteReader& reader, const Directory& directory,
                                         std::uint32_t tag) {
  const Entry* entry = find(directory, tag);
  return entry ? value(reader, *entry, 0) : std::nullopt;
}

// Returns whether the parts of the picture (strips or tiles) all lie inside the file.
bool parts_lie_inside(const ByteReader& reader, const Directory& directory,
                      std::uint32_t offsets_tag, std::uint32_t sizes_tag) {
  const Entry* offsets = find(directory, offsets_tag);
  if (!offsets) return true;
  const Entry* sizes = find(directory, sizes_tag);
  for (std::uint64_t i = 0; i < offsets->count; ++i) {
    const auto offset = value(reader, *offsets, i);
    if (!offset) return false;
    const auto size = sizes ? value(reader, *sizes, i) : std::nullopt;
    if (!reader.holds(*offset, size.value_or(1))) return false;
  }
  return true;
}

// Writes a small TIFF block.
class BlockWriter {
 public:
  explicit BlockWriter(ByteOrder order) : order_(order) {}

  void number(std::uint64_t value, unsigned bytes) {
    for (unsigned i = 0; i < bytes; ++i) {
      const unsigned shift = 8 * (order_ == ByteOrder::kBigEndian ? bytes - 1 - i : i);
      block_ += static_cast<char>((value >> shift) & 0xFFU);
    }
  }
  void text(std::string_view bytes) { block_ += bytes; }
  std::string take() { return std::move(block_); }

  // Writes the wanted entries of `directory`, their values behind them, and, where `link` is given,
  // a link to an EXIF directory that follows at once. `at` is where this directory begins.
  void directory(const ByteReader& reader, const Directory& directory,
                 std::span<const std::uint32_t> wanted, bool link) {
    std::vector<const Entry*> chosen;
    for (const std::uint32_t tag : wanted) {
      const Entry* entry = find(directory, tag);
      if (entry && entry->value_bytes <= kLongestValue) chosen.push_back(entry);
    }
    const std::uint64_t entries = chosen.size() + (link ? 1U : 0U);
    const std::uint64_t values_at = block_.size() + 2 + 12 * entries + 4;
    std::string values;
    number(entries, 2);
    for (const Entry* entry : chosen) {
      number(entry->tag, 2);
      number(entry->type, 2);
      number(entry->count, 4);
      std::string bytes(reader.text(entry->value_at, entry->value_bytes));
      if (bytes.size() <= 4) {
        bytes.resize(4);
        text(bytes);
      } else {
        number(values_at + values.size(), 4);
        values += bytes;
        if (values.size() % 2 != 0) values += '\0';
      }
    }
    if (link) {
      number(kExifDirectory, 2);
      number(4, 2);
      number(1, 4);
      number(values_at + values.size(), 4);
    }
    number(0, 4);
    text(values);
  }

 private:
  std::string block_;
  ByteOrder order_;
};

std::string gather_exif(const ByteReader& reader, ByteOrder order, const Directory& main,
                        const Directory& exif) {
  BlockWriter writer(order);
  writer.text(order == ByteOrder::kBigEndian ? "MM" : "II");
  writer.number(42, 2);
  writer.number(8, 4);
  writer.directory(reader, main, kMainTags, true);
  writer.directory(reader, exif, kExifTags, false);
  return writer.take();
}

}  // namespace

std::optional<TiffHeader> read_tiff_header(std::string_view bytes) {
  const bool big = bytes.starts_with(std::string_view("MM\0*", 4));
  if (!big && !bytes.starts_with(std::string_view("II*\0", 4))) return std::nullopt;
  const ByteOrder order = big ? ByteOrder::kBigEndian : ByteOrder::kLittleEndian;
  const ByteReader reader(bytes, order);
  TiffHeader header;
  const auto main_at = reader.u32(4);
  if (!main_at) return header;
  const Directory main = read_directory(reader, *main_at);
  header.width = first_value(reader, main, kImageWidth).value_or(0);
  header.height = first_value(reader, main, kImageLength).value_or(0);
  header.camera_raw = find(main, kDngVersion) != nullptr ||
                      (first_value(reader, main, kNewSubfileType).value_or(0) & 1U) != 0;
  const bool has_parts =
      find(main, kStripOffsets) != nullptr || find(main, kTileOffsets) != nullptr;
  header.whole = main.whole && has_parts &&
                 parts_lie_inside(reader, main, kStripOffsets, kStripByteCounts) &&
                 parts_lie_inside(reader, main, kTileOffsets, kTileByteCounts);
  Directory exif;
  if (const auto exif_at = first_value(reader, main, kExifDirectory)) {
    exif = read_directory(reader, *exif_at);
  }
  header.exif_block = gather_exif(reader, order, main, exif);
  return header;
}

}  // namespace potshadow
