//! What the last pass leaves on a flat, and where.

use crate::quantity::Units;
use crate::quantity::bare::height;

/// What stays on over a flat after its last pass, since work, overhang and machine spring apart; angles from jaw 1,
/// counter-clockwise seen from the tailstock.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// The pass that leaves it, from 1.
    pub pass: usize,
    /// Where most stays on.
    pub highest: SurfacePlace,
    /// Where least stays on.
    pub lowest: SurfacePlace,
    /// Where the highest place lies, as the hands find it: "towards jaw 2", "between jaws 1 and 2", "in the middle".
    pub towards: String,
    /// The map: rays from the spindle axis, rising angles.
    pub rays: Vec<SurfaceRay>,
}

/// One ray of the map.
#[derive(Debug, Clone, PartialEq)]
pub struct SurfaceRay {
    /// Its angle.
    pub angle_deg: f64,
    /// Where it comes onto the flat; 0: the axis lies in the flat.
    pub from_mm: f64,
    /// Where it leaves the flat.
    pub to_mm: f64,
    /// What stays on at places evenly spaced from the one to the other, both included; negative: too much comes off.
    pub left_um: Vec<f64>,
}

/// A place of the flat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfacePlace {
    /// Distance from the spindle axis.
    pub radius_mm: f64,
    /// Its angle.
    pub angle_deg: f64,
    /// What stays on there.
    pub left_um: f64,
}

impl Surface {
    /// Highest less lowest.
    pub fn from_flat_um(&self) -> f64 {
        self.highest.left_um - self.lowest.left_um
    }

    /// Whether the difference is less than anybody can find.
    pub fn is_even(&self) -> bool {
        /// A tenth of a micrometre rounds to nothing on most surfaces that a lathe leaves.
        const NOTHING_UM: f64 = 0.2;
        self.from_flat_um() < NOTHING_UM
    }

    /// How much stays on, and where the flat is high.
    pub fn says(&self, units: Units) -> String {
        let [high, least, most] =
            [self.from_flat_um(), self.lowest.left_um, self.highest.left_um].map(|um| height(um, units));
        if self.is_even() {
            return format!("pass {} leaves {most} on all over, which setting the size takes out", self.pass);
        }
        format!(
            "pass {} leaves {least} to {most} on; setting the size takes out what is the same all over, the rest makes \
             the flat {high} high {}",
            self.pass, self.towards
        )
    }
}

impl SurfaceRay {
    /// Its places.
    pub fn places(&self) -> impl Iterator<Item = SurfacePlace> + '_ {
        let stretches = self.left_um.len().saturating_sub(1).max(1) as f64;
        self.left_um.iter().enumerate().map(move |(at, &left_um)| SurfacePlace {
            radius_mm: self.from_mm + (self.to_mm - self.from_mm) * at as f64 / stretches,
            angle_deg: self.angle_deg,
            left_um,
        })
    }
}
