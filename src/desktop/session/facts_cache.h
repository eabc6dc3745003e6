// SPDX-License-Identifier: MIT
// Facts of photographs that were read before, so that no file is read again for every estimate.
#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "core/result.h"
#include "photo/probe.h"

namespace potshadow {

// A file is taken for unchanged while its size and its time of change are the same. Failures are
// not remembered. May be used from several threads.
class FactsCache {
 public:
  // What tells one state of a file from another.
  struct Stamp {
    std::uintmax_t bytes = 0;
    std::filesystem::file_time_type changed;
    friend bool operator==(const Stamp&, const Stamp&) = default;
  };

  // Returns the stamp of the file as it is now, or nothing where there is none.
  static std::optional<Stamp> stamp_of(const std::filesystem::path& file);

  // Returns the facts as probe_photo does, and fails as it does. Slow where they are not
  // remembered.
  Result<PhotoFacts> probe(const std::filesystem::path& file);

  // Remembers facts found otherwise. `before` is the stamp from before the file was read; where the
  // file has changed since, nothing is remembered.
  void remember(const std::filesystem::path& file, const std::optional<Stamp>& before,
                const Result<PhotoFacts>& facts);

 private:
  struct Entry {
    Stamp stamp;
    Result<PhotoFacts> facts;
  };
  std::mutex mutex_;
  std::map<std::string, Entry> entries_;
};

}  // namespace potshadow
