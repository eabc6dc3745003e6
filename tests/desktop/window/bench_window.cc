// SPDX-License-Identifier: MIT
#include "desktop/window/bench_window.h"

#include <signal.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

constexpr double kLookAgainSeconds = 0.03;
// A pointer stands on a thing this long before it presses, and presses this long: a quick hand.
constexpr double kHandSeconds = 0.06;
// Time for an event to reach the window and show in the description.
constexpr double kReactionSeconds = 0.2;
constexpr const char* kKeyMilliseconds = "30";  // between two keys: a very quick typist
constexpr int kDragSteps = 8;
constexpr int kMostWheelTurns = 60;
// A place in the panel of the open step: this far from the left, at 100 %, and this part of the
// window's height.
constexpr double kPanelMiddle = 104.0;
constexpr double kPanelHeight = 0.75;
constexpr double kStepsWidth = 208.0;  // of the sides, at 100 %
constexpr double kFiguresWidth = 336.0;
constexpr double kPageMiddle = 0.75;    // of its width: the fuller side, where it has two
constexpr double kMarginPixels = 48.0;  // a spot this near the edge, at 100 %, is not well in sight

std::string number(double value) { return std::to_string(std::lround(value)); }

// Where the panel of the open step begins: below the steps, which do not scroll.
double panel_top(const Seen& seen, const Widget& widget) {
  const auto last_step = find_widget(seen, labels::kSteps.back());
  if (!last_step || widget.area.x > last_step->area.x + last_step->area.width) return 0.0;
  const bool is_fixed = widget.area.y <= last_step->area.y;
  return is_fixed ? 0.0 : last_step->area.y + last_step->area.height;
}

// Whether the middle of the window is a page that scrolls.
bool has_page(const Seen& seen) {
  return seen.middle == "photo" && (seen.step == "Clay" || seen.step == "Plan" ||
                                    seen.step == "Check" || seen.step == "Compare");
}

// Where that panel ends: short of the window's own edge. A page ends above the line of words.
double panel_foot(const Seen& seen, const Widget& widget, double window_height) {
  constexpr double kMargin = 16.0;
  constexpr double kLine = 32.0;
  const bool on_page = has_page(seen) && panel_top(seen, widget) == 0.0;
  if (on_page) return window_height - (kMargin + kLine) * seen.scale;
  return panel_top(seen, widget) > 0.0 ? window_height - kMargin * seen.scale : window_height;
}

bool same_places(const std::vector<Widget>& a, const std::vector<Widget>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Widget& x, const Widget& y) {
    return x.name == y.name && x.area.y == y.area.y;
  });
}

}  // namespace

std::vector<std::string> environment_for(const Screen& screen, const std::filesystem::path& home) {
  std::vector<std::string> environment = screen.environment();
  const auto add = [&](const std::string& name, const std::filesystem::path& folder) {
    environment.push_back(name + "=" + folder.string());
  };
  add("HOME", home);
  add("XDG_CONFIG_HOME", home / "config");
  add("XDG_STATE_HOME", home / "state");
  add("XDG_DATA_HOME", home / "data");
  add("XDG_CACHE_HOME", home / "cache");
  add("XDG_RUNTIME_DIR", home / "run");
  return environment;
}

std::filesystem::path settings_file(const std::filesystem::path& home) {
  return home / "config" / "potshadow" / "settings.json";
}

BenchWindow::BenchWindow(const Screen& screen, const WindowWishes& wishes)
    : screen_(screen), environment_(environment_for(screen, wishes.home)) {
  const std::filesystem::path ours = wishes.home / "bench";
  std::filesystem::create_directories(ours);
  std::filesystem::create_directories(wishes.home / "run");
  description_ = ours / "description.json";
  err_ = ours / "err";
  clipboard_ = ours / "clipboard";
  std::filesystem::remove(description_);
  if (!wishes.settings.empty()) {
    std::filesystem::create_directories(settings_file(wishes.home).parent_path());
    std::ofstream(settings_file(wishes.home)) << wishes.settings;
  }
  environment_.insert(environment_.end(), wishes.environment.begin(), wishes.environment.end());
  environment_.push_back("POTSHADOW_DESCRIBE=" + description_.string());
  std::vector<std::string> words{POTSHADOW_WINDOW};
  words.insert(words.end(), wishes.arguments.begin(), wishes.arguments.end());
  process_ = std::make_unique<Process>(
      words, ProcessWishes{.environment = environment_, .folder = wishes.home, .err = err_});

  wait_until("the window's first description", [](const Seen&) { return true; });
  // The only window on this screen that can be seen.
  std::istringstream ids(xdotool({"search", "--onlyvisible", "--name", "."}));
  ids >> window_id_;
  if (window_id_.empty()) give_up("there is no window on the screen");
  xdotool({"windowmove", window_id_, "0", "0"});
  xdotool({"windowfocus", window_id_});
  rest();
}

Seen BenchWindow::see() const {
  const std::optional<Seen> seen = read_seen(description_);
  if (!seen) throw std::runtime_error("the window has written no description: " + err());
  return *seen;
}

Seen BenchWindow::wait_until(const std::string& what,
                             const std::function<bool(const Seen&)>& wanted, double seconds) const {
  const auto start = std::chrono::steady_clock::now();
  while (true) {
    const std::optional<Seen> seen = read_seen(description_);
    if (seen && seen->idle && wanted(*seen)) return *seen;
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start;
    if (passed.count() > seconds) give_up("waited in vain for " + what);
    if (process_->ended()) give_up("waited in vain for " + what);
    sleep_seconds(kLookAgainSeconds);
  }
}

Seen BenchWindow::rest() const {
  sleep_seconds(kReactionSeconds);
  wait_until("the window to come to rest", [](const Seen&) { return true; });
  sleep_seconds(kLookAgainSeconds);
  return wait_until("the window to stay at rest", [](const Seen&) { return true; });
}

// After what may have closed the window.
void BenchWindow::rest_unless_ended() const {
  sleep_seconds(kReactionSeconds);
  const auto ended_or_idle = [&] {
    if (process_->ended()) return true;
    const std::optional<Seen> seen = read_seen(description_);
    return seen && seen->idle;
  };
  for (double waited = 0.0; !ended_or_idle(); waited += kLookAgainSeconds) {
    if (waited > kPatienceSeconds) give_up("the window does not come to rest");
    sleep_seconds(kLookAgainSeconds);
  }
}

bool BenchWindow::has(const std::string& widget) const {
  const std::optional<Widget> found = find_widget(see(), widget);
  return found && found->enabled;
}

Widget BenchWindow::bring_into_sight(const std::string& widget) {
  // A widget that is scrolled out of sight is not described, or lies outside the panel.
  const auto in_sight = [&](const Seen& seen) {
    const auto found = find_widget(seen, widget);
    return found && found->area.y >= panel_top(seen, *found) &&
           found->area.y + found->area.height <= panel_foot(seen, *found, screen_.size().height);
  };
  const auto usable = [&](const Seen& seen) {
    const auto found = find_widget(seen, widget);
    return in_sight(seen) && found->enabled;
  };
  const auto start = std::chrono::steady_clock::now();
  Seen seen = rest();
  while (!usable(seen)) {
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start;
    if (passed.count() > kPatienceSeconds) give_up("'" + widget + "' is not there and enabled");
    // To the end of the panel and back to its top; where it is known to lie above, to the top.
    const auto partly = find_widget(seen, widget);
    std::vector<const char*> ways{"5", "4"};
    if (partly && partly->area.y < panel_top(seen, *partly)) ways = {"4"};
    const auto scroll = [&](double x) {
      for (const char* wheel : ways) {
        for (int turn = 0; turn < kMostWheelTurns && !in_sight(seen); ++turn) {
          const Seen before = seen;
          point_at(x, kPanelHeight * screen_.size().height);
          xdotool({"click", wheel});
          seen = rest();
          const bool still = before.page_scroll == seen.page_scroll;
          if (still && same_places(before.widgets, seen.widgets)) break;
        }
      }
    };
    if (has_page(seen)) {
      const double left = kStepsWidth * seen.scale;
      const double right = screen_.size().width - kFiguresWidth * seen.scale;
      scroll(left + kPageMiddle * (right - left));
    }
    scroll(kPanelMiddle * seen.scale);
    if (!usable(seen)) seen = rest();
  }
  return find_widget(seen, widget).value();
}

void BenchWindow::click(const std::string& widget) {
  const Widget found = bring_into_sight(widget);
  point_at(found.area.x + found.area.width / 2.0, found.area.y + found.area.height / 2.0);
  press_and_release();
  rest_unless_ended();
}

void BenchWindow::type_into(const std::string& field, const std::string& text) {
  click(field);
  key("ctrl+a");
  key("BackSpace");
  xdotool({"type", "--delay", kKeyMilliseconds, "--", text});
  rest();
}

void BenchWindow::paste_into(const std::string& field, const std::string& text) {
  std::ofstream(clipboard_, std::ios::binary) << text;
  const ToolRun run =
      run_tool({"xclip", "-selection", "clipboard", "-in", clipboard_.string()}, environment_);
  if (run.exit_code != 0) give_up("the clipboard takes nothing: " + run.err);
  click(field);
  key("ctrl+a");
  key("ctrl+v");
}

void BenchWindow::key(const std::string& keys, int times) {
  std::vector<std::string> words{"key", "--delay", kKeyMilliseconds};
  for (int i = 0; i < times; ++i) words.push_back(keys);
  xdotool(words);
  rest_unless_ended();
}

std::unique_ptr<Process> BenchWindow::start_typing(const std::vector<std::string>& keys) const {
  std::vector<std::string> words{"xdotool", "key", "--delay", kKeyMilliseconds};
  words.insert(words.end(), keys.begin(), keys.end());
  return std::make_unique<Process>(words, ProcessWishes{.environment = environment_});
}

Canvas BenchWindow::photo_canvas() const {
  const Canvas canvas = wait_until("the window to rest", [](const Seen&) { return true; }).canvas;
  if (canvas.pixels_per_photo_pixel <= 0.0) give_up("no photograph is shown");
  return canvas;
}

void BenchWindow::stop_typing(std::unique_ptr<Process> hand,
                              const std::vector<std::string>& keys) const {
  hand.reset();
  std::vector<std::string> words{"keyup"};
  words.insert(words.end(), keys.begin(), keys.end());
  xdotool(words);
}

void BenchWindow::click_photo(const PhotoPoint& spot) {
  const Canvas canvas = photo_canvas();
  point_at(canvas.photo_left + spot.x_px * canvas.pixels_per_photo_pixel,
           canvas.photo_top + spot.y_px * canvas.pixels_per_photo_pixel);
  press_and_release();
  rest();
}

void BenchWindow::drag_photo(const PhotoPoint& from, const PhotoPoint& to) {
  drag("1", kDragSteps, from, to, [] {});
}

void BenchWindow::drag_photo(const PhotoPoint& from, const PhotoPoint& to,
                             const std::function<void()>& held) {
  drag("1", kDragSteps, from, to, [&] {
    rest();
    held();
  });
}

void BenchWindow::drag_photo_at_once(const PhotoPoint& from, const PhotoPoint& to) {
  drag("1", 1, from, to, [&] { rest(); });
}

void BenchWindow::drag_photo_without_waiting(const PhotoPoint& from, const PhotoPoint& to) {
  drag(
      "1", kDragSteps, from, to, [] {}, false);
}

void BenchWindow::pan_photo(const PhotoPoint& from, const PhotoPoint& to) {
  drag("3", kDragSteps, from, to, [] {});
}

void BenchWindow::drag(const char* button, int steps, const PhotoPoint& from, const PhotoPoint& to,
                       const std::function<void()>& held, bool wait) {
  const Canvas canvas = photo_canvas();
  const auto go_to = [&](double part) {
    const double x = from.x_px + part * (to.x_px - from.x_px);
    const double y = from.y_px + part * (to.y_px - from.y_px);
    point_at(canvas.photo_left + x * canvas.pixels_per_photo_pixel,
             canvas.photo_top + y * canvas.pixels_per_photo_pixel);
  };
  go_to(0.0);
  xdotool({"mousedown", button});
  sleep_seconds(kHandSeconds);
  for (int i = 1; i <= steps; ++i) go_to(static_cast<double>(i) / steps);
  held();
  xdotool({"mouseup", button});
  if (wait) rest();
}

void BenchWindow::zoom_to(const PhotoPoint& spot, double least_pixels) {
  double factor = 0.0;  // of one notch, found by the first
  for (int turn = 0; turn < kMostWheelTurns; ++turn) {
    const Canvas canvas = photo_canvas();
    const double scale = canvas.pixels_per_photo_pixel;
    if (scale >= least_pixels) return;
    point_at(canvas.photo_left + spot.x_px * scale, canvas.photo_top + spot.y_px * scale);
    int notches = 1;
    if (factor > 1.0) {
      notches = static_cast<int>(std::ceil(std::log(least_pixels / scale) / std::log(factor)));
    }
    xdotool({"click", "--repeat", std::to_string(std::max(notches, 1)), "--delay", kKeyMilliseconds,
             "4"});
    rest();
    if (factor == 0.0) factor = photo_canvas().pixels_per_photo_pixel / scale;
  }
  give_up("the photograph cannot be zoomed that far");
}

void BenchWindow::show_photo(const PhotoPoint& spot, double least_pixels) {
  const Canvas canvas = photo_canvas();
  const double scale = canvas.pixels_per_photo_pixel;
  const double x = canvas.photo_left + spot.x_px * scale - canvas.area.x;
  const double y = canvas.photo_top + spot.y_px * scale - canvas.area.y;
  const double margin = kMarginPixels * see().scale;
  if (scale >= least_pixels && x > margin && y > margin && x < canvas.area.width - margin &&
      y < canvas.area.height - margin) {
    return;
  }
  key(labels::kFitKey);
  zoom_to(spot, least_pixels);
}

void BenchWindow::put_pointer_aside() {
  point_at(screen_.size().width / 2.0, screen_.size().height - 1.0);
  rest();
}

std::filesystem::path BenchWindow::screenshot(const std::string& name) const {
  const std::filesystem::path png = screenshot_folder() / (name + ".png");
  screen_.take_picture(png);
  return png;
}

Colours BenchWindow::canvas_colours(const std::filesystem::path& png) const {
  const Seen seen = see();
  const auto page = find_widget(seen, labels::kTemplatePage);
  Area area = page ? page->area : seen.canvas.area;
  if (has_page(seen)) {
    const double left = kStepsWidth * seen.scale;
    const double right = screen_.size().width - kFiguresWidth * seen.scale;
    area = {left, 0.0, right - left, static_cast<double>(screen_.size().height)};
  }
  if (area.width <= 0.0) give_up("the middle of the window shows neither photograph nor page");
  return colours_in(png, area);
}

int BenchWindow::wait_for_end() {
  const std::optional<int> code = process_->wait(kPatienceSeconds);
  if (!code) give_up("the program does not end");
  return *code;
}

void BenchWindow::kill() {
  process_->signal(SIGKILL);
  wait_for_end();
}

std::string BenchWindow::xdotool(std::vector<std::string> words) const {
  words.insert(words.begin(), "xdotool");
  const ToolRun run = run_tool(words, environment_);
  if (run.exit_code != 0 && words.at(1) != "search") give_up("xdotool: " + run.err);
  return run.out;
}

void BenchWindow::point_at(double x, double y) const {
  if (x < 0.0 || y < 0.0 || x >= screen_.size().width || y >= screen_.size().height) {
    give_up("the pointer would leave the screen at " + number(x) + ", " + number(y));
  }
  xdotool({"mousemove", "--window", window_id_, number(x), number(y)});
  sleep_seconds(kHandSeconds);
}

void BenchWindow::press_and_release() const {
  xdotool({"mousedown", "1"});
  sleep_seconds(kHandSeconds);
  xdotool({"mouseup", "1"});
}

void BenchWindow::give_up(const std::string& what) const {
  std::string text = what;
  if (const auto code = process_->ended()) {
    text += "\nthe program has ended with " + std::to_string(*code);
  }
  try {
    if (const std::optional<Seen> seen = read_seen(description_)) text += "\n" + in_words(*seen);
  } catch (const std::runtime_error& error) {
    text += std::string("\n") + error.what();
  }
  const std::string said = err();
  if (!said.empty()) text += "\nstandard error: " + said;
  throw std::runtime_error(text);
}

}  // namespace potshadow::bench
