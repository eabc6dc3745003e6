// SPDX-License-Identifier: MIT
// Meshes as the bytes of STL and OBJ files, in millimetres.
#pragma once

#include <string>

#include "exports/mesh.h"

namespace potshadow {

// Returns a binary STL. It has room for 80 bytes of `words`, of which what is not ASCII is left
// out, and knows no unit: everyone reads it as millimetres. Source: the format's description by its
// makers, 1989 (from memory).
std::string stl_of(const Mesh& mesh, const std::string& words);

// Returns an OBJ of points and facets, each number with four decimals, `words` as its comment.
std::string obj_of(const Mesh& mesh, const std::string& words);

}  // namespace potshadow
