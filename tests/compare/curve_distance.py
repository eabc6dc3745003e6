# SPDX-License-Identifier: MIT
"""Distances between analytic curves by SciPy, as a check from outside.

The original is half an ellipse of revolution (semi-axes a, b, middle at height c); the replica
another. Prints, for each pair and place of the original: the gap along the original's normal by
Brent's method on the replica's equation, and for each pair the scale about (0, 0) that makes the
mean of the squared gaps along the original least, and the area between original and replica
along the arc by quadrature.
"""
import math
import sys

from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

LOW, HIGH = -1.2, 1.2  # of the ellipse's parameter


def place(e, t):
    a, b, c = e
    return a * math.cos(t), c + b * math.sin(t)


def normal(e, t):
    a, b, _ = e
    x, y = b * math.cos(t), a * math.sin(t)
    n = math.hypot(x, y)
    return x / n, y / n


def gap(one, other, t):
    (r, z), (u, v), (a, b, c) = place(one, t), normal(one, t), other

    def off(w):
        return ((r + w * u) / a) ** 2 + ((z + w * v - c) / b) ** 2 - 1.0

    return brentq(off, -0.45 * min(a, b), 0.45 * min(a, b), xtol=1e-12)


def scaled(e, k):
    return tuple(k * x for x in e)


def speed(e, t):
    a, b, _ = e
    return math.hypot(a * math.sin(t), b * math.cos(t))


def whole(one, other, power):
    return quad(lambda t: abs(gap(one, other, t)) ** power * speed(one, t), LOW, HIGH, limit=200)[0]


def mean_square(one, other):
    return whole(one, other, 2) / quad(lambda t: speed(one, t), LOW, HIGH)[0]


def main():
    for line in sys.stdin:
        one, other = (tuple(map(float, part.split())) for part in line.split(";"))
        best = minimize_scalar(lambda k: mean_square(scaled(one, k), other), bounds=(0.7, 1.4),
                               method="bounded", options={"xatol": 1e-9}).x
        print("scale %.12g" % best)
        print("area %.12g" % whole(scaled(one, best), other, 1))
        for i in range(7):
            t = LOW + (HIGH - LOW) * (i + 1) / 8
            print("gap %.12g %.12g" % (t, gap(one, other, t)))
        print("end")


main()
