use std::iter::Sum;
use std::ops::{Add, Mul, Sub};

use super::length::Length;

/// A surface, in square 1/8000 mm; exact for any two lengths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area(i128);

impl Area {
    pub const ZERO: Self = Self(0);

    pub const fn of(width: Length, depth: Length) -> Self {
        Self(width.units() as i128 * depth.units() as i128)
    }

    /// The count of square 1/8000 mm.
    pub const fn units(self) -> i128 {
        self.0
    }

    pub fn to_square_metres(self) -> f64 {
        self.0 as f64 / (8_000_000.0 * 8_000_000.0)
    }

    /// Square feet; 1 ft = 304.8 mm.
    pub fn to_square_feet(self) -> f64 {
        self.0 as f64 / (2_438_400.0 * 2_438_400.0)
    }
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area::of(self, other)
    }
}

impl Add for Area {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Area {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Self>>(areas: I) -> Self {
        areas.fold(Self::ZERO, Add::add)
    }
}
