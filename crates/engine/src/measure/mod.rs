//! Measure, then decide: what is believed of a size, the aim of the next cut, the table beside the lathe.
//!
//! Plain numbers in mm in and out; knows no plan, no dial and no shop. `belief` (what a reading leaves unknown) → `aim`
//! (where to go, metal left on being mendable and metal gone not) → `decide` (marks of a dial, and two rules of thumb
//! beside) → `table`. `guard` is the gauge that decides whether a piece is good.

mod aim;
mod belief;
mod decide;
mod guard;
mod normal;
mod numbers;
mod table;
mod unusable;

pub use aim::{Band, Chances, Cuttable, Scrap, aim_once, aim_repeated, keep_a_chip};
pub use belief::{Belief, Reading, cut_spread_mm, together};
pub use decide::{Advice, Cut, Rules, Setting, Stop};
pub use guard::{Gauge, Judged, Prices, aim_by_gauge, cheapest_guard_mm, judged, textbook_guard_mm};
pub use numbers::{MeasureNumbers, Sourced, numbers};
pub use table::{ROWS, Row, Table, table};
pub use unusable::Unusable;
