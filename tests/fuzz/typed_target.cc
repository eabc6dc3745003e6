// SPDX-License-Identifier: MIT
// What people type: numbers, sizes of the pot on the bench, mixes, and command lines.
#include <cmath>

#include "cli/options.h"
#include "core/printable.h"
#include "core/typed_number.h"
#include "fuzz/must.h"
#include "project/typed_bench.h"
#include "project/typed_clay.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace potshadow;
  const std::string_view text = fuzz::text_of(data, size);
  if (const auto number = typed_number(text)) {
    fuzz::must(std::isfinite(*number), "a typed number is finite");
  }
  for (const LengthUnit unit : {LengthUnit::kMm, LengthUnit::kInch}) {
    const auto reading = typed_bench_size(text, unit);
    if (!reading.ok()) fuzz::must_be_said(reading.problem());
  }
  if (const auto mix = typed_mix(text, {}); !mix.ok()) fuzz::must_be_said(mix.problem());
  const std::string printable = printable_text(text);
  fuzz::must(printable_text(printable) == printable, "what can be printed stays as it is");

  std::vector<std::string> words;
  fuzz::Bytes bytes(data, size);
  while (!bytes.empty()) words.push_back(bytes.text());
  const Command command = parse_arguments(words);
  if (const auto* wrong = std::get_if<WrongUsage>(&command)) {
    fuzz::must(!wrong->what.empty() && !wrong->next.empty(), "wrong usage is explained");
  }
  return 0;
}
