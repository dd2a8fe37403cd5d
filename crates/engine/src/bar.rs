//! Bars as they are bought: section with its sizes, and skin. Knows no job and no shop.

use crate::quantity::{Length, Plain};

/// Section of a bar. The first flat of a square, hexagonal or flat bar faces x, towards `C`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BarForm {
    /// Round.
    Round {
        /// Diameter.
        diameter: Length,
    },
    /// Square.
    Square {
        /// Across flats.
        across: Length,
    },
    /// Hexagonal.
    Hexagon {
        /// Across flats.
        across: Length,
    },
    /// Flat bar: width along x, thickness along y.
    Flat {
        /// Along x.
        width: Length,
        /// Along y.
        thickness: Length,
    },
}

/// Section of a bar without its sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BarShape {
    /// Round.
    Round,
    /// Square.
    Square,
    /// Hexagonal.
    Hexagon,
    /// Flat bar.
    Flat,
}

impl BarShape {
    /// All of them, as the trade lists them.
    pub const ALL: [BarShape; 4] = [BarShape::Round, BarShape::Square, BarShape::Hexagon, BarShape::Flat];

    /// Its word in job and shop files and in the plan.
    pub fn name(self) -> &'static str {
        match self {
            BarShape::Round => "round",
            BarShape::Square => "square",
            BarShape::Hexagon => "hexagon",
            BarShape::Flat => "flat",
        }
    }
}

impl BarForm {
    /// Without its sizes.
    pub fn shape(&self) -> BarShape {
        match self {
            BarForm::Round { .. } => BarShape::Round,
            BarForm::Square { .. } => BarShape::Square,
            BarForm::Hexagon { .. } => BarShape::Hexagon,
            BarForm::Flat { .. } => BarShape::Flat,
        }
    }

    /// Sizes as it is bought, mm: diameter or across flats; of a flat bar width and thickness.
    pub fn sizes_mm(&self) -> (f64, Option<f64>) {
        match self {
            BarForm::Round { diameter: size }
            | BarForm::Square { across: size }
            | BarForm::Hexagon { across: size } => (size.plain(), None),
            BarForm::Flat { width, thickness } => (width.plain(), Some(thickness.plain())),
        }
    }

    /// Whether it is bought as the same bar: 2 in and 50.8 mm are.
    pub fn is_same_as(&self, other: &BarForm) -> bool {
        /// Sizes agree within rounding, mm.
        const SAME_MM: f64 = 1e-6;
        let ((one, second), (other_one, other_second)) = (self.sizes_mm(), other.sizes_mm());
        let alike = |a: f64, b: f64| (a - b).abs() < SAME_MM;
        self.shape() == other.shape()
            && alike(one, other_one)
            && second.zip(other_second).is_none_or(|(a, b)| alike(a, b))
    }
}

/// Skin of a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// Rolled hot: scale, out of round.
    HotRolled,
    /// Cold drawn: bright.
    Drawn,
    /// Turned.
    Turned,
    /// Ground.
    Ground,
    /// As cast: skin and sand.
    Cast,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{inch, mm};

    #[test]
    fn one_bar_in_two_units_is_one_bar() {
        let flat = |width, thickness| BarForm::Flat { width: mm(width), thickness: mm(thickness) };
        assert!(BarForm::Round { diameter: inch(2.0) }.is_same_as(&BarForm::Round { diameter: mm(50.8) }));
        assert!(!BarForm::Square { across: inch(2.0) }.is_same_as(&BarForm::Round { diameter: mm(50.8) }));
        assert!(flat(40.0, 20.0).is_same_as(&flat(40.0, 20.0)) && !flat(40.0, 20.0).is_same_as(&flat(40.0, 25.0)));
        assert!(!flat(20.0, 40.0).is_same_as(&flat(40.0, 20.0)));
    }
}
