// SPDX-License-Identifier: MIT
// The native window: its picture, its input in order, its clipboard.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"

struct GLFWwindow;

// Input comes as a queue of events, each with its own pointer place, and is handed to the frame so
// that at most one key or button changes per frame: on a slow machine a press and its release, or
// two clicks, are then never lost or put in the wrong place.
namespace potshadow {

struct KeyPress {
  int key = 0;  // GLFW's code
  bool ctrl = false;
  bool shift = false;
  bool alt = false;
  bool repeated = false;
};

// What happened in one frame beside what Dear ImGui was told.
struct FrameInput {
  std::vector<KeyPress> keys;
  std::vector<std::filesystem::path> dropped;
  bool close_asked = false;
  bool more = false;  // events are left for the next frame
};

enum class Pointer { kArrow, kText, kCross, kHand, kMove, kNone };

class Platform {
 public:
  // Opens a window of that many screen units at `scale` 0 (as the monitor says) or 1..3. Fails with
  // kCannotBeAnswered where there is no display or no OpenGL 3.3; the problem's `next` names the
  // command line.
  static Result<std::unique_ptr<Platform>> open(int width, int height, double scale);
  ~Platform();
  Platform(const Platform&) = delete;
  Platform& operator=(const Platform&) = delete;

  GLFWwindow* window() const { return window_; }
  double monitor_scale() const;

  // Waits until something happens, at most `seconds`; 0 looks without waiting. Returns whether
  // anything did.
  bool wait(double seconds);
  // Wakes wait() up; callable from any thread.
  static void wake();

  // Tells Dear ImGui the size, time and input of the frame that begins.
  FrameInput begin_frame();
  void end_frame();  // shows what was drawn

  void set_title(const std::string& title);
  // Frame size in pixels.
  int width() const;
  int height() const;

 private:
  struct Event;
  explicit Platform(GLFWwindow* window);
  void connect();
  bool apply(const Event& event, FrameInput& input, bool& turned);

  GLFWwindow* window_;
  std::vector<Event> queue_;
  std::vector<void*> pointers_;  // GLFWcursor*, by Pointer
  double last_time_ = 0.0;
  bool happened_ = false;
};

}  // namespace potshadow
