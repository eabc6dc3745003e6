// SPDX-License-Identifier: MIT
#include "project/typed_vessel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <optional>
#include <utility>

#include "core/text.h"
#include "core/typed_number.h"
#include "estimate/proportion_kinds.h"
#include "project/answer_text.h"
#include "project/one_line.h"
#include "project/typed_bench.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

constexpr double kLeastMm = 5.0;  // a pot smaller or larger than this was typed in another unit
constexpr double kMostMm = 3000.0;
constexpr double kUsualDrawingMm =
    1.0;                                // how well an outline is drawn (common practice, no source)
constexpr double kHangsTogether = 0.1;  // of the outline's length
constexpr double kGapFrom = 0.15;       // of its length: between neighbouring points
constexpr double kGapBulge = 0.1;       // of the gap
constexpr double kCapacityTolerance = 0.02;  // of it, as when it is poured
constexpr std::size_t kControls = 24;
constexpr std::size_t kRows = 61;

// The pot at one stage, as typed.
struct TypedStage {
  std::optional<Stage> stage;
  std::vector<MeasuredSize> sizes;
  std::vector<ProfilePoint> outline;
  double outline_tolerance_mm = kUsualDrawingMm;
  bool holds_anything() const { return !sizes.empty() || !outline.empty(); }
};

struct TypedPot {
  std::string name;
  LengthUnit unit = LengthUnit::kMm;
  std::optional<ProjectClay> clay;
  std::vector<TypedStage> stages = std::vector<TypedStage>(1);
};

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

// --- From what was typed to a pot ---------------------------------------------------------------

double uniform_sd(double tolerance) { return tolerance / std::numbers::sqrt3; }

// How far over a gap the outline may bulge at a place along it, as a standard deviation.
double gap_sd(const std::vector<double>& along, double at) {
  const double length = along.back();
  for (std::size_t i = 1; i < along.size(); ++i) {
    const double gap = along[i] - along[i - 1];
    if (at < along[i - 1] || at > along[i] || gap < kGapFrom * length) continue;
    const double part = (at - along[i - 1]) / gap;
    return uniform_sd(4.0 * part * (1.0 - part) * kGapBulge * gap);
  }
  return 0.0;
}

std::vector<double> lengths_along(const std::vector<ProfilePoint>& points) {
  std::vector<double> along{0.0};
  for (std::size_t i = 1; i < points.size(); ++i) {
    along.push_back(along.back() + std::hypot(points[i].radius_mm - points[i - 1].radius_mm,
                                              points[i].height_mm - points[i - 1].height_mm));
  }
  return along;
}

Form form_of(const Profile& profile, const TypedStage& typed) {
  Form form;
  form.rows = profile.sampled(kRows);
  const std::vector<double> along = lengths_along(form.rows);
  const std::vector<double> typed_along = lengths_along(typed.outline);
  const double near = kHangsTogether * along.back();
  const auto n = static_cast<Eigen::Index>(kRows);
  Eigen::VectorXd sd(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const double part = along[static_cast<std::size_t>(i)] / along.back();
    sd(i) = std::hypot(uniform_sd(typed.outline_tolerance_mm),
                       gap_sd(typed_along, part * typed_along.back()));
  }
  form.covariance.resize(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const double apart =
          (along[static_cast<std::size_t>(i)] - along[static_cast<std::size_t>(j)]) / near;
      form.covariance(i, j) = sd(i) * sd(j) * std::exp(-0.5 * apart * apart);
    }
  }
  return form;
}

double sd_near(const Form& form, double height_mm) {
  std::size_t nearest = 0;
  for (std::size_t i = 1; i < form.rows.size(); ++i) {
    if (std::abs(form.rows[i].height_mm - height_mm) <
        std::abs(form.rows[nearest].height_mm - height_mm)) {
      nearest = i;
    }
  }
  const auto k = static_cast<Eigen::Index>(nearest);
  return std::sqrt(form.covariance(k, k));
}

// How far up and down from a widest or narrowest place the radius stays within `tolerance` of it.
double sd_of_height(const Form& form, double height_mm, double radius_mm, double tolerance) {
  double low = height_mm;
  double high = height_mm;
  for (const ProfilePoint& row : form.rows) {
    if (std::abs(row.radius_mm - radius_mm) > tolerance) continue;
    low = std::min(low, row.height_mm);
    high = std::max(high, row.height_mm);
  }
  return std::max(uniform_sd(tolerance), uniform_sd((high - low) / 2.0));
}

// Puts the sizes in that are not typed.
void read_off(const Sizes& sizes, const Form& form, double tolerance, TypedStage& stage) {
  const auto add = [&](SizeName name, double value, double sd) {
    const bool typed = std::any_of(stage.sizes.begin(), stage.sizes.end(),
                                   [&](const MeasuredSize& size) { return size.name == name; });
    if (typed) return;
    MeasuredSize size;
    size.name = name;
    size.measured = normal_measured(value, sd);
    stage.sizes.push_back(size);
  };
  const auto across = [&](SizeName name, double diameter, double height) {
    add(name, diameter, 2.0 * sd_near(form, height));
  };
  add(SizeName::kHeight, sizes.height_mm, uniform_sd(tolerance));
  across(SizeName::kMaxDiameter, sizes.max_diameter_mm, sizes.height_of_max_mm);
  add(SizeName::kHeightOfMax, sizes.height_of_max_mm,
      sd_of_height(form, sizes.height_of_max_mm, sizes.max_diameter_mm / 2.0, tolerance));
  if (sizes.neck) {
    across(SizeName::kNeckDiameter, *sizes.neck_diameter_mm, *sizes.height_of_neck_mm);
    add(SizeName::kHeightOfNeck, *sizes.height_of_neck_mm,
        sd_of_height(form, *sizes.height_of_neck_mm, *sizes.neck_diameter_mm / 2.0, tolerance));
  }
  across(SizeName::kRimDiameter, sizes.rim_diameter_mm, sizes.height_mm);
  if (sizes.base_diameter_mm) across(SizeName::kBaseDiameter, *sizes.base_diameter_mm, 0.0);
}

void add_proportions(ComparedVessel& vessel) {
  for (const ProportionKind& ratio : kProportionKinds) {
    const MeasuredSize* const above = find_size(vessel, ratio.above);
    const MeasuredSize* const below = find_size(vessel, ratio.below);
    if (above == nullptr || below == nullptr) continue;
    const double value = above->measured.value / below->measured.value;
    const double sd = value * std::hypot(above->measured.sd / above->measured.value,
                                         below->measured.sd / below->measured.value);
    vessel.proportions.push_back({ratio.key, ratio.words, normal_measured(value, sd)});
  }
}

std::string with_words(const MeasuredSize& size) {
  return std::string(size_words(size.name)) + " " + fixed_text(size.measured.value, 1) + " mm";
}

// What sizes of one pot cannot be.
std::optional<Problem> contradiction(const ComparedVessel& vessel) {
  const auto next = "Check the figures and the unit in '" + on_one_line(vessel.file) + "'.";
  for (const MeasuredSize& size : vessel.sizes) {
    if (size.name == SizeName::kCapacity) continue;
    const bool small_part = size.name != SizeName::kHeight && size.name != SizeName::kMaxDiameter;
    if ((small_part || size.measured.value >= kLeastMm) && size.measured.value <= kMostMm) continue;
    return Problem{Code::kBadValue,
                   with_words(size) + " is no size of a pot. Is it in another unit?", next, ""};
  }
  struct Order {
    SizeName less;
    SizeName more;
  };
  constexpr std::array<Order, 5> kOrders{{{SizeName::kNeckDiameter, SizeName::kMaxDiameter},
                                          {SizeName::kRimDiameter, SizeName::kMaxDiameter},
                                          {SizeName::kBaseDiameter, SizeName::kMaxDiameter},
                                          {SizeName::kHeightOfMax, SizeName::kHeight},
                                          {SizeName::kHeightOfNeck, SizeName::kHeight}}};
  for (const Order& order : kOrders) {
    const MeasuredSize* const less = find_size(vessel, order.less);
    const MeasuredSize* const more = find_size(vessel, order.more);
    if (less == nullptr || more == nullptr) continue;
    const double doubt = kNormal95 * std::hypot(less->measured.sd, more->measured.sd);
    if (less->measured.value - more->measured.value <= doubt) continue;
    return Problem{Code::kBadValue,
                   with_words(*less) + " is more than " + lower_first(with_words(*more)) +
                       ", which cannot be of one pot.",
                   next, ""};
  }
  return std::nullopt;
}

// The outline as a curve; base first.
Result<Profile> curve_of(TypedStage& typed) {
  std::vector<ProfilePoint>& outline = typed.outline;
  if (outline.front().height_mm > outline.back().height_mm) {
    std::reverse(outline.begin(), outline.end());
  }
  // Heights are counted from the bench.
  const double foot = outline.front().height_mm;
  for (ProfilePoint& point : outline) point.height_mm -= foot;
  return Profile::through(outline, kControls);
}

Result<ComparedVessel> vessel_of(TypedStage typed, const TypedPot& pot, const std::string& file,
                                 Stage stage) {
  ComparedVessel vessel;
  vessel.title =
      pot.name.empty() ? on_one_line(std::filesystem::path(file).stem().string()) : pot.name;
  vessel.file = file;
  vessel.stage = typed.stage.value_or(stage);
  constexpr std::size_t kFewest = 4;
  if (!typed.outline.empty() && typed.outline.size() < kFewest) {
    return Problem{Code::kTooFewMarks,
                   "The profile in '" + on_one_line(file) + "' has fewer than four places.",
                   "Give more heights and radii from the foot to the rim.", ""};
  }
  if (!typed.outline.empty()) {
    const Result<Profile> curve = curve_of(typed);
    if (!curve) return curve.problem();
    vessel.form = form_of(*curve, typed);
    vessel.kind = kind_words(*curve);
    const Sizes sizes = sizes_of(*curve);
    read_off(sizes, vessel.form, typed.outline_tolerance_mm, typed);
    const std::vector<double> along = lengths_along(typed.outline);
    for (std::size_t i = 1; i < along.size(); ++i) {
      if (along[i] - along[i - 1] < kGapFrom * along.back()) continue;
      vessel.notes.push_back({"Between " + fixed_text(typed.outline[i - 1].height_mm, 0) + " and " +
                                  fixed_text(typed.outline[i].height_mm, 0) +
                                  " mm up the profile has a gap, and is taken straight there.",
                              true});
    }
    const auto widest =
        std::find_if(typed.sizes.begin(), typed.sizes.end(),
                     [](const MeasuredSize& size) { return size.name == SizeName::kMaxDiameter; });
    const double apart = widest->measured.value - sizes.max_diameter_mm;
    const double doubt = kNormal95 * std::hypot(widest->measured.sd,
                                                2.0 * sd_near(vessel.form, sizes.height_of_max_mm));
    if (std::abs(apart) > doubt) {
      vessel.notes.push_back({"The typed maximum diameter and the profile's (" +
                                  fixed_text(sizes.max_diameter_mm, 1) + " mm) disagree.",
                              true});
    }
  }
  vessel.sizes = std::move(typed.sizes);
  std::sort(vessel.sizes.begin(), vessel.sizes.end(),
            [](const MeasuredSize& a, const MeasuredSize& b) { return a.name < b.name; });
  if (auto problem = contradiction(vessel)) return *problem;
  add_proportions(vessel);
  return vessel;
}

}  // namespace

bool names_typed_vessel(const std::string& file) {
  std::string ending = std::filesystem::path(file).extension().string();
  for (char& c : ending) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return ending == ".txt" || ending == ".csv";
}

Result<std::vector<ComparedVessel>> typed_vessels(std::string_view text, const std::string& file,
                                                  Stage stage, const Result<ClayBook>& book) {
  if (text.find('\0') != std::string_view::npos) {
    return Problem{Code::kBadFormat, "'" + on_one_line(file) + "' is no text.",
                   "Give a text with a line for each size, as 'height = 235 ± 2'.", ""};
  }
  TypedReader reader(file);
  if (auto problem = reader.read(text)) return *problem;
  std::optional<ProjectClayFigures> clay;
  if (reader.pot().clay) {
    Project project;
    project.clay = reader.pot().clay;
    const bool by_record = !project.clay->record.empty() && !project.clay->shrinkage_percent;
    if (by_record && !book) return book.problem();
    const auto found = project_clay(project, book ? *book : ClayBook());
    if (!found) return found.problem();
    clay = *found;
  }
  std::vector<ComparedVessel> vessels;
  for (const TypedStage& typed : reader.pot().stages) {
    if (!typed.holds_anything()) continue;
    Result<ComparedVessel> vessel = vessel_of(typed, reader.pot(), file, stage);
    if (!vessel) return vessel.problem();
    vessels.push_back(std::move(vessel).value());
    vessels.back().clay = clay;
  }
  if (vessels.empty()) {
    return Problem{Code::kTooFewMarks, "'" + on_one_line(file) + "' gives no size and no profile.",
                   "Write a line for each size, as 'height = 235 ± 2'.", ""};
  }
  return vessels;
}

}  // namespace potshadow
