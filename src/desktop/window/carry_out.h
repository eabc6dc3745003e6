// SPDX-License-Identifier: MIT
// Carries out what a frame's drawing asked for.
#pragma once

#include <filesystem>
#include <optional>
#include <vector>

#include "desktop/session/session.h"
#include "desktop/window/bench_state.h"
#include "desktop/window/orders.h"
#include "project/settings.h"

namespace potshadow {

// Keeps what goes on beyond one frame: an order that waits for an answer about unsaved work.
class Foreman {
 public:
  Foreman(Session& session, Settings& settings, BenchState& state, UserFolders folders)
      : session_(session), settings_(settings), state_(state), folders_(std::move(folders)) {}

  // Carries the orders out in turn. What went wrong is said in state.said.
  void carry_out(std::vector<Order> orders);

  // Goes on with what waited, once state.answered says how.
  void go_on();

  // Returns whether the settings have changed since they were last looked at.
  bool take_settings_changed() { return std::exchange(settings_changed_, false); }

 private:
  void carry_out(Order& order);
  bool put_off(const Order& order);
  void opened(const Result<Done>& result);
  void tell_saved(const Result<Done>& saved);
  void save_sheet(const SaveSheet& save);
  void tell_saved_sheet();
  void keep_printer(const KeepPrinter& keep);
  void forget_printer(const std::string& name);
  void save_pdf(const Result<SheetPdf>& pdf, const std::filesystem::path& file,
                const std::string& said);
  void save_board(const std::filesystem::path& file);
  void save_bar_sheet(const std::filesystem::path& file);
  void save_bench_sheet(const std::filesystem::path& file);
  void changed_clay(const Result<Done>& done);
  void take_in_clays(const std::filesystem::path& file);
  void hand_on_clay(const HandOnClay& wanted);
  void snap(const std::vector<MarkId>& marks);
  void refine(std::size_t reference);
  void change(const Settings& settings);
  void remember_folder(const std::filesystem::path& file);
  // Takes the photograph that the session shows for the one that the panels are about.
  void follow_photo();
  void say(const std::string& text);
  void complain(const Problem& problem);

  Session& session_;
  Settings& settings_;
  BenchState& state_;
  UserFolders folders_;
  std::optional<Order> waiting_;
  bool settings_changed_ = false;
};

// Returns the sample project that comes with the program, or nothing where it is not found: beside
// the program (../share/potshadow/samples), else where it was built.
std::optional<std::filesystem::path> sample_project();

// Opens a file with the program that the desktop has for it. Fails with kFileMissing where there is
// no such program.
Result<Done> open_with_viewer(const std::filesystem::path& file);

}  // namespace potshadow
