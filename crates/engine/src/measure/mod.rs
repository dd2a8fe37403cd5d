//! Measure, then decide: what is believed of a size, the aim of the next cut, the table beside the lathe.
//!
//! Plain numbers in mm in and out; knows no plan, no dial and no shop. `belief` (what a reading leaves unknown) → `aim`
//! (where to go, metal left on being mendable and metal gone not) → `guard` (the
//! same where the gauge decides what is good) → `decide` (marks of a dial, and two rules of thumb
//! beside) → `table`.

mod aim;
mod belief;
mod decide;
mod guard;
mod numbers;
mod table;
mod unusable;

pub use aim::{Band, Chances, Scrap, aim_once, aim_repeated, leaves_a_chip};
pub use belief::{Belief, Reading, cut_spread_mm, together};
pub use decide::{Advice, Cut, Rule, Rules, Setting, Stop};
pub use guard::{Gauge, Judged, Prices, aim_by_gauge, cheapest_guard_mm, judged, textbook_guard_mm};
pub use numbers::{MeasureNumbers, numbers};
pub use table::{ROWS, Row, Table, table};
pub use unusable::Unusable;
