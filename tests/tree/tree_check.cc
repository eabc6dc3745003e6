// SPDX-License-Identifier: MIT
#include "tree/tree_check.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string_view>

namespace potshadow::tree {
namespace {

constexpr std::string_view kLicence = "SPDX-License-Identifier: MIT";
constexpr int kMostHeaderLines = 200;  // a longer header is two modules

// The part diagram of DEVELOPERS.md: what each part may include besides itself.
const std::map<std::string, std::set<std::string>>& allowed_parts() {
  static const std::map<std::string, std::set<std::string>> kAllowed = {
      {"core", {}},
      {"geometry", {"core"}},
      {"photo", {"core", "geometry"}},
      {"outline", {"core", "geometry", "photo"}},
      {"vessel", {"core", "geometry"}},
      {"estimate", {"core", "geometry", "photo", "outline", "vessel"}},
      {"clay", {"core", "geometry", "vessel"}},
      {"patterns", {"core", "geometry", "vessel", "clay"}},
      {"unroll", {"core", "geometry", "vessel", "estimate", "clay", "patterns"}},
      {"exports", {"core", "geometry", "vessel", "clay", "patterns"}},
      {"sheets", {"core", "geometry", "vessel", "clay", "patterns"}},
      {"compare", {"core", "geometry", "vessel"}},
      {"project",
       {"core", "geometry", "photo", "outline", "vessel", "estimate", "clay", "patterns", "sheets",
        "compare"}},
      {"cli",
       {"core", "geometry", "photo", "outline", "vessel", "estimate", "clay", "patterns", "sheets",
        "compare", "project", "exports", "unroll"}},
      {"desktop",
       {"core", "geometry", "photo", "outline", "vessel", "estimate", "clay", "patterns", "sheets",
        "compare", "project", "exports", "unroll"}}};
  return kAllowed;
}

// An outside library: how its includes begin, how its names begin, and who may use it.
struct Library {
  std::string name;
  std::vector<std::string> includes;
  std::vector<std::string> names;
  std::set<std::string> parts;           // in any file
  std::set<std::string> parts_inside;    // in .cc files only
  std::set<std::string> parts_publicly;  // also in headers that other parts read
};

const std::vector<Library>& libraries() {
  static const std::vector<Library> kLibraries = {
      {"OpenCV",
       {"opencv2/"},
       {"cv::"},
       {"photo", "outline", "unroll"},
       {"geometry"},
       {"photo", "outline", "unroll"}},
      {"Ceres", {"ceres/", "glog/"}, {"ceres::"}, {"estimate"}, {}, {}},
      {"Cairo",
       {"cairo", "fontconfig/", "ft2build.h", "freetype"},
       {"cairo_", "Fc", "FT_"},
       {"sheets"},
       {},
       {}},
      {"nlohmann_json", {"nlohmann/"}, {"nlohmann::"}, {"project"}, {}, {}},
      {"CLI11", {"CLI/"}, {"CLI::"}, {"cli"}, {}, {}},
      {"Dear ImGui", {"imgui", "backends/imgui"}, {"ImGui", "ImVec"}, {"desktop"}, {}, {}},
      {"GLFW", {"GLFW/", "GL/"}, {"GLFW", "glfw"}, {"desktop"}, {}, {}},
      {"Nettle", {"nettle/"}, {"sha256_ctx"}, {"core"}, {}, {}},
      {"libexif", {"libexif/"}, {"ExifData", "ExifEntry"}, {"photo"}, {}, {}},
      {"libheif", {"libheif/"}, {"heif_", "heif::"}, {"photo"}, {}, {}}};
  return kLibraries;
}

// C++20 and C headers, and those of POSIX.
bool is_system_header(const std::string& name) {
  static const std::set<std::string> kPosix = {
      "dirent.h", "dlfcn.h",   "fcntl.h",   "fenv.h",    "getopt.h", "grp.h",    "locale.h",
      "poll.h",   "pthread.h", "pwd.h",     "sched.h",   "signal.h", "spawn.h",  "stdio.h",
      "stdlib.h", "string.h",  "strings.h", "termios.h", "time.h",   "malloc.h", "unistd.h"};
  if (name.starts_with("sys/") || kPosix.contains(name)) return true;
  // A C++ header has letters, digits and _ only.
  return std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
  });
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

struct Include {
  int line = 0;
  std::string name;
  bool quoted = false;
};

std::vector<Include> includes_of(const std::string& text) {
  std::vector<Include> found;
  int number = 0;
  for (const std::string& line : lines_of(text)) {
    ++number;
    std::string packed;
    std::copy_if(line.begin(), line.end(), std::back_inserter(packed),
                 [](char c) { return c != ' ' && c != '\t' && c != '\r'; });
    constexpr std::string_view kStart = "#include";
    if (!packed.starts_with(kStart) || packed.size() < kStart.size() + 2) continue;
    const char open = packed[kStart.size()];
    const std::size_t end = packed.find(open == '<' ? '>' : '"', kStart.size() + 1);
    if ((open != '<' && open != '"') || end == std::string::npos) {
      found.push_back({number, packed.substr(kStart.size()), false});
      continue;
    }
    found.push_back(
        {number, packed.substr(kStart.size() + 1, end - kStart.size() - 1), open == '"'});
  }
  return found;
}

bool is_header(const SourceFile& file) { return file.path.ends_with(".h"); }
bool is_cpp(const SourceFile& file) { return is_header(file) || file.path.ends_with(".cc"); }

// "photo" for "src/photo/decode.h"; nothing for files that belong to no part.
std::optional<std::string> part_of(const SourceFile& file) {
  constexpr std::string_view kSources = "src/";
  if (!file.path.starts_with(kSources) || !is_cpp(file)) return std::nullopt;
  const std::size_t end = file.path.find('/', kSources.size());
  if (end == std::string::npos) return std::nullopt;
  return file.path.substr(kSources.size(), end - kSources.size());
}

std::string first_folder(const std::string& path) { return path.substr(0, path.find('/')); }

bool is_eigen(const std::string& name) {
  return name.starts_with("Eigen/") || name.starts_with("unsupported/Eigen/");
}

const Library* library_of(const std::string& include) {
  for (const Library& library : libraries()) {
    for (const std::string& start : library.includes) {
      if (include.starts_with(start)) return &library;
    }
  }
  return nullptr;
}

bool is_word_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

// Whether `word` stands in `line` with no letter before it and, if `whole`, none after it.
bool has_word(const std::string& line, const std::string& word, bool whole) {
  for (std::size_t at = line.find(word); at != std::string::npos; at = line.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    const bool starts = at == 0 || !is_word_letter(line[at - 1]);
    const bool ends = !whole || end == line.size() || !is_word_letter(line[end]);
    if (starts && ends) return true;
  }
  return false;
}

// Whether `line` holds an absolute path into `folder`.
bool has_path_into(const std::string& line, const std::string& folder) {
  const std::string path = "/" + folder + "/";
  for (std::size_t at = line.find(path); at != std::string::npos; at = line.find(path, at + 1)) {
    const char before = at == 0 ? ' ' : line[at - 1];
    // A letter, or the end of a variable, makes it the middle of a longer path.
    if (!is_word_letter(before) && before != '.' && before != '-' && before != '}') return true;
  }
  return false;
}

std::string before_comment(const std::string& line) { return line.substr(0, line.find("//")); }

}  // namespace

std::vector<SourceFile> read_tree(const std::filesystem::path& root) {
  namespace fs = std::filesystem;
  std::vector<SourceFile> files;
  for (auto it = fs::recursive_directory_iterator(root); it != fs::recursive_directory_iterator();
       ++it) {
    const std::string name = it->path().filename().string();
    if (it->is_directory()) {
      const bool hidden = name.starts_with(".") && name != ".ci";
      const bool build = it.depth() == 0 && name.starts_with("build");
      if (hidden || build || name == "__pycache__") it.disable_recursion_pending();
      continue;
    }
    if (!it->is_regular_file()) continue;
    std::ifstream stream(it->path(), std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
    if (text.find('\0') != std::string::npos) continue;
    files.push_back({fs::relative(it->path(), root).generic_string(), std::move(text)});
  }
  std::sort(files.begin(), files.end(),
            [](const SourceFile& a, const SourceFile& b) { return a.path < b.path; });
  return files;
}

std::vector<Finding> check_includes(const std::vector<SourceFile>& tree) {
  std::set<std::string> paths;
  for (const SourceFile& file : tree) paths.insert(file.path);
  std::vector<Finding> found;
  for (const SourceFile& file : tree) {
    const auto part = part_of(file);
    if (!part) continue;
    const auto allowed = allowed_parts().find(*part);
    if (allowed == allowed_parts().end()) {
      found.push_back({file.path, 0, "'" + *part + "' is no part of the diagram"});
      continue;
    }
    const std::vector<Include> includes = includes_of(file.text);
    if (!is_header(file)) {
      const std::string own = file.path.substr(4, file.path.size() - 4 - 3) + ".h";
      const bool first = !includes.empty() && includes.front().name == own;
      if (paths.contains("src/" + own) && !first) {
        found.push_back({file.path, 0, "\"" + own + "\" is not its first include"});
      }
    }
    for (const Include& include : includes) {
      const auto wrong = [&](const std::string& what) {
        found.push_back({file.path, include.line, what});
      };
      const std::string shown = "'" + include.name + "'";
      if (include.quoted) {
        const std::string other = first_folder(include.name);
        if (!allowed_parts().contains(other) || other == include.name) {
          wrong(shown + " does not start with a part's name");
        } else if (other != *part && !allowed->second.contains(other)) {
          wrong(*part + " must not include " + other + ", but includes " + shown);
        }
        continue;
      }
      if (const Library* library = library_of(include.name)) {
        const bool inside = !is_header(file) && library->parts_inside.contains(*part);
        if (!library->parts.contains(*part) && !inside) {
          wrong(library->name + " must not be used here, but " + shown + " is included");
        }
      } else if (!is_eigen(include.name) && !is_system_header(include.name)) {
        wrong(shown + " belongs to no library that the project knows");
      }
    }
  }
  return found;
}

std::vector<Finding> check_public_headers(const std::vector<SourceFile>& tree) {
  std::map<std::string, const SourceFile*> headers;  // by "part/name.h"
  for (const SourceFile& file : tree) {
    if (part_of(file) && is_header(file)) headers[file.path.substr(4)] = &file;
  }
  // What another part includes is public, and so is all that a public header includes.
  std::vector<std::string> waiting;
  for (const SourceFile& file : tree) {
    const auto part = part_of(file);
    if (!part) continue;
    for (const Include& include : includes_of(file.text)) {
      if (include.quoted && first_folder(include.name) != *part) waiting.push_back(include.name);
    }
  }
  std::set<std::string> open;
  while (!waiting.empty()) {
    const std::string name = waiting.back();
    waiting.pop_back();
    if (!headers.contains(name) || !open.insert(name).second) continue;
    for (const Include& include : includes_of(headers[name]->text)) {
      if (include.quoted) waiting.push_back(include.name);
    }
  }
  std::vector<Finding> found;
  for (const std::string& name : open) {
    const SourceFile& file = *headers[name];
    int number = 0;
    for (const std::string& line : lines_of(file.text)) {
      ++number;
      const std::string code = before_comment(line);
      for (const Library& library : libraries()) {
        if (library.parts_publicly.contains(first_folder(name))) continue;
        const auto& starts = library.names;
        const bool named = std::any_of(starts.begin(), starts.end(), [&](const std::string& start) {
          return has_word(code, start, false);
        });
        const std::vector<Include> includes = includes_of(line);
        const bool included = !includes.empty() && !includes.front().quoted &&
                              library_of(includes.front().name) == &library;
        if (named || included) {
          found.push_back(
              {file.path, number, "other parts read this header, and it shows " + library.name});
        }
      }
    }
  }
  return found;
}

std::vector<Finding> check_form(const std::vector<SourceFile>& tree) {
  std::vector<Finding> found;
  for (const SourceFile& file : tree) {
    const std::vector<std::string> lines = lines_of(file.text);
    const auto line_is = [&](std::size_t at, const std::string& text) {
      return lines.size() > at && lines[at] == text;
    };
    const auto wrong = [&](int line, const std::string& what) {
      found.push_back({file.path, line, what});
    };
    if (is_cpp(file)) {
      if (!line_is(0, "// " + std::string(kLicence))) wrong(1, "the first line is no licence line");
    }
    if (is_header(file)) {
      if (lines.size() < 2 || !lines[1].starts_with("// "))
        wrong(2, "the header's purpose is missing");
      if (std::count(lines.begin(), lines.end(), "#pragma once") != 1) {
        wrong(0, "#pragma once is missing or comes twice");
      }
      if (std::ssize(lines) > kMostHeaderLines) wrong(0, "the header has more than 200 lines");
    }
    const bool script =
        file.path.ends_with(".sh") || file.path.ends_with(".py") || file.path.starts_with(".ci/");
    if (script && !line_is(0, "# " + std::string(kLicence)) &&
        !line_is(1, "# " + std::string(kLicence))) {
      wrong(1, "neither of the first two lines is the licence line");
    }
  }
  return found;
}

std::vector<Finding> check_words(const std::vector<SourceFile>& tree) {
  // Written in two halves, so that this file passes its own check.
  const std::array<std::string, 4> unfinished = {
      "TO"
      "DO",
      "FIX"
      "ME",
      "HA"
      "CK",
      "XX"
      "X"};
  const std::array<std::string, 8> folders = {
      "ho"
      "me",
      "ro"
      "ot",
      "wo"
      "rk",
      "Us"
      "ers",
      "mn"
      "t",
      "op"
      "t",
      "sr"
      "v",
      "tm"
      "p"};
  std::vector<Finding> found;
  for (const SourceFile& file : tree) {
    int number = 0;
    for (const std::string& line : lines_of(file.text)) {
      ++number;
      for (const std::string& word : unfinished) {
        if (has_word(line, word, true)) found.push_back({file.path, number, "says " + word});
      }
      for (const std::string& folder : folders) {
        if (has_path_into(line, folder)) {
          found.push_back({file.path, number, "names a folder in /" + folder});
        }
      }
    }
  }
  return found;
}

std::vector<Finding> check_built(const std::vector<SourceFile>& tree) {
  // What each CMakeLists.txt names, without folders: {"src/core", "text.cc"}.
  std::set<std::pair<std::string, std::string>> named;
  for (const SourceFile& file : tree) {
    const std::filesystem::path path = file.path;
    if (path.filename() != "CMakeLists.txt") continue;
    std::string spaced = file.text;
    std::replace_if(
        spaced.begin(), spaced.end(),
        [](char c) { return c == '(' || c == ')' || c == '"' || c == '/'; }, ' ');
    std::istringstream stream(spaced);
    for (std::string word; stream >> word;) named.emplace(path.parent_path().string(), word);
  }
  std::vector<Finding> found;
  for (const SourceFile& file : tree) {
    if (!file.path.ends_with(".cc")) continue;
    const std::filesystem::path path = file.path;
    const std::string name = path.filename().string();
    // It may be named in its own folder or, being a test, beside its part or for all tests.
    std::vector<std::string> folders = {path.parent_path().string()};
    if (file.path.starts_with("tests/")) {
      folders.push_back("src" + folders.front().substr(5));
      folders.push_back("tests");
    }
    if (std::none_of(folders.begin(), folders.end(), [&](const std::string& folder) {
          return named.contains({folder, name});
        })) {
      found.push_back({file.path, 0, "no CMakeLists.txt names this file"});
    }
  }
  return found;
}

std::string listing(const std::vector<Finding>& findings) {
  std::string text;
  for (const Finding& finding : findings) {
    text += finding.path + ":" + std::to_string(finding.line) + ": " + finding.what + "\n";
  }
  return text;
}

}  // namespace potshadow::tree
