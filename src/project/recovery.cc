// SPDX-License-Identifier: MIT
#include "project/recovery.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <string>
#include <system_error>
#include <utility>

#include "core/descriptor.h"
#include "core/files.h"
#include "project/json_text.h"
#include "project/private_folder.h"

// A slot is a folder "window-<process>-<number>" with the file "work.potshadow" in it, so that
// whatever a killed program leaves half-written lies inside too, and the file "lock" beside that.
namespace potshadow {
namespace {

constexpr std::string_view kFolderStart = "window-";
constexpr const char* kLockName = "lock";
constexpr const char* kWorkName = "work.potshadow";
constexpr const char* kRecoveryKey = "recovery";

std::filesystem::path recovery_folder(const std::filesystem::path& state_folder) {
  return state_folder / "recovery";
}

Problem cannot_keep(const std::filesystem::path& folder, int error) {
  return {Code::kFileUnwritable,
          "Unsaved work cannot be kept in '" + folder.string() +
              "': " + std::generic_category().message(error) + ".",
          "Save often, and check that you may write there.", ""};
}

// Removes what a slot can hold, and the folder if that leaves it empty.
void remove_slot(const std::filesystem::path& folder) {
  std::error_code ignored;
  std::vector<std::filesystem::path> files{folder / kWorkName};
  for (const auto& entry : std::filesystem::directory_iterator(folder, ignored)) {
    if (entry.path().extension() == ".part") files.push_back(entry.path());
  }
  files.push_back(folder / kLockName);  // last: until then the slot is taken or to be recovered
  for (const std::filesystem::path& file : files) std::filesystem::remove(file, ignored);
  ::rmdir(folder.c_str());
}

std::filesystem::path named_in_full(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::path whole = std::filesystem::absolute(path, error);
  return error ? path : whole;
}

const Json* find(const Json& object, const char* key) {
  if (!object.is_object()) return nullptr;
  const auto found = object.find(key);
  return found == object.end() ? nullptr : &*found;
}

Result<RecoveredWork> read_slot(const std::filesystem::path& slot) {
  const Result<std::string> bytes = read_file(slot, kMostProjectBytes);
  if (!bytes) return bytes.problem();
  const std::string name = slot.string();
  const Result<Json> json = parse_json(*bytes, {name});
  if (!json) return json.problem();
  // The work is worth having even where what is said about it is not sound.
  RecoveredWork work{slot, {}, {}, {}};
  Json rest = *json;
  if (rest.is_object() && rest.contains(kRecoveryKey)) {
    const Json recovery = rest.at(kRecoveryKey);
    rest.erase(kRecoveryKey);
    if (const Json* file = find(recovery, "file"); file != nullptr && file->is_string()) {
      work.project_file = file->get<std::string>();
    }
    constexpr double kLatestMs = 9e12;  // in the year 2255; the clock counts a few years more
    const Json* time = find(recovery, "saved_at_ms");
    if (time != nullptr && time->is_number() && time->get<double>() >= 0.0 &&
        time->get<double>() <= kLatestMs) {
      work.saved_at += std::chrono::milliseconds(time->get<std::int64_t>());
    }
    // A key of the same name that the project brought along.
    if (const Json* kept = find(recovery, "kept")) rest[kRecoveryKey] = *kept;
  }
  const Result<Project> project = parse_project(json_text(rest), name);
  if (!project) return project.problem();
  work.project = *project;
  return work;
}

}  // namespace

// Holds the lock; gives the slot up when it is destroyed.
struct RecoverySlot::Lock {
  std::filesystem::path folder;
  Descriptor file;
  Lock(std::filesystem::path slot_folder, Descriptor lock)
      : folder(std::move(slot_folder)), file(std::move(lock)) {}
  ~Lock() { remove_slot(folder); }
  Lock(const Lock&) = delete;
  Lock& operator=(const Lock&) = delete;
};

RecoverySlot::RecoverySlot(std::unique_ptr<Lock> lock) : lock_(std::move(lock)) {}
RecoverySlot::RecoverySlot(RecoverySlot&&) noexcept = default;
RecoverySlot& RecoverySlot::operator=(RecoverySlot&&) noexcept = default;
RecoverySlot::~RecoverySlot() = default;

Result<RecoverySlot> RecoverySlot::create(const std::filesystem::path& state_folder) {
  const std::filesystem::path all = recovery_folder(state_folder);
  const Result<Done> made = make_private_folder(all);
  if (!made) return made.problem();
  constexpr int kMostTries = 1000;  // more than anyone has windows and crashes
  const std::string start = std::string(kFolderStart) + std::to_string(::getpid()) + "-";
  int error = EEXIST;
  for (int i = 0; i < kMostTries; ++i) {
    const std::filesystem::path folder = all / (start + std::to_string(i));
    if (::mkdir(folder.c_str(), 0700) != 0) {
      error = errno;
      if (error == EEXIST) continue;
      return cannot_keep(all, error);
    }
    // Another window may be clearing up and take the new folder for an empty one left behind; then
    // the next number is tried.
    const std::filesystem::path name = folder / kLockName;
    Descriptor lock(::open(name.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600));
    error = lock.get() < 0 ? errno : lock_file(lock, LOCK_EX);
    if (error != 0) {
      if (error == ENOENT) continue;
      remove_slot(folder);
      return cannot_keep(all, error);
    }
    if (!still_there(lock, name)) continue;
    return RecoverySlot(std::make_unique<Lock>(folder, std::move(lock)));
  }
  return cannot_keep(all, error);
}

Result<Done> RecoverySlot::keep(const Project& project, const std::filesystem::path& project_file,
                                std::chrono::system_clock::time_point now) const {
  const Result<Done> checked = check_project(project, project_file.string());
  if (!checked) return checked.problem();
  Project complete = project;
  for (ProjectPhoto& photo : complete.photos) {
    if (photo.file.empty()) continue;
    const std::filesystem::path folder = project_file.parent_path();
    photo.file = named_in_full(folder / photo.file).string();
  }
  const Result<Json> json = parse_json(project_text(complete), {project_file.string()});
  if (!json) return json.problem();
  Json all = *json;
  Json recovery = Json::object();
  recovery["file"] = project_file.empty() ? std::string() : named_in_full(project_file).string();
  recovery["saved_at_ms"] = static_cast<std::int64_t>(
      std::chrono::duration_cast<std::chrono::milliseconds>(now.time_since_epoch()).count());
  if (all.contains(kRecoveryKey)) recovery["kept"] = all.at(kRecoveryKey);
  all[kRecoveryKey] = std::move(recovery);
  return write_file_whole(lock_->folder / kWorkName, json_text(all));
}

void RecoverySlot::clear() const {
  std::error_code ignored;
  std::filesystem::remove(lock_->folder / kWorkName, ignored);
}

Result<std::vector<RecoveredWork>> left_behind(const std::filesystem::path& state_folder) {
  const std::filesystem::path all = recovery_folder(state_folder);
  std::error_code error;
  if (!std::filesystem::exists(all, error)) return std::vector<RecoveredWork>();
  std::vector<std::filesystem::path> folders;
  std::filesystem::directory_iterator at(all, error);
  for (; !error && at != std::filesystem::directory_iterator(); at.increment(error)) {
    if (at->path().filename().string().starts_with(kFolderStart)) folders.push_back(at->path());
  }
  if (error) {
    return Problem{Code::kFileUnreadable,
                   "The folder '" + all.string() + "' could not be read: " + error.message() + ".",
                   "Check that you may read it.", ""};
  }
  std::sort(folders.begin(), folders.end());
  std::vector<RecoveredWork> works;
  std::vector<Note> notes;
  for (const std::filesystem::path& folder : folders) {
    const Descriptor lock(::open((folder / kLockName).c_str(), O_RDWR | O_CLOEXEC));
    if (lock.get() >= 0 && lock_file(lock, LOCK_EX | LOCK_NB) != 0) continue;  // in use
    const std::filesystem::path slot = folder / kWorkName;
    if (!std::filesystem::exists(slot, error) && !error) {
      // It holds nothing. A lock that is not ours may be on its way: then only try the folder.
      if (lock.get() >= 0) {
        remove_slot(folder);
      } else {
        ::rmdir(folder.c_str());
      }
      continue;
    }
    Result<RecoveredWork> work = read_slot(slot);
    if (work.ok()) {
      works.push_back(std::move(work).value());
    } else {
      notes.push_back(
          {"Work left behind could not be read and was left alone: " + work.problem().what, true});
    }
  }
  std::stable_sort(works.begin(), works.end(), [](const RecoveredWork& a, const RecoveredWork& b) {
    return a.saved_at > b.saved_at;
  });
  return {std::move(works), std::move(notes)};
}

void discard_recovered(const RecoveredWork& work) {
  const std::filesystem::path folder = work.slot.parent_path();
  const bool is_slot =
      work.slot.filename() == kWorkName && folder.filename().string().starts_with(kFolderStart);
  if (is_slot) remove_slot(folder);
}

}  // namespace potshadow
