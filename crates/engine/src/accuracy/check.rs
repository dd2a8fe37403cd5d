//! What is asked of the part as sums of the chain's quantities: a check holds when its values lie where they must.

use std::rc::Rc;

use super::carried::{Basis, Carried, add};
use super::chain::Chain;
use super::noise::Noise;

/// A quantity of the chain with its weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Term {
    /// Slope of a face along one of its tangents.
    Slope(u8, usize, f64),
    /// Axial slip of the spindle as a face was cut, to either side of its middle, proud along one of its tangents.
    Slip(u8, usize, f64),
    /// What the size that was measured as this face was cut is off its aim.
    Size(u8, f64),
    /// Facing hollow: the cone of the cross slide, rad times a radius in mm.
    Cone(f64),
    /// Roughness about what feed and nose give.
    Roughness(f64),
}

/// One value that is looked at, in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Summed up.
    pub terms: Vec<Term>,
    /// What is there without any error.
    pub constant: f64,
}

/// Right beside the place where the spindle's axis met a face, its slip stands proud by all of it one way and low by
/// all of it the other: two more values, about that of a row by the root of the squares of two sums.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// The row, by its place in the list.
    pub about: usize,
    /// The slip along two directions square to one another.
    pub sums: [Row; 2],
}

/// How the values of a check are judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Judged {
    /// Every value between two limits.
    Within(f64, f64),
    /// The greatest less the least, and what form adds, at most so much.
    Zone {
        /// Width of the zone.
        most: f64,
        /// What the form of the face takes of it.
        form: f64,
    },
}

/// A check on a finished part.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Which of what is asked, by its place in the list.
    pub asked: usize,
    /// The faces that it looks at.
    pub faces: Vec<u8>,
    /// The values.
    pub rows: Vec<Row>,
    /// Values that go round about a row.
    pub turns: Vec<Turn>,
    /// How they are judged.
    pub judged: Judged,
}

/// How the cross slide is out of square, for the rows with a cone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cone {
    /// What is known of it, rad.
    pub known_rad: f64,
    /// What is not.
    pub spread_rad: f64,
}

impl Row {
    /// The row's coefficients or values.
    pub fn carried(&self, chain: &Chain, basis: &mut impl Basis, cone: Cone, roughness_share: f64) -> Carried {
        let mut sum = Carried::new();
        add(&mut sum, self.constant, &basis.unit(Noise::Known));
        for term in &self.terms {
            match *term {
                Term::Slope(face, tangent, weight) => add(&mut sum, weight, chain.slope(face, tangent).unwrap_or(&[])),
                Term::Slip(face, tangent, weight) => add(&mut sum, weight, chain.slip(face, tangent).unwrap_or(&[])),
                Term::Size(face, weight) => add(&mut sum, weight, chain.size(face).unwrap_or(&[])),
                Term::Cone(radius) => {
                    add(&mut sum, radius * cone.known_rad, &basis.unit(Noise::Known));
                    add(&mut sum, radius * cone.spread_rad, &basis.unit(Noise::CrossSlide));
                }
                Term::Roughness(value) => add(&mut sum, value * roughness_share, &basis.unit(Noise::Roughness)),
            }
        }
        sum
    }
}

/// A check with the values of its rows in every sample piece.
#[derive(Debug, Clone)]
pub struct Valued {
    /// One list per row.
    pub rows: Vec<Rc<[f64]>>,
    /// By how much values go round about a row.
    pub turns: Vec<(usize, Rc<[f64]>)>,
    /// How they are judged.
    pub judged: Judged,
}

impl Check {
    /// The values of its rows.
    pub fn valued(&self, chain: &Chain, basis: &mut impl Basis, cone: Cone, roughness_share: f64) -> Valued {
        let mut carried = |row: &Row| row.carried(chain, basis, cone, roughness_share);
        let rows = self.rows.iter().map(|row| carried(row).into()).collect();
        let turns = self.turns.iter().map(|turn| {
            let [one, other] = [&turn.sums[0], &turn.sums[1]].map(&mut carried);
            (turn.about, one.iter().zip(&other).map(|(one, other)| (one * one + other * other).sqrt()).collect())
        });
        Valued { rows, turns: turns.collect(), judged: self.judged }
    }
}

impl Valued {
    /// Least and greatest value of a piece.
    pub fn ends(&self, piece: usize) -> (f64, f64) {
        let of = |list: &[f64]| list.get(piece).copied().unwrap_or(0.0);
        let ends = self
            .rows
            .iter()
            .map(|row| of(row))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
        self.turns.iter().fold(ends, |(low, high), (about, by)| {
            let (middle, by) = (self.rows.get(*about).map_or(0.0, |row| of(row)), of(by));
            (low.min(middle - by), high.max(middle + by))
        })
    }

    /// Whether a piece passes.
    pub fn good(&self, piece: usize) -> bool {
        let (low, high) = self.ends(piece);
        match self.judged {
            Judged::Within(least, most) => low >= least && high <= most,
            Judged::Zone { most, form } => high - low + form <= most,
        }
    }

    /// What a person would write down for a piece: the middle of its values, or the width of its zone.
    pub fn told(&self, piece: usize) -> f64 {
        let (low, high) = self.ends(piece);
        match self.judged {
            Judged::Within(..) => (low + high) / 2.0,
            Judged::Zone { form, .. } => high - low + form,
        }
    }
}
