// SPDX-License-Identifier: MIT
#include "project/typed_pot.h"

#include <algorithm>
#include <cmath>

#include "core/typed_number.h"
#include "project/one_line.h"
#include "project/typed_bench.h"

namespace potshadow {
namespace {

constexpr double kCapacityTolerance = 0.02;  // of it, as when it is poured

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

// The cells of a line: parted by semicolons or tabs, else by commas, else by spaces.
std::vector<std::string> cells_of(std::string_view line) {
  std::string_view parting = " ";
  for (const std::string_view one : {";", "\t", ","}) {
    if (line.find(one) != std::string_view::npos) {
      parting = one;
      break;
    }
  }
  std::vector<std::string> cells;
  std::size_t from = 0;
  while (from <= line.size()) {
    const std::size_t end = std::min(line.find(parting, from), line.size());
    const std::string_view cell = trimmed(line.substr(from, end - from));
    if (!cell.empty() || parting != " ") cells.emplace_back(cell);
    from = end + 1;
  }
  while (!cells.empty() && cells.back().empty()) cells.pop_back();
  return cells;
}

// Half of what the last digit of a typed number stands for, in the number's own unit.
double half_of_last_digit(std::string_view typed) {
  const std::size_t slash = typed.find('/');
  if (slash != std::string_view::npos) {
    const std::optional<double> below = typed_number(typed.substr(slash + 1));
    return below && *below > 0.0 ? 0.5 / *below : 0.5;
  }
  const std::size_t point = typed.find_first_of(".,");
  if (point == std::string_view::npos) return 0.5;
  std::size_t digits = 0;
  while (point + 1 + digits < typed.size() && typed[point + 1 + digits] >= '0' &&
         typed[point + 1 + digits] <= '9') {
    ++digits;
  }
  return 0.5 * std::pow(10.0, -static_cast<double>(digits));
}

// Reads one text; `problem` says what was not understood.
class TypedReader {
 public:
  explicit TypedReader(const std::string& file) : file_(file) {}

  std::optional<Problem> read(std::string_view text);
  const TypedPot& pot() const { return pot_; }

 private:
  std::optional<Problem> read_line(std::string_view line);
  std::optional<Problem> read_setting(std::string_view key, std::string_view value);
  std::optional<Problem> read_size(std::string_view key, std::string_view value);
  std::optional<Problem> read_point(std::string_view line);
  std::optional<Problem> begin_outline(std::string_view tolerance);
  Problem wrong(const std::string& why) const {
    return {Code::kBadFormat,
            "Line " + std::to_string(line_) + " of '" + on_one_line(file_) +
                "' is not understood: " + why + ".",
            "Write sizes as 'height = 235 ± 2', and 'profile' before lines of height and radius.",
            ""};
  }
  double mm(double in_its_unit) const { return in_its_unit / in_unit(Mm{1.0}, pot_.unit); }

  std::string file_;
  TypedPot pot_;
  std::size_t line_ = 0;
  bool in_outline_ = false;
};

std::optional<Problem> TypedReader::read(std::string_view text) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";  // some editors begin a file so
  if (text.starts_with(kMark)) text.remove_prefix(kMark.size());
  while (!text.empty()) {
    ++line_;
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view whole = text.substr(0, end);
    const std::string_view line = trimmed(whole.substr(0, whole.find('#')));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.empty()) continue;
    if (auto problem = read_line(line)) return problem;
  }
  return std::nullopt;
}

std::optional<Problem> TypedReader::read_line(std::string_view line) {
  if (line.starts_with("profile")) {
    std::string_view rest = trimmed(line.substr(std::string_view("profile").size()));
    for (const std::string_view before : {"=", ",", ";", "\t", "±", "+-"}) {
      if (rest.starts_with(before)) rest = trimmed(rest.substr(before.size()));
    }
    return begin_outline(rest);
  }
  const std::size_t equals = line.find('=');
  if (equals != std::string_view::npos) {
    in_outline_ = false;
    return read_setting(trimmed(line.substr(0, equals)), trimmed(line.substr(equals + 1)));
  }
  const char first = line.front();
  if (in_outline_ && ((first >= '0' && first <= '9') || first == '-' || first == '.')) {
    return read_point(line);
  }
  in_outline_ = false;
  const std::vector<std::string> cells = cells_of(line);
  if (cells.size() < 2) return wrong("it has neither '=' nor cells");
  if (cells[0] == "name")
    return read_setting("name", trimmed(line.substr(line.find(cells[0]) + 5)));
  std::string value = cells[1];
  if (cells.size() > 2) value += "±" + cells[2];
  if (cells.size() > 3) return wrong("it has more than a name, a value and a tolerance");
  return read_setting(cells[0], value);
}

std::optional<Problem> TypedReader::read_setting(std::string_view key, std::string_view value) {
  if (key == "name") {
    pot_.name = on_one_line(value);
    return std::nullopt;
  }
  if (key == "unit") {
    for (const LengthUnit unit : {LengthUnit::kMm, LengthUnit::kCm, LengthUnit::kInch}) {
      if (value != unit_name(unit)) continue;
      pot_.unit = unit;
      return std::nullopt;
    }
    return wrong("'" + on_one_line(value) + "' is no unit; give mm, cm or in");
  }
  if (key == "stage") {
    std::string stage(value);
    std::replace(stage.begin(), stage.end(), '-', '_');
    const std::optional<Stage> found = stage_of_key(stage);
    if (!found) {
      return wrong("'" + on_one_line(value) +
                   "' is no stage of a pot; give wet, leather-hard, bone-dry or fired");
    }
    if (pot_.stages.back().holds_anything()) pot_.stages.emplace_back();
    pot_.stages.back().stage = *found;
    return std::nullopt;
  }
  if (key == "clay") {
    if (!pot_.clay) pot_.clay.emplace();
    pot_.clay->record = on_one_line(value);
    return std::nullopt;
  }
  if (key == "shrinkage") {
    std::size_t parting = value.find("±");
    std::size_t width = std::string_view("±").size();
    if (parting == std::string_view::npos) {
      parting = value.find("+-");
      width = 2;
    }
    const std::optional<double> percent = typed_number(value.substr(0, parting));
    if (!percent) return wrong("a shrinkage is a number, in percent of the wet length");
    if (!pot_.clay) pot_.clay.emplace();
    pot_.clay->shrinkage_percent = *percent;
    if (parting == std::string_view::npos) return std::nullopt;
    const std::optional<double> tolerance = typed_number(value.substr(parting + width));
    if (!tolerance) return wrong("the shrinkage's tolerance is no number");
    pot_.clay->shrinkage_sd_percent = *tolerance / kNormal95;
    return std::nullopt;
  }
  return read_size(key, value);
}

std::optional<Problem> TypedReader::read_size(std::string_view key, std::string_view value) {
  std::string typed(key);
  typed += '=';
  typed += value;
  const Result<BenchSizeReading> read = typed_bench_size(typed, pot_.unit);
  if (!read) return wrong("it is none of the sizes, and no other word of such a file");
  BenchReading reading = read->reading;
  const bool diameter = part_kind_of(read->size) == PartKind::kDiameter;
  if (!reading.tolerance_mm) {
    const bool volume = read->size == SizeName::kCapacity;
    const double digit = half_of_last_digit(trimmed(value));
    reading.tolerance_mm = volume ? std::max(digit, kCapacityTolerance * reading.mm)
                                  : std::max(mm(digit), tolerance_of(reading.tool));
  }
  const Result<Measured> measured = measured_size({reading}, diameter);
  if (!measured) return measured.problem();
  std::vector<MeasuredSize>& sizes = pot_.stages.back().sizes;
  const auto there = std::find_if(sizes.begin(), sizes.end(), [&](const MeasuredSize& size) {
    return size.name == read->size;
  });
  if (there != sizes.end()) return wrong("it gives a size a second time");
  MeasuredSize size;
  size.name = read->size;
  size.measured = *measured;
  sizes.push_back(size);
  return std::nullopt;
}

std::optional<Problem> TypedReader::begin_outline(std::string_view tolerance) {
  TypedStage& stage = pot_.stages.back();
  if (!stage.outline.empty()) return wrong("it begins a second profile at one stage");
  in_outline_ = true;
  if (tolerance.empty()) return std::nullopt;
  const std::optional<double> typed = typed_number(tolerance);
  if (!typed || !(*typed > 0.0)) return wrong("a profile's tolerance is a number above zero");
  stage.outline_tolerance_mm = mm(*typed);
  return std::nullopt;
}

std::optional<Problem> TypedReader::read_point(std::string_view line) {
  const std::vector<std::string> cells = cells_of(line);
  if (cells.size() != 2) return wrong("a place of the profile is a height and a radius");
  const std::optional<double> height = typed_number(cells[0]);
  const std::optional<double> radius = typed_number(cells[1]);
  if (!height || !radius) return wrong("a place of the profile is a height and a radius");
  if (*radius < 0.0) return wrong("a radius is below zero");
  pot_.stages.back().outline.push_back({mm(*radius), mm(*height)});
  return std::nullopt;
}

}  // namespace

Result<TypedPot> read_typed_pot(std::string_view text, const std::string& file) {
  TypedReader reader(file);
  if (auto problem = reader.read(text)) return *problem;
  return reader.pot();
}

}  // namespace potshadow
