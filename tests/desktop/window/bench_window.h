// SPDX-License-Identifier: MIT
// The real window on a screen in memory, worked with real mouse and keys.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "desktop/window/process.h"
#include "desktop/window/screen.h"
#include "desktop/window/seen.h"

// Everything here looks at the window only as a potter does, by what it shows, but for the
// description that says where things are (seen.h). Each action waits until the window has come to
// rest. What cannot be done throws std::runtime_error and says what the window showed.
namespace potshadow::bench {

// How long a test waits for anything before it gives up: some fifty times what it takes.
inline constexpr double kPatienceSeconds = 90.0;

struct WindowWishes {
  std::vector<std::string> arguments{};
  std::vector<std::string> environment{};  // added
  std::filesystem::path home{};            // holds the user's folders; they stay when it is closed
  std::string settings{};  // text of the settings file to start with; empty: as left
};

class BenchWindow {
 public:
  // Starts the program and waits for its first description. `screen` must outlive it.
  BenchWindow(const Screen& screen, const WindowWishes& wishes);

  Seen see() const;
  // Returns what is seen once `wanted` holds of it and the window rests.
  Seen wait_until(const std::string& what, const std::function<bool(const Seen&)>& wanted,
                  double seconds = kPatienceSeconds) const;
  // Returns what is seen once nothing moves any more.
  Seen rest() const;

  bool has(const std::string& widget) const;
  // Waits for the widget to be there and enabled, brings it into sight and clicks on it.
  void click(const std::string& widget);
  // Clicks on a field, empties it and types.
  void type_into(const std::string& field, const std::string& text);
  // The same by way of the clipboard: any text, and long ones in less time.
  void paste_into(const std::string& field, const std::string& text);
  void key(const std::string& keys, int times = 1);  // as "ctrl+z", "Return"
  // Starts pressing these keys one after the other and returns at once.
  std::unique_ptr<Process> start_typing(const std::vector<std::string>& keys) const;
  // Ends that in the middle and lets go of the keys that were being pressed.
  void stop_typing(std::unique_ptr<Process> hand, const std::vector<std::string>& keys) const;
  void click_photo(const PhotoPoint& spot);
  void drag_photo(const PhotoPoint& from, const PhotoPoint& to);
  // The same, looking at the window with `held` before the button is let go.
  void drag_photo(const PhotoPoint& from, const PhotoPoint& to, const std::function<void()>& held);
  // The same in one movement, waiting for the window before the button is let go.
  void drag_photo_at_once(const PhotoPoint& from, const PhotoPoint& to);
  // The same, and returns at once: the window may have begun a long work.
  void drag_photo_without_waiting(const PhotoPoint& from, const PhotoPoint& to);
  // Moves the photograph with the right button.
  void pan_photo(const PhotoPoint& from, const PhotoPoint& to);
  // Turns the mouse wheel over a spot until a photo pixel is at least that many pixels wide.
  void zoom_to(const PhotoPoint& spot, double least_pixels);
  // Has the spot well in sight at that zoom or a closer one.
  void show_photo(const PhotoPoint& spot, double least_pixels);

  // Moves the pointer to where nothing is pointed at, so that no words pop up.
  void put_pointer_aside();
  // Takes a picture of the screen and returns its file: NAME.png in the screenshot folder.
  std::filesystem::path screenshot(const std::string& name) const;
  // Returns the colours in that picture where the photograph or the template's page is.
  Colours canvas_colours(const std::filesystem::path& png) const;

  // Returns the exit code once the program has ended, or throws.
  int wait_for_end();
  bool ended() { return process_->ended().has_value(); }
  void kill();  // as in a crash: at once
  std::string err() const { return file_content(err_); }
  pid_t id() const { return process_->id(); }

 private:
  std::string xdotool(std::vector<std::string> words) const;
  void point_at(double x, double y) const;
  void press_and_release() const;
  void drag(const char* button, int steps, const PhotoPoint& from, const PhotoPoint& to,
            const std::function<void()>& held, bool wait = true);
  void rest_unless_ended() const;
  Canvas photo_canvas() const;
  Widget bring_into_sight(const std::string& widget);
  [[noreturn]] void give_up(const std::string& what) const;

  const Screen& screen_;
  std::filesystem::path description_;
  std::filesystem::path err_;
  std::filesystem::path clipboard_;
  std::vector<std::string> environment_;
  std::unique_ptr<Process> process_;
  std::string window_id_;
};

// Returns the environment of a program of ours whose user has the folder `home` to themselves.
std::vector<std::string> environment_for(const Screen& screen, const std::filesystem::path& home);
// Returns that user's settings file.
std::filesystem::path settings_file(const std::filesystem::path& home);

}  // namespace potshadow::bench
