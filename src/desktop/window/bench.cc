// SPDX-License-Identifier: MIT
#include "desktop/window/bench.h"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <deque>
#include <memory>
#include <utility>

#include "desktop/session/comparer.h"
#include "desktop/session/session.h"
#include "desktop/window/carry_out.h"
#include "desktop/window/dialogue_tool.h"
#include "desktop/window/drop.h"
#include "desktop/window/kit.h"
#include "desktop/window/layout.h"
#include "desktop/window/panels.h"
#include "desktop/window/platform.h"
#include "desktop/window/shortcuts.h"
#include "desktop/words/history_words.h"

namespace potshadow {
namespace {

constexpr double kIdleWait = 1.0;  // seconds
constexpr double kBusyWait = 0.1;  // while a worker runs: its bar moves
constexpr int kSettleFrames = 3;   // Dear ImGui needs a frame or two to come to rest
constexpr std::size_t kTimedFrames = 200;

void print_problem(const Problem& problem) {
  std::fprintf(stderr, "potshadow: %s %s\n", problem.what.c_str(), problem.next.c_str());
  if (!problem.detail.empty()) std::fprintf(stderr, "(%s)\n", problem.detail.c_str());
}

struct ImGuiLife {
  ImGuiLife() {
    IMGUI_CHECKVERSION();
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;               // nothing of ours lies in the window manager's hands
    io.ConfigInputTextCursorBlink = false;  // an idle window draws nothing
  }
  ~ImGuiLife() { ImGui::DestroyContext(); }
  ImGuiLife(const ImGuiLife&) = delete;
  ImGuiLife& operator=(const ImGuiLife&) = delete;
};

struct RendererLife {
  RendererLife() { ImGui_ImplOpenGL3_Init("#version 330"); }
  ~RendererLife() { ImGui_ImplOpenGL3_Shutdown(); }
  RendererLife(const RendererLife&) = delete;
  RendererLife& operator=(const RendererLife&) = delete;
};

double milliseconds(std::chrono::steady_clock::duration duration) {
  return std::chrono::duration<double, std::milli>(duration).count();
}

// How long frames take, and how long from a drag to its figures.
class Stopwatch {
 public:
  using Clock = std::chrono::steady_clock;

  void frame(double milliseconds) {
    frames_.push_back(milliseconds);
    if (frames_.size() > kTimedFrames) frames_.pop_front();
  }
  double frame_part(double part) const {
    if (frames_.empty()) return 0.0;
    std::vector<double> sorted(frames_.begin(), frames_.end());
    std::sort(sorted.begin(), sorted.end());
    return sorted[static_cast<std::size_t>(part * static_cast<double>(sorted.size() - 1))];
  }
  // A mark was moved; its figures are waited for.
  void moved(Clock::time_point when) {
    if (!waiting_) waiting_ = when;
  }
  void figures_shown() {
    if (!waiting_) return;
    drag_ms_ = milliseconds(Clock::now() - *waiting_);
    waiting_.reset();
  }
  double drag_ms() const { return drag_ms_; }

 private:
  std::deque<double> frames_;
  std::optional<Clock::time_point> waiting_;
  double drag_ms_ = 0.0;
};

bool any_busy(const Session& session) {
  return session.photo().busy || session.figures().busy || session.sheet().busy ||
         session.sheet_saving().busy || session.camera_work().busy || session.trace_work().busy ||
         session.plan().busy || session.bench_photo().busy || session.comparison().busy ||
         session.comparison().saving;
}

class Bench {
 public:
  Bench(Platform& platform, Settings settings, UserFolders folders, std::filesystem::path describe)
      : platform_(platform),
        settings_(std::move(settings)),
        session_(folders, &Platform::wake),
        foreman_(session_, settings_, state_, folders),
        description_(std::move(describe)) {}

  bool refresh_look() {
    const double scale = settings_.scale >= 1.0 ? settings_.scale : platform_.monitor_scale();
    const bool evening = settings_.theme == Theme::kEvening;
    if (look_ && look_->scale == scale && look_->evening == evening) return true;
    const Result<Look> look = make_look(scale, evening);
    if (!look) {
      print_problem(look.problem());
      return false;
    }
    look_ = *look;
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    return true;
  }

  void open(const std::filesystem::path& file) { foreman_.carry_out({OpenFile{file}}); }
  void offer(std::vector<RecoveredWork> recovered) {
    if (recovered.empty()) return;
    state_.recovered = std::move(recovered);
    state_.question = Question::kRecover;
  }
  void complain(const std::string& what) { state_.said = {what, true, "", 0.0}; }

  int run() {
    draws_left_ = kSettleFrames;
    const int width = platform_.width();
    const int height = platform_.height();
    while (!state_.quit) {
      const bool happened = platform_.wait(waiting_time());
      const bool changed = session_.pump(std::chrono::system_clock::now(),
                                         std::chrono::duration<double>(settings_.autosave_seconds));
      const auto& dialogue = state_.browser.dialogue;
      const bool chosen = dialogue != nullptr && dialogue->has_news();
      if (happened || changed || chosen) draws_left_ = kSettleFrames;
      const bool faded = said_faded();
      if (draws_left_ <= 0 && !any_busy(session_) && !faded) continue;
      if (!draw()) return 2;
    }
    if (platform_.width() != width || platform_.height() != height) remember_size();
    return 0;
  }

 private:
  double waiting_time() const {
    // Figures that are being worked out bring frames of their own: leave them the processor.
    const bool drawn = draws_left_ < kSettleFrames;
    if (draws_left_ > 0 && !(drawn && session_.figures().busy)) return 0.0;
    if (any_busy(session_)) return kBusyWait;
    const auto due = session_.keep_due(autosave());
    if (!due) return kIdleWait;
    const std::chrono::duration<double> left = *due - std::chrono::system_clock::now();
    return std::clamp(left.count(), 0.01, kIdleWait);
  }

  std::chrono::duration<double> autosave() const {
    return std::chrono::duration<double>(settings_.autosave_seconds);
  }

  void remember_size() {
    Settings settings = settings_;
    settings.window_width = static_cast<int>(std::lround(platform_.width() / look_->scale));
    settings.window_height = static_cast<int>(std::lround(platform_.height() / look_->scale));
    foreman_.carry_out({ChangeSettings{settings}});
  }

  // Returns true once, when the words at the foot have stood long enough.
  bool said_faded() {
    constexpr double kStands = 8.0;  // seconds
    if (state_.said.text.empty() || state_.said.trouble) return false;
    if (glfwGetTime() - state_.said.at < kStands) return false;
    state_.said = Said{};
    return true;
  }

  bool draw() {
    const auto began = Stopwatch::Clock::now();
    if (foreman_.take_settings_changed() || !look_ ||
        (settings_.scale < 1.0 && look_->scale != platform_.monitor_scale())) {
      if (!refresh_look()) return false;
    }
    state_.now = glfwGetTime();
    ImGuiIO& io = ImGui::GetIO();
    io.KeyMap[ImGuiKey_Tab] = io.WantTextInput || state_.keys_for_panels ? GLFW_KEY_TAB : -1;
    if (state_.keys_for_panels) {
      io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    } else {
      io.ConfigFlags &= ~ImGuiConfigFlags_NavEnableKeyboard;
    }
    const FrameInput input = platform_.begin_frame();
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
    description_.begin_frame();

    std::vector<Order> orders = orders_of_drop(input.dropped, session_.open());
    Frame frame{session_, settings_, *look_, input, state_, textures_, description_, orders};
    if (input.close_asked) orders.push_back(Quit{});
    if (std::exchange(state_.browse_asked, false)) open_browser(frame, state_.browser.purpose);
    if (std::exchange(state_.step_due_asked, false)) {
      state_.step = first_step(frame);
    }
    const bool questioned = state_.question == Question::kLeave;
    const ScreenBox box = draw_layout(frame);
    if (!questioned) apply_shortcuts(frame, box);
    const bool idle = !any_busy(session_) && !input.more && orders.empty() && draws_left_ <= 1;
    const auto describing = Stopwatch::Clock::now();
    tell(frame, idle);
    const auto described = Stopwatch::Clock::now();

    // Orders are carried out before the frame is painted, so that the workers have begun meanwhile.
    const bool current = session_.figures().current;
    const bool previewed = std::any_of(orders.begin(), orders.end(), [](const Order& order) {
      return std::holds_alternative<Preview>(order);
    });
    const bool asked = !orders.empty() || state_.answered != Answered::kNothing;
    foreman_.carry_out(std::move(orders));
    if (state_.step == Step::kTemplates && session_.open()) {
      session_.want_sheet(sheet_wish(settings_, state_.sheets));
    }
    if (has_page(state_.step) && session_.open()) session_.want_plan(state_.bands_at);
    if (state_.step == Step::kCheck && session_.open()) session_.want_check(state_.check.stage);
    if (state_.step == Step::kCompare && session_.open()) {
      session_.want_comparison(state_.compare.wish);
    }
    paint_frame();
    if (current) watch_.figures_shown();
    if (previewed) watch_.moved(began);
    watch_.frame(milliseconds(Stopwatch::Clock::now() - began) -
                 milliseconds(described - describing));
    const std::string title =
        window_title(session_.open() ? session_.title() : "", session_.unsaved());
    if (title != title_) platform_.set_title(title_ = title);
    if (input.more || asked) {
      draws_left_ = kSettleFrames;
    } else if (draws_left_ > 0) {
      --draws_left_;
    }
    ++frames_;
    return true;
  }

  void paint_frame() {
    ImGui::Render();
    glViewport(0, 0, platform_.width(), platform_.height());
    const ImVec4 ground = paint_vec(look_->colours.ground);
    glClearColor(ground.x, ground.y, ground.z, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    platform_.end_frame();
    textures_.end_frame();
  }

  // Tells a description what the window shows (description.h).
  void tell(Frame& frame, bool idle) {
    if (description_.wanted()) {
      description_.tell("frame", static_cast<double>(frames_));
      description_.tell("idle", idle);
      tell_state(frame);
      description_.tell("frame_ms_median", watch_.frame_part(0.5));
      description_.tell("frame_ms_p95", watch_.frame_part(0.95));
      description_.tell("drag_to_figures_ms", watch_.drag_ms());
      const Result<Done> written = description_.end_frame();
      if (!written) print_problem(written.problem());
    }
  }

  Platform& platform_;
  Settings settings_;
  Session session_;
  BenchState state_;
  Foreman foreman_;
  Textures textures_;
  Description description_;
  std::optional<Look> look_;
  Stopwatch watch_;
  std::string title_;
  int draws_left_ = 0;
  long frames_ = 0;
};

}  // namespace

int run_bench(const BenchOptions& options) {
  const Result<UserFolders> folders = user_folders();
  if (!folders) {
    print_problem(folders.problem());
    return 2;
  }
  const Result<Settings> settings = load_settings(*folders);
  const ImGuiLife imgui;
  auto platform = Platform::open(settings->window_width, settings->window_height, settings->scale);
  if (!platform) {
    print_problem(platform.problem());
    return 2;
  }
  const std::unique_ptr<Platform> window = std::move(platform).value();
  const RendererLife renderer;
  Bench bench(*window, *settings, *folders, options.describe);
  if (!bench.refresh_look()) return 2;
  for (const Note& note : settings.notes()) bench.complain(note.text);
  if (options.file) bench.open(*options.file);
  const Result<std::vector<RecoveredWork>> recovered = left_behind(folders->state);
  if (recovered) bench.offer(*recovered);
  return bench.run();
}

}  // namespace potshadow
