// SPDX-License-Identifier: MIT
// A measured value with its standard uncertainty and 95 % interval, and how to round it.
#pragma once

#include <string>

// Model: a value x with standard uncertainty u and an interval [low95, high95] that holds the truth
// with 95 % probability. Where the distribution is normal the interval is x ± 1.96 u. Unit-free:
// the field's name says the unit (`height` in a struct of millimetres).
namespace potshadow {

// The two-sided 95 % point of the normal distribution.
inline constexpr double kNormal95 = 1.959963984540054;

struct Measured {
  double value = 0.0;
  double sd = 0.0;  // >= 0
  double low95 = 0.0;
  double high95 = 0.0;
  friend bool operator==(const Measured&, const Measured&) = default;
};

// Returns value ± 1.96 sd as a Measured. Requires sd >= 0.
Measured normal_measured(double value, double sd);

// Returns `m` with value, sd and interval multiplied by an exact factor > 0.
Measured scaled(const Measured& m, double factor);

// A value and its uncertainty written so that the last digit of both means the same.
struct RoundedText {
  std::string value;       // "10.058"
  std::string plus_minus;  // "0.027"
  int decimals = 0;        // digits after the point in both
};

// Returns the value and its uncertainty rounded for print: the uncertainty to two significant
// digits, the value to the same place. `least_decimals`..`most_decimals` bound the digits after the
// point, so that a table stays readable. Not finite values give "–".
// Source: JCGM 100:2008 (GUM) 7.2.6.
RoundedText rounded(double value, double uncertainty, int least_decimals = 0,
                    int most_decimals = 6);

}  // namespace potshadow
