//! The reading table at a stop before a finishing cut, and how it is said: if it measures this, set that.

use crate::measure::{Chances, Rules, Stop};
use crate::quantity::Units;
use crate::quantity::limits::places;
use crate::quantity::show::{length_to, number_to};

/// What to set for what it measures. The sizes are those of the part, also where two readings make one.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingTable {
    /// What it was worked out from: enough to decide any other reading.
    pub stop: Stop,
    /// The size to go for.
    pub aim_mm: f64,
    /// What the gauge shows in one step.
    pub graduation_mm: f64,
    /// Units in which the gauge is marked.
    pub gauge_units: Units,
    /// Unit of the dial's numbers, short.
    pub dial_unit: &'static str,
    /// Marks at which the dial stands, from zero, turns included.
    pub taken_marks: u64,
    /// The rows by rising size.
    pub rows: Vec<ReadingRow>,
    /// One mark more for each so much that it measures over a row; `None`: the rows are a mark apart.
    pub mark_for_mm: Option<f64>,
    /// Chances over all readings: by this table, by the dial, by measuring once and cutting the rest.
    pub rules: Rules,
    /// What the measurement saves a piece, in passes.
    pub saves_passes: f64,
    /// What it costs, in passes.
    pub costs_passes: f64,
    /// A piece just over its limits has no chip left on.
    pub spring_pass: bool,
    /// How far inside its limits a reading after the cut proves the size to 95 %.
    pub proves_mm: f64,
    /// How far inside its limits a reading after the cut is best passed as good.
    pub guard_mm: f64,
    /// Standard uncertainty of a gauge that would do; `None`: this one does.
    pub finer_gauge_mm: Option<f64>,
}

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingRow {
    /// If it measures this,
    pub measures_mm: f64,
    /// set so much on, as depth:
    pub depth_mm: f64,
    /// the dial then reads, from zero,
    pub dial: String,
    /// in whole turns
    pub dial_turns: u32,
    /// and on the ring, in its own unit;
    pub dial_reading: f64,
    /// most likely it comes out at this,
    pub comes_out_mm: f64,
    /// with these chances.
    pub chances: Chances,
}

impl ReadingTable {
    /// Head of the columns of [`ReadingTable::lines`]: name and unit.
    pub fn head(&self, units: Units) -> [[&'static str; 2]; 6] {
        [
            ["measures", self.gauge_units.name()],
            ["set the dial to", self.dial_unit],
            ["comes out", units.name()],
            ["good", "%"],
            ["over", "%"],
            ["under", "%"],
        ]
    }

    /// The rows in words: what it measures, where to set the dial, what comes out, chance of good, over, under.
    pub fn lines(&self, units: Units) -> Vec<[String; 6]> {
        let out = self.size_places(units);
        let row = |row: &ReadingRow| {
            let [good, over, under] = self.percents(&row.chances);
            [
                self.reading(row.measures_mm),
                row.dial.clone(),
                number_to(row.comes_out_mm, units, out),
                good,
                over,
                under,
            ]
        };
        self.rows.iter().map(row).collect()
    }

    /// A size as the gauge shows it, without unit.
    pub fn reading(&self, size_mm: f64) -> String {
        number_to(size_mm, self.gauge_units, graduation_places(self.graduation_mm, self.gauge_units))
    }

    /// What stands between and beside the rows.
    pub fn between(&self) -> String {
        let more = self.mark_for_mm.map_or(String::new(), |mm| {
            format!(", one mark more for each {} {} above it", self.reading(mm), self.gauge_units.name())
        });
        format!("Between two rows: the smaller reading's{more}. Outside the table: measure again, then find out why.")
    }

    /// Chances of the table and of two rules of thumb.
    pub fn beside(&self) -> String {
        let said = |chances: &Chances| self.percents(chances).join(", ");
        let wide = if self.dial_alone() { " The limits are wide: here the dial alone does as well." } else { "" };
        let mended = if self.stop.band.scrap.cut_goes() < 0.0 { "under" } else { "over" };
        format!(
            "Good, over, under in %: by this table {}; last cut by the dial {}; measured once, the rest cut off {}. No cut \
             mends {mended}.{wide}",
            said(&self.rules.ours),
            said(&self.rules.by_the_dial),
            said(&self.rules.cut_the_rest)
        )
    }

    /// Whether measuring here costs more than it saves, and hardly a piece goes wrong without.
    pub fn dial_alone(&self) -> bool {
        /// A person who loses one piece in a hundred to save a measurement is not thanked.
        const HARDLY: f64 = 0.99;
        self.saves_passes < self.costs_passes && self.rules.by_the_dial.good > HARDLY
    }

    /// What else must be known here.
    pub fn warnings(&self, units: Units) -> Vec<String> {
        let finer = self.finer_gauge_mm.map(|mm| {
            format!(
                "The gauge is too coarse for these limits: no reading of it tells inside from outside. One with a standard \
                 uncertainty of {} would do.",
                length_to(mm, units, if units == Units::Mm { 3 } else { 4 })
            )
        });
        let spring = self.spring_pass.then(|| {
            "Just over its limits after the cut: too little for the edge. Across once more at the same number, measure again, \
             take the mean."
                .to_string()
        });
        finer.into_iter().chain(spring).collect()
    }

    /// What a reading after the cut says.
    pub fn after(&self) -> String {
        let band = &self.stop.band;
        let inside = |by_mm: f64| {
            let (least, most) = (band.least_mm + by_mm, band.most_mm - by_mm);
            // Inwards to what the gauge shows.
            let steps = |mm: f64| mm / self.graduation_mm;
            let (least, most) = ((steps(least) - 1e-6).ceil(), (steps(most) + 1e-6).floor());
            let shown = |steps: f64| self.reading(steps * self.graduation_mm);
            (least <= most).then(|| format!("{} to {} {}", shown(least), shown(most), self.gauge_units.name()))
        };
        let proof = inside(self.proves_mm).map_or_else(
            || "no reading of this gauge proves it to 95 %".to_string(),
            |from_to| format!("{from_to} proves it to 95 %"),
        );
        let best = inside(self.guard_mm).filter(|_| self.guard_mm > 0.0);
        let best = best.map_or(String::new(), |from_to| format!("; passing {from_to} costs least here"));
        format!("After the cut: {proof} (ISO 14253-1){best}.")
    }

    /// Chances in per cent: good, over the limits, under them; scrap is the side that no cut mends.
    fn percents(&self, chances: &Chances) -> [String; 3] {
        let under_is_scrap = self.stop.band.scrap.cut_goes() < 0.0;
        let (over, under) =
            if under_is_scrap { (chances.again, chances.scrap) } else { (chances.scrap, chances.again) };
        [percent(chances.good), percent(over), percent(under)]
    }

    fn size_places(&self, units: Units) -> usize {
        let band = &self.stop.band;
        places(&[band.least_mm, band.most_mm], band.width_mm(), units)
    }
}

/// A chance in whole per cent: the spreads behind it are not known better.
pub fn percent(chance: f64) -> String {
    let whole = (100.0 * chance).round();
    match whole {
        _ if chance < 5e-4 => "0".to_string(),
        _ if whole < 1.0 => "<1".to_string(),
        _ if chance > 1.0 - 5e-4 => "100".to_string(),
        _ if whole > 99.0 => ">99".to_string(),
        _ => format!("{whole:.0}"),
    }
}

/// Places in which a gauge is read.
fn graduation_places(graduation_mm: f64, units: Units) -> usize {
    let step = if units == Units::Mm { graduation_mm } else { graduation_mm / 25.4 };
    let whole = |places: &usize| {
        let scaled = step * 10f64.powi(*places as i32);
        scaled > 0.5 && (scaled - scaled.round()).abs() < 1e-6 * scaled
    };
    (0..6).find(whole).unwrap_or(6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_are_whole_and_small_ones_are_not_called_nothing() {
        for (chance, says) in [
            (0.0, "0"),
            (0.0004, "0"),
            (0.004, "<1"),
            (0.006, "1"),
            (0.934, "93"),
            (0.996, ">99"),
            (0.9994, ">99"),
            (0.9996, "100"),
            (1.0, "100"),
        ] {
            assert_eq!(percent(chance), says, "{chance}");
        }
    }

    #[test]
    fn a_gauge_is_read_in_its_own_places() {
        for (graduation, units, places) in [
            (0.01, Units::Mm, 2),
            (0.02, Units::Mm, 2),
            (0.001, Units::Mm, 3),
            (0.05, Units::Mm, 2),
            (0.0254, Units::Inch, 3),
            (0.00254, Units::Inch, 4),
            (0.0127, Units::Inch, 4),
        ] {
            assert_eq!(graduation_places(graduation, units), places, "{graduation}");
        }
    }
}
