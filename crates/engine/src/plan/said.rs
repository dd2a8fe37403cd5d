//! How values of a plan are said, the same on every face.

use super::{
    ContactKind, Firmer, Hand, HoldReport, JawPlan, LastHoldReport, Measure, Pass, Reason, Seat, SetUp, SpeedReport,
    VeePlan,
};
use crate::quantity::Units;
use crate::quantity::bare::{factor, rpm, small};
use crate::quantity::limits::{about, length_within, limits, limits_in_mm, places};
use crate::quantity::show::{force, length, length_to, mass, on_hand, power};

impl JawPlan {
    /// What the jaw bears on: "the bar", "the sawn end" or a face's letter.
    pub fn bears(&self) -> &str {
        self.vee.as_ref().map_or(surface(&self.bears_on), |vee| &vee.bears)
    }
}

impl VeePlan {
    /// Both flanks in words, from what each bears on.
    pub fn bears_words(flanks: &[String; 2]) -> String {
        let [one, other] = [0, 1].map(|at: usize| surface(&flanks[at]));
        if one == other { format!("{one} in a vee") } else { format!("{one} and {other} in a vee") }
    }
}

impl Seat {
    /// What lies on the seat: "the bar", "the sawn end" or a face's letter.
    pub fn bears(&self) -> &str {
        surface(&self.face)
    }
}

/// Where the end of a stop stands.
pub fn stands(out_mm: f64, units: Units) -> String {
    if out_mm < 0.0 {
        format!("{} behind the chuck face", length(-out_mm, units))
    } else {
        format!("{} out of the chuck face", length(out_mm, units))
    }
}

fn surface(name: &str) -> &str {
    match name {
        "bar" => "the bar",
        "sawn end" => "the sawn end",
        letter => letter,
    }
}

impl SetUp {
    /// What the piece is tapped back against, and on what it stands there.
    pub fn seat_says(&self, units: Units) -> String {
        let Some(seat) = &self.seat else { return "none: the depth is set by hand".to_string() };
        let face = seat.bears();
        if seat.packing_mm > 0.0 {
            format!("{face} on {} parallels, drawn out before the start", on_hand(seat.packing_mm, units))
        } else if let Some(out_mm) = seat.stop_mm {
            format!("{face} on the stop in the spindle, its end {}", stands(out_mm, units))
        } else {
            format!("{face} on the {}", seat.on)
        }
    }
}

impl HoldReport {
    /// "a factor of 2.6", or that there is no limit to it.
    pub fn has(&self) -> String {
        self.slip_factor
            .map_or_else(|| "a factor without limit".to_string(), |has| format!("a factor of {}", factor(has)))
    }

    /// The further factors, for those who check; none that was not found.
    pub fn further(&self) -> Vec<String> {
        let all = [
            ("with a worn edge, by the higher table, a jaw slips at", self.worn_slip_factor),
            ("in the finishing cut the first point slips at", self.point_slip_factor),
            ("in any pass the first point lifts at", self.lift_factor),
        ];
        let found = all.iter().filter_map(|(what, at)| at.map(|at| format!("{what} {}", factor(at))));
        found.chain(self.last_hold.as_ref().map(LastHoldReport::says)).collect()
    }

    /// What would leave more before a jaw slips; `None`: nothing that was tried.
    pub fn firmer_says(&self) -> Option<String> {
        let each = |firmer: &Firmer| format!("{} with {}", factor(firmer.slip_factor), firmer.says);
        let each: Vec<String> = self.firmer.iter().map(each).collect();
        (!each.is_empty()).then(|| format!("firmer, each alone, worked out with the same cuts: {}", each.join("; ")))
    }

    /// What is counted on at a jaw, and how far the cut pushes.
    pub fn counted(&self, units: Units) -> String {
        format!("counts on {} at each jaw; spring {}", force(self.counted_force_n, units), small(self.spring_um, units))
    }
}

/// Speeds above this are told in words: no chuck on a lathe turned by hand comes near.
const BEYOND_RPM: f64 = 1e5;

impl HoldReport {
    /// What turns with the jaws: the work's weight, its unbalance, and the speed that the grip permits.
    pub fn carries(&self, units: Units) -> Vec<String> {
        let weight = format!("the work weighs {}", mass(self.mass_kg, units));
        let uneven = if self.unbalance_n > 0.0 {
            let [pull, most] = [self.unbalance_n, self.unbalance_most_n].map(|newtons| force(newtons, units));
            if pull == force(0.0, units) {
                format!("{weight}; its middle lies all but on the axis")
            } else {
                format!("{weight}; off the axis, it pulls round with {pull} at the speed set; this lathe bears {most}")
            }
        } else {
            format!("{weight}; its middle lies on the axis")
        };
        let permitted = self.permitted_rpm.map(|permitted| {
            let speed = if permitted < BEYOND_RPM {
                format!("{:.0} rpm", permitted.floor())
            } else {
                "any speed that a chuck may turn at".to_string()
            };
            format!("for these cuts the jaws' grip permits {speed} (published procedure, VDI 3106)")
        });
        [uneven].into_iter().chain(permitted).collect()
    }
}

impl SetUp {
    /// What the jaws leave on the work: "jaws 1 and 3: burnished line (761 MPa, yields from 618)".
    pub fn marks_say(&self) -> Option<String> {
        let mut said: Vec<(String, Vec<u8>)> = Vec::new();
        for jaw in &self.jaws {
            let says = jaw.mark_says()?;
            match said.iter_mut().find(|(words, _)| *words == says) {
                Some((_, jaws)) => jaws.push(jaw.jaw),
                None => said.push((says, vec![jaw.jaw])),
            }
        }
        let parts: Vec<String> = said.into_iter().map(|(says, jaws)| format!("{} {says}", numbered(&jaws))).collect();
        (!parts.is_empty()).then(|| parts.join("; "))
    }
}

impl JawPlan {
    /// What it leaves, with the pressure that decides and the one at which the work yields.
    fn mark_says(&self) -> Option<String> {
        let mark = self.mark.as_ref()?;
        let words = match mark.grade {
            "none" => "no mark",
            "witness line" if self.packing_mm > 0.0 => "may mark through the packing",
            "witness line" if self.vee.is_some() => "may mark by the edge of the vee",
            "witness line" => "a fine line at the jaw's edge",
            "burnish" => "a burnished line",
            "dent" => "a dent",
            _ => "the teeth of the jaw",
        };
        let what = match (self.packing_mm > 0.0, self.contact, mark.grade) {
            (true, ..) => "the packing flows at",
            (_, ContactKind::Vee, _) => "the vee flows at",
            (_, _, "teeth") => "teeth sink in at",
            (_, ContactKind::Flat | ContactKind::Bored, _) => "even pressure",
            _ => "pressure",
        };
        if let Some((times, yield_mpa)) = mark.beyond_yield {
            return Some(format!("{words} (pressed beyond {times} times the yield, {yield_mpa:.0} MPa)"));
        }
        let pressure = mark.pressure_mpa.map_or(String::new(), |mpa| format!("{what} {mpa:.0} MPa, "));
        Some(format!("{words} ({pressure}the work yields from {:.0})", mark.limit_mpa))
    }
}

/// "jaws 1 and 3:".
fn numbered(jaws: &[u8]) -> String {
    let names: Vec<String> = jaws.iter().map(u8::to_string).collect();
    match names.as_slice() {
        [one] => format!("jaw {one}:"),
        [first @ .., last] => format!("jaws {} and {last}:", first.join(", ")),
        [] => String::new(),
    }
}

impl LastHoldReport {
    /// The second opinion: how far from balance, and how the work would go.
    pub fn says(&self) -> String {
        format!(
            "last hold {} against {:.2} needed (a second opinion, which can only refuse): past it no forces of the jaws \
             balance the cut and the work would {}; weakest in pass {}, tool {:.0} deg round from jaw 1",
            factor(self.factor),
            self.required,
            self.goes,
            self.pass,
            self.angle_deg
        )
    }
}

impl Measure {
    /// What, its limits, the gauge, and whether the piece comes out for it.
    pub fn says(&self, units: Units) -> String {
        let out = if self.takes_out { ", piece out of the chuck" } else { "" };
        let size = if self.over_bar { about } else { limits };
        let size = size(self.nominal_mm, self.plus_mm, self.minus_mm, units);
        format!("{}: {size}; {}{out}", self.what, self.gauge_says(units))
    }

    /// The gauge, with the limits as it reads them where it counts mm and the job speaks inches.
    pub fn gauge_says(&self, units: Units) -> String {
        let limits = limits_in_mm(self.nominal_mm, self.plus_mm, self.minus_mm);
        let in_mm = units == Units::Inch && self.over_jaws_mm.is_none() && counts_mm(&self.gauge, self.nominal_mm);
        if in_mm { format!("{} (reads mm: {limits})", self.gauge) } else { self.gauge.clone() }
    }

    fn now(&self, still_on_mm: f64, units: Units) -> String {
        let now = |when_to_size: f64| length(when_to_size + still_on_mm, units);
        match self.over_jaws_mm {
            Some(over) => {
                let to_size = length_within(over, self.plus_mm + self.minus_mm, units);
                let on = "The size is this reading and the one from jaw front to seat together.";
                format!("{on} It reads near {} now, {to_size} when to size, if that one was as above.", now(over))
            }
            // The cut aims at the middle of the limits.
            None => format!("Near {} now.", now(self.nominal_mm + (self.plus_mm - self.minus_mm) / 2.0)),
        }
    }
}

/// Whether the name of a gauge gives its range in mm, as "micrometer 25-50": this size lies in it.
pub fn counts_mm(gauge: &str, size_mm: f64) -> bool {
    let ranges = gauge.split_whitespace().filter_map(|word| word.split_once('-'));
    let ranges = ranges.filter_map(|(least, most)| Some((least.parse::<f64>().ok()?, most.parse::<f64>().ok()?)));
    ranges.into_iter().any(|(least, most)| (least..=most).contains(&size_mm))
}

impl SetUp {
    /// What the gauge should read with the last pass still on, where the stop stands before it.
    pub fn expected(&self, measure: &Measure, units: Units) -> Option<String> {
        let before = measure.when.starts_with("before");
        self.passes.last().filter(|_| before).map(|pass| measure.now(pass.depth_mm, units))
    }
}

impl SpeedReport {
    /// The tightest limit: a step of the plate may pass the speed of the table by a hair (`docs/model.md`).
    pub fn limit(&self) -> String {
        if self.set_rpm > self.most_rpm {
            format!("the step nearest to {:.0} rpm: {}", self.most_rpm, self.binding)
        } else {
            format!("{:.0} rpm at most: {}", self.most_rpm.floor(), self.binding)
        }
    }
}

impl SetUp {
    /// The heaviest cut: likely, and to be careful with; published tables differ by about a third.
    pub fn heaviest_force(&self, units: Units) -> String {
        let likely = force(self.most(|pass| pass.force_n.cutting), units);
        let careful = force(self.most(|pass| pass.force_safe_n.cutting), units);
        if likely == careful {
            format!("{likely} in the heaviest cut, by the job's own values: no wear added")
        } else {
            format!("{likely} likely in the heaviest cut, {careful} with a worn edge by the higher table")
        }
    }

    /// The power that the heaviest cut asks, and what there is.
    pub fn heaviest_power(&self, units: Units) -> String {
        let peak_w = self.most(|pass| pass.power_peak_w);
        let [mean, peak, there] =
            [self.most(|pass| pass.power_mean_w), peak_w, self.speed.edge_power_w].map(|watts| power(watts, units));
        let over = peak_w > self.speed.edge_power_w;
        let borne = if over { "; for a part of a turn a motor bears half as much again" } else { "" };
        // A round end has no corners: one number says all.
        let asked = if mean == peak { peak } else { format!("{mean} mean over a turn, {peak} at the corners") };
        format!("{asked}; the lathe gives {there}{borne}")
    }

    fn most(&self, of: fn(&Pass) -> f64) -> f64 {
        self.passes.iter().map(of).fold(0.0, f64::max)
    }
}

impl Reason {
    /// Value and limit, where the two can be compared: a yes or a no, a count and a lack say all in words.
    pub fn compared(&self, units: Units) -> Option<[String; 2]> {
        let both = [self.value, self.limit];
        if !both.iter().all(|number| number.is_finite() && *number > 0.0) {
            return None;
        }
        let places = places(&both, self.value - self.limit, units);
        match self.unit {
            "mm" => Some(both.map(|number| length_to(number, units, places))),
            "n" => Some(both.map(|number| force(number, units))),
            "w" => Some(both.map(|number| power(number, units))),
            "rpm" => Some(both.map(|number| format!("{} rpm", rpm(number)))),
            "um" => Some(both.map(|number| format!("{number:.1} um"))),
            "1" if !both.iter().all(|number| number.fract() == 0.0) => {
                Some(both.map(|number| format!("a factor of {number:.2}")))
            }
            _ => None,
        }
    }
}

impl SetUp {
    /// The pass, from 0, whose number on the dial is only near: what was measured at the stop before it decides.
    pub fn set_by_a_table(&self) -> Option<usize> {
        let stop = |hand: &Hand| match hand {
            Hand::Stop(at) => self.measure.get(*at).is_some_and(|measure| measure.table.is_some()),
            _ => false,
        };
        let after = self.hands.iter().skip_while(|hand| !stop(hand));
        after.into_iter().find_map(|hand| if let Hand::Passes { from, .. } = hand { Some(*from) } else { None })
    }
}

/// Whole numbers that add up to the rounded whole: each is cut off, and what is missing goes to the largest remainders.
pub fn apportioned(parts: &[f64], whole: f64) -> Vec<u64> {
    let mut counts: Vec<u64> = parts.iter().map(|part| part.max(0.0).floor() as u64).collect();
    let missing = (whole.max(0.0).round() as u64).saturating_sub(counts.iter().sum());
    let mut by_remainder: Vec<usize> = (0..parts.len()).collect();
    by_remainder.sort_by(|&one, &other| parts[other].fract().total_cmp(&parts[one].fract()));
    by_remainder.into_iter().take(usize::try_from(missing).unwrap_or(0)).for_each(|at| counts[at] += 1);
    counts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(value: f64, limit: f64, unit: &'static str) -> Option<[String; 2]> {
        let (place, says, way_out) = (String::new(), String::new(), String::new());
        Reason { rule: "rule", place, says, value, limit, unit, way_out }.compared(Units::Mm)
    }

    #[test]
    fn a_range_in_the_name_of_a_gauge_tells_what_it_counts() {
        for (gauge, size_mm, due) in [
            ("micrometer 25-50", 38.1, true),
            ("micrometer 1-2 in", 38.1, false),
            ("caliper 0-150 mm", 38.1, true),
            ("dial-test indicator", 38.1, false),
            ("micrometer", 38.1, false),
        ] {
            assert_eq!(counts_mm(gauge, size_mm), due, "{gauge}");
        }
    }

    #[test]
    fn value_and_limit_are_told_only_where_they_can_be_compared() {
        for (value, limit, unit) in [
            (3.0, 4.0, "1"),
            (0.0, 1.0, "1"),
            (-31.73, 0.0, "mm"),
            (0.0, 0.02, "mm"),
            (f64::INFINITY, 4.0, "mm"),
            (f64::NAN, 1.5, "1"),
            (3.0, 4.0, "jaws"),
        ] {
            assert_eq!(said(value, limit, unit), None, "{value} {limit} {unit}");
        }
        let pair = |here: &str, limit: &str| Some([here.to_string(), limit.to_string()]);
        assert_eq!(said(1.25, 2.0, "1"), pair("a factor of 1.25", "a factor of 2.00"));
        assert_eq!(said(52.0, 53.74, "mm"), pair("52.00 mm", "53.74 mm"));
        assert_eq!(said(0.003, 0.02, "mm"), pair("0.003 mm", "0.020 mm"));
        assert_eq!(said(1800.0, 1120.0, "w"), pair("1.80 kW", "1.12 kW"));
    }
}
