//! The grip: springs of all contact points, tightened and brought into balance.

use nalgebra::{Cholesky, Matrix6, Rotation3, SMatrix, Vector3, Vector4, Vector6};
use thiserror::Error;

use super::seat::Seat;
use super::{Contact, Held, JawGrip, SteadyLoad, Wrench, vee};

/// The work in tightened jaws.
#[derive(Debug, Clone, PartialEq)]
pub struct Grip {
    held: Vec<Held>,
    springs: Springs,
    /// The same with each jaw's pressure spread evenly.
    spread: Springs,
    /// What stays behind the work and pushes it out of the chuck where it is pressed.
    seat: Option<Seat>,
    /// Thrust of a tailstock centre, where there is one.
    pub(super) thrust_n: Option<f64>,
    /// Jaws with a loose vee before them.
    pub(super) vees: Vec<u8>,
    pub(super) points: Vec<Bearing>,
    /// Whole jaws; one that bears through a vee twice: first as it pushes the vee, then as the vee's flanks hold.
    pub(super) jaws: Vec<Bearing>,
}

/// Why a grip cannot be reckoned.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum GripFault {
    /// Nothing to hold with.
    #[error("no jaw bears on the work")]
    NoJaws,
    /// A value that is not a number or out of range.
    #[error("jaw {jaw}: its {what} cannot be used")]
    Unusable {
        /// Which jaw; 0: a steady load.
        jaw: u8,
        /// Which value.
        what: &'static str,
    },
    /// No force left.
    #[error("jaw {jaw} has no clamping force left")]
    NotTight {
        /// Which jaw.
        jaw: u8,
    },
    /// No jaw presses back.
    #[error("no jaw presses back against jaw {jaw}")]
    Unopposed {
        /// Which jaw.
        jaw: u8,
    },
    /// Fewer than three points.
    #[error("only {points} points bear on the work")]
    TooFewPoints {
        /// How many.
        points: usize,
    },
    /// The work can turn about the line.
    #[error("all points that bear lie in a line: the work can turn about it")]
    InALine,
    /// A value of a tailstock centre that cannot be used.
    #[error("the tailstock centre: its {what} cannot be used")]
    Centre {
        /// Which value.
        what: &'static str,
    },
    /// Tightening lifts all its points.
    #[error("jaw {jaw} bears where no other presses back: tightening tips the work off it")]
    TipsOff {
        /// Which jaw.
        jaw: u8,
    },
}

/// What a point or a whole jaw carries: row 1 the normal force, rows 2 to 4 the friction force.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bearing {
    pub jaw: u8,
    pub friction: f64,
    /// Before cutting, steady loads included, N.
    pub standing: Vector4<f64>,
    /// Change per unit of load about the reference point.
    pub response: SMatrix<f64, 4, 6>,
}

/// Movement of the rigid work per unit of load, about a reference point among the contacts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Springs {
    reference_mm: Vector3<f64>,
    compliance: Matrix6<f64>,
}

/// A contact with the force that its jaw was tightened to on it.
#[derive(Clone, Copy)]
pub(super) struct Pressed {
    pub contact: Contact,
    pub clamping_n: f64,
    pub share: f64,
}

/// Two jaws oppose when their pushes are more than this apart, as a cosine: 120 degrees in a three-jaw
/// chuck is -0.5, neighbours in a four-jaw chuck are 0.
pub(super) const OPPOSED_COSINE: f64 = -0.25;

/// Least pivot, as a share of the greatest, of a stiffness matrix with lengths scaled to the size of
/// the grip: rounding leaves 1e-15 of a singular one, a patch a thousandth of the grip wide 1e-6.
const LEAST_PIVOT: f64 = 1e-9;

/// Normals nearer than this are one: far above rounding, far below any arc.
const ALIKE_RAD: f64 = 1e-7;

impl Grip {
    /// Tightens the jaws: clamping spread by share, brought into balance by one elastic step
    /// `q = K⁻¹ w`; points that would have to pull are dropped and the balance repeated.
    pub fn new(jaws: &[JawGrip], steady: &[SteadyLoad]) -> Result<Grip, GripFault> {
        Grip::through_vees(jaws, &[], steady)
    }

    /// The same with loose vees before the jaws of these numbers: a vee can slip on its jaw, and its flanks press harder
    /// than the jaw does. The two edges of one solid jaw cannot.
    pub fn through_vees(jaws: &[JawGrip], vees: &[u8], steady: &[SteadyLoad]) -> Result<Grip, GripFault> {
        check_jaws(jaws)?;
        check_steady(steady)?;
        let mut pressed: Vec<Pressed> = jaws.iter().flat_map(spread).collect();
        loop {
            let springs = Springs::of(&pressed)?;
            let held = springs.balance(&pressed);
            if held.iter().all(|point| point.preload_n >= 0.0) {
                let steady = steady.iter().fold(Wrench::none(), |sum, load| sum + load.wrench());
                return Ok(Grip::assemble(held, &pressed, springs, &steady, vees));
            }
            let mut kept = held.iter().map(|point| point.preload_n >= 0.0);
            pressed.retain(|_| kept.next().unwrap_or(false));
            check_jaws_left(jaws, &pressed)?;
        }
    }

    /// The points that bear, with their preload.
    pub fn held(&self) -> &[Held] {
        &self.held
    }

    /// Movement of the work under a load, each jaw's springs spread evenly over what it bears on: shift, mm, and turn,
    /// rad, about the origin.
    pub fn motion(&self, load: &Wrench) -> Vector6<f64> {
        let mut q = self.spread.compliance * load.about(&self.spread.reference_mm);
        let shift = Vector3::from(q.fixed_rows::<3>(3)).cross(&self.spread.reference_mm);
        (0..3).for_each(|axis| q[axis] -= shift[axis]);
        q
    }

    /// Movement of the work at a point under a load, its springs at the points themselves, mm.
    pub fn movement_mm(&self, at_mm: &Vector3<f64>, load: &Wrench) -> Vector3<f64> {
        let q = self.springs.compliance * self.about_reference(load);
        let (shift, turn) = (q.fixed_rows::<3>(0), Vector3::from(q.fixed_rows::<3>(3)));
        shift + turn.cross(&(at_mm - self.springs.reference_mm))
    }

    /// The same with this behind it.
    pub(super) fn behind(self, seat: Seat) -> Grip {
        Grip { seat: Some(seat), ..self }
    }

    pub(super) fn seat(&self) -> Option<&Seat> {
        self.seat.as_ref()
    }

    /// The point about which responses want loads.
    pub(super) fn reference_mm(&self) -> Vector3<f64> {
        self.springs.reference_mm
    }

    /// Shift and turn about that point for each unit of load about it.
    pub(super) fn yields(&self) -> Matrix6<f64> {
        self.springs.compliance
    }

    /// The same with the thrust of a tailstock centre among its forces.
    pub(super) fn thrust_by(self, thrust_n: f64) -> Grip {
        Grip { thrust_n: Some(thrust_n), ..self }
    }

    /// The load as the responses want it.
    pub(super) fn about_reference(&self, load: &Wrench) -> Vector6<f64> {
        load.about(&self.springs.reference_mm)
    }

    pub(super) fn assemble(
        held: Vec<Held>,
        pressed: &[Pressed],
        springs: Springs,
        steady: &Wrench,
        vees: &[u8],
    ) -> Grip {
        let load = steady.about(&springs.reference_mm);
        let points: Vec<Bearing> = held.iter().map(|point| springs.bearing(point, &load)).collect();
        let flanks = vee::pushes(&held, &points).into_iter().filter(|push| vees.contains(&push.jaw));
        let jaws = flanks.chain(join_by_jaw(&held, &points)).collect();
        // What holds the work at its corners holds it drawn in too; should rounding say no, the corners stand.
        let spread = Springs::of(&drawn_in(pressed)).unwrap_or_else(|_| springs.clone());
        Grip { held, springs, spread, seat: None, thrust_n: None, vees: vees.to_vec(), points, jaws }
    }
}

impl SteadyLoad {
    fn wrench(&self) -> Wrench {
        Wrench::of_force(&self.at_mm, &self.force_n)
    }
}

impl Springs {
    /// `K = Σ Jᵀ diag(k_n, k_t, k_t) J`, inverted with lengths scaled to the size of the grip.
    pub(super) fn of(pressed: &[Pressed]) -> Result<Springs, GripFault> {
        if pressed.len() < 3 {
            return Err(GripFault::TooFewPoints { points: pressed.len() });
        }
        let count = pressed.len() as f64;
        let reference_mm = pressed.iter().map(|point| point.contact.at_mm).sum::<Vector3<f64>>() / count;
        let spread = pressed.iter().map(|point| (point.contact.at_mm - reference_mm).norm_squared()).sum::<f64>();
        let size = (spread / count).sqrt();
        let stiffness = pressed.iter().fold(Matrix6::zeros(), |sum, point| {
            let carried = point.contact.carried(&reference_mm);
            sum + carried.transpose() * point.contact.springs() * carried
        });
        let scale = Matrix6::from_diagonal(&Vector6::new(1.0, 1.0, 1.0, 1.0 / size, 1.0 / size, 1.0 / size));
        let factor = Cholesky::new(scale * stiffness * scale).ok_or(GripFault::InALine)?;
        let pivots = factor.l_dirty().diagonal().map(|pivot| pivot * pivot);
        let compliance = scale * factor.inverse() * scale;
        let solvable = pivots.min() >= LEAST_PIVOT * pivots.max() && compliance.iter().all(|part| part.is_finite());
        if solvable { Ok(Springs { reference_mm, compliance }) } else { Err(GripFault::InALine) }
    }

    fn balance(&self, pressed: &[Pressed]) -> Vec<Held> {
        let clamping = pressed.iter().fold(Wrench::none(), |sum, point| {
            sum + Wrench::of_force(&point.contact.at_mm, &(point.contact.inward * clamping_at(point, pressed)))
        });
        let moved = self.compliance * clamping.about(&self.reference_mm);
        let settle = |point: &Pressed| {
            let contact = point.contact;
            let back = contact.springs() * contact.carried(&self.reference_mm) * moved;
            let along = contact.inward.dot(&back);
            Held {
                contact,
                preload_n: clamping_at(point, pressed) - along,
                preload_friction_n: contact.inward * along - back,
            }
        };
        pressed.iter().map(settle).collect()
    }

    fn bearing(&self, point: &Held, steady: &Vector6<f64>) -> Bearing {
        let contact = &point.contact;
        let force = -contact.springs() * contact.carried(&self.reference_mm) * self.compliance;
        let normal = contact.inward.transpose() * force;
        let mut response = SMatrix::<f64, 4, 6>::zeros();
        response.fixed_view_mut::<1, 6>(0, 0).copy_from(&normal);
        response.fixed_view_mut::<3, 6>(1, 0).copy_from(&(force - contact.inward * normal));
        let friction = point.preload_friction_n;
        let preload = Vector4::new(point.preload_n, friction.x, friction.y, friction.z);
        Bearing { jaw: contact.jaw, friction: contact.friction, standing: preload + response * steady, response }
    }
}

/// Points of a jaw, of each flank of a vee by itself, drawn in to 1/√3 of their way from the middle: from the corners of a rectangle, or the ends of a
/// line, to the points of Gauss's rule, where springs are as stiff against shift and tipping as spread evenly.
fn drawn_in(pressed: &[Pressed]) -> Vec<Pressed> {
    let middle = |of: &Contact| {
        let own = pressed.iter().filter(|point| point.contact.jaw == of.jaw && point.contact.inward == of.inward);
        let (sum, share) = own.fold((Vector3::zeros(), 0.0), |(sum, share), point| {
            (sum + point.contact.at_mm * point.share, share + point.share)
        });
        sum / share
    };
    let drawn = |point: &Pressed| {
        let middle = middle(&point.contact);
        let at_mm = middle + (point.contact.at_mm - middle) / 3f64.sqrt();
        Pressed { contact: Contact { at_mm, ..point.contact }, ..*point }
    };
    pressed.iter().map(drawn).collect()
}

/// The jaw's whole force on the points that are left, by share.
fn clamping_at(point: &Pressed, pressed: &[Pressed]) -> f64 {
    let jaw = point.contact.jaw;
    let shares: f64 = pressed.iter().filter(|other| other.contact.jaw == jaw).map(|other| other.share).sum();
    point.clamping_n * point.share / shares
}

fn spread(jaw: &JawGrip) -> impl Iterator<Item = Pressed> + '_ {
    let whole: f64 = jaw.contacts.iter().map(|seed| seed.share).sum();
    jaw.contacts.iter().filter(|seed| seed.share > 0.0).map(move |seed| {
        let share = seed.share / whole;
        let contact = Contact {
            jaw: jaw.jaw,
            at_mm: seed.at_mm,
            inward: seed.inward.normalize(),
            normal_stiffness_n_mm: jaw.normal_stiffness_n_mm * share,
            tangential_stiffness_n_mm: jaw.tangential_stiffness_n_mm * share,
            friction: jaw.friction,
        };
        Pressed { contact, clamping_n: jaw.clamping_n, share }
    })
}

/// Adds up the points of each jaw; the jaw's friction is the least of its points. Round an arc the points' friction is
/// added as on the arc unrolled: turned with each normal onto the push of the jaw, so that what rubs round does not
/// cancel between its ends.
fn join_by_jaw(held: &[Held], points: &[Bearing]) -> Vec<Bearing> {
    let push = |jaw: u8| -> Vector3<f64> {
        held.iter().filter(|held| held.contact.jaw == jaw).map(|held| held.contact.inward).sum()
    };
    let mut jaws: Vec<Bearing> = Vec::new();
    for (held, point) in held.iter().zip(points) {
        let point = unrolled(point, &held.contact.inward, &push(held.contact.jaw));
        match jaws.iter_mut().find(|jaw| jaw.jaw == point.jaw) {
            Some(jaw) => {
                jaw.friction = jaw.friction.min(point.friction);
                jaw.standing += point.standing;
                jaw.response += point.response;
            }
            None => jaws.push(point),
        }
    }
    jaws
}

/// What a point carries, turned as its normal is turned onto the push of its jaw.
fn unrolled(point: &Bearing, inward: &Vector3<f64>, push: &Vector3<f64>) -> Bearing {
    let Some(turn) = Rotation3::rotation_between(inward, push).filter(|turn| turn.angle() > ALIKE_RAD) else {
        return point.clone();
    };
    let mut turned = point.clone();
    let standing: Vector3<f64> = turn * point.standing.fixed_rows::<3>(1);
    turned.standing.fixed_rows_mut::<3>(1).copy_from(&standing);
    let response = turn.matrix() * point.response.fixed_view::<3, 6>(1, 0);
    turned.response.fixed_view_mut::<3, 6>(1, 0).copy_from(&response);
    turned
}

fn check_jaws(jaws: &[JawGrip]) -> Result<(), GripFault> {
    if jaws.is_empty() {
        return Err(GripFault::NoJaws);
    }
    for (index, jaw) in jaws.iter().enumerate() {
        check_values(jaw)?;
        let twice = jaws[..index].iter().any(|before| before.jaw == jaw.jaw);
        usable(jaw.jaw, "number, given twice,", !twice)?;
        if jaw.clamping_n <= 0.0 {
            return Err(GripFault::NotTight { jaw: jaw.jaw });
        }
    }
    match jaws.iter().find(|jaw| !jaws.iter().any(|other| oppose(jaw, other))) {
        Some(jaw) => Err(GripFault::Unopposed { jaw: jaw.jaw }),
        None => Ok(()),
    }
}

fn check_values(jaw: &JawGrip) -> Result<(), GripFault> {
    let positive = |value: f64| value.is_finite() && value > 0.0;
    usable(jaw.jaw, "clamping force", jaw.clamping_n.is_finite())?;
    usable(jaw.jaw, "stiffness", positive(jaw.normal_stiffness_n_mm) && positive(jaw.tangential_stiffness_n_mm))?;
    usable(jaw.jaw, "friction", jaw.friction.is_finite() && jaw.friction >= 0.0)?;
    usable(jaw.jaw, "place", jaw.contacts.iter().all(|seed| finite(&seed.at_mm)))?;
    usable(jaw.jaw, "normal", jaw.contacts.iter().all(|seed| finite(&seed.inward) && seed.inward.norm() > 0.0))?;
    let shares = jaw.contacts.iter().map(|seed| seed.share);
    usable(jaw.jaw, "share", shares.clone().all(|share| share.is_finite() && share >= 0.0) && shares.sum::<f64>() > 0.0)
}

fn check_steady(steady: &[SteadyLoad]) -> Result<(), GripFault> {
    usable(0, "steady load", steady.iter().all(|load| finite(&load.at_mm) && finite(&load.force_n)))
}

fn check_jaws_left(jaws: &[JawGrip], pressed: &[Pressed]) -> Result<(), GripFault> {
    // Every flank of a vee must go on bearing.
    let bears = |jaw: &JawGrip, inward: Vector3<f64>| {
        pressed.iter().any(|point| point.contact.jaw == jaw.jaw && point.contact.inward == inward)
    };
    let seeds = |jaw: &&JawGrip| {
        jaw.contacts.iter().filter(|seed| seed.share > 0.0).all(|seed| bears(jaw, seed.inward.normalize()))
    };
    match jaws.iter().find(|jaw| !seeds(jaw)) {
        Some(jaw) => Err(GripFault::TipsOff { jaw: jaw.jaw }),
        None => Ok(()),
    }
}

fn oppose(jaw: &JawGrip, other: &JawGrip) -> bool {
    push_of(jaw).dot(&push_of(other)) < OPPOSED_COSINE
}

/// Direction in which the jaw pushes.
fn push_of(jaw: &JawGrip) -> Vector3<f64> {
    let push: Vector3<f64> = jaw.contacts.iter().map(|seed| seed.inward.normalize() * seed.share).sum();
    push.try_normalize(0.0).unwrap_or_else(Vector3::zeros)
}

fn usable(jaw: u8, what: &'static str, is: bool) -> Result<(), GripFault> {
    if is { Ok(()) } else { Err(GripFault::Unusable { jaw, what }) }
}

fn finite(vector: &Vector3<f64>) -> bool {
    vector.iter().all(|part| part.is_finite())
}
