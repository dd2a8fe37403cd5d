//! The plan: plain values, complete, so that the faces need nothing else.
//!
//! Field names carry their units; they are those of the public JSON. Lengths in mm, forces in N,
//! speeds in rpm, times in minutes, whatever the job's units: `units` says how faces show them.

mod forecast;
mod reading_table;
mod said;
mod scene;
mod stock_choice;
mod surface;
mod weighed;
mod working;

pub use forecast::{CauseShare, Chance, Forecast, LinearCheck, LinearRow, LinearTurn, PerGood, Quality};
pub use reading_table::{ReadingRow, ReadingTable, percent};
pub use said::{apportioned, counts_mm};

pub use scene::{
    ChuckShape, FacePlace, FaceShape, Frame, Held, LedgeShape, Scene, SizeShape, Solid, Stretch, ToolShape,
};

pub use stock_choice::{StockChoice, StockComes, StockRow, UNDER_THE_BARS};

pub use surface::{Surface, SurfacePlace, SurfaceRay};

pub use said::stands;

pub use weighed::{Blocking, Choice, Help, RunnerUp, Weighed};

pub use working::{Known, Working};

use crate::quantity::Units;

/// What came out of planning.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Title of the job.
    pub title: String,
    /// How the plan speaks.
    pub units: Units,
    /// What is asked, for the head of the plan.
    pub asked: Asked,
    /// Whether it can be done.
    pub outcome: Outcome,
    /// The bar.
    pub stock: StockReport,
    /// The bars that it was chosen from; `None`: the job gives its bar.
    pub stock_choice: Option<StockChoice>,
    /// Time, all set-ups together.
    pub minutes: Minutes,
    /// The set-ups in order; empty when impossible.
    pub set_ups: Vec<SetUp>,
    /// What will come out; `None`: nothing is planned.
    pub forecast: Option<Forecast>,
    /// Other orders and changes beside it; `None`: they were not weighed.
    pub weighed: Option<Weighed>,
    /// What the order search did.
    pub search: Search,
    /// Every value that the job or shop did not give.
    pub assumed: Vec<Assumed>,
    /// Cautions for the whole job.
    pub cautions: Vec<String>,
    /// Bar, part and chuck, for the pictures.
    pub scene: Scene,
    /// Where the numbers that belong to no set-up come from.
    pub workings: Vec<Working>,
}

/// Whether the job can be done as asked.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Planned.
    Planned,
    /// Not possible; every binding reason.
    Impossible(Vec<Reason>),
}

/// Why a job cannot be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// Short name of the rule, words joined by hyphens.
    pub rule: &'static str,
    /// Where: a face, a set-up, "stock", "lathe".
    pub place: String,
    /// In words, with value and limit.
    pub says: String,
    /// The value.
    pub value: f64,
    /// The limit that it breaks.
    pub limit: f64,
    /// Unit of both, as in the keys: "mm", "n", "rpm", "1".
    pub unit: &'static str,
    /// What would free it.
    pub way_out: String,
}

/// Head of the plan: what is asked of what, with what.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// The part in words: "block 36 x 36 x 44 mm".
    pub part: String,
    /// The bar in words: "round bar 58 mm, 50 mm long, hot-rolled".
    pub stock: String,
    /// The material's label.
    pub material: String,
    /// The lathe's name.
    pub lathe: String,
    /// The chuck's name.
    pub chuck: String,
    /// The tool's name.
    pub tool: String,
    /// Where limits that the drawing does not write out come from: fits, general tolerances; in words.
    pub limits: Vec<String>,
    /// What the drawing asks beyond sizes, in words.
    pub requirements: Vec<String>,
    /// What the shop measures with, for the inspection report.
    pub gauges: Vec<ShopGauge>,
}

/// A gauge of the shop, as the inspection report names it.
#[derive(Debug, Clone, PartialEq)]
pub struct ShopGauge {
    /// Its name in the shop.
    pub name: String,
    /// Least and most that it measures; `None`: not limited.
    pub range_mm: Option<[f64; 2]>,
    /// Standard uncertainty of a reading, or of half a mark where the shop gives none.
    pub uncertainty_mm: f64,
    /// Whether it measures the piece in the chuck, not on the bench.
    pub fits_in_chuck: bool,
}

/// The bar, what it weighs and the least that would do.
#[derive(Debug, Clone, PartialEq)]
pub struct StockReport {
    /// "round", "square", "hexagon", "flat".
    pub form: &'static str,
    /// Volume of the bar.
    pub volume_mm3: f64,
    /// Its mass.
    pub mass_kg: f64,
    /// Smallest circle round the part's section.
    pub least_round_mm: f64,
    /// The same with clean-up and straightness allowance.
    pub least_round_with_allowance_mm: f64,
    /// Shortest bar that cleans up at both ends.
    pub least_length_mm: f64,
    /// Part's volume as a share of the bar's.
    pub used_share: f64,
}

/// Time by kind.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Minutes {
    /// Setting, turning, touching off.
    pub handling: f64,
    /// Edge in the cut.
    pub cutting: f64,
    /// Measuring.
    pub measuring: f64,
}

impl Minutes {
    /// All together.
    pub fn total(&self) -> f64 {
        self.handling + self.cutting + self.measuring
    }
}

/// One way of holding the piece, with all that is cut in it.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// From 1.
    pub number: u32,
    /// Letters of the faces cut.
    pub cuts_faces: Vec<String>,
    /// Metal removed.
    pub removed_mm3: f64,
    /// What each jaw does, by number.
    pub jaws: Vec<JawPlan>,
    /// What the work is tapped back against; `None`: depth set by hand.
    pub seat: Option<Seat>,
    /// The angle to which a finished side is set where none bears; `None`: something bears, or nothing is finished.
    pub angle: Option<FlatAngle>,
    /// How deep the work sits in the jaws.
    pub bite_mm: f64,
    /// How far it stands out.
    pub stick_out: StickOut,
    /// How well it holds.
    pub hold: HoldReport,
    /// Spindle speed.
    pub speed: SpeedReport,
    /// The passes in order.
    pub passes: Vec<Pass>,
    /// What must be known of dial and surface for these passes, in words.
    pub notes: Vec<String>,
    /// What is measured.
    pub measure: Vec<Measure>,
    /// What the hands do, in order; the passes stand where `Hand::Passes` says.
    pub hands: Vec<Hand>,
    /// Cautions at this set-up, three at most.
    pub cautions: Vec<String>,
    /// Time of this set-up.
    pub minutes: Minutes,
    /// What an outside program needs to recompute the hold.
    pub audit: Audit,
    /// The piece and how it lies, for the pictures.
    pub held: Held,
    /// Where the numbers of this set-up come from.
    pub workings: Vec<Working>,
}

/// What lies under a jaw or on the seat where no finished face does: the bar's own skin, or an end as sawn. No face
/// bears one of these names.
pub const UNFINISHED: [&str; 2] = ["bar", "sawn end"];

/// What one jaw does.
#[derive(Debug, Clone, PartialEq)]
pub struct JawPlan {
    /// 1 to the number of jaws.
    pub jaw: u8,
    /// "bar", "sawn end" or a face's letter.
    pub bears_on: String,
    /// How it bears.
    pub contact: ContactKind,
    /// Thickness of packing between, 0: none.
    pub packing_mm: f64,
    /// Not moved since the last set-up.
    pub kept: bool,
    /// From the spindle axis to the jaw's face.
    pub reach_mm: f64,
    /// What it leaves on the work, tightened to the high end of its force; `None`: the work's strength is not known.
    pub mark: Option<Mark>,
    /// The vee between it and a corner of the work.
    pub vee: Option<VeePlan>,
}

/// A vee between a jaw and the work.
#[derive(Debug, Clone, PartialEq)]
pub struct VeePlan {
    /// What it is made of.
    pub material: String,
    /// Between its flanks, degrees.
    pub angle_deg: f64,
    /// Across the groove, the whole block.
    pub width_mm: f64,
    /// From its back to its lips.
    pub height_mm: f64,
    /// Along the groove.
    pub length_mm: f64,
    /// Whether the groove runs along the spindle; otherwise across the jaw.
    pub along_spindle: bool,
    /// From the spindle axis to the bottom of the groove, as if that were sharp.
    pub groove_mm: f64,
    /// Where the bottom of the groove lies: a groove across the jaw so far from the jaw fronts, negative towards the
    /// chuck; one along the spindle so far from the middle of the jaw, counter-clockwise.
    pub at_mm: f64,
    /// "bar" or a face's letter under each flank: of a groove across the jaw the flank away from the chuck first, of one
    /// along the spindle the counter-clockwise one.
    pub flanks: [String; 2],
    /// Both flanks in words: "D and E in a vee".
    pub bears: String,
}

/// What a jaw leaves on what it bears on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// "none", "witness line", "burnish", "dent" or "teeth".
    pub grade: &'static str,
    /// The pressure that decides, MPa: of a line the greatest, on a flat the mean, under packing the one at which the
    /// packing flows, under teeth the work's hardness; `None`: nobody knows where the packing flows.
    pub pressure_mpa: Option<f64>,
    /// The pressure at which the work begins to yield so, MPa.
    pub limit_mpa: f64,
    /// Where the work flows, so that no elastic pressure is true: beyond how many times the yield, and the yield, MPa.
    pub beyond_yield: Option<(f64, f64)>,
}

/// How a jaw bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ContactKind {
    /// On a flat.
    Flat,
    /// On a round, along the spindle.
    LineAlong,
    /// On a round lying across.
    LineAcross,
    /// On a round that the jaw is bored to, over its width.
    Bored,
    /// On a corner through a vee.
    Vee,
}

impl ContactKind {
    /// Its name in the JSON and in words.
    pub fn name(self) -> &'static str {
        match self {
            ContactKind::Flat => "flat",
            ContactKind::LineAlong => "line along",
            ContactKind::LineAcross => "line across",
            ContactKind::Bored => "bored to the round",
            ContactKind::Vee => "vee",
        }
    }
}

/// What the work is tapped back against.
#[derive(Debug, Clone, PartialEq)]
pub struct Seat {
    /// "chuck face", "parallels", "jaw step" or "stop".
    pub on: &'static str,
    /// "bar", "sawn end" or the letter of the face behind.
    pub face: String,
    /// Height of the parallels behind, 0 on the chuck face.
    pub packing_mm: f64,
    /// Opposed jaws past which the parallels run; `None`: on the chuck face.
    pub along: Option<(u8, u8)>,
    /// How far the end of a stop stands out of the chuck face, negative behind it; `None`: no stop.
    pub stop_mm: Option<f64>,
}

/// A finished side that only the setting of the hands brings to its angle.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatAngle {
    /// Its letter.
    pub flat: String,
    /// Between it and the chuck face, 0 to 90 degrees.
    pub to_chuck_face_deg: f64,
    /// Whether it looks towards the chuck, not towards the hands.
    pub looks_to_chuck: bool,
    /// The jaw on whose side it lies.
    pub beside_jaw: u8,
}

/// Stick-out before cutting, jaw front to the raw top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StickOut {
    /// What must stand out.
    pub least_mm: f64,
    /// What is set.
    pub set_mm: f64,
    /// What may stand out.
    pub most_mm: f64,
}

/// How well a set-up holds in this calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct HoldReport {
    /// First jaw slip, least over passes and angles; `None`: without limit.
    pub slip_factor: Option<f64>,
    /// First jaw slip under the force of a worn edge by the higher table.
    pub worn_slip_factor: Option<f64>,
    /// First point slip.
    pub point_slip_factor: Option<f64>,
    /// First point that leaves its jaw.
    pub lift_factor: Option<f64>,
    /// Last hold: the second opinion, which warns and never permits; `None`: not asked.
    pub last_hold: Option<LastHoldReport>,
    /// First jaw slip by where the tool is, of the pass in which it is least; `None`: no pass.
    pub round: Option<RoundReport>,
    /// Factor needed.
    pub required: f64,
    /// How far the cut pushes work and machine apart along the spindle, the most over passes, angles and radii.
    pub spring_um: f64,
    /// What the last pass leaves on the flat, and where; `None`: no pass.
    pub surface: Option<Surface>,
    /// Which limit binds, at which pass and angle, in words.
    pub binding: String,
    /// Clamping force counted on, each jaw, N, low end less centrifugal loss.
    pub counted_force_n: f64,
    /// Speed that the published procedure permits for these cuts with these jaws, rpm; `None`: without limit.
    pub permitted_rpm: Option<f64>,
    /// Mass of the work as it is put in, kg.
    pub mass_kg: f64,
    /// Turning force of the work's unbalance at the speed set, N; 0: its mass is on the axis.
    pub unbalance_n: f64,
    /// Turning force that lathe and speed limits allow it, N.
    pub unbalance_most_n: f64,
    /// Hand checks in words, with their numbers.
    pub hand_checks: Vec<String>,
    /// Whether little is left over what is needed: then what makes it firmer is told outright.
    pub weak: bool,
    /// What would leave more before a jaw slips.
    pub firmer: Vec<Firmer>,
}

/// A small change that makes a hold firmer, worked out with the same order.
#[derive(Debug, Clone, PartialEq)]
pub struct Firmer {
    /// The change, after "with".
    pub says: String,
    /// First jaw slip with it.
    pub slip_factor: f64,
}

/// First jaw slip over one turn.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundReport {
    /// Which pass, from 1.
    pub pass: usize,
    /// Factor at evenly spaced angles of the tool from jaw 1, counter-clockwise seen from the tailstock; `None`:
    /// without limit there.
    pub factors: Vec<Option<f64>>,
    /// What the jaws do where the factor is least.
    pub weakest: WeakestRound,
}

/// The moment of a turn at which the least is left before a jaw slips, with the likely cut on the work.
#[derive(Debug, Clone, PartialEq)]
pub struct WeakestRound {
    /// Where the tool is, from jaw 1, degrees, counter-clockwise seen from the tailstock.
    pub angle_deg: f64,
    /// Distance of the tool from the spindle axis, mm.
    pub radius_mm: f64,
    /// Force of the tool on the work, N: x towards jaw 1, z away from the chuck.
    pub cut_n: [f64; 3],
    /// What each jaw that bears does.
    pub jaws: Vec<JawLoad>,
    /// What a seat behind pushes, N, away from the chuck; 0: there is none, or a jaw is nearer to slipping without.
    pub seat_n: f64,
}

/// What a jaw does to the work at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct JawLoad {
    /// Its number.
    pub jaw: u8,
    /// How hard it presses towards the spindle axis, N.
    pub normal_n: f64,
    /// Friction on the work, N: x towards jaw 1, z away from the chuck.
    pub friction_n: [f64; 3],
    /// The most that friction can come to under that pressure, N.
    pub most_friction_n: f64,
}

impl JawLoad {
    /// Friction, whichever way, N.
    pub fn rubs_n(&self) -> f64 {
        self.friction_n.iter().fold(0.0, |sum: f64, part| sum.hypot(*part))
    }
}

/// Last hold at its weakest moment, upper rule.
#[derive(Debug, Clone, PartialEq)]
pub struct LastHoldReport {
    /// Factor on the cut that contact forces balance at the weakest moment found.
    pub factor: f64,
    /// No pass, radius or angle has less, proven.
    pub at_least: f64,
    /// Factor needed.
    pub required: f64,
    /// Pass of the weakest moment, from 1.
    pub pass: usize,
    /// Distance of the tool from the spindle axis, mm.
    pub radius_mm: f64,
    /// Where the tool is, from jaw 1, degrees, counter-clockwise seen from the tailstock.
    pub angle_deg: f64,
    /// What the work would do beyond it, after "the work would".
    pub goes: &'static str,
    /// Loadings solved for it.
    pub solved: u32,
}

/// Spindle speed of a set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedReport {
    /// Lever position.
    pub set_rpm: f64,
    /// What the tightest limit allows.
    pub most_rpm: f64,
    /// Which limit that is, in words.
    pub binding: String,
    /// Power that the lathe gives at the edge: motor × efficiency, W.
    pub edge_power_w: f64,
}

/// What a pass is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PassKind {
    /// First skin of a sawn end or scale.
    CleanUp,
    /// Taking metal off.
    Rough,
    /// Size and surface.
    Finish,
}

impl PassKind {
    /// Its name in the JSON and in words.
    pub fn name(self) -> &'static str {
        match self {
            PassKind::CleanUp => "clean-up",
            PassKind::Rough => "rough",
            PassKind::Finish => "finish",
        }
    }
}

/// Cutting force in three directions, N.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Force3 {
    /// Along the cutting speed, F_c.
    pub cutting: f64,
    /// Along the feed, F_f.
    pub feed: f64,
    /// Passive, F_p: in facing towards the chuck.
    pub passive: f64,
}

/// One crossing of the tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Pass {
    /// What it is for.
    pub kind: PassKind,
    /// Depth of this pass.
    pub depth_mm: f64,
    /// Depth from the touch-off.
    pub total_mm: f64,
    /// What the dial shows, as text.
    pub dial: String,
    /// Whole turns from zero.
    pub dial_turns: u32,
    /// On the ring after them, in the dial's own unit.
    pub dial_reading: f64,
    /// Which slide: "depth slide".
    pub slide: &'static str,
    /// Spindle speed.
    pub rpm: f64,
    /// Feed per revolution.
    pub feed_mm_per_rev: f64,
    /// Fed by hand.
    pub by_hand: bool,
    /// Cutting speed at the farthest corner.
    pub speed_m_per_min: f64,
    /// The farthest corner.
    pub start_radius_mm: f64,
    /// Area of the floor.
    pub floor_area_mm2: f64,
    /// Share of the pass's time in the metal.
    pub in_metal_share: f64,
    /// Most entries in a revolution.
    pub entries_per_rev: u32,
    /// Metal removed.
    pub removed_mm3: f64,
    /// Mean chip thickness h.
    pub chip_mm: f64,
    /// Likely force, sharp edge.
    pub force_n: Force3,
    /// Force to be safe with: worn edge, higher table.
    pub force_safe_n: Force3,
    /// Mean power over the worst revolution, at the edge.
    pub power_mean_w: f64,
    /// Peak power, at the edge.
    pub power_peak_w: f64,
    /// Peak torque at the spindle, safe force.
    pub torque_nm: f64,
    /// Time in this pass, approach included.
    pub minutes: f64,
}

/// Something to measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// What, in words.
    pub what: String,
    /// Nominal.
    pub nominal_mm: f64,
    /// Above.
    pub plus_mm: f64,
    /// Below.
    pub minus_mm: f64,
    /// With which gauge.
    pub gauge: String,
    /// When, in words.
    pub when: String,
    /// Whether the piece must leave the chuck for it.
    pub takes_out: bool,
    /// Over the first face of a pair and the bar behind it: no size of the part, but the next depth is counted from it.
    pub over_bar: bool,
    /// What a depth gauge reads from the new face to a jaw front when the size is right; `None`: measured otherwise.
    pub over_jaws_mm: Option<f64>,
    /// What to set for what it measures, where a finishing cut is still to come; `None`: nothing is to be decided, or no
    /// gauge on hand reads it.
    pub table: Option<ReadingTable>,
}

/// One thing that the hands do.
#[derive(Debug, Clone, PartialEq)]
pub enum Hand {
    /// Do this; the reason, once.
    Do {
        /// Second person, active, short.
        does: String,
        /// Why, where it is not said before.
        why: Option<String>,
    },
    /// Take the passes from this index up to, not including, that one.
    Passes {
        /// First pass, from 0.
        from: usize,
        /// One past the last.
        to: usize,
    },
    /// Stop and measure: index into `measure`.
    Stop(usize),
}

/// What the order search did.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Search {
    /// Orders and holds that there are.
    pub plans_possible: f64,
    /// Partial and whole plans looked at.
    pub examined: u64,
    /// Branches cut off by the bound.
    pub cut_off: u64,
    /// Whether the best is proven; of an impossible job: that no order works.
    pub proven_best: bool,
}

/// A value that nobody gave.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumed {
    /// What.
    pub what: String,
    /// The value used, as text with unit.
    pub value: String,
    /// Where it comes from.
    pub source: String,
}

/// What an outside program needs to recompute a hold, in the set-up's frame: origin on the spindle
/// axis at the jaw fronts, Z away from the chuck, X towards jaw 1; forces as they act on the work.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Audit {
    /// Contact points.
    pub contacts: Vec<AuditContact>,
    /// Points of a seat that stays behind the work: where, and their stiffness, N/mm. They only push.
    pub seat_points: Vec<([f64; 3], f64)>,
    /// Jaws whose forces keep their sum, and the sum.
    pub pairs: Vec<(Vec<u8>, f64)>,
    /// Loads fixed to the work: what, where, force.
    pub steady_loads: Vec<(String, [f64; 3], [f64; 3])>,
    /// Where the work's mass is centred.
    pub mass_centre_mm: [f64; 3],
    /// One per pass and angle.
    pub cut_loads: Vec<AuditLoad>,
    /// The load at the weakest moment of the last hold, at a factor of 1.
    pub last_hold_load: Option<AuditLoad>,
}

/// One contact point for the audit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AuditContact {
    /// 1 to n; 0: seat.
    pub jaw: u8,
    /// Where.
    pub at_mm: [f64; 3],
    /// Unit normal into the work.
    pub inward: [f64; 3],
    /// Normal stiffness.
    pub normal_stiffness_n_per_mm: f64,
    /// Tangential stiffness.
    pub tangential_stiffness_n_per_mm: f64,
    /// Friction.
    pub friction: f64,
    /// Normal force before cutting, after balance, at speed.
    pub preload_n: f64,
    /// Friction force before cutting.
    pub preload_friction_n: [f64; 3],
}

/// One cutting load for the audit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AuditLoad {
    /// Number of the pass, from 1.
    pub pass: usize,
    /// Where the tool is.
    pub at_mm: [f64; 3],
    /// Force on the work; the factor multiplies it.
    pub force_n: [f64; 3],
    /// Weight at the mass centre, turning with the angle.
    pub weight_n: [f64; 3],
}
