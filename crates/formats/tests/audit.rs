//! The hold of every set-up of every example, worked out again from the JSON of the audit alone.
//!
//! Nothing of the engine's holding room is used: stiffness is summed, solved and the slip found here, by
//! Gaussian elimination and bisection. The model is the one that the agreement of the JSON states:
//! every contact is a two-way spring; a load moves the rigid work by `K⁻¹ w`; the factor multiplies the
//! cut alone, weight and steady loads stay; a jaw slips when the friction force of all its points
//! together reaches the least of their coefficients times their normal force. Where the points of a jaw push different
//! ways, round an arc, their friction is added as on the arc unrolled. A vee slips in its flanks so, or on its jaw: there
//! the whole force of its points counts, along their mean push and beside it. A seat that stays pushes where the cut presses the
//! work on it; the less of the factors with it and without counts.

mod examples_planned;

use examples_planned::{in_other_jaws, in_other_shops, number, text, vector};
use serde_json::Value;

/// Every example in the built-in shop, and in the example shops where those have what it asks.
fn planned() -> impl Iterator<Item = &'static (String, Value)> {
    examples_planned::planned().chain(in_other_shops().iter().filter(|(_, plan)| plan["outcome"] == "planned"))
}

type V3 = [f64; 3];
type V6 = [f64; 6];

fn add(a: V3, b: V3) -> V3 {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

fn times(k: f64, a: V3) -> V3 {
    a.map(|part| k * part)
}

fn dot(a: V3, b: V3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: V3, b: V3) -> V3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn length(a: V3) -> f64 {
    dot(a, a).sqrt()
}

/// Force and moment about the origin.
fn wrench(at: V3, force: V3) -> V6 {
    let moment = cross(at, force);
    [force[0], force[1], force[2], moment[0], moment[1], moment[2]]
}

/// Two loads at once.
fn both(a: V6, b: V6) -> V6 {
    std::array::from_fn(|row| a[row] + b[row])
}

struct Contact {
    jaw: u64,
    at: V3,
    inward: V3,
    normal_stiffness: f64,
    tangential_stiffness: f64,
    friction: f64,
    preload: f64,
    preload_friction: V3,
}

impl Contact {
    fn read(value: &Value) -> Contact {
        Contact {
            jaw: value["jaw"].as_u64().expect("a jaw"),
            at: vector(&value["at_mm"]),
            inward: vector(&value["inward"]),
            normal_stiffness: number(&value["normal_stiffness_n_per_mm"]),
            tangential_stiffness: number(&value["tangential_stiffness_n_per_mm"]),
            friction: number(&value["friction"]),
            preload: number(&value["preload_n"]),
            preload_friction: vector(&value["preload_friction_n"]),
        }
    }

    /// Force of the spring on the work when the work moves by q: shift, then turn about the origin.
    fn pushed_back(&self, q: V6) -> V3 {
        let moved = add([q[0], q[1], q[2]], cross([q[3], q[4], q[5]], self.at));
        let along = times(dot(moved, self.inward), self.inward);
        let aside = add(moved, times(-1.0, along));
        add(times(-self.normal_stiffness, along), times(-self.tangential_stiffness, aside))
    }
}

/// Row by row and column by column: the load that holds against a unit of each movement.
fn stiffness(contacts: &[Contact]) -> [V6; 6] {
    let held_against = |column: usize| {
        let unit = std::array::from_fn(|row| f64::from(u8::from(row == column)));
        let loads = contacts.iter().map(|contact| wrench(contact.at, contact.pushed_back(unit)));
        loads.fold([0.0; 6], both).map(|part| -part)
    };
    let columns: [V6; 6] = std::array::from_fn(held_against);
    std::array::from_fn(|row| std::array::from_fn(|column| columns[column][row]))
}

/// Gaussian elimination with partial pivoting, lengths scaled so that rows compare.
fn solve(matrix: &[V6; 6], load: V6) -> V6 {
    const SIZE_MM: f64 = 20.0;
    let scale = |index: usize| if index < 3 { 1.0 } else { 1.0 / SIZE_MM };
    let mut rows: Vec<[f64; 7]> = (0..6)
        .map(|row| {
            std::array::from_fn(|column| {
                if column == 6 { load[row] * scale(row) } else { matrix[row][column] * scale(row) * scale(column) }
            })
        })
        .collect();
    for column in 0..6 {
        let pivot = (column..6).max_by(|&a, &b| rows[a][column].abs().total_cmp(&rows[b][column].abs()));
        rows.swap(column, pivot.expect("six rows"));
        assert!(rows[column][column].abs() > 1e-6, "the contacts do not hold the work");
        let used = rows[column];
        for row in &mut rows[column + 1..] {
            let share = row[column] / used[column];
            row.iter_mut().zip(used).for_each(|(part, of)| *part -= share * of);
        }
    }
    let mut q = [0.0; 6];
    for row in (0..6).rev() {
        let known: f64 = (row + 1..6).map(|column| rows[row][column] * q[column]).sum();
        q[row] = (rows[row][6] - known) / rows[row][row];
    }
    std::array::from_fn(|row| q[row] * scale(row))
}

/// Normal and friction force of a point or a jaw, and how they change per unit of the factor.
#[derive(Clone, Copy)]
struct Carries {
    normal: (f64, f64),
    friction: (V3, V3),
    coefficient: f64,
}

impl Carries {
    /// As the point's whole force, along a direction and beside it.
    fn along(self, inward: V3, push: V3) -> Carries {
        let part = |normal: f64, friction: V3| {
            let whole = add(times(normal, inward), friction);
            let along = dot(whole, push);
            (along, add(whole, times(-along, push)))
        };
        let (still, grows) = (part(self.normal.0, self.friction.0), part(self.normal.1, self.friction.1));
        Carries { normal: (still.0, grows.0), friction: (still.1, grows.1), coefficient: self.coefficient }
    }

    fn with(self, other: Carries) -> Carries {
        Carries {
            normal: (self.normal.0 + other.normal.0, self.normal.1 + other.normal.1),
            friction: (add(self.friction.0, other.friction.0), add(self.friction.1, other.friction.1)),
            coefficient: self.coefficient.min(other.coefficient),
        }
    }

    fn normal_at(&self, factor: f64) -> f64 {
        self.normal.0 + factor * self.normal.1
    }

    /// How much friction is left, N; negative: it slips.
    fn left_at(&self, factor: f64) -> f64 {
        let pull = length(add(self.friction.0, times(factor, self.friction.1)));
        self.coefficient * self.normal_at(factor) - pull
    }
}

/// The factor at which what is left is used up, by doubling and bisection; the friction cone is convex, so
/// it is crossed once. `None`: not below a million.
fn root(left: impl Fn(f64) -> f64) -> Option<f64> {
    if left(0.0) <= 0.0 {
        return Some(0.0);
    }
    let mut high = 1e-3;
    while left(high) > 0.0 {
        high *= 2.0;
        if high > 1e6 {
            return None;
        }
    }
    let mut low = 0.0;
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if left(middle) > 0.0 { low = middle } else { high = middle }
    }
    Some(high)
}

/// A force turned about the axis square to two directions, as the one is turned onto the other (Rodrigues).
fn turned_with(from: V3, onto: V3, force: V3) -> V3 {
    let axis = cross(from, times(1.0 / length(onto), onto));
    let (sin, cos) = (length(axis), dot(from, onto) / length(onto));
    if sin < 1e-7 {
        return force;
    }
    let axis = times(1.0 / sin, axis);
    let along = times(dot(axis, force) * (1.0 - cos), axis);
    add(add(times(cos, force), times(sin, cross(axis, force))), along)
}

/// A point of a seat: it pushes away from the chuck, and only that.
struct Stay {
    at: V3,
    stiffness: f64,
}

impl Stay {
    /// How far it is let go when the work moves by q; negative: how far it is pressed.
    fn let_go(&self, q: V6) -> f64 {
        q[2] + q[3] * self.at[1] - q[4] * self.at[0]
    }

    fn pushes(&self, q: V6) -> V6 {
        wrench(self.at, [0.0, 0.0, self.stiffness * -self.let_go(q).min(0.0)])
    }
}

/// A set-up's hold from its audit.
struct Hold {
    seat: Vec<Stay>,
    contacts: Vec<Contact>,
    stiffness: [V6; 6],
    steady: V6,
    mass_centre: V3,
}

impl Hold {
    fn read(audit: &Value) -> Hold {
        let contacts: Vec<Contact> = list(&audit["contacts"]).iter().map(Contact::read).collect();
        let load = |steady: &Value| wrench(vector(&steady["at_mm"]), vector(&steady["force_n"]));
        let steady = list(&audit["steady_loads"]).iter().map(load).fold([0.0; 6], both);
        let stay =
            |point: &Value| Stay { at: vector(&point["at_mm"]), stiffness: number(&point["stiffness_n_per_mm"]) };
        let seat = list(&audit["seat_points"]).iter().map(stay).collect();
        Hold { seat, stiffness: stiffness(&contacts), contacts, steady, mass_centre: vector(&audit["mass_centre_mm"]) }
    }

    /// What a whole jaw carries: its points added up, their friction as on an arc unrolled.
    fn jaw(&self, jaw: u64, points: &[(u64, Carries)]) -> Carries {
        let own = || self.contacts.iter().zip(points).filter(|(_, (of, _))| *of == jaw);
        let push = own().map(|(contact, _)| contact.inward).fold([0.0; 3], add);
        let unrolled = own().map(|(contact, (_, carries))| {
            let turned = |force| turned_with(contact.inward, push, force);
            Carries { friction: (turned(carries.friction.0), turned(carries.friction.1)), ..*carries }
        });
        unrolled.reduce(Carries::with).expect("every jaw bears")
    }

    /// What the vee before a jaw carries on the jaw's own face: the whole force of its flanks along their mean push, and
    /// what is beside it.
    fn vee(&self, jaw: u64, points: &[(u64, Carries)]) -> Carries {
        let own = || self.contacts.iter().zip(points).filter(|(_, (of, _))| *of == jaw);
        let mut flanks: Vec<V3> = Vec::new();
        for (contact, _) in own() {
            if !flanks.iter().any(|flank| length(add(*flank, times(-1.0, contact.inward))) < 1e-6) {
                flanks.push(contact.inward);
            }
        }
        assert_eq!(flanks.len(), 2, "a vee has two flanks");
        let push = add(flanks[0], flanks[1]);
        let push = times(1.0 / length(push), push);
        let whole = own().map(|(contact, (_, carries))| carries.along(contact.inward, push));
        whole.reduce(Carries::with).expect("every jaw bears")
    }

    /// How the work moves under a cut with the points of the seat that it presses pushing back: found by putting in the
    /// springs of those that are pressed until they are those that were put in.
    fn moves_on_its_seat(&self, cut: V6) -> V6 {
        let mut q = solve(&self.stiffness, cut);
        for _ in 0..100 {
            let mut matrix = self.stiffness;
            for stay in self.seat.iter().filter(|stay| stay.let_go(q) < 0.0) {
                for column in 0..6 {
                    let unit: V6 = std::array::from_fn(|row| f64::from(u8::from(row == column)));
                    let load = wrench(stay.at, [0.0, 0.0, stay.stiffness * stay.let_go(unit)]);
                    matrix.iter_mut().zip(load).for_each(|(line, part)| line[column] += part);
                }
            }
            let next = solve(&matrix, cut);
            let same = self.seat.iter().all(|stay| (stay.let_go(q) < 0.0) == (stay.let_go(next) < 0.0));
            q = next;
            if same {
                return q;
            }
        }
        panic!("the seat finds no balance")
    }

    /// What every point carries under one cut, without a seat and, where it is pressed, with it.
    fn both_ways(&self, cut: &Value) -> Vec<Vec<(u64, Carries)>> {
        let load = wrench(vector(&cut["at_mm"]), vector(&cut["force_n"]));
        let (alone, seated) = (solve(&self.stiffness, load), self.moves_on_its_seat(load));
        let pushed = self.seat.iter().map(|stay| stay.pushes(seated)).fold([0.0; 6], both);
        let ways = if pushed[2] > 0.0 { vec![alone, seated] } else { vec![alone] };
        ways.into_iter().map(|growing| self.carries(cut, growing)).collect()
    }

    /// What every point carries when the cut moves the work so.
    fn carries(&self, cut: &Value, growing: V6) -> Vec<(u64, Carries)> {
        let weight = wrench(self.mass_centre, vector(&cut["weight_n"]));
        let standing = solve(&self.stiffness, both(self.steady, weight));
        self.contacts
            .iter()
            .map(|contact| {
                let parts = |q: V6| {
                    let force = contact.pushed_back(q);
                    let normal = dot(force, contact.inward);
                    (normal, add(force, times(-normal, contact.inward)))
                };
                let (still, grows) = (parts(standing), parts(growing));
                let carries = Carries {
                    normal: (contact.preload + still.0, grows.0),
                    friction: (add(contact.preload_friction, still.1), grows.1),
                    coefficient: contact.friction,
                };
                (contact.jaw, carries)
            })
            .collect()
    }
}

/// Least factors over the cuts of a set-up.
#[derive(Default)]
struct Least {
    jaw: Option<f64>,
    /// Jaw, pass and angle of the cut of the least jaw factor.
    jaw_at: (u64, u64, f64),
    point_in_finish: Option<f64>,
    lift: Option<f64>,
}

fn keep(least: &mut Option<f64>, found: Option<f64>) -> bool {
    let less = found.is_some_and(|found| least.is_none_or(|least| found < least));
    if less {
        *least = found;
    }
    less
}

fn least(set_up: &Value) -> Least {
    let hold = Hold::read(&set_up["audit"]);
    let mut least = Least::default();
    let cuts = list(&set_up["audit"]["cut_loads"]).iter();
    for (cut, points) in cuts.flat_map(|cut| hold.both_ways(cut).into_iter().map(move |points| (cut, points))) {
        let pass = cut["pass"].as_u64().expect("a pass");
        assert!(pass >= 1, "passes are counted from 1");
        for jaw in 1..=list(&set_up["jaws"]).len() as u64 {
            let together = hold.jaw(jaw, &points);
            let mut slips = root(|factor| together.left_at(factor));
            // A vee slips in its flanks or on its jaw, whichever comes first.
            if !set_up["jaws"][jaw as usize - 1]["vee"].is_null() {
                let on_jaw = hold.vee(jaw, &points);
                keep(&mut slips, root(|factor| on_jaw.left_at(factor)));
            }
            if keep(&mut least.jaw, slips) {
                let at = vector(&cut["at_mm"]);
                least.jaw_at = (jaw, pass, at[1].atan2(at[0]).to_degrees().rem_euclid(360.0));
            }
        }
        let finish = set_up["passes"][pass as usize - 1]["kind"] == "finish";
        for (_, point) in &points {
            keep(&mut least.lift, root(|factor| point.normal_at(factor)));
            if finish {
                keep(&mut least.point_in_finish, root(|factor| point.left_at(factor)));
            }
        }
    }
    least
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

fn agrees(ours: Option<f64>, theirs: &Value, what: &str) {
    match (ours, theirs.as_f64()) {
        // The JSON's nine digits leave some 1e-8 in a factor.
        (Some(ours), Some(theirs)) => {
            assert!((ours - theirs).abs() <= 1e-6 * theirs.abs(), "{what}: {ours} here, {theirs} in the plan");
        }
        (None, None) => {}
        _ => panic!("{what}: {ours:?} here, {theirs} in the plan"),
    }
}

/// The jobs in jaws of other kinds show what they are there for.
#[test]
fn the_other_jaws_are_bored_hold_vees_have_ledges_and_are_turned() {
    let contacts = |name: &str| -> Vec<String> {
        let (_, plan) = in_other_jaws().iter().find(|(of, _)| of == name).expect("a job of that name");
        let jaws = list(&plan["set_ups"]).iter().flat_map(|set_up| list(&set_up["jaws"]));
        jaws.map(|jaw| format!("{} {}", text(&jaw["contact"]), jaw["vee"]["groove"])).collect()
    };
    let has = |name: &str, what: &str| contacts(name).iter().any(|contact| contact.contains(what));
    assert!(has("bored to the bar", "bored to the round"));
    assert!(has("hexagon bar in vees along the spindle", "vee \"along the spindle\""));
    assert!(has("hexagon from a round in vees", "vee \"across the jaw\""));
    for name in ["on ledges", "jaws turned end for end"] {
        let (_, plan) = in_other_jaws().iter().find(|(of, _)| of == name).expect("a job of that name");
        let on_ledges = |set_up: &&Value| set_up["seat"]["on"] == "jaw step";
        let set_ups: Vec<&Value> = list(&plan["set_ups"]).iter().filter(on_ledges).collect();
        assert!(!set_ups.is_empty(), "{name}");
        assert!(set_ups.iter().all(|set_up| !list(&set_up["audit"]["seat_points"]).is_empty()), "{name}");
    }
}

#[test]
fn slip_and_lift_come_out_again_from_the_audit_alone() {
    let mut set_ups = 0;
    for (name, plan) in planned().chain(in_other_jaws()) {
        for set_up in list(&plan["set_ups"]) {
            let what = format!("{name}, set-up {}", set_up["number"]);
            let found = least(set_up);
            agrees(found.jaw, &set_up["hold"]["slip_factor"], &format!("{what}, jaw slip"));
            agrees(found.point_in_finish, &set_up["hold"]["point_slip_factor"], &format!("{what}, point slip"));
            agrees(found.lift, &set_up["hold"]["lift_factor"], &format!("{what}, lift"));
            set_ups += 1;
        }
    }
    assert!(set_ups >= 40, "only {set_ups} set-ups");
}

/// The jaw that the plan names first, in its own jaw numbers. Several jaws and angles may be alike; the
/// one named must be among the least.
#[test]
fn the_jaw_named_as_first_to_slip_is_one_that_slips_first() {
    for (name, plan) in planned() {
        for set_up in list(&plan["set_ups"]) {
            let says = text(&set_up["hold"]["binding"]);
            let numbers: Vec<f64> =
                says.split(|c: char| !c.is_ascii_digit()).filter_map(|part| part.parse().ok()).collect();
            let (jaw, pass, angle) = (numbers[0] as u64, numbers[1] as u64, numbers[2]);
            let hold = Hold::read(&set_up["audit"]);
            let named = list(&set_up["audit"]["cut_loads"]).iter().filter(|cut| {
                let at = vector(&cut["at_mm"]);
                let here = at[1].atan2(at[0]).to_degrees();
                cut["pass"].as_u64() == Some(pass) && ((here - angle + 180.0).rem_euclid(360.0) - 180.0).abs() < 0.6
            });
            let factors: Vec<Option<f64>> = named
                .map(|cut| {
                    let mut least = None;
                    for points in hold.both_ways(cut) {
                        let points = points.into_iter().filter(|(of, _)| *of == jaw).map(|(_, carries)| carries);
                        let together = points.reduce(Carries::with).expect("the jaw bears");
                        keep(&mut least, root(|factor| together.left_at(factor)));
                    }
                    least
                })
                .collect();
            assert_eq!(factors.len(), 1, "{name}: {says}");
            agrees(factors[0], &set_up["hold"]["slip_factor"], &format!("{name}, set-up {}: {says}", set_up["number"]));
        }
    }
}

/// Tightened, and before weight, unbalance or cut: the contact forces on the work, normal and friction
/// together, balance one another in force and in moment. Steady loads are not in the preload.
#[test]
fn preload_alone_is_in_balance() {
    for (name, plan) in planned().chain(in_other_jaws()) {
        for set_up in list(&plan["set_ups"]) {
            let hold = Hold::read(&set_up["audit"]);
            let forces = hold
                .contacts
                .iter()
                .map(|contact| (contact.at, add(times(contact.preload, contact.inward), contact.preload_friction)));
            let sum = forces.clone().map(|(at, force)| wrench(at, force)).fold([0.0; 6], both);
            let (pressing, turning) = forces.fold((0.0, 0.0), |(pressing, turning), (at, force)| {
                (pressing + length(force), turning + length(force) * length(at))
            });
            let what = format!("{name}, set-up {}: {sum:?}", set_up["number"]);
            assert!(sum[..3].iter().all(|part| part.abs() <= 1e-7 * pressing), "{what} of {pressing} N");
            assert!(sum[3..].iter().all(|part| part.abs() <= 1e-7 * turning), "{what} of {turning} N mm");
            assert!(hold.contacts.iter().all(|contact| contact.preload >= 0.0), "{what}: a point pulls");
        }
    }
}

/// What an outside program may take for granted of the points.
#[test]
fn contacts_lie_on_their_jaws_and_friction_across_their_normals() {
    for (name, plan) in planned() {
        for set_up in list(&plan["set_ups"]) {
            let what = format!("{name}, set-up {}", set_up["number"]);
            let jaws = list(&set_up["jaws"]);
            let hold = Hold::read(&set_up["audit"]);
            for contact in &hold.contacts {
                assert!((length(contact.inward) - 1.0).abs() < 1e-8, "{what}");
                assert!(
                    dot(contact.inward, contact.preload_friction).abs() <= 1e-6 * contact.preload.max(1.0),
                    "{what}"
                );
                let jaw = &jaws[contact.jaw as usize - 1];
                let angle = std::f64::consts::TAU * (contact.jaw - 1) as f64 / jaws.len() as f64;
                let outward = [angle.cos(), angle.sin(), 0.0];
                assert!((dot(contact.inward, outward) + 1.0).abs() < 1e-8, "{what}: jaw {} pushes aside", contact.jaw);
                let reach = number(&jaw["reach_mm"]) - number(&jaw["packing_mm"]);
                assert!((dot(contact.at, outward) - reach).abs() < 1e-6, "{what}: jaw {} is elsewhere", contact.jaw);
                let bite = number(&set_up["bite_mm"]);
                assert!(contact.at[2] <= 1e-6 && contact.at[2] >= -bite - 1e-6, "{what}: a point outside the bite");
            }
            for pair in list(&set_up["audit"]["pairs"]) {
                let named: Vec<u64> = list(&pair["jaws"]).iter().filter_map(Value::as_u64).collect();
                assert!(named.len() == 2 && named[0] + 2 == named[1], "{what}: {named:?} are not opposed");
                let of_pair = hold.contacts.iter().filter(|contact| named.contains(&contact.jaw));
                let sum: f64 = of_pair.map(|contact| contact.preload).sum();
                assert!((sum - number(&pair["total_n"])).abs() <= 1e-7 * sum, "{what}: {named:?} press {sum} N");
            }
            let matrix = hold.stiffness;
            for row in 0..6 {
                for column in 0..row {
                    let (one, other) = (matrix[row][column], matrix[column][row]);
                    assert!((one - other).abs() <= 1e-9 * (matrix[row][row] * matrix[column][column]).sqrt(), "{what}");
                }
            }
        }
    }
}

/// Every tool position: at least 72 angles, evenly round, at the pass's start radius and height, with the
/// pass's likely force against the turning, inwards and towards the chuck.
#[test]
fn cut_loads_are_the_passes_forces_round_the_work() {
    for (name, plan) in planned() {
        for set_up in list(&plan["set_ups"]) {
            let what = format!("{name}, set-up {}", set_up["number"]);
            let loads = list(&set_up["audit"]["cut_loads"]);
            for (at, pass) in list(&set_up["passes"]).iter().enumerate() {
                let ours: Vec<&Value> =
                    loads.iter().filter(|load| load["pass"].as_u64() == Some(at as u64 + 1)).collect();
                assert!(ours.len() >= 72, "{what}: {} angles", ours.len());
                let mut angles: Vec<f64> = Vec::new();
                for load in ours {
                    let (place, force) = (vector(&load["at_mm"]), vector(&load["force_n"]));
                    let (outward, radius) = ([place[0], place[1], 0.0], place[0].hypot(place[1]));
                    let outward = times(1.0 / radius, outward);
                    let onward = [-outward[1], outward[0], 0.0];
                    let near = |ours: f64, theirs: &Value| {
                        let theirs = number(theirs);
                        assert!(
                            (ours - theirs).abs() <= 1e-6 * theirs.abs().max(1.0),
                            "{what}: {ours} is not {theirs}"
                        );
                    };
                    near(radius, &pass["start_radius_mm"]);
                    near(number(&set_up["stick_out_mm"]["set"]) - place[2], &pass["total_mm"]);
                    near(-dot(force, onward), &pass["force_n"]["cutting"]);
                    near(-dot(force, outward), &pass["force_n"]["feed"]);
                    near(-force[2], &pass["force_n"]["passive"]);
                    angles.push(place[1].atan2(place[0]).to_degrees().rem_euclid(360.0));
                }
                angles.sort_by(f64::total_cmp);
                let gaps = angles.windows(2).map(|pair| pair[1] - pair[0]);
                assert!(gaps.clone().all(|gap| gap > 1e-3 && gap < 5.0 + 1e-3), "{what}: angles leave a gap");
            }
        }
    }
}
