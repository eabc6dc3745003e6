// SPDX-License-Identifier: MIT
// Reading the keys of a project file's objects, each of its kind, for this part only.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/result.h"
#include "project/json_text.h"
#include "project/project.h"

// A key that is missing or null stands for its default. What is wrong is told once, the first of
// it, and reading goes on with defaults.
namespace potshadow::internal {

// More points or pieces than anyone marks; the rest of the program may count on these bounds.
inline constexpr std::size_t kMostPhotos = 1000;
inline constexpr std::size_t kMostReferences = 100;
inline constexpr std::size_t kMostMarks = 20'000;  // of one kind; the estimate takes as many in all
inline constexpr std::size_t kMostStrokes = 1000;
inline constexpr std::size_t kMostBands = 100;
inline constexpr std::size_t kMostBenchStages = 4;
inline constexpr int kMostQuarterTurns = 3;  // four are none
inline constexpr int kMostCells = 10'000;    // of a grid, across and up

inline std::string counted(std::string_view word, std::size_t index) {
  return std::string(word) + " " + std::to_string(index + 1);
}

// What a place is called in messages: "photo 1, reference 1 of 'jar.potshadow'".
inline std::string in_file(const std::string& place, std::string_view file_name) {
  const std::string file = "'" + std::string(file_name) + "'";
  return place.empty() ? file : place + " of " + file;
}

// Keeps the first thing that went wrong; reading goes on with defaults.
struct Trouble {
  std::string_view file_name;
  std::optional<Problem> first;

  void add(Code code, const std::string& place, const std::string& what, const std::string& next) {
    if (first) return;
    first = Problem{code, "In " + in_file(place, file_name) + ", " + what + ".", next, ""};
  }
};

// Reads the keys of one object, each under its default.
class Reader {
 public:
  // `place` is empty for the whole project. Requires an object.
  Reader(const Json& object, std::string place, Trouble& trouble)
      : object_(object), place_(std::move(place)), trouble_(trouble) {}

  const std::string& place() const { return place_; }
  KeptObject kept() const;

  std::optional<double> number(const char* key) const;
  double number(const char* key, double otherwise) const { return number(key).value_or(otherwise); }

  // Returns whether the key is there at all, empty or not.
  bool has(const std::string& key) const { return object_.contains(key); }

  std::optional<std::int64_t> whole_number(const char* key) const;

  // Returns the whole number under `key`, which must lie between `least` and `most`.
  int whole_number(const char* key, int otherwise, int least, int most) const;

  bool flag(const char* key, bool otherwise) const;

  std::string text(const char* key) const;

  std::vector<PhotoPoint> points(const char* key, std::size_t most) const;

  // As points(), each with its standard uncertainty after it.
  std::vector<TracedPoint> traced_points(const char* key, std::size_t most) const;

  // Returns two points, or none where the key is missing or its list is empty.
  std::optional<std::array<PhotoPoint, 2>> two_points(const char* key) const;

  std::vector<ProjectReference::Crossing> crossings(const char* key) const;

  // Returns the readers of a list of objects; `word` names one of them.
  std::vector<Reader> objects(const char* key, std::string_view word, std::size_t most) const;

  // Returns the reader of an object inside this one, or none where the key is missing.
  std::optional<Reader> object(const char* key) const;

  void complain(const std::string& what, const std::string& next) const;

  static constexpr const char* kMend = "Mend it in a text editor, or go back to a saved copy.";

 private:
  static bool is_whole(double number);

  const Json* find(const char* key) const;

  const Json* find_list(const char* key, const char* expected, std::size_t most) const;

  void wrong_type(const char* key, const char* expected, const Json& value) const;

  const Json& object_;
  std::string place_;
  Trouble& trouble_;
};

}  // namespace potshadow::internal
