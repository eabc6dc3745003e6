# SPDX-License-Identifier: MIT
# Writes the C++ source that builds a text file into the program. Run by the build:
#
#   cmake -D INPUT=references.json -D OUTPUT=reference_table_text.cc
#         -D HEADER=project/reference_table_text.h -D FUNCTION=reference_table_text
#         -P embed_text.cmake
file(READ "${INPUT}" text)
file(WRITE "${OUTPUT}" "// Made from ${INPUT} by the build.
#include \"${HEADER}\"

namespace potshadow {

std::string_view ${FUNCTION}() {
  return R\"embedded(${text})embedded\";
}

}  // namespace potshadow
")
