// SPDX-License-Identifier: MIT
// What a photograph's file tells, and what is assumed of the picture, in plain words.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "photo/probe.h"
#include "project/project.h"

namespace potshadow {

// One line of a list of facts.
struct FactRow {
  std::string label;  // "Lens"
  std::string value;  // "like 52 mm on 35 mm film"; "–" where the file does not say
  std::string note;   // "± 4 %, as the file says it"; may be empty
  bool doubtful = false;
};

// One of the project's photographs in their list.
struct PhotoLine {
  std::string name;   // of its file, without folder and ending; "no file" where none is given
  std::string words;  // "/pots/jar-side.jpg: 54 marks on the vessel, 1 reference"
  bool marked = false;
};
// Returns one line a photograph, in their order. Those whose files have the same name are told
// apart by their folders.
std::vector<PhotoLine> photo_lines(const Project& project);

// Returns what was found: camera, lens, focal length, size, date taken, kind. A fact that the file
// does not hold has the value "–", but for camera and lens, which are then left out.
std::vector<FactRow> found_rows(const PhotoFacts& facts, const ProjectPhoto& photo);

// Returns what is assumed: focal length where none is known, the middle of the frame, a lens
// without distortion, the pane, how well marks are placed. `facts` may be null.
std::vector<FactRow> assumed_rows(const PhotoFacts* facts, const ProjectPhoto& photo);

// Returns what to look out for: no EXIF, no focal length, cropped, few pixels. What the probe noted
// itself is not repeated: the probe's notes are shown beside these. `facts` may be null.
std::vector<Note> photo_warnings(const PhotoFacts* facts, const ProjectPhoto& photo);

// Returns "12.2 megapixels", "48 megapixels", "0.3 megapixels". Requires both sides > 0.
std::string megapixels_text(int width_px, int height_px);

}  // namespace potshadow
