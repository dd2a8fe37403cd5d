//! What holds the work: clamping force, hand formulas, spring, first slip.

use super::depth::{bite, out};
use super::list::{Given, Workings, given, worked};
use super::speed::{SET, jaw_mass, low_share, nominal};
use super::{Told, taken};
use crate::dial::CutKind;
use crate::holding::{self, Carried, CutLoad, Worst};
use crate::plan::{Force3, Pass};
use crate::planning::overhang::elasticity;
use crate::planning::report::{NO_PUSH_N, from_jaw_1_deg, heaviest, jaw_number};

/// Key of what a jaw is counted on to press with.
pub const COUNTED: &str = "clamping force counted on";
const ALL_JAWS: &str = "force of all jaws";

/// What the jaws are counted on to press with at speed.
pub fn clamping(told: &Told, list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    list.add(
        COUNTED,
        facing.hold.counted_n,
        COUNTED,
        vec![
            low_share(task),
            nominal(task),
            jaw_mass(task),
            given("r_j", task.chuck.jaw_mass_radius_mm, holding::numbers().jaw_mass_radius_share.source.clone()),
            worked("n", facing.speed.set_rpm, SET),
        ],
    );
    list.add(
        ALL_JAWS,
        facing.hold.all_jaws_n,
        ALL_JAWS,
        vec![
            given("z", facing.lie.sides.len() as f64, "the shop: the chuck"),
            worked("F_j", facing.hold.counted_n, COUNTED),
        ],
    );
}

/// The rest, which needs the passes.
pub fn hold(told: &Told, list: &mut Workings) {
    by_hand(told, list);
    spring(told, list);
    let slip = &told.chosen.way.facing.slip;
    if let Some((pass, worst)) = slip.jaw {
        jaw_slip(told, pass, worst, list);
    }
    let finish = told.chosen.way.facing.cuts.iter().rposition(|cut| cut.kind == CutKind::Finish);
    if let (Some(pass), Some(worst)) = (finish, slip.point) {
        point_slip(told, pass, worst, list);
    }
    if let Some((pass, worst)) = slip.lift {
        lift(told, pass, worst, list);
    }
}

fn by_hand(told: &Told, list: &mut Workings) {
    let passes: Vec<Pass> = told.taken.iter().map(|taken| taken.pass.clone()).collect();
    let Some(at) = heaviest(&passes).and_then(|heavy| passes.iter().position(|pass| std::ptr::eq(pass, heavy))) else {
        return;
    };
    let (pass, facing) = (&passes[at], &told.chosen.way.facing);
    let held = &facing.hold;
    let arm_mm = facing.depth.stick_out_mm - pass.total_mm + facing.depth.bite_mm / 2.0;
    let hand = held.by_hand(pass.start_radius_mm, arm_mm, pass.force_n);
    let of_pass = |what: &str| format!("pass {} {what}", at + 1);
    let friction = || given("mu", held.least_friction, friction_source(told));
    let jaws = || worked("N", held.all_jaws_n, ALL_JAWS);
    let cutting = || worked("F_c", pass.force_n.cutting, &of_pass("cutting force"));
    let gripped = "the lie of the piece in the jaws";
    list.add(
        "hand check of torque",
        hand.torque,
        "hand check of torque",
        vec![
            friction(),
            jaws(),
            given("r_g", held.gripped_radius_mm, gripped),
            cutting(),
            worked("r_1", pass.start_radius_mm, &of_pass("start radius")),
        ],
    );
    let passive = worked("F_p", pass.force_n.passive, &of_pass("passive force"));
    if pass.force_n.passive.abs() >= NO_PUSH_N {
        list.add("hand check of push", hand.push, "hand check of push", vec![friction(), jaws(), passive]);
    }
    let arm = list.add(
        "arm of the levering",
        hand.arm_mm,
        "arm of the levering",
        vec![out(told), given("a_t", pass.total_mm, format!("the passes up to pass {}", at + 1)), bite(told, "b")],
    );
    list.add(
        "hand check of levering",
        hand.lever,
        "hand check of levering",
        vec![
            friction(),
            jaws(),
            given("D", 2.0 * held.gripped_radius_mm, gripped),
            cutting(),
            worked("a", hand.arm_mm, &arm),
        ],
    );
}

/// Where the least friction of any jaw comes from.
pub fn friction_source(told: &Told) -> String {
    let sides = &told.chosen.way.facing.lie.sides;
    let packed = sides.iter().any(|side| crate::planning::hold::packing_mm(told.task, side) > 0.0);
    let what = if packed { "friction of packing" } else { "friction of the jaws on the bar" };
    taken(told.task, what, "the shop's packing, or the least of the published tables")
}

fn spring(told: &Told, list: &mut Workings) {
    let (task, spring) = (told.task, told.spring);
    let Some(taken_pass) = told.taken.get(spring.pass) else { return };
    let place = format!(
        "pass {}, tool {:.1} mm from the axis and {:.0} deg round from jaw 1",
        spring.pass + 1,
        spring.place.radius_mm,
        from_jaw_1_deg(told.chosen, spring.place.angle_deg)
    );
    let bending = bending(told, &place, list);
    list.add(
        "spring",
        spring.all_um,
        "spring",
        vec![
            given("u_w", spring.work_um, format!("the springs of the contacts, {place}")),
            worked("u_b", spring.bend_um, &bending),
            worked("F_p", taken_pass.pass.force_n.passive, &format!("pass {} passive force", spring.pass + 1)),
            given("k_m", task.lathe.stiffness_n_um, taken(task, "stiffness of the lathe at the tool", "the shop")),
        ],
    );
}

/// Bending of the overhang where the spring is greatest: what a newton of each part of the force moves.
fn bending(told: &Told, place: &str, list: &mut Workings) -> String {
    let (spring, facing) = (told.spring, &told.chosen.way.facing);
    let pass = &told.taken[spring.pass].pass;
    let height_mm = facing.depth.stick_out_mm - pass.total_mm;
    let overhang = &facing.hold.overhang;
    let metal = elasticity(told.task);
    let moves = |force: Force3| {
        let cut = facing.hold.turn_cut(pass.start_radius_mm, height_mm, force);
        holding::Spring::of_overhang(overhang, &cut).at_um(spring.place.radius_mm, spring.place.angle_deg)
    };
    let from = format!(
        "beam in {} steps, {:.1} mm from the jaw fronts, E {:.0} MPa, nu {}; {place}",
        overhang.steps(),
        height_mm,
        metal.modulus_mpa,
        metal.poisson
    );
    let force = |symbol, value, what: &str| worked(symbol, value, &format!("pass {} {what}", spring.pass + 1));
    let [cutting, feed, passive] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
        .map(|[cutting, feed, passive]| moves(Force3 { cutting, feed, passive }));
    list.add(
        "bending of the overhang",
        spring.bend_um,
        "bending of the overhang",
        vec![
            given("e_c", cutting, from.clone()),
            force("F_c", pass.force_n.cutting, "cutting force"),
            given("e_f", feed, from.clone()),
            force("F_f", pass.force_n.feed, "feed force"),
            given("e_p", passive, from),
            force("F_p", pass.force_n.passive, "passive force"),
        ],
    )
}

/// The load of a pass with the tool at an angle.
fn load(told: &Told, pass: usize, angle_deg: f64) -> CutLoad {
    let (facing, taken) = (&told.chosen.way.facing, &told.taken[pass].pass);
    let height_mm = facing.depth.stick_out_mm - taken.total_mm;
    facing.hold.turn_cut(taken.start_radius_mm, height_mm, taken.force_n).at_angle(angle_deg)
}

/// Where a factor is least, in words.
fn place(told: &Told, pass: usize, worst: Worst) -> String {
    format!(
        "the springs of the contacts: jaw {}, pass {}, tool {:.0} deg round from jaw 1",
        jaw_number(told.chosen, worst.jaw),
        pass + 1,
        from_jaw_1_deg(told.chosen, worst.angle_deg)
    )
}

fn jaw_slip(told: &Told, pass: usize, worst: Worst, list: &mut Workings) {
    if let Some(carried) = told.chosen.way.facing.hold.grip.jaw_slips(worst.jaw, &load(told, pass, worst.angle_deg)) {
        slip("", &carried, worst.factor, &place(told, pass, worst), list);
    }
}

fn point_slip(told: &Told, pass: usize, worst: Worst, list: &mut Workings) {
    let points = told.chosen.way.facing.hold.grip.points_carry(worst.jaw, &load(told, pass, worst.angle_deg));
    let factor = |carried: &Carried| carried.slips_at().unwrap_or(f64::INFINITY);
    if let Some(carried) = points.iter().min_by(|a, b| factor(a).total_cmp(&factor(b))) {
        slip("point ", carried, worst.factor, &format!("{}, one point of the jaw", place(told, pass, worst)), list);
    }
}

/// The quadratic whose root is the factor, term by term.
fn slip(of: &str, carried: &Carried, factor: f64, from: &str, list: &mut Workings) {
    let mu = || {
        given(
            "mu",
            carried.friction,
            "what lies between jaw and work: the shop's packing, or the least of the published tables",
        )
    };
    let (normal, growth) = (carried.standing[0], carried.growing[0]);
    let (still, pulled) = (carried.standing.fixed_rows::<3>(1), carried.growing.fixed_rows::<3>(1));
    let part = |symbol, value| given(symbol, value, from);
    let squared = carried.friction * carried.friction;
    let in_hand = squared * normal * normal - still.norm_squared();
    let side_by_side = still.dot(&pulled) - squared * normal * growth;
    let asked = pulled.norm_squared() - squared * growth * growth;
    let c = list.add(
        &format!("{of}friction in hand"),
        in_hand,
        "friction in hand",
        vec![mu(), part("N_0", normal), part("T_0", still.norm())],
    );
    let p = list.add(
        &format!("{of}friction side by side"),
        side_by_side,
        "friction side by side",
        vec![part("q", still.dot(&pulled)), mu(), part("N_0", normal), part("N_1", growth)],
    );
    let a = list.add(
        &format!("{of}friction asked"),
        asked,
        "friction asked",
        vec![part("T_1", pulled.norm()), mu(), part("N_1", growth)],
    );
    let terms: Vec<Given> = vec![worked("c", in_hand, &c), worked("p", side_by_side, &p), worked("a", asked, &a)];
    list.add(&format!("first {of}slip"), factor, "first slip", terms);
}

fn lift(told: &Told, pass: usize, worst: Worst, list: &mut Workings) {
    let points = told.chosen.way.facing.hold.grip.points_carry(worst.jaw, &load(told, pass, worst.angle_deg));
    let factor = |carried: &Carried| carried.lifts_at().unwrap_or(f64::INFINITY);
    let Some(carried) = points.iter().min_by(|a, b| factor(a).total_cmp(&factor(b))) else { return };
    let from = format!("{}, one point of the jaw", place(told, pass, worst));
    list.add(
        "first lift",
        worst.factor,
        "first lift",
        vec![given("N_0", carried.standing[0], from.clone()), given("N_1", carried.growing[0], from)],
    );
}
