//! Where the dial stands at a depth: whole turns, then what the ring shows.

use super::ring::Dial;
use crate::shop::Reads;

/// A depth as it is counted on a dial that was set to zero at the touch-off.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Whole turns from zero.
    pub turns: u32,
    /// On the ring after them, in the dial's own unit; twice the travel on a dial that reads diameter.
    pub reading: f64,
    /// Marks from zero, turns included.
    pub marks: u64,
    /// What the nearest mark really gives, mm.
    pub exact_depth_mm: f64,
    /// Asked less given, mm: positive when the mark falls short.
    pub left_over_mm: f64,
    /// For a column: "0.043", "1 turn + 0.043", "1 turn + 0.000".
    pub text: String,
    /// The same said once, with unit and with what the dial counts.
    pub words: String,
}

impl Dial {
    /// The reading nearest to a depth; `marks` 0 and "not on this dial" for what no dial can show
    /// (negative, not finite, a million marks and more).
    pub fn reading(&self, depth_mm: f64) -> Reading {
        let Some(marks) = self.nearest_marks(depth_mm) else { return off_the_dial(depth_mm) };
        let exact_depth_mm = self.depth_of_mm(marks);
        Reading {
            turns: self.turns(marks),
            reading: self.on_ring(marks),
            marks,
            exact_depth_mm,
            left_over_mm: depth_mm - exact_depth_mm,
            text: self.text(marks),
            words: self.words(marks),
        }
    }

    fn turns(&self, marks: u64) -> u32 {
        u32::try_from(marks / u64::from(self.marks_per_turn)).unwrap_or(u32::MAX)
    }

    fn on_ring(&self, marks: u64) -> f64 {
        (marks % u64::from(self.marks_per_turn)) as f64 * self.graduation
    }

    fn text(&self, marks: u64) -> String {
        let (turns, on_ring, places) = (self.turns(marks), self.on_ring(marks), self.places());
        match turns {
            0 => format!("{on_ring:.places$}"),
            _ => format!("{} + {on_ring:.places$}", counted(turns)),
        }
    }

    fn words(&self, marks: u64) -> String {
        let (turns, text, unit) = (self.turns(marks), self.text(marks), self.unit_name());
        let said = match (turns, self.on_ring(marks) > 0.0) {
            (0, _) => format!("{text} {unit} on the dial"),
            (_, false) => format!("{text} {unit}: the dial reads zero again after {}", whole(turns)),
            (_, true) => format!("{text} {unit} on the dial, past zero {}", times(turns)),
        };
        format!("{said}{}", self.what_it_counts(marks))
    }

    /// What stands between the number on the ring and the depth; empty where they are the same.
    fn what_it_counts(&self, marks: u64) -> String {
        let mut said = String::new();
        if self.reads == Reads::Diameter {
            said.push_str(", on diameter");
        }
        if self.set_over_rad > 0.0 {
            said.push_str(&format!(", slide set over {:.2} degrees", self.set_over_rad.to_degrees()));
        }
        if !said.is_empty() {
            // One place more than the ring: half a mark, or a tenth of one, must stay visible.
            let (depth, places) = (self.in_own_unit(self.depth_of_mm(marks)), self.places() + 1);
            said.push_str(&format!(": {depth:.places$} {} deep", self.unit_name()));
        }
        said
    }
}

fn off_the_dial(depth_mm: f64) -> Reading {
    Reading {
        turns: 0,
        reading: 0.0,
        marks: 0,
        exact_depth_mm: 0.0,
        left_over_mm: depth_mm,
        text: "not on this dial".to_string(),
        words: "a depth that cannot be set on this dial".to_string(),
    }
}

/// "1 turn", "2 turns".
pub(super) fn counted(turns: u32) -> String {
    if turns == 1 { "1 turn".to_string() } else { format!("{turns} turns") }
}

fn whole(turns: u32) -> String {
    if turns == 1 { "one whole turn".to_string() } else { format!("{turns} whole turns") }
}

fn times(turns: u32) -> String {
    match turns {
        1 => "once".to_string(),
        2 => "twice".to_string(),
        _ => format!("{turns} times"),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::dial::ring::tests::{metric, thousandths};
    use crate::quantity::degrees;

    fn dial(per_turn: f64) -> Dial {
        Dial::new(&thousandths(per_turn)).expect("sound")
    }

    #[test]
    fn turns_and_ring_are_said_apart() {
        let dial = dial(0.125);
        for (inches, text) in [
            (0.0, "0.000"),
            (0.043, "0.043"),
            (0.124, "0.124"),
            (0.125, "1 turn + 0.000"),
            (0.168, "1 turn + 0.043"),
            (0.25, "2 turns + 0.000"),
            (0.3, "2 turns + 0.050"),
        ] {
            assert_eq!(dial.reading(inches * 25.4).text, text);
        }
    }

    #[test]
    fn words_name_the_unit_once_and_count_the_zeros() {
        let dial = dial(0.125);
        assert_eq!(dial.reading(0.043 * 25.4).words, "0.043 in on the dial");
        assert_eq!(dial.reading(0.3 * 25.4).words, "2 turns + 0.050 in on the dial, past zero twice");
        assert_eq!(
            dial.reading(0.125 * 25.4).words,
            "1 turn + 0.000 in: the dial reads zero again after one whole turn"
        );
    }

    #[test]
    fn words_say_on_diameter_and_how_deep() {
        let mut slide = metric(0.05, 5.0);
        slide.reads = Reads::Diameter;
        let reading = Dial::new(&slide).expect("sound").reading(3.5);
        assert_eq!((reading.turns, reading.text.as_str()), (1, "1 turn + 2.00"));
        assert_eq!(reading.words, "1 turn + 2.00 mm on the dial, past zero once, on diameter: 3.500 mm deep");
    }

    #[test]
    fn words_say_set_over() {
        let mut slide = metric(0.02, 3.0);
        slide.set_over = degrees(60.0);
        let reading = Dial::new(&slide).expect("sound").reading(0.4);
        assert_eq!(reading.words, "0.80 mm on the dial, slide set over 60.00 degrees: 0.400 mm deep");
    }

    #[test]
    fn what_no_dial_shows_is_said() {
        for depth in [-0.5, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
            assert_eq!(dial(0.1).reading(depth).text, "not on this dial");
        }
    }

    proptest! {
        #[test]
        fn reading_there_and_back(marks in 0_u64..100_000, per_turn in 1_u32..500, set_over in 0.0_f64..85.0) {
            let mut slide = metric(0.02, 0.02 * f64::from(per_turn));
            slide.set_over = degrees(set_over);
            let dial = Dial::new(&slide).expect("sound");
            let reading = dial.reading(dial.depth_of_mm(marks));
            prop_assert_eq!(reading.marks, marks);
            let counted = f64::from(reading.turns) * f64::from(per_turn) * 0.02 + reading.reading;
            prop_assert!((counted - marks as f64 * 0.02).abs() < 1e-6);
            prop_assert!(reading.reading < f64::from(per_turn) * 0.02);
        }

        #[test]
        fn the_nearest_mark_is_at_most_half_a_mark_away(depth_mm in 0.0_f64..100.0) {
            let dial = dial(0.1);
            let reading = dial.reading(depth_mm);
            prop_assert!(reading.left_over_mm.abs() <= 0.5 * dial.mark_depth_mm + 1e-9);
            prop_assert!((reading.exact_depth_mm + reading.left_over_mm - depth_mm).abs() < 1e-9);
        }
    }
}
