// SPDX-License-Identifier: MIT
#include "cli/run_program.h"

#include <fcntl.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "core/temporary_folder.h"

namespace potshadow {
namespace {

bool redirect(const char* path, int to) {
  const int file = ::open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  return file >= 0 && ::dup2(file, to) == to && ::close(file) == 0;
}

}  // namespace

std::string content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

Ran run_program(const std::filesystem::path& folder, const std::vector<std::string>& arguments,
                const RunWishes& wishes) {
  const TemporaryFolder caught;
  const std::string out =
      wishes.standard_output.empty() ? (caught.path() / "out").string() : wishes.standard_output;
  const std::string err = (caught.path() / "err").string();
  // Everything the child needs is made before it exists.
  std::vector<std::string> words{wishes.program.empty() ? POTSHADOW_PROGRAM
                                                        : wishes.program.string()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);
  std::vector<std::string> settings = wishes.environment;
  std::vector<char*> added;
  for (std::string& setting : settings) added.push_back(setting.data());
  const std::string place = folder.string();

  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("cannot start a process");
  if (child == 0) {
    bool ready = ::chdir(place.c_str()) == 0;
    ready = ready && redirect(out.c_str(), STDOUT_FILENO) && redirect(err.c_str(), STDERR_FILENO);
    for (char* setting : added) ready = ready && ::putenv(setting) == 0;
    if (wishes.most_file_bytes > 0) {
      const rlimit limit{wishes.most_file_bytes, wishes.most_file_bytes};
      ready = ready && ::setrlimit(RLIMIT_FSIZE, &limit) == 0;
    }
    if (ready) ::execv(argv[0], argv.data());
    ::_exit(127);
  }
  int status = 0;
  while (::waitpid(child, &status, 0) < 0) {
    if (errno != EINTR) throw std::runtime_error("lost a process");
  }
  Ran ran;
  if (WIFEXITED(status)) ran.exit_code = WEXITSTATUS(status);
  if (wishes.standard_output.empty()) ran.out = content(out);
  ran.err = content(err);
  return ran;
}

}  // namespace potshadow
