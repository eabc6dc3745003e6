// SPDX-License-Identifier: MIT
#include "cli/typed_options.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <cmath>

#include "core/typed_number.h"

namespace potshadow {

LineRead read_options(const OptionSlots& slots, const std::vector<std::string>& arguments,
                      const std::string& see_help, std::optional<UsageProblem>& wrong) {
  CLI::App app;
  if (slots.names != nullptr) app.add_option("NAME", *slots.names);
  for (const auto& [option, typed] : slots.values) app.add_option(option, *typed);
  for (const auto& [option, flag] : slots.flags) app.add_flag(option, *flag);
  try {
    // CLI11 takes the arguments last first.
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
  } catch (const CLI::CallForHelp&) {
    return LineRead::kHelpWanted;
  } catch (const CLI::Error& error) {
    wrong = UsageProblem{
        "The command line could not be understood (" + std::string(error.what()) + ").", see_help};
  }
  return LineRead::kDone;
}

std::optional<double> OptionReader::number(const char* option, const Typed& text) {
  if (!text) return std::nullopt;
  const std::optional<double> value = typed_number(*text);
  if (value) return value;
  complain("The value '" + *text + "' of " + option + " is not a number.",
           std::string("Write it as in ") + option + " 94.2.");
  return std::nullopt;
}

std::optional<double> OptionReader::length(const char* option, const Typed& text, LengthUnit unit) {
  const std::optional<double> value = number(option, text);
  if (!value) return value;
  return *value / in_unit(Mm{1.0}, unit);
}

std::optional<std::size_t> OptionReader::count(const char* option, const Typed& text) {
  const std::optional<double> value = number(option, text);
  if (!value) return std::nullopt;
  constexpr double kMost = 10'000.0;
  if (*value >= 1.0 && *value <= kMost && std::floor(*value) == *value) {
    return static_cast<std::size_t>(*value);
  }
  complain("The value '" + *text + "' of " + option + " is not a whole number from 1 on.",
           see_help_);
  return std::nullopt;
}

std::optional<Stage> OptionReader::stage(const char* option, const Typed& text) {
  if (!text) return std::nullopt;
  for (const Stage stage : {Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry, Stage::kFired}) {
    if (*text == stage_words(stage) || *text == stage_key(stage)) return stage;
  }
  complain("The stage '" + *text + "' is not known.",
           std::string("Use ") + option + " wet, leather-hard, bone-dry or fired.");
  return std::nullopt;
}

LengthUnit OptionReader::unit(const Typed& text) {
  for (const LengthUnit unit : {LengthUnit::kMm, LengthUnit::kCm, LengthUnit::kInch}) {
    if (!text || *text == unit_name(unit)) return unit;
  }
  complain("The unit '" + *text + "' is not known.", "Use --units mm, --units cm or --units in.");
  return LengthUnit::kMm;
}

Paper OptionReader::paper(const Typed& text) {
  if (!text || *text == "a4") return Paper::kA4;
  if (*text == "letter") return Paper::kLetter;
  complain("The paper '" + *text + "' is not known.", "Use --paper a4 or --paper letter.");
  return Paper::kA4;
}

std::string OptionReader::one_name(const std::vector<std::string>& names,
                                   const std::string& words) {
  if (names.size() == 1) return names.front();
  complain(
      names.empty() ? "No " + words + " was named." : "'" + names[1] + "' was not expected here.",
      see_help_);
  return "";
}

std::string OptionReader::output(const Typed& text) {
  if (text && !text->empty()) return *text;
  complain("It was not said where the file goes.", "Add --output and the name of the file.");
  return "";
}

void OptionReader::complain(std::string what, std::string next) {
  if (!wrong_) wrong_ = UsageProblem{std::move(what), std::move(next)};
}

}  // namespace potshadow
