// SPDX-License-Identifier: MIT
#include "desktop/words/file_names.h"

#include "core/text.h"

namespace potshadow {
namespace {

// Returns the vessel's name as a file's, without an ending; empty where nothing is left of it.
std::string safe_name(std::string_view vessel_name) {
  constexpr std::string_view kUnsafe = "/\\:*?\"<>|";
  constexpr std::size_t kMostBytes = 120;  // file systems allow 255
  std::string name;
  for (const char c : vessel_name) {
    const auto byte = static_cast<unsigned char>(c);
    const bool safe = byte >= 0x20 && byte != 0x7F && kUnsafe.find(c) == std::string_view::npos;
    name += safe ? c : ' ';
  }
  if (name.size() > kMostBytes) {
    std::size_t end = kMostBytes;
    while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0U) == 0x80U) --end;
    name.resize(end);
  }
  // A leading dot would hide the file, and blanks at the ends are hard to see.
  const std::size_t first = name.find_first_not_of(" .");
  if (first == std::string::npos) return "";
  return name.substr(first, name.find_last_not_of(" .") - first + 1);
}

}  // namespace

std::string project_file_name(std::string_view vessel_name) {
  const std::string name = safe_name(vessel_name);
  return (name.empty() ? "Vessel" : name) + ".potshadow";
}

std::string sheet_file_name(std::string_view vessel_name, std::string_view thing,
                            std::string_view ending) {
  const std::string name = safe_name(vessel_name);
  const std::string what = safe_name(thing);
  return (name.empty() ? what : name + " " + lower_first(what)) + std::string(ending);
}

std::string bench_sheet_file_name(std::string_view vessel_name) {
  const std::string name = safe_name(vessel_name);
  return name.empty() ? "Bench sheet.pdf" : name + " bench sheet.pdf";
}

std::string comparison_file_name(std::string_view vessel_name, std::string_view ending) {
  const std::string name = safe_name(vessel_name);
  return (name.empty() ? "Pots compared" : name + " compared") + std::string(ending);
}

}  // namespace potshadow
