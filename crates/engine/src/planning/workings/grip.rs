//! What a jaw's force comes from: both ends of the key's bands, the speed that the grip permits, what turns with it.

use super::hold::friction_source;
use super::list::{Given, Workings, given, worked};
use super::speed::{self, jaw_mass, nominal};
use super::{Told, taken};
use crate::holding::{self, JawScrew, numbers};
use crate::plan::Pass;
use crate::planning::hold::{mass, unbalance_most_n};
use crate::planning::report::{heaviest, permitted};
use crate::task::Task;

const SHOP: &str = "the shop: the chuck's key and screw";
/// Key of the share that counts, where it comes from the key.
pub const SHARE: &str = "share of the clamping force that counts";
/// Key of the force at its high end, where it comes from the key.
pub const HIGH: &str = "greatest force of a jaw by its key";

/// Which end of the bands.
struct End {
    word: &'static str,
    torque_row: &'static str,
    friction_row: &'static str,
    torque_nm: f64,
    friction: f64,
    force_n: f64,
    key: &'static str,
}

/// Both ends of torque and friction, and the share that counts.
pub fn key_band(task: &Task, list: &mut Workings) {
    let Some((screw, torque_nm)) = task.chuck.key else { return };
    let band = holding::key_band(&screw, torque_nm);
    let (spread, rub) = (numbers().key_torque_spread_by_feel.value, numbers().screw_friction_spread.value);
    if task.chuck.key_band.is_some() {
        let low = End {
            word: "least",
            torque_row: "low end of the torque",
            friction_row: "high end of friction",
            torque_nm: band.low_torque_nm,
            friction: band.high_friction,
            force_n: band.low_n,
            key: "least force of a jaw by its key",
        };
        by_end(&screw, torque_nm, &low, list);
        let values = vec![worked("F_l", band.low_n, low.key), nominal(task)];
        list.add(SHARE, task.chuck.low_share, "share that counts by the key", values);
    }
    let high = End {
        word: "greatest",
        torque_row: "high end of the torque",
        friction_row: "low end of friction",
        torque_nm: torque_nm * (1.0 + spread),
        friction: screw.friction * (1.0 - rub),
        force_n: band.high_n,
        key: HIGH,
    };
    by_end(&screw, torque_nm, &high, list);
}

fn by_end(screw: &JawScrew, torque_nm: f64, end: &End, list: &mut Workings) {
    let (spread, rub) = (&numbers().key_torque_spread_by_feel, &numbers().screw_friction_spread);
    let at_end = |what: &str| format!("{what} for the {} force", end.word);
    let rubbed = screw.rubbed(end.friction);
    let torque = list.add(
        &at_end("torque on the key"),
        end.torque_nm,
        end.torque_row,
        vec![given("e", spread.value, spread.source.clone()), given("T", torque_nm, SHOP)],
    );
    let friction = list.add(
        &at_end("friction of the screw"),
        end.friction,
        end.friction_row,
        vec![given("e", rub.value, rub.source.clone()), given("mu", screw.friction, SHOP)],
    );
    let half = &numbers().thread_half_angle_deg;
    let angle_deg = rubbed.rubbing_rad().to_degrees();
    let angle = list.add(
        &at_end("angle of friction in the thread"),
        angle_deg,
        "angle of friction in the thread",
        vec![worked("mu", end.friction, &friction), given("beta", half.value, half.source.clone())],
    );
    list.add(
        end.key,
        end.force_n,
        "force of a jaw by its key",
        vec![
            worked("T", end.torque_nm, &torque),
            given("d_2", screw.pitch_diameter_mm, SHOP),
            worked("phi", screw.lead_rad().to_degrees(), speed::LEAD),
            worked("rho'", angle_deg, &angle),
            worked("mu", end.friction, &friction),
            given("r_c", screw.shoulder_radius_mm, SHOP),
        ],
    );
}

/// Speed permitted by the published procedure, and the pull of an unbalance.
pub fn turning(told: &Told, list: &mut Workings) {
    permitted_speed(told, list);
    pull(told, list);
}

fn permitted_speed(told: &Told, list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let passes: Vec<Pass> = told.taken.iter().map(|taken| taken.pass.clone()).collect();
    let Some((rpm, needed_n)) = permitted(task, facing, &passes) else { return };
    let Some(at) = heaviest(&passes).and_then(|heavy| passes.iter().position(|pass| std::ptr::eq(pass, heavy))) else {
        return;
    };
    let (pass, factor) = (&passes[at], &numbers().needed_continuous);
    let of_pass = |what: &str| format!("pass {} {what}", at + 1);
    let needed = list.add(
        "force that the cut asks of all jaws",
        needed_n,
        "force asked by the procedure",
        vec![
            given("S_z", factor.value, factor.source.clone()),
            worked("F_c", pass.force_n.cutting, &of_pass("cutting force")),
            worked("r_1", pass.start_radius_mm, &of_pass("start radius")),
            given("mu", facing.hold.least_friction, friction_source(told)),
            given("r_g", facing.hold.gripped_radius_mm, "the lie of the piece in the jaws"),
        ],
    );
    list.add(
        "permitted speed",
        rpm,
        "permitted speed",
        vec![
            given("z", facing.lie.sides.len() as f64, "the shop: the chuck"),
            speed::low_share(task),
            nominal(task),
            worked("F_z", needed_n, &needed),
            jaw_mass(task),
            given("r_j", task.chuck.jaw_mass_radius_mm, numbers().jaw_mass_radius_share.source.clone()),
        ],
    );
}

fn pull(told: &Told, list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let (_, kg, unbalance) = mass(task, &facing.piece, &facing.lie, &facing.depth);
    let rpm = || -> Given { worked("n", facing.speed.set_rpm, speed::SET) };
    if !facing.hold.steady.is_empty() {
        let force_n = facing.hold.steady.iter().map(|load| load.force_n.norm()).sum();
        let of = "turning force of the unbalance";
        list.add(of, force_n, of, vec![worked("U", unbalance, "unbalance"), rpm()]);
    }
    let (grade, share) = (&numbers().balance_grade_mm_s, &numbers().unbalance_share_of_lathe);
    let rotor = taken(task, "mass of spindle and chuck, for the balance grade", "the shop");
    let lathe = taken(task, "mass of the lathe, for what unbalance it bears", "the shop");
    list.add(
        "turning force allowed",
        unbalance_most_n(task, kg, facing.speed.set_rpm),
        "turning force allowed",
        vec![
            given("G", grade.value, grade.source.clone()),
            given("m_r", task.lathe.rotor_mass_kg, rotor),
            worked("m_w", kg, "mass of the piece"),
            rpm(),
            given("q", share.value, share.source.clone()),
            given("m_l", task.lathe.mass_kg, lathe),
            given("g", holding::GRAVITY_M_S2, "CGPM 1901, exact"),
        ],
    );
}
