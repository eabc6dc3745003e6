// SPDX-License-Identifier: MIT
#include "sheets/font_file.h"

#include <fontconfig/fontconfig.h>

#include <memory>

namespace potshadow {

Result<std::string> font_file(const std::string& family, FontWeight weight) {
  using Pattern = std::unique_ptr<FcPattern, decltype(&FcPatternDestroy)>;
  const Pattern wanted(FcPatternCreate(), FcPatternDestroy);
  const auto add_family = [&](const char* name) {
    FcPatternAddString(wanted.get(), FC_FAMILY, reinterpret_cast<const FcChar8*>(name));
  };
  add_family(family.c_str());
  add_family("sans-serif");
  FcPatternAddInteger(wanted.get(), FC_WEIGHT,
                      weight == FontWeight::kSemiBold ? FC_WEIGHT_DEMIBOLD : FC_WEIGHT_REGULAR);
  FcPatternAddInteger(wanted.get(), FC_SLANT, FC_SLANT_ROMAN);
  FcPatternAddBool(wanted.get(), FC_SCALABLE, FcTrue);
  FcConfigSubstitute(nullptr, wanted.get(), FcMatchPattern);
  FcDefaultSubstitute(wanted.get());
  FcResult result = FcResultNoMatch;
  const Pattern found(FcFontMatch(nullptr, wanted.get(), &result), FcPatternDestroy);
  FcChar8* file = nullptr;
  if (found == nullptr || FcPatternGetString(found.get(), FC_FILE, 0, &file) != FcResultMatch) {
    return Problem{Code::kFileMissing, "No font was found for '" + family + "'.",
                   "Install the packages fonts-inter and fonts-dejavu-core.", ""};
  }
  return std::string(reinterpret_cast<const char*>(file));
}

}  // namespace potshadow
