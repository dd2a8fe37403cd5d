//! A slide's dial in plain numbers: what one mark and one turn really move.

use super::advance::along_bed_mm;
use crate::quantity::{Length, Plain};
use crate::shop::{DialUnit, Reads, Slide};

/// More marks than this on a ring, or in a depth, is a mistake in the file and not a dial.
pub(super) const MOST_MARKS: f64 = 1e6;

/// A dial in plain numbers; depths are square to the surface that is faced.
#[derive(Debug, Clone, PartialEq)]
pub struct Dial {
    /// Depth of cut per mark, mm: real travel per mark × cos(set over).
    pub mark_depth_mm: f64,
    /// Depth of cut per whole turn, mm.
    pub turn_depth_mm: f64,
    /// Marks that the ring shows in a turn: `per_turn / graduation`, whole.
    pub marks_per_turn: u32,
    /// What a mark claims, in the dial's own unit.
    pub graduation: f64,
    /// The dial's own unit.
    pub unit: DialUnit,
    /// Whether a mark claims travel or twice the travel.
    pub reads: Reads,
    /// Travel per turn by the paint, mm: half of what the ring counts when it reads diameter.
    pub painted_travel_mm: f64,
    /// Real travel per turn, mm: the screw's where it is given.
    pub travel_per_turn_mm: f64,
    /// Set over from along the bed, rad.
    pub set_over_rad: f64,
    /// Most depth within the slide's travel, mm; `None`: travel not given.
    pub most_depth_mm: Option<f64>,
    /// Free turn of the screw as travel, mm; `None`: not given.
    pub backlash_mm: Option<f64>,
}

impl Dial {
    /// Reads a slide; in words what is wrong with it.
    pub fn new(slide: &Slide) -> Result<Dial, String> {
        let graduation_mm = positive("graduation", slide.graduation)?;
        let per_turn_mm = positive("per_turn", slide.per_turn)?;
        let marks_per_turn = whole_marks(per_turn_mm / graduation_mm)?;
        let set_over_rad = set_over(slide)?;
        let painted_travel_mm = if slide.reads == Reads::Diameter { per_turn_mm / 2.0 } else { per_turn_mm };
        let travel_per_turn_mm = match slide.screw {
            Some(screw) => positive("screw", screw)?,
            None => painted_travel_mm,
        };
        let turn_depth_mm = along_bed_mm(travel_per_turn_mm, set_over_rad);
        Ok(Dial {
            mark_depth_mm: turn_depth_mm / f64::from(marks_per_turn),
            turn_depth_mm,
            marks_per_turn,
            graduation: graduation_mm / mm_per_unit(slide.unit),
            unit: slide.unit,
            reads: slide.reads,
            painted_travel_mm,
            travel_per_turn_mm,
            set_over_rad,
            most_depth_mm: match slide.travel {
                Some(travel) => Some(along_bed_mm(positive("travel", travel)?, set_over_rad)),
                None => None,
            },
            backlash_mm: backlash(slide)?,
        })
    }

    /// The whole number of marks nearest to a depth; `None` for a depth that no dial can show.
    pub fn nearest_marks(&self, depth_mm: f64) -> Option<u64> {
        let marks = (depth_mm / self.mark_depth_mm).round();
        (depth_mm >= 0.0 && marks <= MOST_MARKS).then_some(marks as u64)
    }

    /// What a number of marks really gives, mm.
    pub fn depth_of_mm(&self, marks: u64) -> f64 {
        marks as f64 * self.mark_depth_mm
    }

    /// A depth or band as a number of marks, not rounded.
    pub fn in_marks(&self, depth_mm: f64) -> f64 {
        depth_mm / self.mark_depth_mm
    }

    /// The short name of the dial's unit.
    pub fn unit_name(&self) -> &'static str {
        match self.unit {
            DialUnit::Mm => "mm",
            DialUnit::Inch => "in",
        }
    }

    /// Decimal places in which the ring is read: as many as its graduation needs, six at most.
    pub fn places(&self) -> usize {
        (0..6)
            .find(|&places| {
                let scaled = self.graduation * 10f64.powi(places as i32);
                scaled > 0.5 && (scaled - scaled.round()).abs() < 1e-6 * scaled
            })
            .unwrap_or(6)
    }

    /// What the ring claims of a turn over what the screw moves; a ring that reads diameter claims half of what it counts.
    pub fn paint_over_screw(&self) -> f64 {
        self.painted_travel_mm / self.travel_per_turn_mm
    }

    /// A length in the dial's own unit.
    pub fn in_own_unit(&self, length_mm: f64) -> f64 {
        length_mm / mm_per_unit(self.unit)
    }
}

fn mm_per_unit(unit: DialUnit) -> f64 {
    match unit {
        DialUnit::Mm => 1.0,
        DialUnit::Inch => 25.4,
    }
}

fn positive(key: &str, length: Length) -> Result<f64, String> {
    let length_mm = length.plain();
    if length_mm.is_finite() && length_mm > 0.0 {
        Ok(length_mm)
    } else {
        Err(format!("{key} is {length_mm} mm; a length above zero is wanted"))
    }
}

fn whole_marks(marks: f64) -> Result<u32, String> {
    let whole = marks.round();
    if !(1.0..=MOST_MARKS).contains(&whole) {
        return Err(format!("the ring would hold {marks:.3} marks; per_turn / graduation must be 1 to {MOST_MARKS}"));
    }
    if (marks - whole).abs() > 1e-6 * whole {
        return Err(format!(
            "the ring would hold {marks:.3} marks; a ring closes only on a whole number: look at graduation and \
             per_turn, and give the screw apart where it disagrees with the paint"
        ));
    }
    Ok(whole as u32)
}

fn set_over(slide: &Slide) -> Result<f64, String> {
    let angle_rad = slide.set_over.plain();
    // At 90 degrees the slide no longer sets a depth; a hair before it nothing can be counted.
    if (0.0..std::f64::consts::FRAC_PI_2 - 1e-6).contains(&angle_rad) {
        Ok(angle_rad)
    } else {
        Err(format!("set_over is {:.3} degrees; 0 to under 90 from along the bed is wanted", angle_rad.to_degrees()))
    }
}

fn backlash(slide: &Slide) -> Result<Option<f64>, String> {
    match slide.backlash.map(Plain::plain) {
        Some(mm) if !(mm.is_finite() && mm >= 0.0) => {
            Err(format!("backlash is {mm} mm; zero or a length above it is wanted"))
        }
        other => Ok(other),
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::quantity::{degrees, inch, mm};

    /// A slide that reads its own travel, nothing set over, nothing limited.
    pub fn plain_slide(graduation: Length, per_turn: Length, unit: DialUnit) -> Slide {
        let (reads, set_over) = (Reads::Depth, degrees(0.0));
        Slide { graduation, per_turn, unit, reads, screw: None, travel: None, backlash: None, set_over }
    }

    /// An inch dial of thousandths; what it counts in a turn, in inches.
    pub fn thousandths(per_turn: f64) -> Slide {
        plain_slide(inch(0.001), inch(per_turn), DialUnit::Inch)
    }

    /// A metric dial.
    pub fn metric(graduation: f64, per_turn: f64) -> Slide {
        plain_slide(mm(graduation), mm(per_turn), DialUnit::Mm)
    }

    fn dial(slide: &Slide) -> Dial {
        Dial::new(slide).expect("a sound slide")
    }

    #[test]
    fn a_mark_on_diameter_moves_half() {
        let mut slide = thousandths(0.2);
        slide.reads = Reads::Diameter;
        let dial = dial(&slide);
        assert_eq!(dial.marks_per_turn, 200);
        assert!((dial.mark_depth_mm - 0.0127).abs() < 1e-12 && (dial.turn_depth_mm - 2.54).abs() < 1e-12);
    }

    #[test]
    fn radius_means_the_same_as_depth() {
        let mut slide = metric(0.02, 3.0);
        let depth = dial(&slide);
        slide.reads = Reads::Radius;
        assert_eq!(depth.mark_depth_mm, dial(&slide).mark_depth_mm);
    }

    #[test]
    fn the_screw_overrides_the_paint() {
        let mut slide = thousandths(0.04);
        slide.screw = Some(mm(1.0));
        let dial = dial(&slide);
        assert_eq!((dial.marks_per_turn, dial.turn_depth_mm), (40, 1.0));
        assert!((dial.mark_depth_mm - 0.025).abs() < 1e-12 && (dial.graduation - 0.001).abs() < 1e-15);
    }

    #[test]
    fn travel_is_shortened_by_the_set_over() {
        let mut slide = metric(0.02, 3.0);
        slide.travel = Some(mm(80.0));
        slide.set_over = degrees(60.0);
        let dial = dial(&slide);
        assert!((dial.most_depth_mm.expect("given") - 40.0).abs() < 1e-9);
        assert!((dial.mark_depth_mm - 0.01).abs() < 1e-12);
    }

    #[test]
    fn places_follow_the_graduation() {
        for (graduation, places) in [(0.001, 3), (0.0005, 4), (0.02, 2), (0.05, 2), (0.025, 3), (0.1, 1), (1.0, 0)] {
            assert_eq!(dial(&metric(graduation, graduation * 40.0)).places(), places, "{graduation} mm");
        }
        assert_eq!(dial(&thousandths(0.1)).places(), 3);
    }

    #[test]
    fn what_is_no_slide_is_refused_in_words() {
        let hostile = [0.0, -1.0, f64::NAN, f64::INFINITY, 1e300];
        for value in hostile {
            for slide in [metric(value, 3.0), metric(0.02, value)] {
                assert!(Dial::new(&slide).is_err(), "{value}");
            }
        }
        let mut slide = metric(0.02, 3.0);
        for angle in [-1.0, 90.0, 120.0, f64::NAN] {
            slide.set_over = degrees(angle);
            assert!(Dial::new(&slide).expect_err("no depth").contains("set_over"));
        }
        assert!(Dial::new(&metric(0.03, 1.0)).expect_err("does not close").contains("33.333 marks"));
        let mut slide = metric(0.02, 3.0);
        slide.backlash = Some(mm(f64::NAN));
        assert!(Dial::new(&slide).expect_err("no length").contains("backlash"));
    }

    #[test]
    fn a_depth_that_no_dial_shows_has_no_marks() {
        let dial = dial(&metric(0.02, 3.0));
        for depth in [-0.1, f64::NAN, f64::INFINITY, 1e300] {
            assert_eq!(dial.nearest_marks(depth), None);
        }
        assert_eq!(dial.nearest_marks(0.0), Some(0));
    }
}
