//! The shop as it stands: lathes, chucks, tools, gauges, packing. What is on the plate; nothing computed.
//!
//! Optional fields stay `None` when the shop file says nothing: `task::resolve` fills them on the
//! cautious side and notes each one in the plan's list of what was assumed.

mod chuck;
mod gauge;
mod lathe;
mod packing;
mod scatter;
mod slide;
mod stock;
mod tool;
mod vee;

pub use chuck::{Chuck, ChuckKind, ClampingForce, Jaw, JawBore, JawStep, JawSurface, ReversedJaw};
pub use gauge::Gauge;
pub use lathe::{CrossFeeds, Lathe, Tailstock};
pub use packing::{Packing, Parallels, Stop};
pub use scatter::Scatter;
pub use slide::{DialUnit, Reads, Slide};
pub use stock::{BlankMinutes, Blanks, ShopBar};
pub use tool::{Tool, ToolMaterial};
pub use vee::Vee;

/// Everything that a shop file says.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// The shop's name, as shown on plans.
    pub name: String,
    /// Its lathes, the first being the one used when the job names none.
    pub lathes: Vec<Lathe>,
    /// Its chucks, likewise.
    pub chucks: Vec<Chuck>,
    /// Its tools, likewise.
    pub tools: Vec<Tool>,
    /// Pairs of parallels for behind the work.
    pub parallels: Vec<Parallels>,
    /// Stops in the spindle, for behind the work.
    pub stops: Vec<Stop>,
    /// Soft pieces for between jaw and finished flat; empty: assumed.
    pub packing: Vec<Packing>,
    /// Vees for between a jaw and a corner of the work.
    pub vees: Vec<Vee>,
    /// What it measures with; empty: assumed.
    pub gauges: Vec<Gauge>,
    /// Handling times in minutes.
    pub minutes: Minutes,
    /// How its sizes scatter.
    pub scatter: Scatter,
    /// Bars that it can get, each size by itself; empty: nothing is listed.
    pub stock: Vec<ShopBar>,
}

/// Handling minutes as this shop does it; `None`: assumed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Minutes {
    /// First set-up of a job, or one that keeps no jaw.
    pub set_up: Option<f64>,
    /// Turning the piece in the chuck with jaws left alone.
    pub turn_piece: Option<f64>,
    /// One measurement, the spindle stopped.
    pub measure: Option<f64>,
    /// Touching off and zeroing the dial.
    pub touch_off: Option<f64>,
    /// Between two passes: back to the start, advance the dial.
    pub next_pass: Option<f64>,
    /// Setting the depth of the work in the jaws without a seat.
    pub set_depth: Option<f64>,
    /// Laying a vee between a jaw and the work.
    pub lay_vee: Option<f64>,
    /// Turning all jaws of a chuck end for end.
    pub reverse_jaws: Option<f64>,
}
