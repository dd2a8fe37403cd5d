//! Numbers of the holding room, each with its source.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::sourced::{Sourced, table};

const TABLE: &str = include_str!("../../data/holding.toml");

/// Needed factors and assumptions of the room.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoldingNumbers {
    /// How much smaller than the work soft jaws may be bored, mm of diameter.
    pub bore_under_most_mm: Sourced,
    /// Stiffness of tailstock, quill and centre at the point, N/µm.
    pub centre_stiffness_n_um: Sourced,
    /// How hard a centre is set by hand, N.
    pub centre_thrust_n: Sourced,
    /// The most that one is set with where no maker says more, N.
    pub centre_thrust_most_n: Sourced,
    /// Angle of the point of a centre, degrees.
    pub centre_point_deg: Sourced,
    /// What may stand out with a centre at its end, over the gripped size.
    pub centre_overhang: Sourced,
    /// How long a jaw is along its slot, as a share of the body's diameter.
    pub jaw_depth_share_of_body: Sourced,
    /// How far a jaw may stand out of the body, as a share of its length along the slot.
    pub jaw_out_of_body_share: Sourced,
    /// How far the torque of a hand on the key lies from what is given, either way, as a share of it.
    pub key_torque_spread_by_feel: Sourced,
    /// How far the friction of a jaw screw lies from what is given, either way, as a share of it.
    pub screw_friction_spread: Sourced,
    /// Jaw force tried where a hold is too weak, over the one there is.
    pub advised_force_times: Sourced,
    /// Jaw length tried where a hold is too weak, over the one there is.
    pub advised_jaw_length_times: Sourced,
    /// A change is told as making a hold firmer from this many times its factor on.
    pub firmer_times: Sourced,
    /// A hold with less than this many times the factor needed is weak.
    pub weak_times: Sourced,
    /// Jaw slip factor needed under the force of a worn edge by the higher table.
    pub needed_worn: Sourced,
    /// Jaw slip factor needed in a continuous cut.
    pub needed_continuous: Sourced,
    /// Jaw slip factor needed in an interrupted cut or on scale.
    pub needed_interrupted: Sourced,
    /// Point slip factor needed in a finishing cut.
    pub needed_finishing_point: Sourced,
    /// Last hold needed, over the jaw slip factor needed.
    pub last_hold_over_slip: Sourced,
    /// Lift-off factor needed.
    pub needed_lift: Sourced,
    /// What of the nominal force counts, tightened by feel.
    pub low_share_by_feel: Sourced,
    /// The same with a torque wrench on the key.
    pub low_share_torque_wrench: Sourced,
    /// The same with the force measured.
    pub low_share_measured: Sourced,
    /// Tangential over normal stiffness of a contact.
    pub tangential_ratio: Sourced,
    /// Stiffness of a jaw at its face, N/µm.
    pub jaw_stiffness_n_um: Sourced,
    /// Stiffness of the machine at the tool, N/µm.
    pub machine_stiffness_n_um: Sourced,
    /// Most spring at the tool in roughing, µm.
    pub most_spring_um: Sourced,
    /// Most torque that a hand gives the key of a chuck, N·m.
    pub hand_key_torque_most_nm: Sourced,
    /// Torque on the key above which a number is taken for mistaken, N·m.
    pub hand_key_torque_mistaken_nm: Sourced,
    /// Force of a jaw over the highest usual one above which it is noticed.
    pub jaw_force_noticed_over_usual: Sourced,
    /// Force of a jaw over the highest usual one above which it is taken for mistaken.
    pub jaw_force_mistaken_over_usual: Sourced,
    /// Mark of a chuck over the usual one above which it is noticed.
    pub chuck_mark_noticed_over_usual: Sourced,
    /// Torque on the key below which it is noticed, N·m.
    pub hand_key_torque_least_nm: Sourced,
    /// Force of a jaw over the low end of the usual one below which it is noticed.
    pub jaw_force_least_over_usual: Sourced,
    /// Longest jaw over the body's diameter.
    pub jaw_length_most_of_body: Sourced,
    /// Widest jaw over the body's diameter.
    pub jaw_width_most_of_body: Sourced,
    /// Share that counts above which it is noticed.
    pub low_share_most_noticed: Sourced,
    /// Friction of packing below which a given number is noticed.
    pub packing_friction_least: Sourced,
    /// Half the thread angle of a jaw screw, degrees.
    pub thread_half_angle_deg: Sourced,
    /// Where a jaw's mass is centred, as a share of the body's radius.
    pub jaw_mass_radius_share: Sourced,
    /// Most turning force of an unbalance as a share of the lathe's weight.
    pub unbalance_share_of_lathe: Sourced,
    /// Balance grade that the rotor must keep, mm/s.
    pub balance_grade_mm_s: Sourced,
    /// Greatest line pressure over yield strength at the onset of yield.
    pub line_onset_over_yield: Sourced,
    /// Mean pressure on a flat over yield strength at the onset of yield.
    pub mark_flat_onset_over_yield: Sourced,
    /// Most mean pressure over yield strength that only burnishes.
    pub mark_burnish_most_over_yield: Sourced,
    /// Mean pressure over yield strength at which a metal flows under a blunt press: its hardness.
    pub mark_flow_over_yield: Sourced,
    /// Friction of packing above which a given number is noticed.
    pub packing_friction_noticed: Sourced,
    /// Least friction of soft packing with a film of oil.
    pub packing_friction_oily_least: Sourced,
    /// The most of it.
    pub packing_friction_oily_most: Sourced,
    /// Least thickness of packing that keeps a mark away, mm.
    pub packing_thickness_least_mm: Sourced,
    /// Modulus of a steel jaw, MPa.
    pub jaw_modulus_mpa: Sourced,
    /// Poisson's ratio of a steel jaw.
    pub jaw_poisson: Sourced,
}

/// The numbers.
pub fn numbers() -> &'static HoldingNumbers {
    static NUMBERS: OnceLock<HoldingNumbers> = OnceLock::new();
    NUMBERS.get_or_init(|| table(TABLE))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_sorted_unique_positive_and_sourced() {
        assert!(crate::sourced::checked(TABLE).len() > 50);
    }

    #[test]
    fn shares_rise_with_care_and_factors_with_danger() {
        let n = numbers();
        let shares = [&n.low_share_by_feel, &n.low_share_torque_wrench, &n.low_share_measured].map(|row| row.value);
        assert!(
            shares.is_sorted() && shares[2] < n.low_share_most_noticed.value && n.low_share_most_noticed.value < 1.0
        );
        assert!(1.0 < n.chuck_mark_noticed_over_usual.value && n.jaw_force_least_over_usual.value < 1.0);
        assert!(n.hand_key_torque_least_nm.value < n.hand_key_torque_most_nm.value);
        assert!(n.packing_friction_least.value < n.packing_friction_noticed.value);
        assert!(n.jaw_width_most_of_body.value < 1.0 && n.jaw_length_most_of_body.value > 1.0);
        assert!(1.0 < n.needed_finishing_point.value && n.needed_finishing_point.value < n.needed_continuous.value);
        assert!(n.needed_continuous.value < n.needed_interrupted.value);
        assert!(n.hand_key_torque_most_nm.value < n.hand_key_torque_mistaken_nm.value);
        assert!(n.mark_flat_onset_over_yield.value < n.mark_burnish_most_over_yield.value);
        assert!(n.mark_burnish_most_over_yield.value < n.mark_flow_over_yield.value);
        assert!(n.key_torque_spread_by_feel.value < 1.0 && n.screw_friction_spread.value < 1.0);
        assert!(n.jaw_out_of_body_share.value < 1.0 && n.jaw_depth_share_of_body.value < 0.5);
        assert!(1.0 < n.jaw_force_noticed_over_usual.value);
        assert!(n.jaw_force_noticed_over_usual.value < n.jaw_force_mistaken_over_usual.value);
        assert!(n.jaw_mass_radius_share.value < 1.0 && n.unbalance_share_of_lathe.value < 1.0);
    }

    #[test]
    fn the_contact_ratio_is_mindlins() {
        // 2 (1 - ν)/(2 - ν) for like materials, ν 0.3: 0.8235, rounded down (Johnson, Contact Mechanics, 7.2, memory).
        let mindlin = 2.0 * 0.7 / 1.7;
        assert!((numbers().tangential_ratio.value - mindlin).abs() < 0.005);
    }
}
