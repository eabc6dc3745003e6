// SPDX-License-Identifier: MIT
#include "desktop/session/facts_cache.h"

#include <system_error>

namespace potshadow {

std::optional<FactsCache::Stamp> FactsCache::stamp_of(const std::filesystem::path& file) {
  std::error_code size_error;
  std::error_code time_error;
  const Stamp stamp{std::filesystem::file_size(file, size_error),
                    std::filesystem::last_write_time(file, time_error)};
  if (size_error || time_error) return std::nullopt;
  return stamp;
}

Result<PhotoFacts> FactsCache::probe(const std::filesystem::path& file) {
  const std::optional<Stamp> stamp = stamp_of(file);
  if (stamp) {
    const std::scoped_lock lock(mutex_);
    const auto found = entries_.find(file.string());
    if (found != entries_.end() && found->second.stamp == *stamp) return found->second.facts;
  }
  Result<PhotoFacts> facts = probe_photo(file);
  remember(file, stamp, facts);
  return facts;
}

void FactsCache::remember(const std::filesystem::path& file, const std::optional<Stamp>& before,
                          const Result<PhotoFacts>& facts) {
  if (!facts.ok() || !before || stamp_of(file) != before) return;
  const std::scoped_lock lock(mutex_);
  entries_.insert_or_assign(file.string(), Entry{*before, facts});
}

}  // namespace potshadow
