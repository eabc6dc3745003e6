// SPDX-License-Identifier: MIT
#include "cli/typed_options.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <cmath>

#include "core/typed_number.h"

namespace potshadow {
namespace {

// Returns the text after the last ": ", where CLI11 puts what it complains about.
std::string after_colon(const std::string& text) {
  const std::size_t colon = text.rfind(": ");
  return colon == std::string::npos ? text : text.substr(colon + 2);
}

// Returns what is wrong with a line, from the library's exception that is being handled.
UsageProblem not_understood(const std::string& see_help) {
  try {
    throw;
  } catch (const CLI::ExtrasError& error) {
    return {"'" + after_colon(error.what()) + "' was not expected here.", see_help};
  } catch (const CLI::ArgumentMismatch& error) {
    const std::string text = error.what();
    return {"The option " + text.substr(0, text.find(':')) +
                " takes one value, and it was given none or several.",
            see_help};
  } catch (const CLI::Error& error) {
    return {"The command line could not be understood (" + std::string(error.what()) + ").",
            see_help};
  }
}

}  // namespace

LineRead read_options(const OptionSlots& slots, const std::vector<std::string>& arguments,
                      const std::string& see_help, std::optional<UsageProblem>& wrong) {
  CLI::App app;
  if (slots.names != nullptr) app.add_option("NAME", *slots.names);
  for (const auto& [option, typed] : slots.values) app.add_option(option, *typed);
  for (const auto& [option, flag] : slots.flags) app.add_flag(option, *flag);
  for (const auto& [option, list] : slots.lists) {
    app.add_option(option, *list)->allow_extra_args(false);
  }
  try {
    // CLI11 takes the arguments last first.
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
  } catch (const CLI::CallForHelp&) {
    return LineRead::kHelpWanted;
  } catch (const CLI::Error&) {
    wrong = not_understood(see_help);
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

std::string OptionReader::file(const char* option, const Typed& text) {
  if (!text) return "";
  if (text->empty()) {
    complain(std::string("The file name after ") + option + " is empty.", see_help_);
  }
  return *text;
}

void OptionReader::names(const std::string& words, const std::vector<std::string>& names) {
  if (names.empty()) complain("No " + words + " was named.", see_help_);
  if (std::find(names.begin(), names.end(), "") != names.end()) {
    complain("The name of a " + words + " is empty.", see_help_);
  }
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
  if (!text) return Paper::kA4;
  if (const std::optional<Paper> paper = paper_of(*text)) return *paper;
  complain("The paper '" + *text + "' is not known.",
           "Use --paper a4, a3, letter, legal or tabloid.");
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

std::optional<double> OptionReader::scale(const char* option, const Typed& text) {
  if (!text) return std::nullopt;
  const std::string number = text->starts_with("1:") ? text->substr(2) : *text;
  const std::optional<double> times = typed_number(number);
  constexpr double kSmallest = 100.0;
  if (times && *times >= 1.0 && *times <= kSmallest) return 1.0 / *times;
  complain("The value '" + *text + "' of " + option + " is no scale of a drawing.",
           std::string("Write it as in ") + option + " 1:2.");
  return std::nullopt;
}

std::vector<std::string> OptionReader::words_of_list(const std::string& text) {
  std::vector<std::string> words{""};
  for (const char c : text) {
    if (c == ',') {
      words.emplace_back();
    } else {
      words.back().push_back(c);
    }
  }
  return words;
}

void OptionReader::complain(std::string what, std::string next) {
  if (!wrong_) wrong_ = UsageProblem{std::move(what), std::move(next)};
}

}  // namespace potshadow
