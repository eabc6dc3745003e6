// SPDX-License-Identifier: MIT
// The tables of a series of pots as rows of cells, for text, paper and window alike.
#pragma once

#include <string>
#include <vector>

#include "core/text.h"
#include "project/compare_series.h"

namespace potshadow {

// A row of cells each, the first being the head; the first cell of a row says what it is about.
using SeriesRows = std::vector<std::vector<std::string>>;

// Returns what a pot at a stage is called: "First, wet".
std::string series_state_title(const SeriesPot& pot, const SeriesState& state);

// Returns all sizes as they were measured: a row each, a column for the original and for each pot
// at each stage. "–" where a size was not measured.
SeriesRows series_size_rows(const PotSeries& series, LengthUnit unit);

// Returns what each differs from the original by at the common stage: "-3.2 ± 1.1 smaller". A pot
// that cannot be brought to that stage has no column; only the head where there is nothing to tell.
SeriesRows series_difference_rows(const PotSeries& series, LengthUnit unit);

// Returns a table in parts of at most `columns` pots each, every one with the first cells; none
// where it is only a head. Rows in which a part says nothing are left out of it.
std::vector<SeriesRows> series_parts(const SeriesRows& rows, std::size_t columns);

// Returns the next pot's sizes, original and wet; only the head where no pot was followed.
SeriesRows series_next_rows(const PotSeries& series, LengthUnit unit);

// Returns what that hangs on, a sentence. Requires a pot that was followed.
std::string series_next_words(const PotSeries& series);

// Returns a sentence for each pot that was measured at two stages: "First shrank from wet to
// bone-dry by 8.0 ± 0.3 % of the wet length."
std::vector<std::string> series_shrank_words(const PotSeries& series);

// Returns a paragraph for each pot at each stage: how it stands against the original, or why that
// cannot be said.
std::vector<std::string> series_paragraphs(const PotSeries& series, LengthUnit unit);

// Returns what the words of the table of differences mean.
std::string series_legend();

}  // namespace potshadow
