// SPDX-License-Identifier: MIT
#include "desktop/window/description.h"

#include <charconv>
#include <cmath>
#include <fstream>
#include <system_error>

namespace potshadow {
namespace {

// Returns a JSON string. Source: RFC 8259, section 7.
std::string quoted(const std::string& text) {
  constexpr char kHex[] = "0123456789abcdef";
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (byte < 0x20) {
      out += "\\u00";
      out += kHex[byte >> 4U];
      out += kHex[byte & 15U];
    } else {
      out += c;
    }
  }
  return out + '"';
}

std::string number_text(double number) {
  if (!std::isfinite(number)) return "null";
  char text[40] = {};
  const auto [end, error] = std::to_chars(text, text + sizeof text, number);
  return error == std::errc{} ? std::string(text, end) : "null";
}

}  // namespace

void Description::begin_frame() {
  fields_.clear();
  widgets_.clear();
}

void Description::widget(const std::string& name, double x, double y, double width, double height,
                         bool enabled) {
  if (!wanted()) return;
  if (!widgets_.empty()) widgets_ += ",\n";
  widgets_ += "{\"name\":" + quoted(name) + ",\"x\":" + number_text(x) +
              ",\"y\":" + number_text(y) + ",\"width\":" + number_text(width) +
              ",\"height\":" + number_text(height) +
              ",\"enabled\":" + (enabled ? "true" : "false") + "}";
}

void Description::tell(const std::string& key, const std::string& text) {
  if (wanted()) fields_[key] = quoted(text);
}

void Description::tell(const std::string& key, double number) {
  if (wanted()) fields_[key] = number_text(number);
}

void Description::tell(const std::string& key, bool value) {
  if (wanted()) fields_[key] = value ? "true" : "false";
}

void Description::tell(const std::string& key, const std::map<std::string, double>& numbers) {
  if (!wanted()) return;
  std::string text = "{";
  for (const auto& [name, number] : numbers) {
    if (text.size() > 1) text += ",";
    text += quoted(name) + ":" + number_text(number);
  }
  fields_[key] = text + "}";
}

Result<Done> Description::end_frame() {
  if (!wanted()) return Done{};
  std::string text = "{";
  for (const auto& [key, value] : fields_) text += quoted(key) + ":" + value + ",\n";
  text += "\"widgets\":[" + widgets_ + "]}\n";
  if (text == last_) return Done{};
  last_ = text;
  // Renamed into place, so that a reader never sees half of it; nothing waits for the disk.
  std::filesystem::path part = file_;
  part += ".part";
  std::ofstream stream(part, std::ios::binary | std::ios::trunc);
  stream << text;
  stream.close();
  std::error_code error;
  if (stream) std::filesystem::rename(part, file_, error);
  if (stream && !error) return Done{};
  return Problem{Code::kFileUnwritable, "The description could not be written.",
                 "Let POTSHADOW_DESCRIBE name a file in a folder that can be written to.",
                 error.message()};
}

}  // namespace potshadow
