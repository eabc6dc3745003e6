# Fails when clang-format would change a C++ file under src/ or tests/.
#   cmake -D CLANG_FORMAT=... -D SOURCE_DIR=... -D SCRATCH_DIR=... -P format_check.cmake
# The style is pinned to clang-format 14; another version prints "SKIPPED" and checks nothing.
cmake_minimum_required(VERSION 3.25)
if(NOT CLANG_FORMAT)
  message(FATAL_ERROR "clang-format was not found. Install clang-format 14 and configure again.")
endif()
execute_process(COMMAND "${CLANG_FORMAT}" --version OUTPUT_VARIABLE version)
if(NOT version MATCHES "version 14\\.")
  message(STATUS "SKIPPED: the style is made for clang-format 14, and here is: ${version}")
  return()
endif()
set(style "--style=file:${SOURCE_DIR}/.clang-format")

# The check itself: a badly formatted file must be refused, a good one taken.
file(MAKE_DIRECTORY "${SCRATCH_DIR}")
file(WRITE "${SCRATCH_DIR}/bad.cc" "int  main( ){return 0;}\n")
file(WRITE "${SCRATCH_DIR}/good.cc" "int main() { return 0; }\n")
foreach(kind bad good)
  execute_process(COMMAND "${CLANG_FORMAT}" --dry-run -Werror "${style}" "${SCRATCH_DIR}/${kind}.cc"
                  RESULT_VARIABLE ${kind} OUTPUT_QUIET ERROR_QUIET)
endforeach()
if(bad EQUAL 0 OR NOT good EQUAL 0)
  message(FATAL_ERROR "clang-format does not tell a badly formatted file from a good one.")
endif()

file(GLOB_RECURSE files "${SOURCE_DIR}/src/*.h" "${SOURCE_DIR}/src/*.cc" "${SOURCE_DIR}/tests/*.h"
     "${SOURCE_DIR}/tests/*.cc")
list(LENGTH files count)
if(count LESS 40)
  message(FATAL_ERROR "Only ${count} files were found under ${SOURCE_DIR}; something is wrong.")
endif()
execute_process(COMMAND "${CLANG_FORMAT}" --dry-run -Werror "${style}" ${files}
                RESULT_VARIABLE result ERROR_VARIABLE complaints)
if(NOT result EQUAL 0)
  message(FATAL_ERROR "These places are not formatted; run clang-format -i on them.\n${complaints}")
endif()
message(STATUS "${count} files are formatted.")
