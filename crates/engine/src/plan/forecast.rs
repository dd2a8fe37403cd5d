//! What will come out: chances and causes.

use super::Assumed;
use crate::quantity::{Units, limits, show};

/// The forecast of a plan.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Forecast {
    /// Every requirement.
    pub qualities: Vec<Quality>,
    /// All of them together.
    pub chance: Chance,
    /// Minutes per good piece; `None`: too many faces to look at every order.
    pub per_good: Option<PerGood>,
    /// Parts drawn.
    pub pieces: u32,
    /// The seed of the draws.
    pub seed: u32,
    /// The spreads that it starts from and the shop did not give.
    pub from: Vec<Assumed>,
    /// All noises by name, each of standard deviation 1; coefficients are in this order.
    pub noises: Vec<String>,
}

/// What a good piece costs by the plan that is taken, and how far the search proves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PerGood {
    /// Minutes per good piece: those of the plan and of new stock over the chance of the forecast; infinite where no
    /// piece is good.
    pub minutes: f64,
    /// The same on the fewer pieces that plans were compared on.
    pub compared_minutes: f64,
    /// On those no order, hold or turn of the piece takes less than this: what the search proved. `None`: the job asks for
    /// something else than the fewest minutes for a good piece.
    pub least_minutes: Option<f64>,
    /// Set-ups tried with their errors.
    pub tried: u64,
}

/// A share of parts with its standard error.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Chance {
    /// From 0 to 1.
    pub share: f64,
    /// Standard error.
    pub error: f64,
}

/// One requirement as it will come out.
#[derive(Debug, Clone, PartialEq)]
pub struct Quality {
    /// In words: "C square to A".
    pub requirement: String,
    /// The flats that it is asked of, one or two.
    pub faces: Vec<String>,
    /// "size", "distance", "parallel", "square", "angle", "flat", "position", "rough".
    pub kind: &'static str,
    /// Lower limit, mm; 0 for the width of a zone.
    pub lower_mm: f64,
    /// Upper limit, mm; the width of a zone.
    pub upper_mm: f64,
    /// Where the limits come from.
    pub from: String,
    /// Mean of what will be measured, mm.
    pub middle_mm: f64,
    /// Its standard deviation, mm.
    pub spread_mm: f64,
    /// How many parts keep it.
    pub chance: Chance,
    /// Sources of its spread, the greatest first; shares make 1.
    pub causes: Vec<CauseShare>,
    /// What is looked at as sums of the noises, for an outside program.
    pub linear: LinearCheck,
}

/// A requirement as sums of noises: a piece keeps it when every row lies between two limits, or when the greatest less
/// the least, with what the form of the flat adds, is at most the width of the zone.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LinearCheck {
    /// The values that are looked at: off the size aimed at, or how far a place of the flat stands out.
    pub rows: Vec<LinearRow>,
    /// Values that go round about a row.
    pub turns: Vec<LinearTurn>,
    /// Least that a row may be, mm; `None`: no least, or the width of a zone is judged.
    pub least_mm: Option<f64>,
    /// Most that a row may be, or that the zone may be wide, mm.
    pub most_mm: f64,
    /// Whether the width is judged; what the form of the flat adds to it, mm.
    pub zone_form_mm: Option<f64>,
}

/// Two more values: a row and to either side of it the root of the squares of two sums.
#[derive(Debug, Clone, PartialEq)]
pub struct LinearTurn {
    /// The row, by its place in the list.
    pub about: usize,
    /// The two sums.
    pub sums: [LinearRow; 2],
}

/// A value that is looked at: off the nominal size, or how far a place of the flat stands out.
#[derive(Debug, Clone, PartialEq)]
pub struct LinearRow {
    /// Without any noise, mm.
    pub constant_mm: f64,
    /// Times each noise, mm; a shorter list goes on with noughts.
    pub coefficients_mm: Vec<f64>,
}

/// A source of error with its share in the spread of a requirement.
#[derive(Debug, Clone, PartialEq)]
pub struct CauseShare {
    /// In words: "tilt of jaw 2".
    pub of: String,
    /// From 0 to 1.
    pub share: f64,
}

/// From this chance on a requirement is told only in number: one piece of a thousand.
const SURE: f64 = 0.999;

impl Forecast {
    /// Requirements that may fail, the likeliest to fail first, and how many are left that hardly do.
    pub fn doubtful(&self) -> (Vec<&Quality>, usize) {
        let mut doubtful: Vec<&Quality> = self.qualities.iter().filter(|one| one.chance.share < SURE).collect();
        doubtful.sort_by(|one, other| one.chance.share.total_cmp(&other.chance.share));
        let sure = self.qualities.len() - doubtful.len();
        (doubtful, sure)
    }

    /// How many of a hundred pieces keep every requirement, in a sentence.
    pub fn says(&self) -> String {
        let of_100 = self.chance.of_100();
        format!("of 100 pieces made like this {of_100} keep every requirement, in this calculation")
    }

    /// What a good piece costs, in a sentence; `None` where that was not sought or none is good.
    pub fn per_good_says(&self) -> Option<String> {
        let per_good = self.per_good.filter(|per_good| per_good.minutes.is_finite())?;
        let behind = match per_good.least_minutes {
            Some(least) if per_good.compared_minutes.is_finite() => {
                // Told as a share: it is proven on the pieces that plans were compared on.
                match (100.0 * (1.0 - least / per_good.compared_minutes) - 1e-6).ceil() {
                    less if less <= 2.0 => "; no other order, hold or turn of the piece takes 2 % less".to_string(),
                    less => format!("; not proven best: another order might save up to {less:.0} %"),
                }
            }
            _ => String::new(),
        };
        Some(format!("{:.0} minutes for a good piece, scrapped ones counted{behind}", per_good.minutes))
    }
}

impl Chance {
    /// "84", "99.3", "more than 99.9", "none": cut, not rounded up.
    pub fn of_100(&self) -> String {
        match self.share * 100.0 {
            share if share <= 0.0 => "none".to_string(),
            share if share < 1.0 => "less than 1".to_string(),
            share if share > 99.9 => "more than 99.9".to_string(),
            share if share >= 95.0 => format!("{:.1}", (share * 10.0).floor() / 10.0),
            share => format!("{:.0}", share.floor()),
        }
    }
}

impl Quality {
    /// What is asked: "35.95 to 36.05 mm", "within 0.05 mm", "Ra at most 3.2 um".
    pub fn asks(&self, units: Units) -> String {
        match self.kind {
            "size" | "distance" => {
                let band_mm = self.upper_mm - self.lower_mm;
                let places = limits::places(&[self.lower_mm, self.upper_mm], band_mm, units);
                let lower = show::length_to(self.lower_mm, units, places);
                let bare = lower.split(' ').next().unwrap_or_default();
                format!("{bare} to {}", show::length_to(self.upper_mm, units, places))
            }
            "rough" => format!("Ra at most {}", show::roughness(self.upper_mm * 1000.0, units)),
            // Worked out from degrees over a leg: no place more than what comes out has, and never outwards.
            "angle" => format!("{} either way", self.either_way(units)),
            _ => format!("within {}", limits::length_within(self.upper_mm, self.upper_mm, units)),
        }
    }

    /// How far an angle may be off either way, never more than it is.
    pub fn either_way(&self, units: Units) -> String {
        limits::inwards(self.upper_mm, fine(units), units)
    }

    /// What will come out: the mean, give or take one standard deviation.
    pub fn comes_out(&self, units: Units) -> String {
        if self.kind == "rough" {
            let middle = show::roughness(self.middle_mm * 1000.0, units);
            return format!("{middle}, give or take {}", show::roughness(self.spread_mm * 1000.0, units));
        }
        let middle = show::length_to(self.middle_mm, units, fine(units));
        format!("{middle}, give or take {}", show::length_to(self.spread_mm, units, fine(units)))
    }

    /// The causes that make most of its spread: "gripping anew 31 %, tilt of jaw 1 27 %".
    pub fn causes_say(&self) -> String {
        /// A cause of less is not named.
        const LEAST: f64 = 0.1;
        /// So many are named at most.
        const MOST: usize = 3;
        let named = self.causes.iter().take(MOST).filter(|cause| cause.share >= LEAST);
        named.map(|cause| format!("{} {:.0} %", cause.of, 100.0 * cause.share)).collect::<Vec<_>>().join(", ")
    }
}

/// Places of what comes out.
fn fine(units: Units) -> usize {
    match units {
        Units::Mm => 3,
        Units::Inch => 4,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_are_cut_and_never_all() {
        let of_100 = |share: f64| Chance { share, error: 0.0 }.of_100();
        for (share, says) in
            [(0.0, "none"), (0.004, "less than 1"), (0.849, "84"), (0.9959, "99.5"), (0.9995, "more than 99.9")]
        {
            assert_eq!(of_100(share), says);
        }
        assert_eq!(of_100(1.0), "more than 99.9");
    }

    fn quality(kind: &'static str, lower_mm: f64, upper_mm: f64, middle_mm: f64) -> Quality {
        Quality {
            requirement: "C square to A".to_string(),
            faces: vec!["C".to_string(), "A".to_string()],
            kind,
            lower_mm,
            upper_mm,
            from: "the drawing".to_string(),
            middle_mm,
            spread_mm: 0.0138,
            chance: Chance { share: 0.98, error: 0.001 },
            causes: vec![
                CauseShare { of: "tilt of jaw 1".to_string(), share: 0.6 },
                CauseShare { of: "the gauge".to_string(), share: 0.09 },
            ],
            linear: LinearCheck::default(),
        }
    }

    #[test]
    fn qualities_are_said_in_the_jobs_units() {
        let size = quality("size", 35.95, 36.05, 36.0028);
        assert_eq!(size.asks(Units::Mm), "35.95 to 36.05 mm");
        assert_eq!(size.comes_out(Units::Mm), "36.003 mm, give or take 0.014 mm");
        let zone = quality("square", 0.0, 0.0508, 0.017);
        assert_eq!(zone.asks(Units::Inch), "within 0.002 in");
        assert_eq!(zone.comes_out(Units::Inch), "0.0007 in, give or take 0.0005 in");
        assert_eq!(zone.causes_say(), "tilt of jaw 1 60 %");
        // Half a degree over 4.2 mm and over 44.45 mm, by hand: 0.036652 mm is 0.001443 in, 0.387903 mm is 0.015272 in.
        let angle = |leg_mm: f64| quality("angle", -0.5, leg_mm * 0.5_f64.to_radians(), 0.0);
        assert_eq!(angle(4.2).asks(Units::Inch), "0.0014 in either way");
        assert_eq!(angle(44.45).asks(Units::Inch), "0.0152 in either way");
        assert_eq!(angle(44.45).asks(Units::Mm), "0.387 mm either way");
    }
}
