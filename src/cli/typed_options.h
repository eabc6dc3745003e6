// SPDX-License-Identifier: MIT
// Reading the options of one command: into texts first, then into numbers and lengths.
#pragma once

#include <charconv>
#include <cstddef>
#include <optional>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "core/text.h"
#include "sheets/template_sheet.h"

namespace potshadow {

// A command line that is not understood: one sentence each.
struct UsageProblem {
  std::string what;
  std::string next;
};

// A value as it was typed, or none.
using Typed = std::optional<std::string>;

// Where the options of a command go.
struct OptionSlots {
  std::vector<std::pair<const char*, Typed*>> values{};  // "--wet"
  std::vector<std::pair<const char*, bool*>> flags{};
  std::vector<std::string>* names = nullptr;  // what stands without an option; null if none may
  // Those that may be given more than once.
  std::vector<std::pair<const char*, std::vector<std::string>*>> lists{};
};

enum class LineRead { kDone, kHelpWanted };

// Fills the slots. `wrong` is set where the line is not understood.
LineRead read_options(const OptionSlots& slots, const std::vector<std::string>& arguments,
                      const std::string& see_help, std::optional<UsageProblem>& wrong);

// Turns typed texts into values and remembers the first that is wrong.
class OptionReader {
 public:
  explicit OptionReader(std::string see_help) : see_help_(std::move(see_help)) {}

  std::optional<double> number(const char* option, const Typed& text);
  // Returns millimetres for a length typed in `unit`.
  std::optional<double> length(const char* option, const Typed& text, LengthUnit unit);
  // Returns a whole number from 1 on.
  std::optional<std::size_t> count(const char* option, const Typed& text);
  // Returns the whole number that was given, `otherwise` where none was.
  template <class Whole>
  Whole whole(const char* option, const Typed& text, Whole least, Whole most, Whole otherwise) {
    if (!text) return otherwise;
    Whole value = 0;
    const char* const end = text->data() + text->size();
    const auto [rest, error] = std::from_chars(text->data(), end, value);
    if (error == std::errc{} && rest == end && value >= least && value <= most) return value;
    complain("The value '" + *text + "' of " + option + " is not a whole number from " +
                 std::to_string(least) + " to " + std::to_string(most) + ".",
             see_help_);
    return otherwise;
  }
  // Returns a file name that was given, empty where none was.
  std::string file(const char* option, const Typed& text);
  // Looks at names of which there must be one at least; `words` say of what.
  void names(const std::string& words, const std::vector<std::string>& names);
  // Returns the stage of a pot: "wet", "leather-hard", "bone-dry" or "fired".
  std::optional<Stage> stage(const char* option, const Typed& text);
  LengthUnit unit(const Typed& text);
  Paper paper(const Typed& text);
  // Returns the one name there is; `words` say of what.
  std::string one_name(const std::vector<std::string>& names, const std::string& words);
  std::string output(const Typed& text);
  // Returns the scale of a drawing typed as "1:2", 0.5.
  std::optional<double> scale(const char* option, const Typed& text);
  // Returns what each word of a list "a,b" means; `known` says what may stand there.
  template <class T, class Meaning>
  std::vector<T> list(const char* option, const std::string& text, Meaning meaning,
                      const std::string& known) {
    std::vector<T> found;
    for (const std::string& word : words_of_list(text)) {
      if (const std::optional<T> value = meaning(word)) {
        found.push_back(*value);
      } else {
        complain("The value '" + word + "' of " + option + " is not known.", "Use " + known + ".");
      }
    }
    return found;
  }

  void complain(std::string what, std::string next);
  const std::optional<UsageProblem>& wrong() const { return wrong_; }

 private:
  static std::vector<std::string> words_of_list(const std::string& text);

  std::string see_help_;
  std::optional<UsageProblem> wrong_;
};

}  // namespace potshadow
