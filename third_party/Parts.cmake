# How one part of the program becomes a static library and a test program.
#
# potshadow_part(NAME core
#                FOLDER desktop/words  # <NAME> if not given
#                SOURCES a.cc b.cc     # in src/<FOLDER>/
#                TESTS a_test.cc       # in tests/<FOLDER>/
#                PUBLIC ...            # parts and libraries that the headers show
#                PRIVATE ...           # libraries that only the .cc files use
#                TEST_LINKS ...)       # what only the tests need
include(GoogleTest OPTIONAL)

add_library(potshadow_settings INTERFACE)
target_compile_options(potshadow_settings INTERFACE -Wall -Wextra -Wconversion -Wsign-conversion)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  # GCC 12 warns wrongly about joined strings (GCC bug 105651).
  target_compile_options(potshadow_settings INTERFACE -Wno-restrict)
endif()
if(POTSHADOW_WERROR)
  target_compile_options(potshadow_settings INTERFACE -Werror)
endif()
if(POTSHADOW_FUZZ)
  set(POTSHADOW_SANITIZE ON)
  target_compile_options(potshadow_settings INTERFACE -fsanitize=fuzzer-no-link)
endif()
if(POTSHADOW_SANITIZE)
  target_compile_options(potshadow_settings INTERFACE
    -fsanitize=address,undefined -fno-sanitize-recover=undefined -fno-omit-frame-pointer)
  target_link_options(potshadow_settings INTERFACE -fsanitize=address,undefined)
endif()
target_include_directories(potshadow_settings INTERFACE "${PROJECT_SOURCE_DIR}/src")

function(potshadow_tests NAME)
  cmake_parse_arguments(ARG "" "" "SOURCES;LINKS" ${ARGN})
  add_executable(${NAME} ${ARG_SOURCES})
  target_link_libraries(${NAME} PRIVATE potshadow_settings ${ARG_LINKS} GTest::gmock
                                        GTest::gtest_main)
  target_include_directories(${NAME} PRIVATE "${PROJECT_SOURCE_DIR}/tests")
  target_compile_definitions(${NAME} PRIVATE
    POTSHADOW_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  gtest_discover_tests(${NAME} DISCOVERY_TIMEOUT 60 PROPERTIES TIMEOUT 600)
endfunction()

function(potshadow_part)
  cmake_parse_arguments(ARG "" "NAME;FOLDER" "SOURCES;TESTS;PUBLIC;PRIVATE;TEST_LINKS" ${ARGN})
  set(target potshadow_${ARG_NAME})
  if(NOT ARG_FOLDER)
    set(ARG_FOLDER ${ARG_NAME})
  endif()
  list(TRANSFORM ARG_SOURCES PREPEND "${PROJECT_SOURCE_DIR}/src/${ARG_FOLDER}/")
  add_library(${target} STATIC ${ARG_SOURCES})
  target_link_libraries(${target} PUBLIC potshadow_settings ${ARG_PUBLIC} PRIVATE ${ARG_PRIVATE})
  if(POTSHADOW_TESTS AND ARG_TESTS)
    list(TRANSFORM ARG_TESTS PREPEND "${PROJECT_SOURCE_DIR}/tests/${ARG_FOLDER}/")
    potshadow_tests(${ARG_NAME}_tests SOURCES ${ARG_TESTS} LINKS ${target} ${ARG_TEST_LINKS})
  endif()
endfunction()
