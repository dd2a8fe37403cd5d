//! Random holds and loads, each from a seed.

use engine::holding::{PressLimit, PressPoint, Wrench};
use nalgebra::Vector3;

/// A hold with its loads.
#[derive(Debug, Clone)]
pub struct Case {
    pub points: Vec<PressPoint>,
    pub limits: Vec<PressLimit>,
    pub growing: Wrench,
    pub constant: Wrench,
}

/// Even chances from a seed (splitmix64, Steele, Lea and Flood 2014; constants from memory).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15).wrapping_add(0x2545_f491_4f6c_dd1d))
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn pick(&mut self, count: usize) -> usize {
        (self.bits() % count as u64) as usize
    }

    fn vector(&mut self, size: f64) -> Vector3<f64> {
        Vector3::new(self.between(-size, size), self.between(-size, size), self.between(-size, size))
    }

    fn unit(&mut self) -> Vector3<f64> {
        loop {
            let vector = self.vector(1.0);
            if (0.01..1.0).contains(&vector.norm_squared()) {
                return vector.normalize();
            }
        }
    }
}

/// Two to four jaws on flats or on a round, upper or pair rule, a seat now and then, a cut.
pub fn in_jaws(dice: &mut Dice) -> Case {
    let jaws = [2, 3, 4, 4, 4][dice.pick(5)];
    let (radius, bite, half) = (dice.between(8.0, 60.0), dice.between(4.0, 60.0), dice.between(2.0, 15.0));
    let flats = jaws == 4 && dice.pick(2) == 0;
    let pair = dice.pick(2) == 0;
    let friction = [dice.between(0.06, 0.45), dice.between(0.06, 0.45)];
    let clamping = [dice.between(2000.0, 20_000.0), dice.between(2000.0, 20_000.0)];
    let mut points = Vec::new();
    for jaw in 0..jaws {
        let (sin, cos) = (std::f64::consts::TAU * jaw as f64 / jaws as f64).sin_cos();
        let (outward, along) = (Vector3::new(cos, sin, 0.0), Vector3::new(-sin, cos, 0.0));
        let across: &[f64] = if flats { &[-1.0, 1.0] } else { &[0.0] };
        for z in [0.0, -bite] {
            for side in across {
                let at_mm = outward * radius + along * (side * half) + Vector3::z() * z;
                let limit = match (pair, jaws) {
                    (false, _) => jaw,
                    (true, 4) => jaw % 2,
                    (true, _) => 0,
                };
                points.push(PressPoint { at_mm, inward: -outward, friction: friction[jaw % 2], limit });
            }
        }
    }
    let limit = |number: usize| match (pair, jaws) {
        (false, _) => PressLimit::AtMost(clamping[number % 2]),
        (true, 4) => PressLimit::Kept(2.0 * clamping[number % 2]),
        (true, _) => PressLimit::Kept(clamping[0] * jaws as f64),
    };
    let count = points.iter().map(|point| point.limit + 1).max().unwrap_or(0);
    let mut limits: Vec<PressLimit> = (0..count).map(limit).collect();
    if dice.pick(3) == 0 {
        limits.push(PressLimit::AtMost(50_000.0));
        for (x, y) in [(0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7)] {
            let at_mm = Vector3::new(x * radius, y * radius, -bite);
            points.push(PressPoint { at_mm, inward: Vector3::z(), friction: friction[0], limit: limits.len() - 1 });
        }
    }
    let (sin, cos) = dice.between(0.0, std::f64::consts::TAU).sin_cos();
    let at = Vector3::new(cos, sin, 0.0) * dice.between(0.0, radius) + Vector3::z() * dice.between(1.0, 120.0);
    let force = Vector3::new(sin, -cos, 0.0) * 1000.0
        - Vector3::new(cos, sin, 0.0) * dice.between(50.0, 600.0)
        - Vector3::z() * dice.between(50.0, 600.0);
    let scale = dice.between(0.1, 3.0);
    Case { points, limits, growing: Wrench::of_force(&at, &(force * scale)), constant: Wrench::none() }
}

/// Four jaws on a round with so many points in all, upper rule, a cut.
#[allow(dead_code, reason = "the benchmark asks for it")]
pub fn so_many(dice: &mut Dice, count: usize) -> Case {
    let mut point = |at: usize| {
        let (sin, cos) = (std::f64::consts::FRAC_PI_2 * (at % 4) as f64).sin_cos();
        let (outward, along) = (Vector3::new(cos, sin, 0.0), Vector3::new(-sin, cos, 0.0));
        let at_mm = outward * 25.0 + along * dice.between(-10.0, 10.0) - Vector3::z() * dice.between(0.0, 25.0);
        PressPoint { at_mm, inward: -outward, friction: 0.15, limit: at % 4 }
    };
    let points = (0..count).map(&mut point).collect();
    let growing = Wrench::of_force(&Vector3::new(25.0, 0.0, 30.0), &Vector3::new(-300.0, -1000.0, -400.0));
    Case { points, limits: vec![PressLimit::AtMost(8000.0); 4], growing, constant: Wrench::none() }
}

/// Points anywhere, with any normal, in any company; friction may be nought.
pub fn anywhere(dice: &mut Dice) -> Case {
    let groups = 1 + dice.pick(5);
    let count = 6 + dice.pick(24);
    let mut points: Vec<PressPoint> = (0..count).map(|_| point(dice, groups)).collect();
    // Every limit has a point: a sum that nobody keeps is a fault, tried elsewhere.
    (0..groups).for_each(|group| points[group].limit = group);
    let limits = (0..groups).map(|_| limit(dice)).collect();
    Case { points, limits, growing: load(dice, 1000.0), constant: Wrench::none() }
}

/// Too few points, all in a line, all on one side, without friction, in one plane.
pub fn degenerate(dice: &mut Dice) -> Case {
    let mut case = anywhere(dice);
    case.limits.iter_mut().for_each(|limit| *limit = PressLimit::AtMost(limit_of(limit)));
    let (origin, along) = (dice.vector(40.0), dice.unit());
    match dice.pick(5) {
        0 => case.points.truncate(1 + dice.pick(3)),
        1 => {
            for point in &mut case.points {
                point.at_mm = origin + along * dice.between(-40.0, 40.0);
            }
        }
        2 => case.points.iter_mut().for_each(|point| point.inward = along),
        3 => case.points.iter_mut().for_each(|point| point.friction = 0.0),
        _ => {
            for point in &mut case.points {
                let off = along.dot(&(point.at_mm - origin));
                point.at_mm -= along * off;
                point.inward = (point.inward - along * along.dot(&point.inward)).normalize();
                point.friction = 0.0;
            }
        }
    }
    case
}

/// As in jaws or anywhere, with a load that stays, now and then too great.
pub fn with_constant_load(dice: &mut Dice) -> Case {
    let case = if dice.pick(2) == 0 { in_jaws(dice) } else { anywhere(dice) };
    let size = [100.0, 1000.0, 10_000.0][dice.pick(3)];
    Case { constant: load(dice, size), ..case }
}

fn point(dice: &mut Dice, groups: usize) -> PressPoint {
    let friction = if dice.pick(6) == 0 { 0.0 } else { dice.between(0.05, 0.6) };
    PressPoint { at_mm: dice.vector(50.0), inward: dice.unit(), friction, limit: dice.pick(groups) }
}

fn limit(dice: &mut Dice) -> PressLimit {
    let force_n = dice.between(1000.0, 20_000.0);
    if dice.pick(4) == 0 { PressLimit::Kept(force_n) } else { PressLimit::AtMost(force_n) }
}

fn limit_of(limit: &PressLimit) -> f64 {
    match limit {
        PressLimit::AtMost(force_n) | PressLimit::Kept(force_n) => *force_n,
    }
}

fn load(dice: &mut Dice, size: f64) -> Wrench {
    Wrench { force_n: dice.vector(size), moment_n_mm: dice.vector(size * 40.0) }
}
