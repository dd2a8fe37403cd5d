//! What is never quite true in a shop, as standard deviations, and one throw of all of it for one piece.

use super::dice::Dice;
use super::recipe::Recipe;

/// Standard deviations; mm and rad.
#[derive(Debug, Clone, Default)]
pub struct Noises {
    /// Tilt of each jaw along the spindle that stays with it.
    pub jaw_tilt: [f64; 4],
    /// Tilt of each jaw across that stays with it.
    pub jaw_yaw: [f64; 4],
    /// What is known of `jaw_tilt`: its middle.
    pub known_tilt: [f64; 4],
    /// Tilt along the spindle, new whenever a jaw was moved.
    pub regrip_tilt: f64,
    /// The same across.
    pub regrip_yaw: f64,
    /// Dirt under each corner of what bears on a jaw, new in every set-up.
    pub dirt: f64,
    /// The same on the seat.
    pub seat_dirt: f64,
    /// Tilt of the seat in x and in y that stays.
    pub seat_tilt: f64,
    /// The same, new in every set-up.
    pub seat_regrip: f64,
    /// One parallel over the other, new in every set-up.
    pub parallels: f64,
    /// Height at the edge of what is seated, along x and along y, new in every set-up.
    pub tapped: f64,
    /// Lean of the bar's skin where it lies on a jaw, along the spindle, or on the seat.
    pub skin: f64,
    /// Packing on a finished face, from one end of the jaw to the other.
    pub packing: f64,
    /// Turns set by eye, each of three.
    pub eye: f64,
    /// Lean of a sawn end in x and in y.
    pub sawn: f64,
    /// Axial slip once per turn, each of two parts, that stays.
    pub slip: f64,
    /// Rise of a faced surface per mm from the spindle axis, that stays.
    pub cone: f64,
    /// What is known of `cone`: its middle.
    pub known_cone: f64,
    /// Work's middle off the spindle axis, x and y.
    pub centring: f64,
    /// Size that the finishing cut brings, one by one.
    pub size: f64,
    /// The same set-up by set-up, instead; empty: `size` for all.
    pub sizes: Vec<f64>,
    /// The same for all sizes of a piece: the gauge.
    pub gauge: f64,
    /// Place of a face that has no finished one opposite.
    pub place: f64,
}

/// What is new in one set-up.
#[derive(Debug, Clone, Default)]
pub struct Fresh {
    /// Tilt and yaw of each jaw.
    pub jaw: [[f64; 2]; 4],
    /// Dirt under each jaw, then on the seat.
    pub dirt: [[f64; 4]; 5],
    /// Seat, in x and y.
    pub seat: [f64; 2],
    /// Parallels.
    pub parallels: f64,
    /// Height at the edges of the seat, in x and y.
    pub tapped: [f64; 2],
    /// Skin on each jaw, then on the seat in x and y.
    pub skin: [f64; 6],
    /// Packing on each jaw.
    pub packing: [f64; 4],
    /// By eye.
    pub eye: [f64; 3],
    /// Centring.
    pub centring: [f64; 2],
    /// Size.
    pub size: f64,
    /// Place.
    pub place: f64,
}

/// One throw.
#[derive(Debug, Clone, Default)]
pub struct Throw {
    /// Tilt and yaw of each jaw.
    pub jaw: [[f64; 2]; 4],
    /// Seat.
    pub seat: [f64; 2],
    /// Slip.
    pub slip: [f64; 2],
    /// Cone.
    pub cone: f64,
    /// Gauge.
    pub gauge: f64,
    /// Sawn ends: back, front.
    pub sawn: [[f64; 2]; 2],
    /// Set-up by set-up.
    pub fresh: Vec<Fresh>,
}

/// Normal throws by the polar form of Box and Muller (1958), from the seeded dice.
struct Normal<'a>(&'a mut Dice);

impl Normal<'_> {
    fn with(&mut self, spread: f64) -> f64 {
        // Thrown even where the spread is nothing, so that a change of one spread leaves every other throw alone.
        let (radius, angle) = ((-2.0 * (1.0 - self.0.share()).ln()).sqrt(), std::f64::consts::TAU * self.0.share());
        spread * radius * angle.cos()
    }

    fn all<const N: usize>(&mut self, spread: f64) -> [f64; N] {
        std::array::from_fn(|_| self.with(spread))
    }
}

impl Noises {
    /// A throw for one piece.
    pub fn throw(&self, recipe: &Recipe, dice: &mut Dice) -> Throw {
        let mut normal = Normal(dice);
        let jaw = std::array::from_fn(|at| {
            [self.known_tilt[at] + normal.with(self.jaw_tilt[at]), normal.with(self.jaw_yaw[at])]
        });
        let mut throw = Throw {
            jaw,
            seat: normal.all(self.seat_tilt),
            slip: normal.all(self.slip),
            cone: self.known_cone + normal.with(self.cone),
            gauge: normal.with(self.gauge),
            sawn: [normal.all(self.sawn), normal.all(self.sawn)],
            fresh: Vec::with_capacity(recipe.set_ups.len()),
        };
        for (number, set_up) in recipe.set_ups.iter().enumerate() {
            let mut fresh = Fresh {
                jaw: std::array::from_fn(|_| [normal.with(self.regrip_tilt), normal.with(self.regrip_yaw)]),
                dirt: std::array::from_fn(|at| normal.all(if at == 4 { self.seat_dirt } else { self.dirt })),
                seat: normal.all(self.seat_regrip),
                parallels: normal.with(self.parallels),
                eye: normal.all(self.eye),
                centring: normal.all(self.centring),
                size: normal.with(self.sizes.get(number).copied().unwrap_or(self.size)),
                place: normal.with(self.place),
                ..Fresh::default()
            };
            // Thrown only where asked, so that shops without them keep their pieces.
            if self.tapped != 0.0 || self.skin != 0.0 || self.packing != 0.0 {
                fresh.tapped = normal.all(self.tapped);
                fresh.skin = normal.all(self.skin);
                fresh.packing = normal.all(self.packing);
            }
            for (at, hold) in set_up.jaws.iter().enumerate() {
                // A jaw left alone stands as it stood.
                if let (true, Some(before)) = (hold.as_ref().is_some_and(|hold| hold.kept), throw.fresh.last()) {
                    fresh.jaw[at] = before.jaw[at];
                }
            }
            throw.fresh.push(fresh);
        }
        throw
    }
}
