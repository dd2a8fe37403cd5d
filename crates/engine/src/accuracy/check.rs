//! What is asked of the part as sums of the chain's quantities: a check holds when its values lie where they must.

use std::ops::Range;
use std::rc::Rc;

use super::carried::{Basis, Carried, Samples, add};
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
        let some = |sum: &mut Carried, weight: f64, what: Option<Rc<[f64]>>| {
            add(sum, weight, what.as_deref().unwrap_or_default());
        };
        add(&mut sum, self.constant, &basis.unit(Noise::Known));
        for term in &self.terms {
            match *term {
                Term::Slope(face, tangent, weight) => some(&mut sum, weight, chain.slope(face, tangent)),
                Term::Slip(face, tangent, weight) => some(&mut sum, weight, chain.slip(face, tangent)),
                Term::Size(face, weight) => some(&mut sum, weight, chain.size(face)),
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

/// A check with the outermost of its values in every sample piece.
#[derive(Debug, Clone)]
pub struct Valued {
    low: Vec<f64>,
    high: Vec<f64>,
    judged: Judged,
}

/// So many pieces are worked out at a time, so that their sums stay near.
const BLOCK: usize = 64;

impl Check {
    /// The values of its rows in so many pieces.
    pub fn valued(&self, chain: &Chain, samples: &mut Samples, cone: Cone, roughness_share: f64) -> Valued {
        let mut drawn = Drawn { chain, samples, cone, roughness_share, lists: Vec::new() };
        let rows: Vec<Sum> = self.rows.iter().map(|row| drawn.sum(row)).collect();
        let turns: Vec<(usize, [Sum; 2])> =
            self.turns.iter().map(|turn| (turn.about, [0, 1].map(|at| drawn.sum(&turn.sums[at])))).collect();
        let (count, lists) = (drawn.samples.count(), drawn.lists);
        let (mut low, mut high) = (vec![f64::INFINITY; count], vec![f64::NEG_INFINITY; count]);
        for from in (0..count).step_by(BLOCK) {
            let block = from..(from + BLOCK).min(count);
            let (low, high) = (&mut low[block.clone()], &mut high[block.clone()]);
            for (at, row) in rows.iter().enumerate() {
                let values = row.of(&lists, block.clone());
                outermost(low, high, &values, &[0.0; BLOCK]);
                for (_, sums) in turns.iter().filter(|(about, _)| *about == at) {
                    let [mut one, other] = [0, 1].map(|at| sums[at].of(&lists, block.clone()));
                    one.iter_mut().zip(&other).for_each(|(one, other)| *one = (*one * *one + other * other).sqrt());
                    outermost(low, high, &values, &one);
                }
            }
        }
        Valued { low, high, judged: self.judged }
    }
}

/// Takes values, each to either side, into the least and the greatest so far.
fn outermost(low: &mut [f64], high: &mut [f64], values: &[f64; BLOCK], beside: &[f64; BLOCK]) {
    for (((low, high), value), beside) in low.iter_mut().zip(high).zip(values).zip(beside) {
        let (under, over) = (value - beside, value + beside);
        *low = if under < *low { under } else { *low };
        *high = if over > *high { over } else { *high };
    }
}

/// A row as weights of lists of draws, each list once.
struct Sum {
    constant: f64,
    parts: Vec<(usize, f64)>,
}

impl Sum {
    fn of(&self, lists: &[(Kind, Rc<[f64]>)], block: Range<usize>) -> [f64; BLOCK] {
        let mut sums = [self.constant; BLOCK];
        for &(list, weight) in &self.parts {
            for (sum, drawn) in sums.iter_mut().zip(&lists[list].1[block.clone()]) {
                *sum += weight * drawn;
            }
        }
        sums
    }
}

/// What a list of draws is of.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    Slope(u8, usize),
    Slip(u8, usize),
    Size(u8),
    Cone,
    Roughness,
}

/// The lists that rows are sums of.
struct Drawn<'a> {
    chain: &'a Chain,
    samples: &'a mut Samples,
    cone: Cone,
    roughness_share: f64,
    lists: Vec<(Kind, Rc<[f64]>)>,
}

impl Drawn<'_> {
    fn sum(&mut self, row: &Row) -> Sum {
        let mut sum = Sum { constant: row.constant, parts: Vec::with_capacity(row.terms.len()) };
        for term in &row.terms {
            let (kind, weight) = match *term {
                Term::Slope(face, tangent, weight) => (Kind::Slope(face, tangent), weight),
                Term::Slip(face, tangent, weight) => (Kind::Slip(face, tangent), weight),
                Term::Size(face, weight) => (Kind::Size(face), weight),
                Term::Cone(radius) => {
                    sum.constant += radius * self.cone.known_rad;
                    (Kind::Cone, radius * self.cone.spread_rad)
                }
                Term::Roughness(value) => (Kind::Roughness, value * self.roughness_share),
            };
            if weight == 0.0 {
                continue;
            }
            let Some(list) = self.list(kind) else { continue };
            match sum.parts.iter_mut().find(|part| part.0 == list) {
                Some(part) => part.1 += weight,
                None => sum.parts.push((list, weight)),
            }
        }
        sum
    }

    /// Where a list stands; `None`: nothing was drawn for it.
    fn list(&mut self, kind: Kind) -> Option<usize> {
        if let Some(at) = self.lists.iter().position(|list| list.0 == kind) {
            return Some(at);
        }
        let chain = self.chain;
        let list = match kind {
            Kind::Slope(face, tangent) => chain.slope(face, tangent)?,
            Kind::Slip(face, tangent) => chain.slip(face, tangent)?,
            Kind::Size(face) => chain.size(face)?,
            Kind::Cone => self.samples.unit(Noise::CrossSlide),
            Kind::Roughness => self.samples.unit(Noise::Roughness),
        };
        if list.is_empty() {
            return None;
        }
        self.lists.push((kind, list));
        Some(self.lists.len() - 1)
    }
}

impl Valued {
    /// Least and greatest value of a piece.
    pub fn ends(&self, piece: usize) -> (f64, f64) {
        let of = |list: &[f64]| list.get(piece).copied().unwrap_or(0.0);
        (of(&self.low), of(&self.high))
    }

    /// By how much the limits would have to be wider for a piece to pass; less than nothing: what is to spare.
    pub fn lacking(&self, piece: usize) -> f64 {
        let (low, high) = self.ends(piece);
        match self.judged {
            Judged::Within(least, most) => (least - low).max(high - most),
            Judged::Zone { most, form } => high - low + form - most,
        }
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
