// SPDX-License-Identifier: MIT
#include "desktop/window/platform.h"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "desktop/words/history_words.h"

namespace potshadow {
namespace {

constexpr const char* kUseCommands =
    "The same sizes and templates come from the command line: run 'potshadow measure PROJECT' and "
    "'potshadow sheet PROJECT --output FILE.pdf'.";

// Keys that Dear ImGui wants to know by name.
constexpr std::array<std::pair<int, int>, 22> kKeyNames = {
    {{ImGuiKey_Tab, GLFW_KEY_TAB},
     {ImGuiKey_LeftArrow, GLFW_KEY_LEFT},
     {ImGuiKey_RightArrow, GLFW_KEY_RIGHT},
     {ImGuiKey_UpArrow, GLFW_KEY_UP},
     {ImGuiKey_DownArrow, GLFW_KEY_DOWN},
     {ImGuiKey_PageUp, GLFW_KEY_PAGE_UP},
     {ImGuiKey_PageDown, GLFW_KEY_PAGE_DOWN},
     {ImGuiKey_Home, GLFW_KEY_HOME},
     {ImGuiKey_End, GLFW_KEY_END},
     {ImGuiKey_Insert, GLFW_KEY_INSERT},
     {ImGuiKey_Delete, GLFW_KEY_DELETE},
     {ImGuiKey_Backspace, GLFW_KEY_BACKSPACE},
     {ImGuiKey_Space, GLFW_KEY_SPACE},
     {ImGuiKey_Enter, GLFW_KEY_ENTER},
     {ImGuiKey_Escape, GLFW_KEY_ESCAPE},
     {ImGuiKey_KeyPadEnter, GLFW_KEY_KP_ENTER},
     {ImGuiKey_A, GLFW_KEY_A},
     {ImGuiKey_C, GLFW_KEY_C},
     {ImGuiKey_V, GLFW_KEY_V},
     {ImGuiKey_X, GLFW_KEY_X},
     {ImGuiKey_Y, GLFW_KEY_Y},
     {ImGuiKey_Z, GLFW_KEY_Z}}};

const char* clipboard_text(void* window) {
  const char* text = glfwGetClipboardString(static_cast<GLFWwindow*>(window));
  return text != nullptr ? text : "";
}

void set_clipboard_text(void* window, const char* text) {
  glfwSetClipboardString(static_cast<GLFWwindow*>(window), text);
}

}  // namespace

struct Platform::Event {
  enum class Kind { kKey, kLetter, kButton, kMove, kWheel, kDrop, kFocusLost, kClose };
  Kind kind = Kind::kMove;
  int code = 0;  // key, letter or button
  int action = 0;
  int mods = 0;
  double x = 0.0;
  double y = 0.0;
  std::vector<std::filesystem::path> paths{};
};

Result<std::unique_ptr<Platform>> Platform::open(int width, int height, double scale) {
  std::string detail;
  if (glfwInit() != GLFW_TRUE) {
    const char* text = nullptr;
    glfwGetError(&text);
    return Problem{Code::kCannotBeAnswered, "There is no display to open a window on.",
                   kUseCommands, text != nullptr ? text : ""};
  }
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
  glfwWindowHintString(GLFW_X11_CLASS_NAME, "potshadow");
  glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "potshadow");
  GLFWmonitor* const monitor = glfwGetPrimaryMonitor();
  float from_monitor = 1.0F;
  if (monitor != nullptr) {
    float across = 1.0F;
    glfwGetMonitorContentScale(monitor, &across, &from_monitor);
    int left = 0;
    int top = 0;
    int room_across = 0;
    int room_down = 0;
    glfwGetMonitorWorkarea(monitor, &left, &top, &room_across, &room_down);
    const double factor = scale > 0.0 ? scale : static_cast<double>(from_monitor);
    width = static_cast<int>(std::lround(width * factor));
    height = static_cast<int>(std::lround(height * factor));
    if (room_across > 0) width = std::min(width, room_across);
    if (room_down > 0) height = std::min(height, room_down);
  }
  GLFWwindow* const window = glfwCreateWindow(width, height, "Potshadow", nullptr, nullptr);
  if (window == nullptr) {
    const char* text = nullptr;
    glfwGetError(&text);
    detail = text != nullptr ? text : "";
    glfwTerminate();
    return no_window_problem(detail);
  }
  glfwMakeContextCurrent(window);
  glfwSwapInterval(1);
  glfwSetWindowSizeLimits(window, 640, 480, GLFW_DONT_CARE, GLFW_DONT_CARE);
  std::unique_ptr<Platform> platform(new Platform(window));
  platform->connect();
  return {std::move(platform)};
}

Platform::Platform(GLFWwindow* window) : window_(window) {
  pointers_ = {nullptr, glfwCreateStandardCursor(GLFW_IBEAM_CURSOR),
               glfwCreateStandardCursor(GLFW_CROSSHAIR_CURSOR),
               glfwCreateStandardCursor(GLFW_HAND_CURSOR),
               glfwCreateStandardCursor(GLFW_HRESIZE_CURSOR)};
}

Platform::~Platform() {
  glfwDestroyWindow(window_);
  glfwTerminate();
}

void Platform::connect() {
  glfwSetWindowUserPointer(window_, this);
  const auto push = [](GLFWwindow* window, Event event) {
    auto* const self = static_cast<Platform*>(glfwGetWindowUserPointer(window));
    self->happened_ = true;
    // A pointer on its way leaves only its newest place, unless something was pressed between.
    if (event.kind == Event::Kind::kMove && !self->queue_.empty() &&
        self->queue_.back().kind == Event::Kind::kMove) {
      self->queue_.back() = std::move(event);
      return;
    }
    self->queue_.push_back(std::move(event));
  };
  static_assert(std::is_empty_v<decltype(push)>);
  glfwSetKeyCallback(window_, [](GLFWwindow* window, int key, int, int action, int mods) {
    if (key < 0) return;
    decltype(push){}(window, {Event::Kind::kKey, key, action, mods});
  });
  glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned letter) {
    decltype(push){}(window, {Event::Kind::kLetter, static_cast<int>(letter)});
  });
  glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int button, int action, int mods) {
    double x = 0.0;
    double y = 0.0;
    glfwGetCursorPos(window, &x, &y);
    decltype(push){}(window, {Event::Kind::kButton, button, action, mods, x, y});
  });
  glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double x, double y) {
    decltype(push){}(window, {Event::Kind::kMove, 0, 0, 0, x, y});
  });
  glfwSetScrollCallback(window_, [](GLFWwindow* window, double x, double y) {
    decltype(push){}(window, {Event::Kind::kWheel, 0, 0, 0, x, y});
  });
  glfwSetDropCallback(window_, [](GLFWwindow* window, int count, const char** paths) {
    Event event{Event::Kind::kDrop};
    for (int i = 0; i < count; ++i) event.paths.emplace_back(paths[i]);
    decltype(push){}(window, std::move(event));
  });
  glfwSetWindowFocusCallback(window_, [](GLFWwindow* window, int focused) {
    if (focused == GLFW_FALSE) decltype(push){}(window, {Event::Kind::kFocusLost});
  });
  glfwSetWindowCloseCallback(window_, [](GLFWwindow* window) {
    glfwSetWindowShouldClose(window, GLFW_FALSE);
    decltype(push){}(window, {Event::Kind::kClose});
  });
  const auto redraw = [](GLFWwindow* window) {
    static_cast<Platform*>(glfwGetWindowUserPointer(window))->happened_ = true;
  };
  glfwSetWindowRefreshCallback(window_, redraw);
  glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* window, int, int) {
    static_cast<Platform*>(glfwGetWindowUserPointer(window))->happened_ = true;
  });

  ImGuiIO& io = ImGui::GetIO();
  io.BackendPlatformName = "potshadow";
  io.BackendFlags |= ImGuiBackendFlags_HasMouseCursors;
  for (const auto& [name, key] : kKeyNames) io.KeyMap[name] = key;
  io.GetClipboardTextFn = clipboard_text;
  io.SetClipboardTextFn = set_clipboard_text;
  io.ClipboardUserData = window_;
  last_time_ = glfwGetTime();
}

double Platform::monitor_scale() const {
  float across = 1.0F;
  float down = 1.0F;
  glfwGetWindowContentScale(window_, &across, &down);
  return std::clamp(static_cast<double>(across), 1.0, 3.0);
}

bool Platform::wait(double seconds) {
  if (!queue_.empty() || seconds <= 0.0) {
    glfwPollEvents();
  } else {
    glfwWaitEventsTimeout(seconds);
  }
  return std::exchange(happened_, false) || !queue_.empty();
}

void Platform::wake() { glfwPostEmptyEvent(); }

// Returns whether the event must wait for the next frame.
bool Platform::apply(const Event& event, FrameInput& input, bool& turned) {
  ImGuiIO& io = ImGui::GetIO();
  const ImVec2 place(static_cast<float>(event.x), static_cast<float>(event.y));
  switch (event.kind) {
    case Event::Kind::kMove:
      if (turned) return true;
      io.MousePos = place;
      break;
    case Event::Kind::kButton:
      if (turned) return true;
      turned = true;
      io.MousePos = place;
      if (event.code < 5) io.MouseDown[event.code] = event.action == GLFW_PRESS;
      break;
    case Event::Kind::kKey: {
      if (event.action == GLFW_REPEAT) {
        input.keys.push_back({event.code, (event.mods & GLFW_MOD_CONTROL) != 0,
                              (event.mods & GLFW_MOD_SHIFT) != 0, (event.mods & GLFW_MOD_ALT) != 0,
                              true});
        break;
      }
      if (turned) return true;
      turned = true;
      const bool down = event.action == GLFW_PRESS;
      if (event.code < static_cast<int>(IM_ARRAYSIZE(io.KeysDown))) io.KeysDown[event.code] = down;
      io.KeyCtrl = io.KeysDown[GLFW_KEY_LEFT_CONTROL] || io.KeysDown[GLFW_KEY_RIGHT_CONTROL];
      io.KeyShift = io.KeysDown[GLFW_KEY_LEFT_SHIFT] || io.KeysDown[GLFW_KEY_RIGHT_SHIFT];
      io.KeyAlt = io.KeysDown[GLFW_KEY_LEFT_ALT] || io.KeysDown[GLFW_KEY_RIGHT_ALT];
      io.KeySuper = io.KeysDown[GLFW_KEY_LEFT_SUPER] || io.KeysDown[GLFW_KEY_RIGHT_SUPER];
      if (down) input.keys.push_back({event.code, io.KeyCtrl, io.KeyShift, io.KeyAlt, false});
      break;
    }
    case Event::Kind::kLetter:
      io.AddInputCharacter(static_cast<unsigned>(event.code));
      break;
    case Event::Kind::kWheel:
      io.MouseWheelH += static_cast<float>(event.x);
      io.MouseWheel += static_cast<float>(event.y);
      break;
    case Event::Kind::kDrop:
      input.dropped.insert(input.dropped.end(), event.paths.begin(), event.paths.end());
      break;
    case Event::Kind::kFocusLost:
      std::fill(std::begin(io.KeysDown), std::end(io.KeysDown), false);
      io.KeyCtrl = io.KeyShift = io.KeyAlt = io.KeySuper = false;
      break;
    case Event::Kind::kClose:
      input.close_asked = true;
      break;
  }
  return false;
}

FrameInput Platform::begin_frame() {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = ImVec2(static_cast<float>(width()), static_cast<float>(height()));
  const double now = glfwGetTime();
  io.DeltaTime = static_cast<float>(std::clamp(now - last_time_, 1e-4, 0.25));
  last_time_ = now;

  FrameInput input;
  bool turned = false;
  std::size_t used = 0;
  while (used < queue_.size() && !apply(queue_[used], input, turned)) ++used;
  queue_.erase(queue_.begin(), queue_.begin() + static_cast<std::ptrdiff_t>(used));
  input.more = !queue_.empty();
  return input;
}

void Platform::end_frame() {
  Pointer wanted = Pointer::kArrow;
  switch (ImGui::GetMouseCursor()) {
    case ImGuiMouseCursor_TextInput:
      wanted = Pointer::kText;
      break;
    case ImGuiMouseCursor_Hand:
      wanted = Pointer::kHand;
      break;
    case ImGuiMouseCursor_ResizeAll:
      wanted = Pointer::kCross;
      break;
    case ImGuiMouseCursor_ResizeEW:
      wanted = Pointer::kMove;
      break;
    default:
      break;
  }
  glfwSetCursor(window_, static_cast<GLFWcursor*>(pointers_[static_cast<std::size_t>(wanted)]));
  glfwSwapBuffers(window_);
}

void Platform::set_title(const std::string& title) { glfwSetWindowTitle(window_, title.c_str()); }

int Platform::width() const {
  int across = 0;
  int down = 0;
  glfwGetFramebufferSize(window_, &across, &down);
  return across;
}

int Platform::height() const {
  int across = 0;
  int down = 0;
  glfwGetFramebufferSize(window_, &across, &down);
  return down;
}

}  // namespace potshadow
