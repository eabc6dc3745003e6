// SPDX-License-Identifier: MIT
// All that a panel may read and write while one frame is drawn.
#pragma once

#include <vector>

#include "desktop/session/session.h"
#include "desktop/window/bench_state.h"
#include "desktop/window/description.h"
#include "desktop/window/look.h"
#include "desktop/window/orders.h"
#include "desktop/window/platform.h"
#include "desktop/window/textures.h"
#include "project/settings.h"

// A panel is a function of a Frame: it reads the session, the settings and the look, keeps what it
// must in the state, and asks for changes by orders, which are carried out after the frame.
namespace potshadow {

struct Frame {
  const Session& session;
  const Settings& settings;
  const Look& look;
  const FrameInput& input;
  BenchState& state;
  Textures& textures;
  Description& description;
  std::vector<Order>& orders;

  void ask(Order order) { orders.push_back(std::move(order)); }
  const Document& document() const { return session.document(); }
  // The photograph that is shown, or null.
  const ProjectPhoto* photo() const {
    const Document& all = session.document();
    return state.photo < all.photos.size() ? &all.photos[state.photo] : nullptr;
  }
};

}  // namespace potshadow
