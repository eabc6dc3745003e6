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
  document.clay = ProjectClay{"", "Buff mix", 12.0, 0.5, "wet", {}, {}};
  return document;
}

// Returns the document above with more to be marked: a length on the glass with the line where the
// shelf meets it (reference 3), a grid with a crossing (4), a neighbour (5), the vessel's own
// height (6) and the camera's distance (7).
inline Document make_many_references() {
  Document document = make_document();
  std::vector<ProjectReference>& references = document.photos[0].references;
  references.resize(7);
  ProjectReference& length = references[2];
  length.kind = "length";
  length.place = "on-glass";
  length.length_mm = 150.0;
  length.ends = {{20.0, 30.0}};
  length.shelf_at_glass = {{{5.0, 280.0}, {390.0, 282.0}}};
  ProjectReference& grid = references[3];
  grid.kind = "grid";
  grid.place = "lying";
  grid.pitch_mm = 100.0;
  grid.columns = 3;
  grid.rows = 2;
  grid.corners = {{50.0, 295.0}, {200.0, 295.0}, {190.0, 270.0}, {60.0, 270.0}};
  grid.crossings = {{{120.0, 282.0}, 1, 1}};
  ProjectReference& neighbour = references[4];
  neighbour.kind = "neighbour";
  neighbour.size = "height";
  neighbour.value_mm = 180.0;
  neighbour.marks.rim = {{340.0, 100.0}, {360.0, 98.0}};
  neighbour.marks.base = {{350.0, 280.0}};
  neighbour.marks.left = {{335.0, 200.0}};
  neighbour.marks.right = {{366.0, 190.0}, {367.0, 210.0}};
  references[5].kind = "size";
  references[5].size = "height";
  references[5].value_mm = 214.0;
  references[6].kind = "distance";
  references[6].value_mm = 900.0;
  return document;
}

inline MarkId rim(std::size_t number) { return {0, {MarkKind::kRim, 0, number}}; }
inline MarkId left(std::size_t number) { return {0, {MarkKind::kLeft, 0, number}}; }
inline MarkId on_reference(std::size_t reference, std::size_t number) {
  return {0, {MarkKind::kReference, reference, number}};
}

// Returns a trace of the vessel of make_document: a box, a stroke, some marks on each edge, of
// which the first on the left lies beside a mark of the hand, and a stretch that was left out.
inline ProjectTrace make_trace() {
  ProjectTrace trace;
  trace.box = {PhotoPoint{80.0, 30.0}, PhotoPoint{320.0, 270.0}};
  trace.strokes = {{true, 12.0, {{200.0, 150.0}, {210.0, 160.0}}}};
  trace.rim = {{{150.0, 41.0}, 0.3}};
  trace.base = {{{190.0, 251.0}, 0.4}};
  trace.left = {{{96.0, 152.0}, 0.2}, {{110.0, 220.0}, 0.25}};
  trace.right = {{{304.0, 170.0}, 0.2}, {{290.0, 220.0}, 0.2}};
  trace.doubtful = {{"right", "the edge is too faint here", {{300.0, 180.0}, {296.0, 200.0}}}};
  return trace;
}

}  // namespace potshadow
