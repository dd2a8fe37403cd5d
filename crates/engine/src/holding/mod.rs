//! Holding: where jaws bear, when the work slips, how far it springs, what is left of the jaw force.
//!
//! Frame of a set-up: origin on the spindle axis at the jaw fronts, Z away from the chuck, X towards
//! jaw 1; forces as they act on the work; mm, N. The work is rigid and sits on springs at its contact
//! points. Which jaw bears on what is decided elsewhere: this room knows points and forces only.

mod balance;
mod bored;
mod centre;
mod chuck_defaults;
mod contact;
mod crosswise;
mod friction;
mod grip;
mod hand_check;
mod jaw_force;
mod last_hold;
mod load;
mod marks;
mod nose;
mod numbers;
mod overhang;
mod packing;
mod patch;
#[cfg(test)]
mod properties;
mod ring;
mod seat;
mod slip;
mod speed;
mod spring;
mod turn;
mod vee;

pub use balance::{
    GRAVITY_M_S2, eccentricity_mm, grade_speed_rpm, lathe_share_speed_rpm, permitted_unbalance_kg_mm, unbalance_force_n,
};
pub use bored::{Bore, BoreFit, arc_points, bearing_mpa, cosine_peak_mpa, shoe_gain};
pub use centre::{CENTRE, Centre};
pub use chuck_defaults::{ChuckDefaults, chuck_defaults, highest_usual_force_n, jaw_mass_radius_mm};
pub use contact::{Contact, ContactSeed, Held, JawGrip};
pub use crosswise::{lean_rad, least_reach_over_radius};
pub use friction::{WorkMetal, WorkSkin, friction, least_metal_share, metal_share, packing_friction};
pub use grip::{Grip, GripFault};
pub use hand_check::{
    gripping_force_n, lever_out_factor, lever_out_force_n, push_out_factor, torque_factor, twist_and_push_factor,
};
pub use jaw_force::{JawScrew, KeyBand, counted_force_n, guide_share, key, key_band, nominal_force_n};
pub use last_hold::{
    Certificate, HoldRule, LastHold, LastHoldEnd, LastHoldFault, LastHoldFound, Motion, PressLimit, PressPoint,
    WeakestMoment, WeakestSearch, certify,
};
pub use load::{CutLoad, SteadyLoad, TurnCut, Wrench};
pub use marks::{
    LinePressure, MarkGrade, contact_modulus_mpa, flat_grade, flat_limit_mpa, flow_mpa, line_grade, line_limit_mpa,
    line_pressure, onset_load_n_mm, strip_flow_mpa, tooth_depth_mm,
};
pub use nose::{nose_half_mm, nose_widens};
pub use numbers::{HoldingNumbers, numbers};
pub use overhang::{BeamSection, BeamStep, Elasticity, Overhang, SectionForm};
pub use packing::{PackingMetal, Shield, USUAL_PACKING, packing_metal, packing_metals, shield, squeezed_mpa};
pub use patch::patch_points;
pub use ring::Ring;
pub use seat::SeatPoint;
pub use slip::{Carried, Slip};
pub use speed::{centrifugal_force_n, force_to_set_n, permitted_speed_rpm, reference_speed_rpm};
pub use spring::{MostSpring, Spring, in_series_n_mm, machine_spring_um};
pub use turn::{Worst, WorstSlip};
pub use vee::{
    flank_force_n, friction_times_in_groove, groove_bottom_mm, groove_depth_mm, push_lands_mm, round_over_groove_mm,
    round_touches_mm, sticks_in_vee, wedge_share,
};
