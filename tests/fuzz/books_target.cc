// SPDX-License-Identifier: MIT
// The book of cameras, the printers and the window's settings, as files in the user's folders. The
// first byte says which.
#include <unistd.h>

#include <array>
#include <filesystem>
#include <fstream>

#include "fuzz/must.h"
#include "project/camera_book.h"
#include "project/printer_book.h"
#include "project/settings.h"

namespace {

using namespace potshadow;

// One folder for the process, in memory where there is such a place.
const UserFolders& folders() {
  static const UserFolders made = [] {
    const std::filesystem::path shared = "/dev/shm";
    const std::filesystem::path base =
        (std::filesystem::exists(shared) ? shared : std::filesystem::temp_directory_path()) /
        ("potshadow-fuzz-" + std::to_string(::getpid()));
    std::filesystem::create_directories(base);
    std::atexit([] {
      std::error_code ignored;
      std::filesystem::remove_all(folders().config, ignored);
    });
    return UserFolders{base, base, base};
  }();
  return made;
}

template <class Load, class Save>
void there_and_back(const char* name, std::string_view bytes, Load load, Save save) {
  const std::filesystem::path file = folders().config / name;
  std::ofstream(file, std::ios::binary) << bytes;
  const auto book = load(folders());
  if (!book.ok()) {
    fuzz::must_be_said(book.problem());
  } else {
    fuzz::must(save(*book, folders()).ok(), "what was read can be written");
    const auto again = load(folders());
    fuzz::must(again.ok(), "what was written can be read");
    fuzz::must(*again == *book, "what was written is read as the same");
  }
  std::filesystem::remove(file);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view text = fuzz::text_of(data + 1, size - 1);
  switch (data[0] % 3) {
    case 0:
      there_and_back("cameras.json", text, load_camera_book, save_camera_book);
      break;
    case 1:
      there_and_back("printers.json", text, load_printer_book, save_printer_book);
      break;
    default:
      there_and_back("settings.json", text, load_settings, save_settings);
  }
  return 0;
}
