# Every outside library the program uses. README.md beside this file gives each one's licence and
# why it was chosen; install-debian.sh installs them.
find_package(PkgConfig REQUIRED)
find_package(Eigen3 3.4 REQUIRED NO_MODULE)
find_package(Ceres 2.1 REQUIRED)
find_package(nlohmann_json 3.11 REQUIRED)
find_package(CLI11 2.1 REQUIRED)
find_package(Threads REQUIRED)
pkg_check_modules(CAIRO REQUIRED IMPORTED_TARGET cairo cairo-pdf cairo-ft fontconfig)
pkg_check_modules(EXIF REQUIRED IMPORTED_TARGET libexif)
pkg_check_modules(HEIF REQUIRED IMPORTED_TARGET libheif)
pkg_check_modules(NETTLE REQUIRED IMPORTED_TARGET nettle)

pkg_check_modules(IMGUI REQUIRED IMPORTED_TARGET imgui)
pkg_check_modules(GLFW REQUIRED IMPORTED_TARGET glfw3)
pkg_check_modules(FREETYPE REQUIRED IMPORTED_TARGET freetype2)
find_package(OpenGL REQUIRED)

# Debian ships OpenCVConfig.cmake only with the whole of OpenCV. We use four modules, so find
# those alone; as imported targets their headers count as system headers.
find_path(OPENCV_INCLUDE_DIR opencv2/core.hpp PATH_SUFFIXES opencv4 REQUIRED)
foreach(module core imgproc imgcodecs calib3d)
  find_library(OPENCV_${module}_LIBRARY opencv_${module} REQUIRED)
  add_library(opencv::${module} SHARED IMPORTED)
  set_target_properties(opencv::${module} PROPERTIES
    IMPORTED_LOCATION "${OPENCV_${module}_LIBRARY}"
    INTERFACE_INCLUDE_DIRECTORIES "${OPENCV_INCLUDE_DIR}")
endforeach()

if(POTSHADOW_TESTS)
  find_package(GTest 1.12 REQUIRED)
  find_package(rapidcheck REQUIRED)
endif()
if(POTSHADOW_BENCHMARKS)
  find_package(benchmark REQUIRED)
endif()
