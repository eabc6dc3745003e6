// SPDX-License-Identifier: MIT
// A description of the window in words and numbers, for programs that cannot see it.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "core/result.h"

// Where the environment variable POTSHADOW_DESCRIBE names a file, the window writes to it, whole,
// after every frame that changed something: a JSON object with the fields that were told here and
// "widgets", a list of name, x, y, width, height, enabled. Window pixels from the top left corner.
namespace potshadow {

class Description {
 public:
  // An empty path: nothing is collected or written.
  explicit Description(std::filesystem::path file) : file_(std::move(file)) {}

  bool wanted() const { return !file_.empty(); }
  void begin_frame();

  void widget(const std::string& name, double x, double y, double width, double height,
              bool enabled);
  void tell(const std::string& key, const std::string& text);
  void tell(const std::string& key, const char* text) { tell(key, std::string(text)); }
  void tell(const std::string& key, double number);
  void tell(const std::string& key, int number) { tell(key, static_cast<double>(number)); }
  void tell(const std::string& key, bool value);
  // A group of numbers: { "height": 235.1, ... }.
  void tell(const std::string& key, const std::map<std::string, double>& numbers);

  // Writes the description if it differs from the last one. Fails with kFileUnwritable.
  Result<Done> end_frame();

 private:
  std::filesystem::path file_;
  std::map<std::string, std::string> fields_;  // key, JSON text
  std::string widgets_;
  std::string last_;
};

}  // namespace potshadow
