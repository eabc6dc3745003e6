// SPDX-License-Identifier: MIT
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <chrono>
#include <string>

#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/history_words.h"

namespace potshadow {
namespace {

constexpr const char* kPopup = "##question";
constexpr double kWidth = 440.0;  // at 100 %
constexpr double kBannerHeight = 116.0;

bool pressed(const Frame& frame, int key) {
  for (const KeyPress& press : frame.input.keys) {
    if (press.key == key && !press.repeated) return true;
  }
  return false;
}

void answer(Frame& frame, Answered answered) {
  frame.state.answered = answered;
  frame.state.question = Question::kNone;
}

void leaving(Frame& frame) {
  kit::heading(frame, leaving_question(frame.session.title()));
  const bool named = !frame.session.project_file().empty();
  kit::words(frame, named
                        ? "Save them in '" + frame.session.project_file().filename().string() + "'?"
                        : std::string("Save it? It has no file yet, so you choose a place first."));
  kit::space(frame, 16);
  kit::ButtonLook look;
  look.width = 0.0;
  look.accent = true;
  look.tooltip = "Save, then go on (Enter)";
  const bool save = kit::button(frame, "Save##question", look);
  ImGui::SameLine();
  look.accent = false;
  look.tooltip = "Give up what has changed since the last save";
  const bool leave = kit::button(frame, "Leave without saving", look);
  ImGui::SameLine();
  look.tooltip = "Go on with the work (Esc)";
  const bool stay = kit::button(frame, "Stay", look);
  if (save || pressed(frame, GLFW_KEY_ENTER) || pressed(frame, GLFW_KEY_KP_ENTER)) {
    answer(frame, Answered::kSave);
  } else if (leave) {
    answer(frame, Answered::kLeave);
  } else if (stay || pressed(frame, GLFW_KEY_ESCAPE)) {
    answer(frame, Answered::kStay);
  }
}

// What the work is called: the vessel's name, else its file's, else nothing.
std::string title_of(const RecoveredWork& work) {
  return work.project.name.empty() ? work.project_file.stem().string() : work.project.name;
}

}  // namespace

void question_view(Frame& frame) {
  if (frame.state.question != Question::kLeave) return;
  if (!ImGui::IsPopupOpen(kPopup)) ImGui::OpenPopup(kPopup);
  const ImVec2 middle = ImGui::GetMainViewport()->GetCenter();
  ImGui::SetNextWindowPos(middle, ImGuiCond_Always, ImVec2(0.5F, 0.5F));
  ImGui::SetNextWindowSize(ImVec2(frame.look.px(kWidth), 0.0F));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(frame.look.px(24), frame.look.px(20)));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, frame.look.px(6));
  ImGui::PushStyleColor(ImGuiCol_PopupBg, paint(frame.look.colours.ground));
  const bool open =
      ImGui::BeginPopupModal(kPopup, nullptr,
                             ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoMove |
                                 ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoSavedSettings);
  ImGui::PopStyleColor();
  ImGui::PopStyleVar(2);
  if (!open) return;
  leaving(frame);
  if (frame.state.question == Question::kNone) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
}

float recovery_banner_height(const Frame& frame) {
  return frame.state.question == Question::kRecover ? frame.look.px(kBannerHeight) : 0.0F;
}

void recovery_banner(Frame& frame, ScreenBox box) {
  if (frame.state.question != Question::kRecover || frame.state.recovered.empty()) return;
  const RecoveredWork& work = frame.state.recovered.front();
  ImGui::SetCursorScreenPos(ImVec2(static_cast<float>(box.left), static_cast<float>(box.top)));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(frame.look.px(16), frame.look.px(12)));
  ImGui::PushStyleColor(ImGuiCol_ChildBg, paint(frame.look.colours.sunk));
  ImGui::BeginChild("recovery",
                    ImVec2(static_cast<float>(box.width), static_cast<float>(box.height)), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding);
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  kit::words(frame,
             recovery_offer(title_of(work), work.saved_at, std::chrono::system_clock::now()));
  if (!work.project_file.empty()) {
    kit::note(frame, "It belongs to " + work.project_file.string() + ", which stays as it is.");
  }
  kit::ButtonLook look;
  look.width = 0.0;
  look.accent = true;
  look.tooltip = "Opens it as it was last kept, not yet saved";
  const bool taken = kit::button(frame, "Take it up again", look);
  ImGui::SameLine();
  look.accent = false;
  look.tooltip = "Throws the unsaved work away for good";
  const bool discarded = kit::button(frame, "Discard it", look);
  ImGui::SameLine();
  look.tooltip = "Asks again at the next start";
  const bool later = kit::button(frame, "Later", look);
  ImGui::EndChild();
  if (taken) {
    frame.ask(TakeRecovered{work});
  } else if (discarded) {
    frame.ask(DiscardRecovered{work});
  } else if (later) {
    frame.state.question = Question::kNone;
  }
}

}  // namespace potshadow
