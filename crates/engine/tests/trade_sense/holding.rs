//! How well it holds, what the drive gives, how far it springs.

use engine::plan::{Audit, AuditLoad, PassKind, SetUp};
use engine::quantity::Plain;
use nalgebra::{Matrix3, Matrix6, Rotation3, Vector3, Vector6};

use crate::case::{Case, rough, share_inside};
use crate::data;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T36",
            the_drive_gives_the_power,
            |case| case.shop.lathes[0].motor = engine::quantity::watts(1.0),
            "power and torque of every pass are there, with the force to be safe with",
            "`power_mean_w` <= motor x efficiency; `torque_nm` = `force_safe_n.cutting` x `start_radius_mm` / 1000 <= the drive's most; in the heaviest pass the mean over the worst turn, by our own share of the circle in the metal, is `power_mean_w` within 4 % (the planner looks at 48 radii)",
            "plate of the lathe (shop); statics"
        ),
        rule!(
            "T37",
            the_hold_is_what_is_needed,
            |case| each(case, |set_up| set_up.hold.slip_factor = Some(0.9)),
            "the hold is at least what is needed, and interrupted cuts and scale ask for more",
            "`required` is 2.0 where the cut is interrupted or goes through scale (our own geometry), else 1.5; `slip_factor` >= `required`, `worn_slip_factor` >= 1 and `slip_factor` over how many times `force_safe_n` is `force_n`, `lift_factor` >= 1.5, `point_slip_factor` >= 1.2",
            "project's rule; German guideline VDI 3106 asks likewise in powered chucks (from memory)"
        ),
        rule!(
            "T41",
            roughing_springs_little,
            |case| each(case, |set_up| set_up.hold.spring_um = 80.0),
            "nothing springs away more than it stands",
            "`spring_um` <= 25 um (data) in roughing, nought never",
            "project's rule"
        ),
        rule!(
            "T53",
            the_slip_factor_comes_out_again,
            |case| each(case, |set_up| set_up.audit.contacts.iter_mut().for_each(|contact| contact.friction *= 0.9)),
            "the slip factor is that of the contact points and loads that the plan lists",
            "every tenth plan: springs, contact forces and the least root of |T| = mu N of each jaw over all listed loads, worked out anew from `audit`, give `slip_factor` within 0.1 %; with the worst of 72 angles",
            "statics: rigid work on springs; Coulomb"
        ),
        rule!(
            "T62",
            the_last_hold_is_under_every_plain_motion,
            |case| each(case, |set_up| {
                let last = set_up.hold.last_hold.iter_mut();
                last.for_each(|last| last.factor *= 40.0);
            }),
            "the last hold is there, is 1.5 times what first slip needs, and no plain motion gives way sooner",
            "`last_hold.at_least` >= 1.5 `required`; at the listed load the work in twelve motions (along and about x, y and z, either way) that the jaws can resist, each with its whole force at its best point, over the work of the cut, is never less than `factor`",
            "upper bound theorem of limit analysis; project's rule"
        ),
    ]
}

fn the_drive_gives_the_power(case: &Case, found: &mut Findings) {
    let there = case.edge_power();
    for (set_up, moment) in case.steps() {
        for (at, pass) in set_up.passes.iter().enumerate() {
            let torque = pass.force_safe_n.cutting * pass.start_radius_mm / 1000.0;
            let most = case.lathe().most_torque.map_or(f64::INFINITY, Plain::plain);
            let right = pass.power_mean_w <= there * 1.000_001
                && (torque - pass.torque_nm).abs() < 1e-6 * (1.0 + torque)
                && torque <= most * 1.000_001
                && pass.force_safe_n.cutting >= pass.force_n.cutting * 0.999_999;
            found.check(right, || {
                format!(
                    "set-up {} pass {} ({:.2} mm x {}): mean {:.0} W of {there:.0}, torque {torque:.1} of {most:.0}; likely {:.1} N, to be safe with {:.1} N",
                    set_up.number,
                    at + 1,
                    pass.depth_mm,
                    pass.feed_mm_per_rev,
                    pass.power_mean_w,
                    pass.force_n.cutting,
                    pass.force_safe_n.cutting
                )
            });
        }
        let heavy = set_up.passes.iter().max_by(|a, b| a.power_mean_w.total_cmp(&b.power_mean_w));
        if let Some(pass) = heavy {
            let edges = case.floor_edges(moment, pass.total_mm);
            // The worst turn touches an edge of the floor: look there too.
            let kinks =
                edges.iter().map(|edge| edge.1).filter(|distance| (0.0..pass.start_radius_mm).contains(distance));
            let ours = (1..=64)
                .map(|look| pass.start_radius_mm * f64::from(look) / 64.0)
                .chain(kinks.take(12))
                .map(|radius| radius * share_inside(&edges, radius))
                .fold(0.0, f64::max)
                * pass.force_safe_n.cutting
                * pass.rpm
                * std::f64::consts::TAU
                / 60_000.0;
            found.check((pass.power_mean_w / ours - 1.0).abs() < 0.04, || {
                format!("set-up {}: mean {:.0} W, ours {ours:.0}", set_up.number, pass.power_mean_w)
            });
        }
    }
}

fn the_hold_is_what_is_needed(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        let hold = &set_up.hold;
        let hard = case.interrupted(moment) || case.on_skin(moment);
        let needed = data::holding(if hard { "needed_interrupted" } else { "needed_continuous" });
        let least = |factor: Option<f64>, needed: f64| factor.is_none_or(|factor| factor >= needed - 1e-9);
        // The factor multiplies the force: with a force so many times as great it is so many times less.
        let times = |pass: &engine::plan::Pass| pass.force_safe_n.cutting / pass.force_n.cutting;
        let most = set_up.passes.iter().map(times).fold(1.0, f64::max);
        let weakest = hold.round.as_ref().and_then(|round| set_up.passes.get(round.pass - 1)).map_or(1.0, times);
        let slip = hold.slip_factor.unwrap_or(f64::MAX);
        let worn = hold.worn_slip_factor.unwrap_or(f64::MAX);
        let right = (hold.required - needed).abs() < 1e-9
            && (slip / most * 0.999_999..=slip / weakest * 1.000_001).contains(&worn)
            && least(hold.slip_factor, needed)
            && least(hold.worn_slip_factor, data::holding("needed_worn"))
            && least(hold.lift_factor, data::holding("needed_lift"))
            && least(hold.point_slip_factor, data::holding("needed_finishing_point"));
        found.check(right, || {
            format!(
                "set-up {}: slip {:?} worn {:?} lift {:?} point {:?}, required {} (ours {needed})",
                set_up.number,
                hold.slip_factor,
                hold.worn_slip_factor,
                hold.lift_factor,
                hold.point_slip_factor,
                hold.required
            )
        });
    }
}

fn roughing_springs_little(case: &Case, found: &mut Findings) {
    let most = data::holding("most_spring_um");
    for set_up in case.plan.set_ups.iter().filter(|set_up| !rough(set_up).is_empty()) {
        let spring = set_up.hold.spring_um;
        found.check(spring > 0.0 && spring <= most + 1e-6, || format!("set-up {}: {spring:.1} um", set_up.number));
    }
}

fn the_slip_factor_comes_out_again(case: &Case, found: &mut Findings) {
    if !case.seed.is_multiple_of(10) {
        return;
    }
    for set_up in &case.plan.set_ups {
        let Some(ours) = least_factor(&set_up.audit, set_up) else { continue };
        let theirs = set_up.hold.slip_factor.unwrap_or(f64::INFINITY);
        found.check((theirs / ours - 1.0).abs() < 1e-3, || {
            format!("set-up {}: slip factor {theirs:.4}, from the audit {ours:.4}", set_up.number)
        });
    }
}

fn the_last_hold_is_under_every_plain_motion(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let hold = &set_up.hold;
        let (Some(last), Some(load)) = (&hold.last_hold, &set_up.audit.last_hold_load) else {
            found.check(false, || format!("set-up {}: no last hold", set_up.number));
            continue;
        };
        let bound = least_of_plain_motions(set_up, load);
        let needed = data::holding("last_hold_over_slip") * hold.required;
        let right = last.at_least >= needed * (1.0 - 1e-9) && last.factor <= bound * (1.0 + 1e-6);
        found.check(right, || {
            format!("set-up {}: last hold {:.3}, {needed} needed, plain motions {bound:.3}", set_up.number, last.factor)
        });
    }
}

/// Least bound of the motions along and about the axes through the middle of the contacts.
fn least_of_plain_motions(set_up: &SetUp, load: &AuditLoad) -> f64 {
    let audit = &set_up.audit;
    let points = || audit.contacts.iter();
    let middle = points().map(|point| Vector3::from(point.at_mm)).sum::<Vector3<f64>>() / points().count() as f64;
    let mut least = f64::INFINITY;
    for axis in 0..3 {
        for along in [Vector3::ith(axis, 1.0), -Vector3::ith(axis, 1.0)] {
            let still = Vector3::zeros();
            for (shift, turn) in [(along, still), (still, along)] {
                let moves = |at: [f64; 3]| shift + turn.cross(&(Vector3::from(at) - middle));
                let work = |at: [f64; 3], force: [f64; 3]| Vector3::from(force).dot(&moves(at));
                let done = work(load.at_mm, load.force_n);
                if done <= 1e-9 {
                    continue;
                }
                let constant: f64 = audit.steady_loads.iter().map(|(_, at, force)| work(*at, *force)).sum();
                let constant = constant + work(audit.mass_centre_mm, load.weight_n);
                let resisted = set_up.jaws.iter().map(|jaw| {
                    let best = points().filter(|point| point.jaw == jaw.jaw).map(|point| {
                        let (moved, inward) = (moves(point.at_mm), Vector3::from(point.inward));
                        let into = inward.dot(&moved);
                        point.friction * (moved - inward * into).norm() - into
                    });
                    // Flanks press each other apart: together more than the jaw, by the wedge with its friction.
                    let share = jaw.vee.as_ref().map_or(1.0, |vee| {
                        let half = (vee.angle_deg / 2.0).to_radians();
                        let rubs = points().find(|point| point.jaw == jaw.jaw).map_or(0.0, |point| point.friction);
                        half.sin() + rubs * half.cos()
                    });
                    best.fold(0.0, f64::max) * set_up.hold.counted_force_n / share
                });
                least = least.min((resisted.sum::<f64>() - constant) / done);
            }
        }
    }
    least
}

/// The least factor over all listed loads at which a jaw's whole friction reaches mu times its whole force.
fn least_factor(audit: &Audit, set_up: &SetUp) -> Option<f64> {
    let carried: Vec<_> = audit
        .contacts
        .iter()
        .map(|contact| {
            let (at, inward) = (Vector3::from(contact.at_mm), Vector3::from(contact.inward));
            let (kn, kt) = (contact.normal_stiffness_n_per_mm, contact.tangential_stiffness_n_per_mm);
            let spring = Matrix3::identity() * kt + inward * inward.transpose() * (kn - kt);
            // d = u + theta x p: what the point moves when the work moves by (u, theta).
            let mut moves = nalgebra::Matrix3x6::zeros();
            moves.fixed_view_mut::<3, 3>(0, 0).copy_from(&Matrix3::identity());
            moves.fixed_view_mut::<3, 3>(0, 3).copy_from(&-at.cross_matrix());
            (contact, inward, spring, moves)
        })
        .collect();
    let stiffness: Matrix6<f64> = carried.iter().map(|(_, _, spring, moves)| moves.transpose() * spring * moves).sum();
    let compliance = stiffness.try_inverse()?;
    let wrench = |at: [f64; 3], force: [f64; 3]| {
        let (at, force) = (Vector3::from(at), Vector3::from(force));
        let moment = at.cross(&force);
        Vector6::new(force.x, force.y, force.z, moment.x, moment.y, moment.z)
    };
    let steady: Vector6<f64> = audit.steady_loads.iter().map(|(_, at, force)| wrench(*at, *force)).sum();
    let jaws: Vec<(u8, bool)> = set_up.jaws.iter().map(|jaw| (jaw.jaw, jaw.vee.is_some())).collect();
    let mut least = f64::INFINITY;
    for load in &audit.cut_loads {
        let constant = compliance * (steady + wrench(audit.mass_centre_mm, load.weight_n));
        let cut = wrench(load.at_mm, load.force_n);
        let (alone, seated) = (compliance * cut, with_a_seat(audit, &stiffness, &cut, compliance * cut));
        for (growing, (jaw, through_a_vee)) in
            [alone, seated].into_iter().flat_map(|by| jaws.iter().map(move |jaw| (by, jaw)))
        {
            // Towards the spindle axis, as the jaw itself pushes.
            let (sin, cos) = (std::f64::consts::TAU * f64::from(jaw - 1) / jaws.len() as f64).sin_cos();
            let push = Vector3::new(-cos, -sin, 0.0);
            let (mut whole0, mut whole1) = (Vector3::zeros(), Vector3::zeros());
            let (mut n0, mut n1, mut t0, mut t1) = (0.0, 0.0, Vector3::zeros(), Vector3::zeros());
            let mut friction = f64::INFINITY;
            for (contact, inward, spring, moves) in carried.iter().filter(|one| one.0.jaw == *jaw) {
                let (a, b) = (-spring * moves * constant, -spring * moves * growing);
                n0 += contact.preload_n + inward.dot(&a);
                n1 += inward.dot(&b);
                // Friction of points with normals of their own is added as on the arc unrolled.
                let push = carried.iter().filter(|one| one.0.jaw == *jaw).map(|one| one.1).sum::<Vector3<f64>>();
                let unroll = Rotation3::rotation_between(inward, &push).unwrap_or_default();
                t0 += unroll * (Vector3::from(contact.preload_friction_n) + a - inward * inward.dot(&a));
                t1 += unroll * (b - inward * inward.dot(&b));
                friction = friction.min(contact.friction);
                whole0 += inward * contact.preload_n + Vector3::from(contact.preload_friction_n) + a;
                whole1 += b;
            }
            if *through_a_vee {
                // The vee on its jaw: what is beside the push against what is along it.
                let (n0, n1) = (whole0.dot(&push), whole1.dot(&push));
                let (t0, t1) = (whole0 - push * n0, whole1 - push * n1);
                least = least.min(slips_at(friction, (n0, n1), (t0, t1)));
            }
            least = least.min(slips_at(friction, (n0, n1), (t0, t1)));
        }
    }
    let finishing = set_up.passes.iter().any(|pass| pass.kind == PassKind::Finish);
    (finishing && least.is_finite()).then_some(least)
}

/// How the work moves under a cut when a seat pushes where it is pressed, one-sided: the springs of the points that the
/// movement presses are put in until none more is pressed or let go.
fn with_a_seat(audit: &Audit, jaws: &Matrix6<f64>, cut: &Vector6<f64>, alone: Vector6<f64>) -> Vector6<f64> {
    let rows: Vec<(Vector6<f64>, f64)> = audit
        .seat_points
        .iter()
        .map(|([x, y, _], stiffness)| (Vector6::new(0.0, 0.0, 1.0, *y, -x, 0.0), *stiffness))
        .collect();
    let mut moved = alone;
    for _ in 0..100 {
        let pressed = rows.iter().filter(|(row, _)| row.dot(&moved) < 0.0);
        let all = pressed.fold(*jaws, |sum, (row, stiffness)| sum + row * row.transpose() * *stiffness);
        let Some(next) = all.try_inverse().map(|yields| yields * cut) else { return alone };
        if (next - moved).norm() <= 1e-12 * next.norm() {
            return next;
        }
        moved = next;
    }
    panic!("the seat finds no balance")
}

/// |t0 + x t1|^2 = mu^2 (n0 + x n1)^2, the least root ahead.
fn slips_at(friction: f64, (n0, n1): (f64, f64), (t0, t1): (Vector3<f64>, Vector3<f64>)) -> f64 {
    let m = friction * friction;
    let (a, b, c) = (t1.dot(&t1) - m * n1 * n1, 2.0 * (t0.dot(&t1) - m * n0 * n1), t0.dot(&t0) - m * n0 * n0);
    let under = b * b - 4.0 * a * c;
    if under < 0.0 {
        return f64::INFINITY;
    }
    let roots = [(-b - under.sqrt()) / (2.0 * a), (-b + under.sqrt()) / (2.0 * a)];
    roots.into_iter().filter(|root| *root > 0.0).fold(f64::INFINITY, f64::min)
}
