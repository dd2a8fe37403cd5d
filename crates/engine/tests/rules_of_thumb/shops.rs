//! Thirty invented shops, each with one stop before a finishing cut: how they measure, what their dials move, how they
//! scatter. The last ten are mistaken about themselves: their touch-offs, cuts and gauges scatter by half to twice
//! what they believe.

use engine::measure::{Band, Belief, Cut, Scrap, Stop};

use crate::dice::Dice;

/// Seed of the shops and of every piece.
pub const SEED: u64 = 20_261;
/// Shops that know themselves, then shops that do not.
pub const SHOPS: (u32, u32) = (20, 10);

/// A shop: what it believes, and what is true.
#[derive(Debug, Clone, Copy)]
pub struct Shop {
    /// What it decides with.
    pub believes: Stop,
    /// How it really is.
    pub is: Stop,
    /// What the gauge shows in one step, mm.
    pub graduation_mm: f64,
    /// Price of a measurement, and of a cut without one: together a pass.
    pub measure_share: f64,
    /// Minutes of a pass.
    pub pass_minutes: f64,
}

/// All shops.
pub fn shops() -> Vec<Shop> {
    (0..SHOPS.0 + SHOPS.1).map(|number| shop(number, &mut Dice::new(SEED + u64::from(number)))).collect()
}

fn shop(number: u32, dice: &mut Dice) -> Shop {
    let half_mm: f64 = dice.of(&[0.015, 0.02, 0.025, 0.03, 0.05, 0.05, 0.075, 0.1]);
    let mark_mm = dice.of(&[0.01, 0.01, 0.02, 0.0254, 0.0254, 0.025, 0.05]);
    let gauge_mm: f64 = dice.of(&[0.002, 0.003, 0.004, 0.008, 0.008, 0.012, 0.02]);
    let gauge_mm = gauge_mm.min(half_mm / 2.0);
    let graduation_mm = if gauge_mm < 0.0035 { dice.of(&[0.001, 0.01]) } else { 0.01 };
    let left_mm: f64 = dice.of(&[0.2, 0.25, 0.3, 0.3, 0.5]);
    let planned_marks = (left_mm / mark_mm).round();
    let comes_off_mm = dice.between(-0.002, 0.012);
    let believes = Stop {
        band: Band::new(36.0 - half_mm, 36.0 + half_mm, Scrap::Under).expect("sound"),
        expected: Belief::new(36.0 + planned_marks * mark_mm + comes_off_mm, dice.between(0.015, 0.08)).expect("sound"),
        gauge_mm,
        cut: Cut {
            mark_mm,
            comes_off_mm,
            share: dice.between(0.005, 0.04),
            scatter_mm: dice.between(0.003, 0.012),
            least_mm: dice.of(&[0.01, 0.02, 0.03]),
            deepest_mm: 2.5,
        },
        planned_marks: planned_marks as u64,
        scrap_passes: dice.between(4.0, 40.0),
    };
    let is = if number < SHOPS.0 { believes } else { mistaken(&believes, dice) };
    Shop { believes, is, graduation_mm, measure_share: dice.between(0.3, 0.7), pass_minutes: dice.between(3.0, 8.0) }
}

/// Everything that scatters does so by half to twice what is believed.
fn mistaken(believes: &Stop, dice: &mut Dice) -> Stop {
    let mut times = || 2f64.powf(dice.between(-1.0, 1.0));
    let expected = Belief { spread_mm: believes.expected.spread_mm * times(), ..believes.expected };
    let gauge_mm = believes.gauge_mm * times();
    let cut = Cut {
        share: believes.cut.share * times(),
        scatter_mm: believes.cut.scatter_mm * times(),
        comes_off_mm: believes.cut.comes_off_mm * times(),
        ..believes.cut
    };
    Stop { expected, gauge_mm, cut, ..*believes }
}
