//! The piece as it is now: a section over a length along the bar.

use super::{Floor, Point, Section};
use crate::part::Place;

/// A prismatic piece, in the part's frame: z along the bar's axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its section.
    pub section: Section,
    /// Its end at −z, mm.
    pub back_mm: f64,
    /// Its end at +z, mm.
    pub front_mm: f64,
}

impl Piece {
    /// A section from back to front, mm; without metal unless front lies beyond back.
    pub fn new(section: Section, back_mm: f64, front_mm: f64) -> Piece {
        if front_mm > back_mm && front_mm.is_finite() && back_mm.is_finite() {
            Piece { section, back_mm, front_mm }
        } else {
            Piece { section: Section::empty(), back_mm: 0.0, front_mm: 0.0 }
        }
    }

    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.section.is_empty()
    }

    /// Length along the bar, mm.
    pub fn length_mm(&self) -> f64 {
        self.front_mm - self.back_mm
    }

    /// Volume, mm³.
    pub fn volume_mm3(&self) -> f64 {
        self.section.area() * self.length_mm()
    }

    /// Mass, kg.
    pub fn mass_kg(&self, density_kg_per_m3: f64) -> f64 {
        self.volume_mm3() * 1e-9 * density_kg_per_m3
    }

    /// Centre of mass, x y z, mm; `None` where there is no metal.
    pub fn mass_centre_mm(&self) -> Option<[f64; 3]> {
        let centre = self.section.centroid()?;
        Some([centre.x, centre.y, (self.back_mm + self.front_mm) / 2.0])
    }

    /// What remains after a side is cut: n·p <= distance.
    pub fn with_side(&self, normal_rad: f64, distance_mm: f64) -> Piece {
        Piece::new(self.section.clip(normal_rad, distance_mm), self.back_mm, self.front_mm)
    }

    /// What remains behind z; a z beyond the front cuts nothing.
    pub fn with_front(&self, z_mm: f64) -> Piece {
        if z_mm >= self.front_mm { self.clone() } else { Piece::new(self.section.clone(), self.back_mm, z_mm) }
    }

    /// What remains before z; a z beyond the back cuts nothing.
    pub fn with_back(&self, z_mm: f64) -> Piece {
        if z_mm <= self.back_mm { self.clone() } else { Piece::new(self.section.clone(), z_mm, self.front_mm) }
    }

    /// What remains after a flat is cut, its distance counted as in `part::Flat`.
    pub fn with_flat(&self, place: Place, distance_mm: f64) -> Piece {
        match place {
            Place::Front => self.with_front(distance_mm),
            Place::Back => self.with_back(-distance_mm),
            Place::Side(normal_rad) => self.with_side(normal_rad, distance_mm),
        }
    }

    /// How far the metal reaches that way, mm, counted as in `part::Flat`; minus infinity where there
    /// is no metal.
    pub fn reach_mm(&self, place: Place) -> f64 {
        match place {
            Place::Front if !self.is_empty() => self.front_mm,
            Place::Back if !self.is_empty() => -self.back_mm,
            Place::Side(normal_rad) => self.section.extent_mm(normal_rad),
            _ => f64::NEG_INFINITY,
        }
    }

    /// The floor of a cut at that distance, mm, before the spindle axis is put in.
    ///
    /// A side: chord times length, first axis along the tangent (normal + 90°), second along z, seen
    /// from outside. An end: the section itself, as seen from the front; shares and radii are the same
    /// seen from behind.
    pub fn floor_section(&self, place: Place, distance_mm: f64) -> Section {
        match place {
            Place::Side(normal_rad) => self.side_floor(normal_rad, distance_mm),
            Place::Front | Place::Back if self.reaches(place, distance_mm) => self.section.clone(),
            Place::Front | Place::Back => Section::empty(),
        }
    }

    /// The floor of a cut at that distance about the spindle axis, given in the floor's own plane as
    /// in `floor_section`.
    pub fn floor(&self, place: Place, distance_mm: f64, axis: Point) -> Floor {
        Floor::about(&self.floor_section(place, distance_mm), axis)
    }

    /// Volume removed between two distances of a flat, mm³, whichever is named first; summed over the
    /// metal removed, not taken as a difference of wholes.
    pub fn removed_mm3(&self, place: Place, one_mm: f64, other_mm: f64) -> f64 {
        let (low, high) = (one_mm.min(other_mm), one_mm.max(other_mm));
        match place {
            Place::Side(normal_rad) => self.section.strip_area(normal_rad, low, high) * self.length_mm(),
            Place::Front => self.section.area() * overlap(low, high, self.back_mm, self.front_mm),
            Place::Back => self.section.area() * overlap(low, high, -self.front_mm, -self.back_mm),
        }
    }

    fn side_floor(&self, normal_rad: f64, distance_mm: f64) -> Section {
        match self.section.chord(normal_rad, distance_mm) {
            Some((from, to)) => Section::rectangle(from, to, self.back_mm, self.front_mm),
            None => Section::empty(),
        }
    }

    /// Whether the end at that distance lies in the metal.
    fn reaches(&self, place: Place, distance_mm: f64) -> bool {
        let z_mm = if place == Place::Back { -distance_mm } else { distance_mm };
        (self.back_mm..=self.front_mm).contains(&z_mm)
    }
}

/// Length common to two intervals.
fn overlap(a0: f64, a1: f64, b0: f64, b1: f64) -> f64 {
    (a1.min(b1) - a0.max(b0)).max(0.0)
}
