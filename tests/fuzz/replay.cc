// SPDX-License-Identifier: MIT
// Runs a fuzz target without a fuzzer: over every file of its corpus, and over files made of them
// by chance with a fixed seed. Any compiler builds it.
//
//   fuzz_TARGET FOLDER [CHANGED]   CHANGED: how many changed inputs, 2000 if not given
//
// Ends with 0, or aborts where the target does; the input is then in fuzz-crash-TARGET.
#include <algorithm>
#include <array>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "fuzz/must.h"

namespace {

std::string running;  // the input that runs now, for the handler
const char* crash_file = "fuzz-crash";

void keep_input(int signal) {
  if (std::FILE* file = std::fopen(crash_file, "wb")) {
    std::fwrite(running.data(), 1, running.size(), file);
    std::fclose(file);
  }
  std::signal(signal, SIG_DFL);
  std::raise(signal);
}

void run(const std::string& input) {
  running = input;
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

// Pieces that texts and files take badly.
constexpr std::array<std::string_view, 24> kPieces{"\"",
                                                   "\\",
                                                   "{",
                                                   "}",
                                                   "[",
                                                   "]]",
                                                   "null",
                                                   "1e999",
                                                   "-0",
                                                   "<",
                                                   "&",
                                                   "&#0;",
                                                   "%%c",
                                                   "\\U+",
                                                   "\n",
                                                   "\r\n",
                                                   "\t",
                                                   "\x1b[",
                                                   "\xff",
                                                   "\xc3\x28",
                                                   "\xe2\x80\xae",
                                                   "99999999999999999999",
                                                   "<!--",
                                                   ")"};

template <class Random>
std::string changed(std::string text, const std::string& other, Random& random) {
  const auto below = [&](std::size_t end) { return end == 0 ? 0 : random() % end; };
  for (auto changes = 1 + random() % 6; changes > 0; --changes) {
    const std::size_t at = below(text.size() + 1);
    const std::size_t length = std::min<std::size_t>(1 + random() % 16, text.size() - at);
    switch (random() % 6) {
      case 0:
        if (at < text.size()) text[at] = static_cast<char>(random() % 256);
        break;
      case 1:
        text.erase(at, length);
        break;
      case 2:
        text.insert(at, text.substr(at, length));
        break;
      case 3:
        text.insert(at, kPieces[random() % kPieces.size()]);
        break;
      case 4:
        text.insert(at, other.substr(below(other.size() + 1), 1 + random() % 64));
        break;
      default:
        if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << random() % 8));
    }
  }
  if (random() % 16 == 0) text.resize(below(text.size() + 1));
  return text;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2 || argc > 3) {
    std::fputs("Usage: fuzz_TARGET FOLDER [CHANGED]\n", stderr);
    return 2;
  }
  const std::string name = "fuzz-crash-" + std::filesystem::path(argv[1]).filename().string();
  crash_file = name.c_str();
  for (const int signal : {SIGABRT, SIGSEGV, SIGFPE, SIGBUS, SIGILL})
    std::signal(signal, keep_input);
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(argv[1]))
    paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> corpus;
  for (const auto& path : paths) {
    std::ifstream stream(path, std::ios::binary);
    corpus.emplace_back(std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>());
  }
  if (corpus.empty()) {
    std::fputs("The folder holds no input.\n", stderr);
    return 2;
  }
  run("");
  for (const std::string& input : corpus) run(input);
  constexpr long kChanged = 2000;
  const long wanted = argc == 3 ? std::atol(argv[2]) : kChanged;
  std::mt19937 random(20261130);
  for (long i = 0; i < wanted; ++i) {
    const std::string& other = corpus[random() % corpus.size()];
    run(changed(corpus[static_cast<std::size_t>(i) % corpus.size()], other, random));
  }
  std::printf("%zu inputs of the corpus, %ld changed ones: none failed\n", corpus.size(), wanted);
  return 0;
}
