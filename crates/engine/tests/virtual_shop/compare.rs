//! Holds a forecast against a lot of pieces that were made.

use super::recipe::{Recipe, Want};
use super::shop::{Lot, Series};

/// What is forecast for one want; of a size its least and greatest local size, of a zone its width twice.
#[derive(Debug, Clone, Copy)]
pub struct SaidOfWant {
    /// Least.
    pub least: Series,
    /// Greatest.
    pub most: Series,
    /// Chance that it is as wanted.
    pub chance: f64,
}

/// A forecast for a recipe and its noises, its wants in the recipe's order.
#[derive(Debug, Clone)]
pub struct Said {
    /// Want by want.
    pub wants: Vec<SaidOfWant>,
    /// Chance that all are as wanted.
    pub chance: f64,
    /// Pieces (or throws) that it rests on.
    pub throws: usize,
}

impl Said {
    /// A lot read as a forecast.
    pub fn from_lot(lot: &Lot) -> Self {
        let wants = lot.wants.iter();
        let wants = wants.map(|seen| SaidOfWant { least: seen.least, most: seen.most, chance: seen.chance }).collect();
        Said { wants, chance: lot.chance, throws: lot.pieces }
    }
}

/// How near a forecast must come.
#[derive(Debug, Clone, Copy)]
pub struct Allowed {
    /// Standard errors of both samples.
    pub errors: f64,
    /// Share of the spread by which the forecast's model may be off besides.
    pub of_spread: f64,
    /// The same for chances, absolute.
    pub of_chance: f64,
}

/// Where they differ by more than allowed.
#[derive(Debug, Clone, PartialEq)]
pub struct Differs {
    /// What, in words.
    pub what: String,
    /// Made and measured.
    pub seen: f64,
    /// Forecast.
    pub said: f64,
    /// How far they may be apart.
    pub allowed: f64,
}

/// A want in words.
pub fn named(recipe: &Recipe, want: &Want) -> String {
    let name = |face: usize| recipe.faces[face].name.as_str();
    match *want {
        Want::Size { one, other, .. } => format!("size {}-{}", name(one), name(other)),
        Want::Parallel { face, datum, .. } => format!("{} parallel to {}", name(face), name(datum)),
        Want::Square { face, datum, .. } => format!("{} square to {}", name(face), name(datum)),
        Want::Flat { face, .. } => format!("{} flat", name(face)),
    }
}

/// Every mean, spread, quantile and chance that differs by more than allowed.
pub fn compare(recipe: &Recipe, lot: &Lot, said: &Said, allowed: &Allowed) -> Vec<Differs> {
    let mut all = Vec::new();
    let mut hold = |what: String, seen: f64, said: f64, allowed: f64| {
        if (seen - said).abs() > allowed {
            all.push(Differs { what, seen, said, allowed });
        }
    };
    // Both samples err; the forecast's is the larger as a rule.
    let root = (1.0 / lot.pieces as f64 + 1.0 / said.throws as f64).sqrt();
    let chance_allowed = |seen: f64, said: f64| {
        let middle = ((seen + said) / 2.0).clamp(0.5 / lot.pieces as f64, 1.0 - 0.5 / lot.pieces as f64);
        allowed.errors * (middle * (1.0 - middle)).sqrt() * root + allowed.of_chance
    };
    for ((want, seen), forecast) in recipe.wants.iter().zip(&lot.wants).zip(&said.wants) {
        let name = named(recipe, want);
        hold(format!("chance, {name}"), seen.chance, forecast.chance, chance_allowed(seen.chance, forecast.chance));
        for (end, seen, said) in [("least", seen.least, forecast.least), ("most", seen.most, forecast.most)] {
            let of_spread = allowed.of_spread * seen.spread;
            let error = allowed.errors * seen.spread * root;
            hold(format!("mean {end}, {name}"), seen.mean, said.mean, error + of_spread);
            // The fourth moment of a folded normal's spread is at most twice a normal's.
            hold(format!("spread {end}, {name}"), seen.spread, said.spread, error + of_spread);
            for (at, share) in Series::SHARES.iter().enumerate() {
                let reach = allowed.errors * (share * (1.0 - share)).sqrt() * root;
                let (low, high) = (seen.at(share - reach), seen.at(share + reach));
                let (seen, said) = (seen.quantiles[at], said.quantiles[at]);
                let allowed = if said < seen { seen - low } else { high - seen };
                hold(format!("{:.0} in a hundred {end}, {name}", share * 100.0), seen, said, allowed + of_spread);
            }
        }
    }
    hold("chance of all".to_string(), lot.chance, said.chance, chance_allowed(lot.chance, said.chance));
    all
}
