// SPDX-License-Identifier: MIT
#include "project/json_text.h"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <set>
#include <vector>

#include "core/text.h"

namespace potshadow {
namespace {

// Reads characters and counts them, so that a stop can be placed.
class CountingIterator {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(const char* at, std::size_t* count) : at_(at), count_(count) {}
  reference operator*() const { return *at_; }
  CountingIterator& operator++() {
    ++at_;
    if (count_ != nullptr) ++*count_;
    return *this;
  }
  CountingIterator operator++(int) {
    const CountingIterator before = *this;
    ++*this;
    return before;
  }
  friend bool operator==(const CountingIterator& a, const CountingIterator& b) {
    return a.at_ == b.at_;
  }

 private:
  const char* at_;
  std::size_t* count_;
};

// Thrown out of the library's callback and caught below.
struct Stop {
  Problem problem;
};

// Returns "line 3, column 7" of the character at `offset`.
std::string place_text(std::string_view text, std::size_t offset) {
  const std::string_view before = text.substr(0, std::min(offset, text.size()));
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t line_start = before.rfind('\n') + 1;  // npos + 1 is 0
  const std::size_t column = 1 + display_width(before.substr(line_start));
  return "line " + std::to_string(line) + ", column " + std::to_string(column);
}

bool is_plain(const Json& value) { return !value.is_structured() || value.empty(); }

std::string scalar_text(const Json& value) {
  return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

void write_value(const Json& value, std::size_t indent, std::string& out);

// Writes a list or an object on one line.
std::string one_line(const Json& value) {
  std::string out = value.is_object() ? "{ " : "[";
  bool first = true;
  for (const auto& item : value.items()) {
    if (!first) out += ", ";
    first = false;
    if (value.is_object()) out += scalar_text(Json(item.key())) + ": ";
    out += item.value().is_structured() && !item.value().empty() ? one_line(item.value())
                                                                 : scalar_text(item.value());
  }
  return out + (value.is_object() ? " }" : "]");
}

void write_value(const Json& value, std::size_t indent, std::string& out) {
  if (is_plain(value)) {
    out += scalar_text(value);
    return;
  }
  constexpr std::size_t kLineWidth = 100;
  constexpr std::size_t kMostOnOneLine = 6;
  if (value.size() <= kMostOnOneLine && std::all_of(value.begin(), value.end(), is_plain)) {
    const std::string line = one_line(value);
    if (indent + line.size() <= kLineWidth) {
      out += line;
      return;
    }
  }
  out += value.is_object() ? "{" : "[";
  bool first = true;
  for (const auto& item : value.items()) {
    out += first ? "\n" : ",\n";
    first = false;
    out.append(indent + 2, ' ');
    if (value.is_object()) out += scalar_text(Json(item.key())) + ": ";
    write_value(item.value(), indent + 2, out);
  }
  out += "\n";
  out.append(indent, ' ');
  out += value.is_object() ? "}" : "]";
}

}  // namespace

Result<Json> parse_json(std::string_view text, const JsonFile& file) {
  const std::string named = "The " + std::string(file.kind) + " '" + std::string(file.name) + "'";
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    return Problem{Code::kBadFormat, named + " is empty.",
                   "Check that it is the right file, or go back to a saved copy.", ""};
  }
  std::size_t count = 0;
  const auto bad_at = [&](std::size_t offset, const std::string& what, const std::string& detail) {
    return Problem{Code::kBadFormat, named + " " + what + " at " + place_text(text, offset) + ".",
                   "Mend that place in a text editor, or go back to a saved copy.", detail};
  };
  const auto last_read = [&] { return count == 0 ? 0 : count - 1; };

  std::vector<std::set<std::string>> keys;
  std::size_t values = 0;
  const auto watch = [&](int depth, Json::parse_event_t event, Json& parsed) {
    using Event = Json::parse_event_t;
    if (event == Event::object_start) keys.emplace_back();
    if (event == Event::object_end) keys.pop_back();
    if (event == Event::key && !keys.back().insert(parsed.get<std::string>()).second) {
      throw Stop{bad_at(last_read(), "has the key '" + parsed.get<std::string>() + "' twice", "")};
    }
    if (depth > kMostJsonDepth) throw Stop{bad_at(last_read(), "is nested too deeply", "")};
    if (++values > kMostJsonValues) {
      throw Stop{Problem{Code::kFileTooLarge, named + " holds more values than such a file does.",
                         "Check that it is the right file.", ""}};
    }
    return true;
  };
  try {
    const char* const end = text.data() + text.size();
    return Json::parse(CountingIterator(text.data(), &count), CountingIterator(end, nullptr),
                       watch);
  } catch (const Stop& stop) {
    return stop.problem;
  } catch (const Json::parse_error& error) {
    return bad_at(error.byte == 0 ? 0 : error.byte - 1, "is not sound JSON", error.what());
  } catch (const Json::exception& error) {
    // The reader stands behind the number.
    std::size_t start = last_read();
    constexpr std::string_view kOfNumbers = "+-.0123456789Ee";
    while (start > 0 && kOfNumbers.find(text[start - 1]) != std::string_view::npos) --start;
    return bad_at(start, "holds a number too large to use", error.what());
  }
}

std::string json_text(const Json& value) {
  std::string out;
  write_value(value, 0, out);
  return out + "\n";
}

}  // namespace potshadow
