// SPDX-License-Identifier: MIT
// Checks the intervals by redrawing what went in and estimating anew, many times.
#pragma once

#include <cstdint>
#include <functional>
#include <stop_token>
#include <vector>

#include "core/measured.h"
#include "core/result.h"
#include "estimate/answer.h"
#include "estimate/input.h"

// The intervals of estimate() come from first-order propagation: as if sizes followed the input in
// straight lines. Here each draw moves every input by chance, by its own standard uncertainty, and
// estimates anew; the spread of the sizes is the interval without that assumption. Source: JCGM
// 101:2008, clause 7.
//
// Redrawn are the marks (all of them, by as much as they scatter), the focal length if one is
// given, the principal point, the distortion k1, the pane's thickness, each reference's sizes and
// its distance from the vessel, the wall, and the vessel's out-of-round: its body, its foot and its
// rim (as an ellipse) are drawn wider or narrower, and the marks on them move along. For a least
// squares fit with priors, moving marks and prior means alike spreads the answer as its posterior.
//
// Held as in the first estimate are how smooth the profile is, and which marks are left out: like
// the first-order interval, the spread is what is left to doubt given these. A draw that this leads
// into a vessel that does not fit is estimated from the start, with nothing held.
//
// Not reached from the input are the principal point of a cut-out, the tilt of shelf and axis, the
// pane's direction, how far a leaning reference leans, an unknown focal length, how a lens changes
// between photographs, a neighbour's out-of-round, and where a hidden end is. Their part comes from
// the first-order budget: some draws are repeated at a fraction of their size, both ways, and give
// the variance that all redrawn inputs bring as long as they are small. What is missing there of
// the first-order variance is added to each draw as a normal deviation. That covers as well the
// smoothness prior, and what a few steps from the first solution leave of a change that no mark
// holds back, such as of the scale.
namespace potshadow {

inline constexpr int kFewestDraws = 100;
inline constexpr int kMostDraws = 100'000;

struct RedrawnSize {
  SizeName name = SizeName::kHeight;
  Measured first;            // as estimate() states it
  double mean = 0.0;         // of the draws
  double sd = 0.0;           // likewise
  double low95 = 0.0;        // 2.5 % of the draws lie below
  double high95 = 0.0;       // and 2.5 % above
  double not_redrawn = 0.0;  // the part of first's variance that was added, 0 to 1
  int draws = 0;             // that gave this size

  // Whether the two intervals' half-widths differ by more than a fifth of the first-order one, and
  // by more than so few draws do by chance.
  bool differs() const;
};

struct MonteCarlo {
  int draws = 0;
  int failed = 0;  // draws that gave no answer
  std::uint64_t seed = 0;
  std::vector<RedrawnSize> sizes;  // those of the answer that at least half of the draws gave
};

struct MonteCarloWishes {
  int draws = 1000;  // kFewestDraws .. kMostDraws
  std::uint64_t seed = 1;
  int jobs = 0;  // threads; 0: as many as the machine has
  // Told how much of the work is done, from one thread at a time.
  std::function<void(int done, int all)> progress{};
  std::stop_token stop{};
};

// Returns how the sizes of `first`, which is estimate(input), spread. The same input, draws and
// seed give the same result, whatever `jobs` is. Fails with kBadValue where the number of draws is
// out of range, kCannotBeAnswered where most draws gave no answer or it was stopped, and as
// estimate() does. Where `first` has no sizes, as without a scale, nothing is redrawn. Slow: some 5
// ms a draw for 80 marks and 9 ms for 200, over the threads.
Result<MonteCarlo> monte_carlo(const EstimateInput& input, const Answer& first,
                               const MonteCarloWishes& wishes);

// Gives each size of `answer` whose two intervals differ the one of the draws, and adds a note on
// what the draws say.
void take_up(const MonteCarlo& monte_carlo, Answer& answer);

}  // namespace potshadow
