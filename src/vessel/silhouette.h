// SPDX-License-Identifier: MIT
// Where the sight lines from an eye touch a vessel: the contact points of its outline.
#pragma once

#include <optional>

#include "core/units.h"
#include "vessel/profile.h"

// Model: at (r, z) on the profile, with outward normal (n_r, n_z), the surface point at azimuth a
// has the normal (n_r cos a, n_r sin a, n_z). The sight line from the eye E touches the surface
// there when normal . (point - E) = 0, that is
//   cos(a - a_E) = (n_r r + n_z (z - E_z)) / (n_r rho_E),
// with a_E and rho_E the eye's azimuth and distance from the axis. Two contacts, one on each side,
// or none where that latitude is seen wholly from above, below or within.
// Source: Wong, Mendonça, Cipolla, Image and Vision Computing 22(10), 2004 (surfaces of
// revolution); the formula is elementary.
namespace potshadow {

// Returns the cosine of the angle in [0, pi] between the eye's azimuth and the contacts', at a
// profile point with outward normal `normal` of any length, for an eye at distance `eye_rho` > 0
// from the axis and height `eye_z`. Nothing where no sight line touches.
std::optional<double> contact_cosine(const ProfilePoint& point, const ProfilePoint& normal,
                                     Mm eye_rho, Mm eye_z);

// Returns the angle itself.
std::optional<Rad> contact_angle(const ProfilePoint& point, const ProfilePoint& normal, Mm eye_rho,
                                 Mm eye_z);

// Returns how wide the vessel looks on a flat reading from `eye`: the width in millimetres, in the
// plane through the axis square to the sight line, of the outline at its widest. Requires an eye
// outside the vessel. What a ruler laid over the photograph reads.
Mm apparent_max_diameter(const Profile& profile, const VesselPoint& eye);

}  // namespace potshadow
