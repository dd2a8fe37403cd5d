//! A seat that stays behind the work: springs that push it out of the chuck where the cut presses it on them, and do nothing
//! else.
//!
//! Tapped down, the work touches its seat and presses on it with nothing. Under a cut it presses on some of its points and
//! leaves others. Which, follows from the load alone and is the same however large the load: what the points push grows with
//! the cut. So the pushes are added to the cut, and jaws slip by the same closed form.

use nalgebra::{Matrix3, SMatrix, Vector3, Vector6};

use super::{CutLoad, Grip, TurnCut, Wrench};

/// A place behind the work that pushes away from the chuck, without friction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeatPoint {
    /// Where, mm.
    pub at_mm: Vector3<f64>,
    /// Stiffness, N/mm.
    pub stiffness_n_mm: f64,
}

/// The points, and what the work does to them while nothing but the jaws hold it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Seat {
    points: Vec<(Vector3<f64>, f64)>,
    /// Shift away from the chuck and turns about X and Y for each unit of load about the grip's reference.
    yields: SMatrix<f64, 3, 6>,
    /// Load of those three for each unit of them.
    stiffness: Matrix3<f64>,
}

/// How often the set of pressed points is tried anew.
const MOST_TRIES: usize = 60;

impl Seat {
    /// Pushes of all points together under a load, both about the grip's reference.
    pub(super) fn pushes(&self, load: &Vector6<f64>) -> Vector6<f64> {
        let free = self.yields * load;
        let at = self.settled(&free);
        let mut sum = Vector3::zeros();
        for (row, stiffness) in &self.points {
            sum += row * (stiffness * (-row.dot(&at)).max(0.0));
        }
        Vector6::new(0.0, 0.0, sum[0], sum[1], sum[2], 0.0)
    }

    /// Where the work comes to lie: springs of jaws and pressed points strained least. The strain is convex, so that a step
    /// to the balance of the points pressed now, halved where it gains nothing, ends.
    fn settled(&self, free: &Vector3<f64>) -> Vector3<f64> {
        let mut at = *free;
        for _ in 0..MOST_TRIES {
            let Some(next) = self.balance(&at, free) else { return at };
            if self.points.iter().all(|(row, _)| (row.dot(&next) < 0.0) == (row.dot(&at) < 0.0)) {
                return next;
            }
            at = if self.strain(&next, free) < self.strain(&at, free) { next } else { (at + next) / 2.0 };
        }
        at
    }

    /// Balance with the points that are pressed at a place.
    fn balance(&self, at: &Vector3<f64>, free: &Vector3<f64>) -> Option<Vector3<f64>> {
        let pressed = self.points.iter().filter(|(row, _)| row.dot(at) < 0.0);
        let all = pressed.fold(self.stiffness, |sum, (row, stiffness)| sum + row * row.transpose() * *stiffness);
        all.cholesky().map(|factor| factor.solve(&(self.stiffness * free)))
    }

    fn strain(&self, at: &Vector3<f64>, free: &Vector3<f64>) -> f64 {
        let off = at - free;
        let seat: f64 = self.points.iter().map(|(row, stiffness)| stiffness * row.dot(at).min(0.0).powi(2)).sum();
        off.dot(&(self.stiffness * off)) + seat
    }
}

impl Grip {
    /// The same with a seat behind the work. Whether the work still touches it once the jaws are tight nobody knows: jaw,
    /// point and lift are judged with it and without, and the less counts.
    pub fn seated(self, points: &[SeatPoint]) -> Grip {
        let row = |point: &SeatPoint| {
            let arm = point.at_mm - self.reference_mm();
            (Vector3::new(1.0, arm.y, -arm.x), point.stiffness_n_mm)
        };
        let whole = self.yields();
        let yields =
            SMatrix::<f64, 3, 6>::from_rows(&[whole.row(2), whole.row(3), whole.row(4)].map(|row| row.into_owned()));
        let among = yields.fixed_view::<3, 3>(0, 2).into_owned();
        let usable = points.iter().filter(|point| point.stiffness_n_mm > 0.0 && point.stiffness_n_mm.is_finite());
        let points: Vec<(Vector3<f64>, f64)> = usable.map(row).collect();
        match among.try_inverse().filter(|_| !points.is_empty()) {
            Some(stiffness) => self.behind(Seat { points, yields, stiffness }),
            None => self,
        }
    }

    /// The cut as the jaws feel it: as it is, and with what a seat pushes back.
    pub(super) fn felt(&self, cut: &Wrench) -> (Vector6<f64>, Option<Vector6<f64>>) {
        let load = self.about_reference(cut);
        let pushed = self.seat().map(|seat| load + seat.pushes(&load));
        (load, pushed.filter(|pushed| *pushed != load))
    }

    /// What the seat pushes at the moment of a cut at which a jaw is nearest to slipping, N; 0: it is nearer without.
    pub fn seat_pushes_n(&self, cut: &CutLoad) -> f64 {
        let (load, pushed) = self.felt(&cut.cut());
        pushed.filter(|_| self.seat_counts(cut)).map_or(0.0, |pushed| pushed[2] - load[2])
    }

    /// Whether a jaw slips sooner with the seat pushing than without.
    pub(super) fn seat_counts(&self, cut: &CutLoad) -> bool {
        let constant = self.about_reference(&cut.weight());
        let least = |load: &Vector6<f64>| {
            let factors = self.jaws.iter().map(|jaw| jaw.under(load, &constant).slips_at().unwrap_or(f64::INFINITY));
            factors.fold(f64::INFINITY, f64::min)
        };
        let (load, pushed) = self.felt(&cut.cut());
        pushed.is_some_and(|pushed| least(&pushed) < least(&load))
    }

    /// Shows cut and weight at every angle of a turn, as the jaws feel them with the seat pushing.
    pub(super) fn pushed_round(
        &self,
        cut: &TurnCut,
        angles: u32,
        mut show: impl FnMut(&Vector6<f64>, &Vector6<f64>, f64),
    ) {
        if self.seat().is_none() {
            return;
        }
        let step_deg = 360.0 / f64::from(angles.max(1));
        for index in 0..angles.max(1) {
            let angle_deg = step_deg * f64::from(index);
            let load = cut.at_angle(angle_deg);
            if let (_, Some(pushed)) = self.felt(&load.cut()) {
                show(&pushed, &self.about_reference(&load.weight()), angle_deg);
            }
        }
    }
}
