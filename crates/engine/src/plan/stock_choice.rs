//! Bars that the shop can get, side by side: what a good piece costs from each, and which is taken.

use super::Chance;
use crate::quantity::{Units, bare};

/// The bars of the shop's list that were looked at for a job.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StockChoice {
    /// A row for each bar: those that were planned, the best first; then those that cannot be better; then those from
    /// which the job cannot be done.
    pub rows: Vec<StockRow>,
    /// Index of the best; `None`: none will do.
    pub best: Option<usize>,
    /// Which is best and why, in a sentence or two.
    pub says: String,
    /// The material of all of them.
    pub material: String,
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct StockRow {
    /// In words: "round 60 mm".
    pub bar: String,
    /// "round", "square", "hexagon", "flat".
    pub form: &'static str,
    /// Diameter or across flats; of a flat bar width and thickness, mm.
    pub sizes_mm: (f64, Option<f64>),
    /// Length of the blank, mm.
    pub length_mm: f64,
    /// Its skin, as in a job.
    pub surface: &'static str,
    /// The bar that the job itself gives.
    pub of_the_job: bool,
    /// Mass of the blank, kg.
    pub mass_kg: f64,
    /// Part's volume as a share of the blank's.
    pub used_share: f64,
    /// Minutes that a new blank costs.
    pub blank_minutes: f64,
    /// What comes of it.
    pub comes: StockComes,
}

/// What comes of a bar.
#[derive(Debug, Clone, PartialEq)]
pub enum StockComes {
    /// It was planned.
    Planned {
        /// Minutes of the plan.
        minutes: f64,
        /// How many pieces keep every requirement.
        chance: Chance,
        /// Minutes for a good piece, new blanks and scrapped pieces counted; `None`: no piece is good.
        per_good_minutes: Option<f64>,
    },
    /// It takes no less than this, however it is planned and if every piece is good: more than the best.
    Slower {
        /// Least minutes for a good piece.
        least_minutes: f64,
    },
    /// It has metal for the part and was not looked at: enough others have less to cut away.
    NotLookedAt,
    /// The job cannot be done from it.
    Impossible {
        /// Short name of the rule, words joined by hyphens.
        rule: &'static str,
        /// In words.
        says: String,
    },
}

impl StockRow {
    /// What comes of it in a word or two.
    pub fn outcome(&self) -> &'static str {
        match self.comes {
            StockComes::Planned { .. } => "planned",
            StockComes::Slower { .. } => "slower",
            StockComes::NotLookedAt => "not looked at",
            StockComes::Impossible { .. } => "impossible",
        }
    }

    /// Minutes for a good piece as they stand in a table: "109", "124+" where it takes at least so many, "none" where
    /// no piece is good; empty: they were not worked out.
    pub fn per_good(&self) -> String {
        match &self.comes {
            StockComes::Planned { per_good_minutes: Some(minutes), .. } => format!("{minutes:.0}"),
            StockComes::Planned { per_good_minutes: None, .. } => "none".to_string(),
            StockComes::Slower { least_minutes } => format!("{:.0}+", least_minutes.floor()),
            StockComes::NotLookedAt | StockComes::Impossible { .. } => String::new(),
        }
    }

    /// Why there is no plan from it; empty: there is one.
    pub fn why_not(&self) -> &str {
        match &self.comes {
            StockComes::Planned { .. } => "",
            StockComes::Slower { .. } => "slower than the best, however it is held",
            StockComes::NotLookedAt => "not worked out: enough others have less metal to cut away",
            StockComes::Impossible { says, .. } => says,
        }
    }
}

/// What must be known to read the columns.
pub const UNDER_THE_BARS: &str = "Blank: minutes that a new blank costs. Per good: minutes of plan and blank for a good \
                                  piece, scrapped ones counted; with a plus: at least so many, and not planned to the end.";

impl StockChoice {
    /// Heads of the columns, each over its unit.
    pub fn head(units: Units) -> [[&'static str; 2]; 8] {
        let (length, mass) = if units == Units::Mm { ("mm", "kg") } else { ("in", "lb") };
        [
            ["Bar", ""],
            ["Length", length],
            ["Metal", mass],
            ["Used", "%"],
            ["Blank", "min"],
            ["Plan", "min"],
            ["Good", "of 100"],
            ["Per good", "min"],
        ]
    }

    /// Bars that the part may be made from, the best first.
    pub fn open(&self) -> Vec<&StockRow> {
        self.rows.iter().filter(|row| !matches!(row.comes, StockComes::Impossible { .. })).collect()
    }

    /// Bars that will not do, those of one section and one reason together: "round 40, 45 mm: too thin: ...".
    pub fn refused(&self, units: Units) -> Vec<String> {
        let mut groups: Vec<(&str, String, String)> = Vec::new();
        let refused = self.rows.iter().filter(|row| matches!(row.comes, StockComes::Impossible { .. }));
        for row in refused {
            let skin = if row.of_the_job { ", the job's own".to_string() } else { self.skin_of(row) };
            let (sizes, sold_in) = bare::bar_sizes(row.sizes_mm, units);
            let behind = format!(" {}{skin}: {}", sold_in.name(), row.why_not());
            match groups.iter_mut().find(|(form, _, last)| *form == row.form && *last == behind) {
                Some((_, listed, _)) => *listed = format!("{listed}, {sizes}"),
                None => groups.push((row.form, sizes, behind)),
            }
        }
        groups.into_iter().map(|(form, sizes, behind)| format!("{form} {sizes}{behind}")).collect()
    }

    /// A bar by its name, with its skin where others have another: "round 60 mm, drawn".
    pub fn named(&self, row: &StockRow) -> String {
        format!("{}{}", row.bar, self.skin_of(row))
    }

    fn skin_of(&self, row: &StockRow) -> String {
        let mixed = self.rows.iter().any(|other| other.surface != row.surface);
        if mixed { format!(", {}", row.surface) } else { String::new() }
    }

    /// What stands in the columns; empty: nothing is known of it.
    pub fn cells(&self, row: &StockRow, units: Units) -> [String; 8] {
        let (minutes, good) = match &row.comes {
            StockComes::Planned { minutes, chance, .. } => (format!("{minutes:.0}"), chance.of_100()),
            _ => (String::new(), String::new()),
        };
        [
            self.named(row),
            bare::size(row.length_mm, units),
            bare::mass(row.mass_kg, units),
            format!("{:.0}", row.used_share * 100.0),
            format!("{:.0}", row.blank_minutes),
            minutes,
            good.replace("more than ", ">").replace("less than ", "<"),
            row.per_good(),
        ]
    }

    /// The words in which it is said, as a sentence.
    pub fn sentence(&self) -> String {
        let mut letters = self.says.chars();
        let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
        format!("{first}{}.", letters.as_str())
    }
}
