//! From which tilt on small motions and springs that pull stop being true.

use super::bench::{Chuck, Step, block, round_bar, wants};
use super::dice::Dice;
use super::make::{Method, pose};
use super::noise::{Noises, Throw};
use super::recipe::Recipe;
use super::solid::{Face, Solid, Which};

const SIDE: f64 = 40.0;
/// Spring of the seat, N/mm.
const SEAT: f64 = 200e3;
/// Last set-up of every case: the back, four finished sides in the jaws, the front behind.
const STEPS: [usize; 6] = [0, 2, 4, 3, 5, 1];

/// A way to hold the block for its last face.
#[derive(Debug, Clone, Copy)]
struct Case {
    name: &'static str,
    clamp: f64,
    jaw: f64,
    seat: Option<f64>,
    what: What,
}

/// What leans.
#[derive(Debug, Clone, Copy, PartialEq)]
enum What {
    /// Jaw 1.
    Jaw,
    /// The seat.
    Seat,
    /// The sawn end that is behind, the bar in the jaws as it came.
    Sawn,
}

const CASES: [Case; 8] = [
    Case { name: "four flats, 8 kN, 60 N/µm", clamp: 8e3, jaw: 60e3, seat: None, what: What::Jaw },
    Case { name: "four flats, 1 kN, 60 N/µm", clamp: 1e3, jaw: 60e3, seat: None, what: What::Jaw },
    Case { name: "four flats, 4 kN, 600 N/µm", clamp: 4e3, jaw: 600e3, seat: None, what: What::Jaw },
    Case { name: "jaw leans, seat with 300 N", clamp: 8e3, jaw: 60e3, seat: Some(300.0), what: What::Jaw },
    Case { name: "jaw leans, seat with 1500 N", clamp: 8e3, jaw: 60e3, seat: Some(1500.0), what: What::Jaw },
    Case { name: "seat leans, 300 N", clamp: 8e3, jaw: 60e3, seat: Some(300.0), what: What::Seat },
    Case { name: "seat leans, 1500 N", clamp: 8e3, jaw: 60e3, seat: Some(1500.0), what: What::Seat },
    Case { name: "sawn end on the seat, 300 N", clamp: 8e3, jaw: 60e3, seat: Some(300.0), what: What::Sawn },
];

/// Tilts that are tried, rad.
const TILTS: [f64; 8] = [1e-4, 2e-4, 5e-4, 1e-3, 2e-3, 5e-3, 1e-2, 2e-2];

fn recipe(case: &Case) -> Recipe {
    let tap = case.seat.unwrap_or(0.0);
    let chuck = Chuck { width: 22.0, length: 60.0, jaw: case.jaw, seat: SEAT, tap, clamp: case.clamp };
    let last = if case.seat.is_some() { Step::cut(1).seated() } else { Step::cut(1) };
    // A bite of 20 for all.
    let last = Step { out: if case.what == What::Sawn { SIDE - 18.0 } else { SIDE - 20.0 }, ..last };
    let steps: Vec<Step> = match case.what {
        What::Sawn => vec![Step { cut: 0, ..last }],
        _ => STEPS[..5].iter().map(|&cut| Step::cut(cut)).chain([last]).collect(),
    };
    let sizes = [SIDE; 3];
    block(round_bar(sizes), sizes, &steps, &chuck, wants(sizes, 1.0, 1.0, 1.0))
}

/// Turn of the work, rad, really and by one linear step, and the share of springs that touch.
fn turned(case: &Case, tilt: f64) -> (f64, f64, f64) {
    turned_by(&recipe(case), case, tilt)
}

fn turned_by(recipe: &Recipe, case: &Case, tilt: f64) -> (f64, f64, f64) {
    let mut throw: Throw = Noises::default().throw(recipe, &mut Dice::new(1));
    match case.what {
        What::Jaw => throw.jaw[0][0] = tilt,
        What::Seat => throw.seat[0] = tilt,
        What::Sawn => throw.sawn[0][0] = tilt,
    }
    let mut solid: Solid = recipe.raw(throw.sawn);
    let last = recipe.set_ups.last().expect("a set-up");
    for set_up in &recipe.set_ups[..recipe.set_ups.len() - 1] {
        let asked = &recipe.faces[set_up.cut];
        solid.faces.push((Which::Finished(set_up.cut), Face::plane(asked.normal, asked.distance)));
    }
    let fresh = throw.fresh.last().expect("a set-up");
    let by = |method| pose(recipe, &solid, last, (&throw, fresh), method).expect("a pose");
    let (real, touching) = by(Method::Real);
    (real.turned().norm(), by(Method::SmallMotions).0.turned().norm(), touching)
}

#[test]
fn small_motions_are_true_as_long_as_every_spring_touches() {
    for case in CASES {
        for tilt in TILTS {
            let (real, linear, touching) = turned(&case, tilt);
            let off = (real - linear).abs() / linear;
            // What finite turns add is of the order of the turn itself; a tap that goes with the work adds its share.
            assert!(touching < 1.0 || off < 2.0 * tilt + 3e-4, "{} {tilt}: {real} {linear} {touching}", case.name);
        }
    }
}

#[test]
fn jaws_lose_touch_at_the_tilt_that_the_closed_form_gives() {
    // One of two jaws leans by t, the work takes half of it, each bed gives F/k: its end lifts when t/2 · b/2 > F/k.
    // The outermost spring stands (1 − 1/√3)/3 of half the bite inside the end.
    let (bite, inside) = (20.0, 1.0 - (1.0 - 1.0 / 3.0_f64.sqrt()) / 3.0);
    for case in CASES.iter().filter(|case| case.seat.is_none()) {
        let lifts = 4.0 * case.clamp / (case.jaw * bite * inside);
        for share in [0.9, 0.97] {
            assert_eq!(turned(case, lifts * share).2, 1.0, "{} {lifts}", case.name);
        }
        for share in [1.03, 1.1, 2.0] {
            assert!(turned(case, lifts * share).2 < 1.0, "{} {lifts}", case.name);
        }
    }
}

#[test]
fn a_seat_loses_touch_where_the_jaws_turn_more_than_its_tap_holds() {
    // A tap Q spread over a bed of length L holds a moment Q L/6 before an edge lifts (the middle third of textbooks).
    // Jaws and seat as springs in turn: a pair of jaws 2 k b²/12 that wants half the tilt, the seat k L²/12.
    for case in CASES.iter().filter(|case| case.what == What::Jaw && case.seat.is_some()) {
        let (jaws, seat) = (2.0 * case.jaw * 400.0 / 12.0, SEAT * SIDE * SIDE / 12.0);
        let together = jaws * seat / (jaws + seat);
        // To the outermost spring of the bed, as above.
        let inside = 1.0 - (1.0 - 1.0 / 3.0_f64.sqrt()) / 3.0;
        let lifts = 2.0 * case.seat.expect("a tap") * SIDE / 6.0 / inside / together;
        assert_eq!(turned(case, lifts * 0.97).2, 1.0, "{} {lifts}", case.name);
        assert!(turned(case, lifts * 1.03).2 < 1.0, "{} {lifts}", case.name);
    }
}

#[test]
fn friction_that_keeps_the_tapped_turn_keeps_the_work_nearer_to_its_seat() {
    let case = CASES[3];
    let with = |kept: f64| {
        let mut recipe = recipe(&case);
        recipe.kept_turn = kept;
        turned_by(&recipe, &case, 5e-3).0
    };
    let (none, half, all) = (with(0.0), with(0.5), with(1.0));
    assert!(all < 0.4 * none && (half - (none + all) / 2.0).abs() < 1e-7, "{none} {half} {all}");
}

/// Prints how far one linear step is off; not a check.
#[test]
#[ignore = "prints a table: cargo test -p engine --test virtual_shop table -- --ignored --nocapture"]
fn table_of_tilts() {
    println!("| case | {} |", TILTS.map(|tilt| format!("{} mrad", tilt * 1e3)).join(" | "));
    for case in CASES {
        let cells = TILTS.map(|tilt| {
            let (real, linear, touching) = turned(&case, tilt);
            format!(
                "{:.3} of {:.3} ({:+.1} %, {:.0})",
                real * 1e3,
                linear * 1e3,
                (linear / real - 1.0) * 100.0,
                touching * 100.0
            )
        });
        println!("| {} | {} |", case.name, cells.join(" | "));
    }
}
