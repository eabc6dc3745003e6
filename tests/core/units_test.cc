// SPDX-License-Identifier: MIT
#include "core/units.h"

#include <gtest/gtest.h>

#include <concepts>
#include <type_traits>

namespace potshadow {
namespace {

template <class A, class B>
concept CanAdd = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept CanSubtract = requires(A a, B b) {
  a - b;
};
template <class A, class B>
concept CanMultiply = requires(A a, B b) {
  a* b;
};
template <class A, class B>
concept CanDivide = requires(A a, B b) {
  a / b;
};
template <class A, class B>
concept CanCompare = requires(A a, B b) {
  a == b;
};
template <class A, class B>
concept CanOrder = requires(A a, B b) {
  a < b;
};
template <class A, class B>
concept CanAssign = requires(A& a, B b) {
  a = b;
};

// What must compile.
static_assert(CanAdd<Mm, Mm> && CanSubtract<Mm, Mm> && CanDivide<Mm, Mm>);
static_assert(CanCompare<Mm, Mm> && CanOrder<Mm, Mm> && CanAssign<Mm, Mm>);
static_assert(CanMultiply<Mm, double> && CanMultiply<double, Mm> && CanDivide<Mm, double>);
static_assert(std::same_as<decltype(Mm{} + Mm{}), Mm>);
static_assert(std::same_as<decltype(2.0 * Px{}), Px>);
static_assert(std::same_as<decltype(Rad{} / Rad{}), double>);

// What must not: each pair of different quantities, in both orders.
template <class A, class B>
constexpr bool kCannotMix =
    !CanAdd<A, B> && !CanSubtract<A, B> && !CanMultiply<A, B> && !CanDivide<A, B> &&
    !CanCompare<A, B> && !CanOrder<A, B> && !CanAssign<A, B> && !std::is_convertible_v<B, A> &&
    !std::is_constructible_v<A, B>;
static_assert(kCannotMix<Mm, Px> && kCannotMix<Px, Mm>);
static_assert(kCannotMix<Mm, Rad> && kCannotMix<Rad, Mm>);
static_assert(kCannotMix<Px, Rad> && kCannotMix<Rad, Px>);

// Nor a quantity with a bare number: its unit is not said.
static_assert(!CanAdd<Mm, double> && !CanAdd<double, Mm> && !CanSubtract<Mm, double>);
static_assert(!CanCompare<Mm, double> && !CanOrder<Mm, double> && !CanAssign<double, Mm>);
static_assert(!CanDivide<double, Mm> && !CanMultiply<Mm, Mm>);
static_assert(!std::is_convertible_v<double, Mm> && !std::is_convertible_v<Mm, double>);

// Nor points of different frames, though some hold the same numbers.
template <class A, class B>
constexpr bool kDifferentFrames = !CanCompare<A, B> && !CanAssign<A, B> &&
                                  !std::is_convertible_v<B, A> && !std::is_constructible_v<A, B>;
static_assert(kDifferentFrames<VesselPoint, CameraPoint> &&
              kDifferentFrames<CameraPoint, VesselPoint>);
static_assert(kDifferentFrames<PhotoPoint, ProfilePoint> &&
              kDifferentFrames<ProfilePoint, PhotoPoint>);
static_assert(kDifferentFrames<PhotoPoint, VesselPoint> &&
              kDifferentFrames<VesselPoint, PhotoPoint>);
static_assert(CanCompare<VesselPoint, VesselPoint> && CanAssign<VesselPoint, VesselPoint>);

TEST(Units, ArithmeticActsOnTheValue) {
  EXPECT_EQ(Mm{3.0} + Mm{4.5}, Mm{7.5});
  EXPECT_EQ(Mm{3.0} - Mm{4.5}, Mm{-1.5});
  EXPECT_EQ(-Mm{3.0}, Mm{-3.0});
  EXPECT_EQ(Px{3.0} * 4.0, Px{12.0});
  EXPECT_EQ(4.0 * Px{3.0}, Px{12.0});
  EXPECT_EQ(Rad{3.0} / 4.0, Rad{0.75});
}

TEST(Units, RatioOfLikeQuantitiesIsAPlainNumber) { EXPECT_EQ(Mm{3.0} / Mm{2.0}, 1.5); }

TEST(Units, QuantitiesOrderByValue) {
  EXPECT_LT(Mm{-2.0}, Mm{1.0});
  EXPECT_GE(Mm{1.0}, Mm{1.0});
  EXPECT_NE(Mm{1.0}, Mm{1.5});
}

TEST(Units, QuantitiesAndPointsStartAtZero) {
  EXPECT_EQ(Mm{}, Mm{0.0});
  EXPECT_EQ(VesselPoint{}, (VesselPoint{0.0, 0.0, 0.0}));
  EXPECT_EQ(PhotoPoint{}, (PhotoPoint{0.0, 0.0}));
}

TEST(Units, PointsDifferInEachCoordinate) {
  const VesselPoint p{1.0, 2.0, 3.0};
  EXPECT_EQ(p, (VesselPoint{1.0, 2.0, 3.0}));
  EXPECT_NE(p, (VesselPoint{1.5, 2.0, 3.0}));
  EXPECT_NE(p, (VesselPoint{1.0, 2.5, 3.0}));
  EXPECT_NE(p, (VesselPoint{1.0, 2.0, 3.5}));
  EXPECT_NE((ProfilePoint{1.0, 2.0}), (ProfilePoint{2.0, 1.0}));
}

}  // namespace
}  // namespace potshadow
