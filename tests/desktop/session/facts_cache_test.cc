// SPDX-License-Identifier: MIT
#include "desktop/session/facts_cache.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "core/temporary_folder.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

const fs::path kSamples = POTSHADOW_SOURCE_DIR "/samples";

TEST(FactsCache, RemembersAFileUntilItChanges) {
  const TemporaryFolder folder;
  const fs::path file = folder.path() / "case.jpg";
  fs::copy_file(kSamples / "shelf-jar.jpg", file);
  FactsCache cache;
  const Result<PhotoFacts> first = cache.probe(file);
  ASSERT_TRUE(first.ok());
  EXPECT_EQ(*first, *probe_photo(file));

  // What is remembered is told from what is read by a fact that no file has.
  PhotoFacts invented = *first;
  invented.sha256 = "remembered";
  cache.remember(file, FactsCache::stamp_of(file), invented);
  EXPECT_EQ(cache.probe(file)->sha256, "remembered");

  fs::copy_file(kSamples / "low-bowl.jpg", file, fs::copy_options::overwrite_existing);
  EXPECT_EQ(*cache.probe(file), *probe_photo(file));

  fs::remove(file);
  ASSERT_FALSE(cache.probe(file).ok());
  EXPECT_EQ(cache.probe(file).problem().code, Code::kFileMissing);
}

TEST(FactsCache, AChangeOfTimeAloneIsAChange) {
  const TemporaryFolder folder;
  const fs::path file = folder.path() / "case.jpg";
  fs::copy_file(kSamples / "shelf-jar.jpg", file);
  FactsCache cache;
  PhotoFacts invented = *probe_photo(file);
  invented.sha256 = "remembered";
  cache.remember(file, FactsCache::stamp_of(file), invented);
  fs::last_write_time(file, fs::last_write_time(file) + std::chrono::seconds(1));
  EXPECT_EQ(*cache.probe(file), *probe_photo(file));
}

TEST(FactsCache, FactsOfAFileThatChangedWhileItWasReadAreNotRemembered) {
  const TemporaryFolder folder;
  const fs::path file = folder.path() / "case.jpg";
  fs::copy_file(kSamples / "shelf-jar.jpg", file);
  const auto before = FactsCache::stamp_of(file);
  PhotoFacts invented = *probe_photo(file);
  invented.sha256 = "remembered";
  fs::copy_file(kSamples / "low-bowl.jpg", file, fs::copy_options::overwrite_existing);
  FactsCache cache;
  cache.remember(file, before, invented);
  EXPECT_EQ(*cache.probe(file), *probe_photo(file));
}

}  // namespace
}  // namespace potshadow
