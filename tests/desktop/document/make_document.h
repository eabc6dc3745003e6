// SPDX-License-Identifier: MIT
// A small project with one of everything, for tests.
#pragma once

#include "desktop/document/document.h"

namespace potshadow {

// Returns a document with one photograph of 400 x 300 pixels, a card (reference 1) and a coin
// (reference 2). Its marks lie anywhere: nothing is measured with it.
inline Document make_document() {
  Document document;
  document.name = "Low bowl";
  document.photos.resize(1);
  ProjectPhoto& photo = document.photos[0];
  photo.file = "/larkmoor/case-3/low-bowl.jpg";
  photo.record = {400, 300, 1234, ""};
  photo.glass = ProjectGlass{};
  photo.references.resize(2);
  ProjectReference& card = photo.references[0];
  card.kind = "rectangle";
  card.place = "standing";
  card.width_mm = 120.0;
  card.height_mm = 80.0;
  card.corners = {{10.0, 290.0}, {90.0, 288.0}, {89.0, 240.0}};
  ProjectReference& coin = photo.references[1];
  coin.kind = "disc";
  coin.place = "lying";
  coin.diameter_mm = 23.25;
  coin.edge = {{300.0, 280.0}, {310.0, 275.0}};
  photo.marks.rim = {{100.0, 50.0}, {200.0, 40.5}, {300.0, 50.0}};
  photo.marks.base = {{200.0, 250.0}};
  photo.marks.left = {{95.0, 150.0}, {97.0, 160.0}};
  photo.marks.right = {{305.0, 150.0}};
  document.clay = ProjectClay{"", "Buff mix", 12.0, 0.5, "wet", {}};
  return document;
}

inline MarkId rim(std::size_t number) { return {0, {MarkKind::kRim, 0, number}}; }
inline MarkId left(std::size_t number) { return {0, {MarkKind::kLeft, 0, number}}; }
inline MarkId on_reference(std::size_t reference, std::size_t number) {
  return {0, {MarkKind::kReference, reference, number}};
}

}  // namespace potshadow
