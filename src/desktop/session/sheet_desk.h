// SPDX-License-Identifier: MIT
// Keeps what is shown and written of the sheets, and has it made in the background.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "desktop/session/latest_job.h"
#include "desktop/session/sheet_works.h"
#include "desktop/session/tracer.h"

namespace potshadow {

struct SheetView {
  std::vector<PagePixels> pages;   // pictures of the pages, or of the unrolled parts
  std::vector<SheetPlace> places;  // one a page
  std::uint64_t revision = 0;      // changes whenever `pages` does
  bool current = false;            // they are what is wanted of the latest figures
  std::vector<Note> notes;
  std::optional<Problem> problem;
  std::optional<int> pages_asked;  // see DrawnSheet
  bool stopped = false;            // the user had enough of waiting
  std::optional<Busy> busy;
};

// What is being written, or was last.
struct SheetSaving {
  std::optional<Busy> busy;
  std::uint64_t news = 0;  // counts what was written, or could not be
  std::filesystem::path file;
  std::string said;
  std::optional<Problem> problem;  // why it could not be
};

class SheetDesk {
 public:
  explicit SheetDesk(const std::function<void()>& wake) : drawing_(wake), writing_(wake) {}

  // What sheets would be made from now; null: there are no current figures.
  void follow(const std::shared_ptr<const Measurement>& measurement, const std::string& file);

  // Returns whether that is what was wanted last, be it drawn, in work or stopped.
  bool wants(const SheetSource& source, const SheetWish& wish) const;
  // Draws it. Requires figures with a scale and a clay.
  void want(SheetOrder order);
  void refuse(const Problem& problem);  // why nothing can even be begun
  void stop();
  void go_on();  // after stop()

  // Writes what was wanted last. Fails where that is not current.
  Result<Done> save(SheetFormat format, std::size_t part, const std::filesystem::path& file);
  void stop_saving();

  // Takes what is ready, and how far the works are; returns whether anything changed.
  bool take();
  // Forgets everything, as another project is opened.
  void forget();

  const SheetView& view() const { return view_; }
  const SheetSaving& saving() const { return saving_; }

 private:
  // How far a work is, told by its worker.
  struct Progress {
    std::mutex mutex;
    std::string words;
    std::optional<double> part;
  };
  static SheetWatch watch_by(std::shared_ptr<Progress> progress, std::stop_token stop);
  static bool look_at(Progress& progress, std::optional<Busy>& busy);

  struct Written {
    std::filesystem::path file;
    Result<std::string> said;
  };

  SheetView view_;
  SheetSaving saving_;
  std::optional<SheetOrder> wanted_;
  std::optional<SheetOrder> shown_;  // what `view_.pages` are
  std::shared_ptr<Progress> drawn_ = std::make_shared<Progress>();
  std::shared_ptr<Progress> written_ = std::make_shared<Progress>();
  WallStore store_;
  LatestJob<DrawnSheet> drawing_;
  LatestJob<Written> writing_;
};

}  // namespace potshadow
