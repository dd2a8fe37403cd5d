//! Errors through the set-ups: the slope of every finished face as a sum of noises, each flat standing on flats made
//! before.
//!
//! A face's slope is how its outward displacement grows along its two tangents. Cut in a set-up, it is that of the
//! spindle's plane seen from the work: what `seating` says of jaws, bearings and seat, and the spindle's axial slip.

use std::rc::Rc;

use nalgebra::{Matrix2, Vector2, Vector3};

use super::carried::{Basis, Carried, add};
use super::form::{Form, More, Places};
use super::noise::Noise;
use super::numbers::Spreads;
use super::seating::{Gains, On, Seating};
use super::zone::Lean;

/// One set-up in the chain.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// How it sits.
    pub seating: Seating,
    /// Worked out from it.
    pub gains: Gains,
    /// Slopes of the face along X and Y per mm of axial slip along X and along Y.
    pub slip_per_mm: Matrix2<f64>,
    /// How its size comes about.
    pub sized: Sized,
    /// Where it cuts and bears.
    pub places: Places,
}

impl SetUp {
    /// The form that it leaves on its face, along the face's tangents.
    pub fn form(&self, tangents: [Vector3<f64>; 2]) -> Form {
        let [x, y, _] = self.seating.axes;
        let seen = Matrix2::from_fn(|tangent, axis| tangents[tangent].dot(&[x, y][axis]));
        let slip = seen * self.slip_per_mm * seen.transpose();
        let whole = Lean { slip, cone: seen * self.places.cone_per_rad };
        Form { tangents, axis_mm: self.places.axis_mm, whole }
    }
}

/// How the size of a face comes about.
#[derive(Debug, Clone, PartialEq)]
pub struct Sized {
    /// Depth of the last cut, set from the last reading, mm.
    pub last_cut_mm: f64,
    /// What one mark of the dial moves, mm.
    pub mark_mm: f64,
    /// The gauge by its place in the shop's list, and its standard uncertainty, mm.
    pub gauge: Option<(u8, f64)>,
}

/// Where a set-up stands in a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Stands {
    /// Jaw 1 bears on the side of this number from X.
    pub turn: usize,
    /// For each jaw, the face in whose set-up it was last tightened; this set-up's own face if now.
    pub tightened_for: Vec<u8>,
}

/// What is known of the finished faces.
#[derive(Debug, Clone)]
pub struct Chain {
    /// Tangents of every face in the part's frame.
    tangents: Rc<[[Vector3<f64>; 2]]>,
    spreads: Spreads,
    /// What the shop says of each jaw's face, rad; empty: only their spread.
    jaw_faces_rad: Rc<[f64]>,
    slopes: Vec<Option<[Rc<[f64]>; 2]>>,
    slips: Vec<Option<[Rc<[f64]>; 2]>>,
    forms: Vec<Form>,
    sizes: Vec<Option<Rc<[f64]>>>,
}

impl Chain {
    /// Nothing finished yet.
    pub fn new(tangents: Rc<[[Vector3<f64>; 2]]>, spreads: Spreads, jaw_faces_rad: Rc<[f64]>) -> Chain {
        let faces = tangents.len();
        let (nothing, forms) = (vec![None; faces], vec![Form::default(); faces]);
        let (slopes, sizes) = (nothing.clone(), vec![None; faces]);
        Chain { tangents, spreads, jaw_faces_rad, slopes, slips: nothing, forms, sizes }
    }

    /// The slope of a face along one of its tangents; nothing for a face that stays as the bar has it.
    pub fn slope(&self, face: u8, tangent: usize) -> Option<Rc<[f64]>> {
        Some(Rc::clone(&self.slopes.get(usize::from(face))?.as_ref()?[tangent]))
    }

    /// How far the spindle slipped as a face was cut, proud along one of its tangents, mm to either side of the middle.
    pub fn slip(&self, face: u8, tangent: usize) -> Option<Rc<[f64]>> {
        Some(Rc::clone(&self.slips.get(usize::from(face))?.as_ref()?[tangent]))
    }

    /// What a face's size or place is off its aim, mm.
    pub fn size(&self, face: u8) -> Option<Rc<[f64]>> {
        self.sizes.get(usize::from(face))?.clone()
    }

    /// Cuts a face.
    pub fn cut(&mut self, basis: &mut impl Basis, set_up: &SetUp, stands: &Stands) {
        let slip = self.new_slip(basis, set_up, stands);
        let mut slope = self.new_slope(basis, set_up, stands);
        for (axis, slip) in slip.iter().enumerate() {
            spread(&mut slope, set_up.slip_per_mm.column(axis).into_owned(), slip);
        }
        self.add_cone(basis, &mut slope, set_up.places.cone_per_rad);
        let face = usize::from(set_up.seating.face);
        let [x, y, _] = set_up.seating.axes;
        let seen = |of: &[Carried; 2]| {
            self.tangents[face].map(|tangent| {
                let mut along = Carried::new();
                add(&mut along, tangent.dot(&x), &of[0]);
                add(&mut along, tangent.dot(&y), &of[1]);
                Rc::from(along)
            })
        };
        (self.slopes[face], self.slips[face]) = (Some(seen(&slope)), Some(seen(&slip)));
        self.forms[face] = set_up.form(self.tangents[face]);
        self.sizes[face] = Some(self.new_size(basis, set_up.seating.face, &set_up.sized).into());
    }

    /// Axial slip that stands proud along X and along Y of the set-up.
    fn new_slip(&self, basis: &mut impl Basis, set_up: &SetUp, stands: &Stands) -> [Carried; 2] {
        // Half the needle, its direction unknown: two equal parts.
        let slip_mm = self.spreads.axial_slip_mm / 2.0 / std::f64::consts::SQRT_2;
        let mut slip = [Carried::new(), Carried::new()];
        for axis in 0..2 {
            let along = from_chuck(&set_up.seating, stands.turn, axis) * slip_mm;
            spread(&mut slip, along, &basis.unit(Noise::AxialSlip(axis as u8)));
        }
        slip
    }

    /// Slope along X and Y of the set-up, the spindle's slip apart.
    fn new_slope(&self, basis: &mut impl Basis, set_up: &SetUp, stands: &Stands) -> [Carried; 2] {
        let mut slope = [Carried::new(), Carried::new()];
        self.add_jaws(basis, &mut slope, set_up, stands);
        self.add_seat(basis, &mut slope, set_up, stands);
        let face = set_up.seating.face;
        for axis in 0..2 {
            let eye = set_up.gains.eye.column(axis) * self.spreads.by_eye_rad;
            spread(&mut slope, eye.into_owned(), &basis.unit(Noise::Eye(face, axis as u8)));
        }
        // Side against side: both turn about the bar's axis, the way across the bar is X.
        if let Some(from) = set_up.seating.eye_from.and_then(|from| self.slope(from, 0)) {
            spread(&mut slope, set_up.gains.eye.column(0).into_owned(), &from);
        }
        slope
    }

    fn add_jaws(&self, basis: &mut impl Basis, slope: &mut [Carried; 2], set_up: &SetUp, stands: &Stands) {
        let (seating, spreads) = (&set_up.seating, &self.spreads);
        let jaws = seating.jaws.len();
        for (at, (bears, gain)) in seating.jaws.iter().zip(&set_up.gains.jaws).enumerate() {
            if gain.norm() == 0.0 {
                continue;
            }
            let jaw = ((at + jaws - stands.turn) % jaws) as u8;
            let face = seating.face;
            let mut by = |noise: Noise, rad: f64| spread(slope, gain * rad, &basis.unit(noise));
            match self.jaw_faces_rad.get(usize::from(jaw)) {
                Some(known) => by(Noise::Known, *known),
                None => by(Noise::JawFace(jaw), spreads.jaw_tilt_rad),
            }
            by(Noise::Regrip(stands.tightened_for[usize::from(jaw)], jaw), spreads.regrip_tilt_rad);
            by(Noise::Dirt(face, jaw), spreads.dirt_mm * bears.slope_per_mm());
            if bears.packed {
                by(Noise::Packing(face, jaw), spreads.packing_mm / bears.long_mm().max(1.0));
            }
            match bears.on {
                On::Bar => by(Noise::Skin(face, jaw), spreads.bar_rad),
                on => {
                    self.add_surface(basis, slope, on, &seating.axes[2], -gain);
                    let patch = set_up.places.jaws_mm.get(at).map_or(&[][..], std::slice::from_ref);
                    self.add_form(basis, slope, (on, patch), &seating.axes[2], -gain);
                }
            }
        }
    }

    /// Adds the slope of a surface along a direction of the part's frame.
    fn add_surface(
        &self,
        basis: &mut impl Basis,
        slope: &mut [Carried; 2],
        on: On,
        along: &Vector3<f64>,
        gain: Vector2<f64>,
    ) {
        let (face, sawn) = match on {
            On::Face(face) => (face, false),
            On::Sawn(end) => (end, true),
            On::Bar => return,
        };
        let Some(tangents) = self.tangents.get(usize::from(face)) else { return };
        for (axis, tangent) in tangents.iter().enumerate() {
            let share = tangent.dot(along);
            if sawn {
                let sawn = basis.unit(Noise::Sawn(face, axis as u8));
                spread(slope, gain * (share * self.spreads.sawn_rad), &sawn);
            } else if let Some(known) = self.slope(face, axis) {
                spread(slope, gain * share, &known);
            }
        }
    }

    /// Adds what the form of a face leans more over the patches on which it bears.
    fn add_form(
        &self,
        basis: &mut impl Basis,
        slope: &mut [Carried; 2],
        (on, patches_mm): (On, &[Vec<Vector3<f64>>]),
        along: &Vector3<f64>,
        gain: Vector2<f64>,
    ) {
        let On::Face(face) = on else { return };
        let more = self.forms.get(usize::from(face)).and_then(|form| form.more(patches_mm, along));
        let Some(More { slip, cone }) = more else { return };
        for tangent in 0..2 {
            spread(slope, gain * slip[tangent], &self.slip(face, tangent).unwrap_or_default());
        }
        self.add_cone(basis, slope, gain * cone);
    }

    fn add_cone(&self, basis: &mut impl Basis, slope: &mut [Carried; 2], gain: Vector2<f64>) {
        if gain != Vector2::zeros() {
            spread(slope, gain * self.spreads.cross_slide_rad, &basis.unit(Noise::Known));
            spread(slope, gain * self.spreads.cross_slide_spread_rad, &basis.unit(Noise::CrossSlide));
        }
    }

    fn add_seat(&self, basis: &mut impl Basis, slope: &mut [Carried; 2], set_up: &SetUp, stands: &Stands) {
        let Some(behind) = &set_up.seating.behind else { return };
        let (seating, spreads) = (&set_up.seating, &self.spreads);
        for axis in 0..2 {
            let gain: Vector2<f64> = set_up.gains.seat.column(axis).into_owned();
            let half = behind.half_mm[axis];
            if gain.norm() == 0.0 || half <= 0.0 {
                continue;
            }
            spread(slope, gain * (spreads.tapped_mm / half), &basis.unit(Noise::Tapped(seating.face, axis as u8)));
            if let Some(pair) = behind.parallels.filter(|pair| pair.across == axis) {
                let leans = spreads.parallels_mm / pair.apart_mm;
                spread(slope, gain * leans, &basis.unit(Noise::Parallels(seating.face)));
            }
            if behind.on == On::Bar {
                spread(slope, gain * spreads.bar_rad, &basis.unit(Noise::SkinBehind(seating.face, axis as u8)));
            }
            self.add_surface(basis, slope, behind.on, &seating.axes[axis], -gain);
            self.add_form(basis, slope, (behind.on, &set_up.places.behind_mm), &seating.axes[axis], -gain);
        }
        for axis in 0..2 {
            let along = set_up.gains.seat * from_chuck(seating, stands.turn, axis) * spreads.chuck_face_rad;
            spread(slope, along, &basis.unit(Noise::ChuckFace(axis as u8)));
        }
    }

    fn new_size(&self, basis: &mut impl Basis, face: u8, sized: &Sized) -> Carried {
        let spreads = &self.spreads;
        let mark_mm = sized.mark_mm / 12f64.sqrt();
        let cut_mm = spreads.cut_scatter_mm.hypot(spreads.dial_share * sized.last_cut_mm).hypot(mark_mm);
        let mut size = Carried::new();
        add(&mut size, cut_mm, &basis.unit(Noise::Cut(face)));
        match sized.gauge {
            Some((gauge, uncertainty_mm)) => add(&mut size, uncertainty_mm, &basis.unit(Noise::Gauge(gauge))),
            None => add(&mut size, spreads.touch_off_mm, &basis.unit(Noise::TouchOff(face))),
        }
        size
    }
}

/// A direction fixed to the chuck, seen in X and Y: along jaw 1 (0) or square to it (1).
fn from_chuck(seating: &Seating, turn: usize, axis: usize) -> Vector2<f64> {
    let jaw_1 = if seating.jaws.is_empty() { Vector2::x() } else { seating.outward(turn % seating.jaws.len()) };
    if axis == 0 { jaw_1 } else { Vector2::new(-jaw_1.y, jaw_1.x) }
}

fn spread(slope: &mut [Carried; 2], gain: Vector2<f64>, what: &[f64]) {
    add(&mut slope[0], gain.x, what);
    add(&mut slope[1], gain.y, what);
}
