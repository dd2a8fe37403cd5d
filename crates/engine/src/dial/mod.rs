//! Dials: what a slide's marks really move, where the dial stands at a depth, and how a depth is
//! split into cuts that a person can count.
//!
//! Everything here counts in whole marks of one dial; millimetres are marks times `mark_depth_mm`.

pub mod advance;
mod indicator;
mod notes;
mod practice;
mod reading;
mod ring;
mod split;

pub use indicator::{face_run_out_mm, lever_moved_mm, offset_mm, tilt_rad};
pub use notes::{
    NOTICE, approach_note, band_note, boring_note, notes, paint_and_screw_note, travel_note, unit_note,
    whole_turns_note,
};
pub use practice::{Practice, backlash_when_not_given, paint_off_noticed, paint_off_refused};
pub use reading::Reading;
pub use ring::Dial;
pub use split::{Cut, CutKind, SplitFault, Wanted, cuts_needed, split};
