//! A scenario with its plan, and what the rules need of both, worked out apart from the planner.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use engine::job::{BarForm, Job, JobMaterial, Surface};
use engine::part::Form;
use engine::plan::{ContactKind, Outcome, Pass, PassKind, Plan, SetUp};
use engine::quantity::Plain;
use engine::shop::{Chuck, Lathe, Reads, Shop, Tool};

use crate::data;
use crate::scenario::scenario;
use crate::solid::{Meets, Solid, turned};

/// Lengths agree within this, mm: our round has corners.
pub const NEAR_MM: f64 = 2e-3;

/// A scenario and the plan for it.
#[derive(Clone)]
pub struct Case {
    pub seed: u64,
    pub job: Job,
    pub shop: Shop,
    pub plan: Plan,
    pub faces: Vec<Face>,
    /// Pieces before each set-up, and where they lie.
    pub moments: Vec<Moment>,
}

/// A face as the drawing puts it on the bar.
#[derive(Debug, Clone)]
pub struct Face {
    pub name: String,
    /// `None`: an end.
    pub side: Option<f64>,
    /// For ends: which.
    pub front: bool,
    /// From the bar's axis, or from the middle of the bar's length.
    pub distance: f64,
    pub cut: bool,
}

/// The moment before a set-up's first cut.
#[derive(Clone)]
pub struct Moment {
    /// Which face is cut.
    pub face: usize,
    /// Faces finished before, in order.
    pub done: Vec<usize>,
    pub piece: Solid,
    /// Back to raw top along the spindle.
    pub height: f64,
    /// Raw top to finished face.
    pub depth: f64,
    /// What each jaw finds, jaw 1 first; `None`: no way of lying agrees with the plan.
    pub jaws: Option<Vec<Found>>,
    /// Where the spindle axis passes through the section of a piece held along it.
    axis: (f64, f64),
}

/// What a jaw finds.
#[derive(Debug, Clone)]
pub struct Found {
    /// A finished face, by index.
    pub face: Option<usize>,
    /// An end of the bar, finished or sawn.
    pub end: bool,
    /// From the spindle axis to the surface.
    pub out: f64,
    pub kind: Option<ContactKind>,
    /// Height over the back of the piece where a round bears.
    pub at_height: f64,
    /// Where the jaw stands in the section; `None`: at an end of the bar.
    pub direction: Option<f64>,
    /// Which way in the section the spindle looks, where the piece lies across it.
    pub up: Option<f64>,
}

impl Case {
    /// Plans a scenario; a generator that makes jobs nobody can read is a fault of the generator.
    pub fn of(seed: u64) -> Case {
        let scenario = scenario(seed);
        Case::from(seed, scenario.job, scenario.shop)
    }

    pub fn from(seed: u64, job: Job, shop: Shop) -> Case {
        let plan = engine::plan(&job, &shop).unwrap_or_else(|problems| panic!("seed {seed}: {problems:?}"));
        let faces = faces(&job);
        let mut case = Case { seed, job, shop, plan, faces, moments: Vec::new() };
        case.moments = case.walk();
        case
    }

    pub fn planned(&self) -> bool {
        self.plan.outcome == Outcome::Planned
    }

    /// Set-ups, each with its moment.
    pub fn steps(&self) -> impl Iterator<Item = (&SetUp, &Moment)> {
        self.plan.set_ups.iter().zip(&self.moments)
    }

    /// Set-ups of which the jaws agree with the piece.
    pub fn held(&self) -> impl Iterator<Item = (&SetUp, &Moment, &Vec<Found>)> {
        self.steps().filter_map(|(set_up, moment)| moment.jaws.as_ref().map(|jaws| (set_up, moment, jaws)))
    }

    pub fn lathe(&self) -> &Lathe {
        &self.shop.lathes[0]
    }

    pub fn chuck(&self) -> &Chuck {
        &self.shop.chucks[0]
    }

    pub fn tool(&self) -> &Tool {
        &self.shop.tools[0]
    }

    /// Feeds across that the tool takes.
    pub fn feeds(&self) -> Vec<f64> {
        let (least, most) = self.tool_feeds();
        let across = self.lathe().feeds_across();
        across.iter().map(|feed| feed.plain()).filter(|feed| (least - 1e-9..=most + 1e-9).contains(feed)).collect()
    }

    pub fn tool_feeds(&self) -> (f64, f64) {
        self.tool()
            .feed
            .map_or((data::default("feed, least"), data::default("feed, most")), |(a, b)| (a.plain(), b.plain()))
    }

    /// Depth of one mark of the depth slide's dial.
    pub fn mark(&self) -> f64 {
        let slide = &self.lathe().depth_slide;
        let half = if slide.reads == Reads::Diameter { 0.5 } else { 1.0 };
        let turn = slide.screw.map_or(slide.per_turn.plain() * half, Plain::plain);
        turn / self.marks_per_turn() * slide.set_over.plain().cos()
    }

    pub fn marks_per_turn(&self) -> f64 {
        let slide = &self.lathe().depth_slide;
        (slide.per_turn.plain() / slide.graduation.plain()).round()
    }

    /// Allowed cutting speed, m/min.
    pub fn allowed_speed(&self, interrupted: bool) -> f64 {
        let tool = self.tool().material;
        let table = match &self.job.stock.material {
            JobMaterial::Named(name) => data::speed(name, tool).expect("a speed for every pair of the table"),
            JobMaterial::Own(own) => {
                own.speeds.iter().find(|speed| speed.0 == tool).expect("the scenario gives all").1.plain()
            }
        };
        let share = self.job.cutting.speed_share_interrupted.unwrap_or_else(|| data::interrupted_share(tool));
        if interrupted { table * share } else { table }
    }

    /// Whether a set-up cuts through scale or cast skin.
    pub fn on_skin(&self, moment: &Moment) -> bool {
        let given = self.job.stock.surface;
        let skin = given.unwrap_or_else(|| match &self.job.stock.material {
            JobMaterial::Named(name) => engine::cutting::material(name).expect("named").default_surface(),
            JobMaterial::Own(_) => Surface::Drawn,
        });
        self.faces[moment.face].side.is_some() && matches!(skin, Surface::HotRolled | Surface::Cast)
    }

    /// Thinnest finishing cut, by tool and by work.
    pub fn least_finish(&self) -> f64 {
        let work = match &self.job.stock.material {
            JobMaterial::Named(name) => engine::cutting::material(name).expect("named").least_finish_mm,
            JobMaterial::Own(_) => 0.0,
        };
        data::least_finish(self.tool().material).max(work)
    }

    /// Thicknesses of packing that may be used: on hand, or assumed.
    pub fn packings(&self) -> Vec<f64> {
        let there: Vec<f64> = self.shop.packing.iter().flat_map(|kind| &kind.thickness).map(|at| at.plain()).collect();
        if there.is_empty() { vec![data::default("packing thickness")] } else { there }
    }

    /// Watts at the edge.
    pub fn edge_power(&self) -> f64 {
        let lathe = self.lathe();
        lathe.motor.plain() * lathe.efficiency.unwrap_or_else(|| data::default("efficiency"))
    }

    pub fn raw_bar(&self) -> Solid {
        raw_bar(&self.job)
    }

    /// The piece after these faces are cut.
    pub fn piece_after(&self, done: &[usize]) -> Solid {
        done.iter().fold(raw_bar(&self.job), |piece, &at| cut_face(&piece, &self.faces[at]))
    }

    fn walk(&self) -> Vec<Moment> {
        let mut done = Vec::new();
        let mut moments = Vec::new();
        for set_up in &self.plan.set_ups {
            let Some(face) = set_up.cuts_faces.first().and_then(|name| self.index(name)) else { break };
            moments.push(self.moment(set_up, face, done.clone()));
            done.push(face);
        }
        moments
    }

    pub fn index(&self, name: &str) -> Option<usize> {
        self.faces.iter().position(|face| face.name == name)
    }

    fn moment(&self, set_up: &SetUp, face: usize, done: Vec<usize>) -> Moment {
        let piece = self.piece_after(&done);
        let (height, depth) = match (self.faces[face].side, self.faces[face].front) {
            (Some(angle), _) => {
                let top = piece.reach(angle);
                (top + piece.reach(angle + PI), top - self.faces[face].distance)
            }
            (None, true) => (piece.length(), piece.front - self.faces[face].distance),
            (None, false) => (piece.length(), -piece.back - self.faces[face].distance),
        };
        let jaws = self.found(set_up, face, &done, &piece);
        let axis = if self.faces[face].side.is_none() { self.axis(set_up, &piece) } else { (0.0, 0.0) };
        Moment { face, done, piece, height, depth, jaws, axis }
    }

    /// The way of lying in which every jaw finds what the plan says.
    fn found(&self, set_up: &SetUp, face: usize, done: &[usize], piece: &Solid) -> Option<Vec<Found>> {
        let ways = match self.faces[face].side {
            Some(angle) => vec![self.across(angle, done, piece)],
            None => self.along(self.faces[face].front, done, piece, set_up.jaws.len()),
        };
        ways.into_iter().find_map(|sides| {
            (0..sides.len()).find_map(|turn| {
                let jaws: Vec<Found> = (0..sides.len()).map(|jaw| sides[(jaw + turn) % sides.len()].clone()).collect();
                self.agrees(set_up, &jaws).then_some(jaws)
            })
        })
    }

    fn agrees(&self, set_up: &SetUp, jaws: &[Found]) -> bool {
        set_up.jaws.len() == jaws.len()
            && set_up.jaws.iter().zip(jaws).all(|(plan, found)| {
                let bare = if found.end { "sawn end" } else { "bar" };
                let name = found.face.map_or(bare, |at| self.faces[at].name.as_str());
                if plan.vee.is_some() {
                    return found.kind.is_none() && plan.contact == ContactKind::Vee;
                }
                plan.bears_on == name
                    && found.kind == Some(on_a_round_alike(plan.contact))
                    && (plan.reach_mm - plan.packing_mm - found.out).abs() < NEAR_MM
            })
    }

    /// Lying across: jaws on the sides and on the ends, counter-clockwise seen from the tailstock.
    fn across(&self, angle: f64, done: &[usize], piece: &Solid) -> Vec<Found> {
        let half_length = piece.length() / 2.0;
        let half_width = (piece.reach(angle + FRAC_PI_2) + piece.reach(angle - FRAC_PI_2)) / 2.0;
        let back = piece.reach(angle + PI);
        let end = |front: bool| Found {
            face: done.iter().copied().find(|&at| self.faces[at].side.is_none() && self.faces[at].front == front),
            end: true,
            out: half_length,
            kind: Some(ContactKind::Flat),
            at_height: 0.0,
            direction: None,
            up: None,
        };
        let side =
            |direction: f64| self.beside(direction, done, piece, half_width, ContactKind::LineAcross, angle, back);
        vec![side(angle + FRAC_PI_2), end(true), side(angle - FRAC_PI_2), end(false)]
    }

    /// Lying along the spindle: the first jaw square to any flat, or anywhere on a round.
    fn along(&self, front: bool, done: &[usize], piece: &Solid, jaws: usize) -> Vec<Vec<Found>> {
        let outwards = if front { 1.0 } else { -1.0 };
        let mut firsts = piece.flat_normals();
        firsts.push(0.0);
        firsts
            .into_iter()
            .map(|first| {
                let direction = |jaw: usize| first + outwards * TAU * jaw as f64 / jaws as f64;
                (0..jaws)
                    .map(|jaw| {
                        let out = if jaws == 4 {
                            (piece.reach(direction(jaw)) + piece.reach(direction(jaw) + PI)) / 2.0
                        } else {
                            piece.reach(direction(jaw))
                        };
                        self.beside(direction(jaw), done, piece, out, ContactKind::LineAlong, 0.0, 0.0)
                    })
                    .collect()
            })
            .collect()
    }

    #[allow(clippy::too_many_arguments)]
    fn beside(
        &self,
        direction: f64,
        done: &[usize],
        piece: &Solid,
        out: f64,
        on_round: ContactKind,
        up: f64,
        back: f64,
    ) -> Found {
        let (kind, at_height) = match piece.meets(direction) {
            Meets::Flat(_) => (Some(ContactKind::Flat), 0.0),
            Meets::Round(at) => (Some(on_round), at.0 * up.cos() + at.1 * up.sin() + back),
            Meets::Corner => (None, 0.0),
        };
        let face = done.iter().copied().find(|&at| {
            self.faces[at].side.is_some_and(|angle| turned(angle, direction).abs() < 1e-6)
                && kind == Some(ContactKind::Flat)
                && (piece.reach(direction) - self.faces[at].distance).abs() < NEAR_MM
        });
        let up = (on_round == ContactKind::LineAcross).then_some(up);
        Found { face, end: false, out, kind, at_height, direction: Some(direction), up }
    }

    /// The farthest point that the tool meets in a pass, from the spindle axis.
    pub fn start_radius(&self, moment: &Moment, pass: &Pass) -> f64 {
        match self.faces[moment.face].side {
            None => self.end_radius(moment),
            Some(angle) => {
                let piece = &moment.piece;
                let floor = piece.reach(angle) - pass.total_mm;
                // A convex section is widest somewhere within the layer: look at it in a few places.
                (0..=4)
                    .filter_map(|step| piece.chord(angle, floor + pass.depth_mm * f64::from(step) / 4.0))
                    .map(|chord| self.corner_radius(moment, angle, chord))
                    .fold(0.0, f64::max)
            }
        }
    }

    /// The farthest corner of the floor alone.
    pub fn floor_radius(&self, moment: &Moment, total: f64) -> f64 {
        match self.faces[moment.face].side {
            None => self.end_radius(moment),
            Some(angle) => {
                let floor = moment.piece.reach(angle) - total;
                moment.piece.chord(angle, floor).map_or(0.0, |chord| self.corner_radius(moment, angle, chord))
            }
        }
    }

    fn corner_radius(&self, moment: &Moment, angle: f64, (from, to): (f64, f64)) -> f64 {
        let middle = self.middle(moment, angle);
        (to - middle).abs().max((from - middle).abs()).hypot(moment.piece.length() / 2.0)
    }

    /// The spindle axis across the piece lying across.
    pub fn middle(&self, moment: &Moment, angle: f64) -> f64 {
        (moment.piece.reach(angle + FRAC_PI_2) - moment.piece.reach(angle - FRAC_PI_2)) / 2.0
    }

    /// The spindle axis in the section of a piece held along it.
    fn axis(&self, set_up: &SetUp, piece: &Solid) -> (f64, f64) {
        if self.chuck().jaws != 4 {
            return (0.0, 0.0);
        }
        // The first jaw's direction: the flat or round whose reach fits the plan.
        let mut firsts = piece.flat_normals();
        firsts.push(0.0);
        let fits = |first: &f64| {
            (0..4).any(|turn| {
                (0..4).all(|jaw| {
                    let direction = first + FRAC_PI_2 * f64::from(jaw);
                    let half = (piece.reach(direction) + piece.reach(direction + PI)) / 2.0;
                    let plan = &set_up.jaws[((jaw + turn) % 4) as usize];
                    plan.vee.is_some() || (plan.reach_mm - plan.packing_mm - half).abs() < NEAR_MM
                })
            })
        };
        let first = firsts.into_iter().find(fits).unwrap_or(0.0);
        let shift = |direction: f64| (piece.reach(direction) - piece.reach(direction + PI)) / 2.0;
        let (along, across) = (shift(first), shift(first + FRAC_PI_2));
        let (sin, cos) = first.sin_cos();
        (along * cos - across * sin, along * sin + across * cos)
    }

    fn end_radius(&self, moment: &Moment) -> f64 {
        let axis = moment.axis;
        moment.piece.corners.iter().map(|p| (p.0 - axis.0).hypot(p.1 - axis.1)).fold(0.0, f64::max)
    }

    /// The farthest point of the whole piece from the spindle axis.
    pub fn swung(&self, moment: &Moment) -> f64 {
        match self.faces[moment.face].side {
            None => self.end_radius(moment),
            Some(angle) => {
                let half = (moment.piece.reach(angle + FRAC_PI_2) + moment.piece.reach(angle - FRAC_PI_2)) / 2.0;
                half.hypot(moment.piece.length() / 2.0)
            }
        }
    }

    /// Whether the edge leaves the metal in a turn, on the finished floor.
    pub fn interrupted(&self, moment: &Moment) -> bool {
        match self.faces[moment.face].side {
            Some(_) => true,
            None => {
                let most = self.end_radius(moment);
                let nearest = moment.piece.edges_about(moment.axis).into_iter().map(|edge| edge.1).fold(most, f64::min);
                nearest < most * (1.0 - 1e-4)
            }
        }
    }

    /// The floor at a depth, as half planes about the spindle axis: normal and distance of each edge.
    pub fn floor_edges(&self, moment: &Moment, total: f64) -> Vec<(f64, f64)> {
        match self.faces[moment.face].side {
            None => moment.piece.edges_about(moment.axis),
            Some(angle) => {
                let middle = self.middle(moment, angle);
                let chord = moment.piece.chord(angle, moment.piece.reach(angle) - total).unwrap_or((0.0, 0.0));
                let half = moment.piece.length() / 2.0;
                vec![(0.0, chord.1 - middle), (FRAC_PI_2, half), (PI, middle - chord.0), (-FRAC_PI_2, half)]
            }
        }
    }
}

/// Share of a circle of this radius that lies within all half planes: what each cuts off is an arc of
/// half angle acos(d / r) about its normal.
pub fn share_inside(edges: &[(f64, f64)], radius: f64) -> f64 {
    let mut off: Vec<(f64, f64)> = Vec::new();
    for &(normal, distance) in edges.iter().filter(|edge| edge.1 < radius) {
        let half = (distance / radius).max(-1.0).acos();
        let from = (normal - half).rem_euclid(TAU);
        let to = from + 2.0 * half;
        off.push((from, to.min(TAU)));
        if to > TAU {
            off.push((0.0, to - TAU));
        }
    }
    off.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut outside, mut reached) = (0.0, 0.0_f64);
    for (from, to) in off {
        outside += (to - from.max(reached)).max(0.0);
        reached = reached.max(to);
    }
    1.0 - outside / TAU
}

#[test]
fn a_circle_in_a_square_leaves_four_arcs() {
    // Circle of radius r about the middle of a square of half side a: 4 acos(a / r) of it lies outside.
    let square: Vec<(f64, f64)> = (0..4).map(|at| (FRAC_PI_2 * f64::from(at), 10.0)).collect();
    assert!((share_inside(&square, 9.0) - 1.0).abs() < 1e-12);
    let outside = 8.0 * (10.0_f64 / 12.0).acos() / TAU;
    assert!((share_inside(&square, 12.0) - (1.0 - outside)).abs() < 1e-12);
    assert!(share_inside(&square, 15.0).abs() < 1e-12);
}

/// Rough passes, the clean-up among them.
pub fn rough(set_up: &SetUp) -> Vec<&Pass> {
    set_up.passes.iter().filter(|pass| pass.kind != PassKind::Finish).collect()
}

/// Depth from touch-off to finished face.
pub fn total(set_up: &SetUp) -> f64 {
    set_up.passes.last().map_or(0.0, |pass| pass.total_mm)
}

fn raw_bar(job: &Job) -> Solid {
    let length = job.stock.length.plain();
    let flats = |count: u32, half: f64| -> Vec<(f64, f64)> {
        (0..count).map(|at| (TAU * f64::from(at) / f64::from(count), half)).collect()
    };
    match job.stock.form {
        BarForm::Round { diameter } => Solid::round(diameter.plain(), length),
        BarForm::Square { across } => Solid::flats(&flats(4, across.plain() / 2.0), length),
        BarForm::Hexagon { across } => Solid::flats(&flats(6, across.plain() / 2.0), length),
        BarForm::Flat { width, thickness } => {
            let (x, y) = (width.plain() / 2.0, thickness.plain() / 2.0);
            Solid::flats(&[(0.0, x), (FRAC_PI_2, y), (PI, x), (-FRAC_PI_2, y)], length)
        }
    }
}

fn cut_face(piece: &Solid, face: &Face) -> Solid {
    match (face.side, face.front) {
        (Some(angle), _) => piece.cut(angle, face.distance),
        (None, true) => Solid { front: face.distance, ..piece.clone() },
        (None, false) => Solid { back: -face.distance, ..piece.clone() },
    }
}

/// The faces of the part on its bar: ends first, then the sides counter-clockwise; the metal at the ends
/// halved between them unless one of them stays.
fn faces(job: &Job) -> Vec<Face> {
    let part = &job.part;
    let sides: Vec<(f64, f64)> = match &part.form {
        Form::Block { width, height } => (0..4)
            .map(|at| (FRAC_PI_2 * f64::from(at), middle_of_limits(if at % 2 == 0 { width } else { height }) / 2.0))
            .collect(),
        Form::Sides(list) => list.iter().map(|(angle, sized)| (angle.plain(), middle_of_limits(sized))).collect(),
        Form::Regular { sides, across_flats } => (0..*sides)
            .map(|at| (TAU * f64::from(at) / f64::from(*sides), middle_of_limits(across_flats) / 2.0))
            .collect(),
    };
    let (bar, length) = (job.stock.length.plain(), middle_of_limits(&part.length));
    let stays = |name: &str| part.leave.iter().any(|left| left == name);
    let front = match (stays("A"), stays("B")) {
        (true, _) => bar / 2.0,
        (false, true) => length - bar / 2.0,
        _ => length / 2.0,
    };
    let end = |name: &str, front: bool, distance: f64| Face {
        name: name.to_string(),
        side: None,
        front,
        distance,
        cut: !stays(name),
    };
    let mut faces = vec![end("A", true, front), end("B", false, length - front)];
    for (at, (angle, distance)) in sides.into_iter().enumerate() {
        let angle = (angle + part.turn.plain()).rem_euclid(TAU);
        let name = char::from(b'C' + at as u8).to_string();
        let distance = distance + part.offset.0.plain() * angle.cos() + part.offset.1.plain() * angle.sin();
        faces.push(Face { cut: !stays(&name), name, side: Some(angle), front: false, distance });
    }
    on_the_bar(job, &mut faces);
    faces
}

/// A left side is the bar's own flat, half the bar from its middle; its opposite is cut to size from there.
fn on_the_bar(job: &Job, faces: &mut [Face]) {
    let (wide, thick) = match &job.stock.form {
        engine::job::BarForm::Square { across } => (across.plain(), across.plain()),
        engine::job::BarForm::Flat { width, thickness } => (width.plain(), thickness.plain()),
        _ => return,
    };
    for at in 0..faces.len() {
        let Some(angle) = faces[at].side.filter(|_| !faces[at].cut) else { continue };
        let own = if angle.cos().abs() > angle.sin().abs() { wide / 2.0 } else { thick / 2.0 };
        let off = own - faces[at].distance;
        faces[at].distance = own;
        let across = |side: f64| (side - angle).cos() < -1.0 + 1e-9;
        if let Some(other) = faces.iter_mut().find(|face| face.cut && face.side.is_some_and(across)) {
            other.distance -= off;
        }
    }
}

/// What a size is cut to: the middle between its limits, as a toolmaker aims.
pub fn middle_of_limits(sized: &engine::part::Sized) -> f64 {
    let limit = |given: Option<engine::quantity::Length>| given.map_or(0.0, Plain::plain);
    sized.size.plain() + (limit(sized.plus) - limit(sized.minus)) / 2.0
}

/// What jaw and round have to do with one another: a jaw bored to a round bears along it.
fn on_a_round_alike(contact: ContactKind) -> ContactKind {
    if contact == ContactKind::Bored { ContactKind::LineAlong } else { contact }
}
