// SPDX-License-Identifier: MIT
// Owners of libheif's objects; for the .cc files of this part only.
#pragma once

#include <libheif/heif.h>

#include <memory>
#include <string_view>

// libheif is written in C: each object has its own release function. `open_heif` reads the boxes
// and no pixels; the bytes must outlive the context.
namespace potshadow {

struct HeifRelease {
  void operator()(heif_context* context) const { heif_context_free(context); }
  void operator()(heif_image_handle* handle) const { heif_image_handle_release(handle); }
  void operator()(heif_image* image) const { heif_image_release(image); }
  void operator()(heif_decoding_options* options) const { heif_decoding_options_free(options); }
};
using HeifContext = std::unique_ptr<heif_context, HeifRelease>;
using HeifHandle = std::unique_ptr<heif_image_handle, HeifRelease>;
using HeifImage = std::unique_ptr<heif_image, HeifRelease>;
using HeifOptions = std::unique_ptr<heif_decoding_options, HeifRelease>;

struct OpenedHeif {
  HeifContext context;
  HeifHandle picture;  // the main picture; empty where the file could not be read
};

// Returns the file opened at its main picture; `picture` is empty where that fails.
inline OpenedHeif open_heif(std::string_view bytes) {
  OpenedHeif file;
  file.context.reset(heif_context_alloc());
  if (!file.context) return file;
  if (heif_context_read_from_memory_without_copy(file.context.get(), bytes.data(), bytes.size(),
                                                 nullptr)
          .code != heif_error_Ok) {
    return file;
  }
  heif_image_handle* handle = nullptr;
  if (heif_context_get_primary_image_handle(file.context.get(), &handle).code == heif_error_Ok) {
    file.picture.reset(handle);
  }
  return file;
}

}  // namespace potshadow
