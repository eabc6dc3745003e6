// SPDX-License-Identifier: MIT
#include "project/series_table.h"

#include <algorithm>
#include <utility>

#include "project/answer_text.h"
#include "project/clay_text.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr const char* kNone = "–";

std::string figure_words(const Measured& m, SizeName name, LengthUnit unit) {
  return words_of(name == SizeName::kCapacity ? volume_figure(m) : length_figure(m, unit));
}

std::string row_title(SizeName name) {
  return std::string(size_words(name)) + (name == SizeName::kCapacity ? ", ml" : "");
}

std::string_view verdict_word(Comparison verdict) {
  return verdict == Comparison::kCannotTell ? "open" : comparison_key(verdict);
}

const SizeDifference* difference_of(const VesselComparison& comparison, SizeName name) {
  for (const ComparedSize& size : comparison.sizes) {
    if (size.name == name) return &size.difference;
  }
  return nullptr;
}

std::string shrank_words(const PotShrinkage& shrank) {
  const LinearShrinkage& s = shrank.shrinkage;
  return "from " + std::string(stage_words(s.from)) + " to " + std::string(stage_words(s.to)) +
         " by " + percent_words(s) + " " + basis_words(s.from);
}

// Adds a row for each size of which a column says anything. `cell` gives a pot's, or kNone.
template <typename Cell>
void add_size_rows(std::size_t columns, const Cell& cell, SeriesRows& rows) {
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    const auto name = static_cast<SizeName>(i);
    std::vector<std::string> row{row_title(name)};
    bool any = false;
    for (std::size_t column = 0; column < columns; ++column) {
      row.push_back(cell(name, column));
      any = any || row.back() != kNone;
    }
    if (any) rows.push_back(std::move(row));
  }
}

}  // namespace

std::string series_state_title(const SeriesPot& pot, const SeriesState& state) {
  return pot.title + ", " + std::string(stage_words(state.vessel.stage));
}

SeriesRows series_size_rows(const PotSeries& series, LengthUnit unit) {
  std::vector<std::string> head{std::string(unit_name(unit)), "original"};
  std::vector<const std::vector<MeasuredSize>*> columns{&series.original_sizes};
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      head.push_back(series_state_title(pot, state));
      columns.push_back(&state.vessel.sizes);
    }
  }
  SeriesRows rows{std::move(head)};
  add_size_rows(
      columns.size(),
      [&](SizeName name, std::size_t column) -> std::string {
        for (const MeasuredSize& size : *columns[column]) {
          if (size.name == name) return figure_words(size.measured, name, unit);
        }
        return kNone;
      },
      rows);
  return rows;
}

SeriesRows series_difference_rows(const PotSeries& series, LengthUnit unit) {
  std::vector<std::string> head{std::string(unit_name(unit))};
  std::vector<const VesselComparison*> columns;
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      if (!state.against) continue;
      head.push_back(series_state_title(pot, state));
      columns.push_back(&*state.against);
    }
  }
  SeriesRows rows{std::move(head)};
  add_size_rows(
      columns.size(),
      [&](SizeName name, std::size_t column) -> std::string {
        const SizeDifference* const d = difference_of(*columns[column], name);
        if (d == nullptr) return kNone;
        return figure_words(d->together(), name, unit) + " " +
               std::string(verdict_word(d->verdict));
      },
      rows);
  return rows;
}

std::vector<SeriesRows> series_parts(const SeriesRows& rows, std::size_t columns) {
  std::vector<SeriesRows> parts;
  for (std::size_t from = 1; rows.size() > 1 && from < rows.front().size(); from += columns) {
    const std::size_t to = std::min(from + columns, rows.front().size());
    SeriesRows part;
    for (const std::vector<std::string>& row : rows) {
      std::vector<std::string> cells{row.front()};
      bool any = part.empty();
      for (std::size_t i = from; i < to; ++i) {
        any = any || row[i] != kNone;
        cells.push_back(row[i]);
      }
      if (any) part.push_back(std::move(cells));
    }
    parts.push_back(std::move(part));
  }
  return parts;
}

SeriesRows series_next_rows(const PotSeries& series, LengthUnit unit) {
  SeriesRows rows{{std::string(unit_name(unit)), "original", "make, wet"}};
  for (const NextSize& size : series.next) {
    rows.push_back({row_title(size.name), figure_words(size.original, size.name, unit),
                    figure_words(size.wet, size.name, unit)});
  }
  return rows;
}

std::string series_next_words(const PotSeries& series) {
  const std::string pots =
      series.followed == 1 ? "one pot" : std::to_string(series.followed) + " pots";
  return "By what " + pots + " really did, beside what was known of the clay, it shrinks by " +
         percent_words(*series.mean) + " " + basis_words(Stage::kWet) +
         ", and the next pot, which is no mean of pots, by " + percent_words(*series.next_pot) +
         ".";
}

std::vector<std::string> series_shrank_words(const PotSeries& series) {
  std::vector<std::string> out;
  for (const SeriesPot& pot : series.pots) {
    if (pot.shrank.empty()) continue;
    std::string words = pot.title + " shrank ";
    for (std::size_t i = 0; i < pot.shrank.size(); ++i) {
      words += (i > 0 ? ", " : "") + shrank_words(pot.shrank[i]);
    }
    if (pot.in_all && pot.shrank.size() > 1) {
      words +=
          "; in all by " + percent_words(pot.in_all->shrinkage) + " " + basis_words(Stage::kWet);
    }
    out.push_back(words + ".");
  }
  return out;
}

std::vector<std::string> series_paragraphs(const PotSeries& series, LengthUnit unit) {
  std::vector<std::string> out;
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      std::string words = state.why_not;
      if (state.against) words = comparison_paragraph(*state.against, unit);
      if (words.empty()) words = "Nothing that both were measured by.";
      out.push_back(series_state_title(pot, state) + ". " + words);
    }
  }
  return out;
}

std::string series_legend() {
  return "Each ± is a 95 % interval; those of a pot's differences hold all at once. Same: to "
         "within " +
         fixed_text(kSamePercent, 0) + " %. Open: it cannot be told.";
}

}  // namespace potshadow
