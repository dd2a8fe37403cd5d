//! From what a drawing says to the list of everything that is asked of the part, and its words.
#![allow(missing_docs)]

use engine::part::{Kind, Requirement};
use engine::task::{self, Task};
use formats::{builtin, job, shop};

/// A block of 36 by 36 by 44 mm, its `[part]` lines given.
fn block(part: &str) -> String {
    format!(
        "title = 'Rest for a lantern'\nunits = 'mm'\n[stock]\nform = 'round'\ndiameter = 60\nlength = 50\n\
         material = 'medium-carbon-steel'\n[part]\nkind = 'block'\n{part}"
    )
}

const SIZES: &str = "width = 36\nheight = 36\nlength = 44\n";

fn prism(part: &str) -> String {
    block(part).replace("kind = 'block'", "kind = 'prism'")
}

fn resolved(text: &str) -> Result<Task, String> {
    let job = job::read(text, "job.toml").map_err(|faults| format!("{faults:?}"))?.job;
    let shop = shop::read(builtin::shop_text(), "shop.toml").map_err(|faults| format!("{faults:?}"))?.shop;
    task::resolve(&job, &shop).map_err(|problems| format!("{problems:?}"))
}

fn task_of(text: &str) -> Task {
    resolved(text).unwrap_or_else(|why| panic!("{why}\n{text}"))
}

fn of(task: &Task, kind: Kind) -> Vec<&Requirement> {
    task.asked_of.iter().filter(|one| one.kind == kind).collect()
}

/// "E to C 0..0.05, the drawing".
fn says(task: &Task, one: &Requirement) -> String {
    let name = |face: usize| task.faces[face].name.as_str();
    let faces: String = one.faces.iter().map(|&face| name(face)).collect();
    let datum = one.datum.map(|datum| format!(" to {}", name(datum))).unwrap_or_default();
    let round = |mm: f64| (mm * 1e6).round() / 1e6;
    format!("{faces}{datum} {}..{}, {}", round(one.lower_mm), round(one.upper_mm), one.from)
}

fn all(task: &Task, kind: Kind) -> Vec<String> {
    of(task, kind).into_iter().map(|one| says(task, one)).collect()
}

#[test]
fn the_drawings_own_limits_are_asked_once_of_every_pair_and_face() {
    let own = "square = 0.06\nparallel = 0.05\nflat = 0.03\nroughness = 'Ra 3.2 um'\nposition = 0.4\n";
    let task = task_of(&block(&format!(
        "width = {{ size = 36, plus = 0.05, minus = 0.02 }}\nheight = 36\nlength = 44\n{own}leave = ['B']\n"
    )));
    assert_eq!(
        all(&task, Kind::Size),
        ["AB 43.7..44.3, ISO 2768-1 m", "CE 35.98..36.05, the drawing", "DF 35.7..36.3, ISO 2768-1 m"]
    );
    assert_eq!(
        all(&task, Kind::Parallel),
        ["B to A 0..0.05, the drawing", "E to C 0..0.05, the drawing", "F to D 0..0.05, the drawing"]
    );
    let square: Vec<String> = all(&task, Kind::Square).iter().map(|says| says[..6].to_string()).collect();
    let pairs = [
        "C to A", "D to A", "E to A", "F to A", "C to B", "D to B", "E to B", "F to B", "D to C", "F to C", "E to D",
        "F to E",
    ];
    assert_eq!(square, pairs);
    assert_eq!(all(&task, Kind::Flat).len(), 6, "the face that stays is asked too");
    assert_eq!(all(&task, Kind::Position), ["CE 0..0.4, the drawing", "DF 0..0.4, the drawing"]);
    assert_eq!(of(&task, Kind::Rough).len(), 6);
    assert!((of(&task, Kind::Rough)[0].upper_mm - 0.0032).abs() < 1e-12);
    assert!(of(&task, Kind::Angle).is_empty() && of(&task, Kind::Distance).is_empty());
    assert!(task.limits_from.is_empty(), "{:?}", task.limits_from);
}

#[test]
fn nothing_is_asked_that_no_drawing_names() {
    let task = task_of(&block(SIZES));
    assert_eq!(task.asked_of.len(), 3, "{:?}", task.asked_of);
    let what: Vec<&str> =
        task.assumed.iter().map(|row| row.what.as_str()).filter(|what| what.contains("limits")).collect();
    assert_eq!(what, ["limits of sizes to which the drawing gives none"]);
}

#[test]
fn a_fit_becomes_limits_that_say_where_they_come_from() {
    for width in ["'36 h8'", "'36h8'", "'36 mm h8'", "{ size = 36, fit = 'h8' }", "{ size = '36 h8' }"] {
        let task = task_of(&block(&SIZES.replace("width = 36", &format!("width = {width}"))));
        assert_eq!(all(&task, Kind::Size)[1], "CE 35.961..36, ISO 286 h8", "{width}");
        assert_eq!(task.part_words, "block 36 h8 x 36 x 44 mm");
        assert_eq!(task.limits_from, ["36 h8 by ISO 286 (table from memory): 36.000 mm 0 -0.039 (35.961 to 36.000)"]);
        // A cut aims at the middle.
        assert!((task.faces[2].across.expect("a size").aim_mm - 35.9805).abs() < 1e-12);
    }
    let inch = block(SIZES).replace("units = 'mm'", "units = 'inch'").replace("= 60", "= 2.5").replace("= 50", "= 2");
    let inch = inch
        .replace("width = 36", "width = '1.5 h11'")
        .replace("height = 36", "height = '38 mm k6'")
        .replace("= 44", "= 1.7");
    let task = task_of(&inch);
    assert_eq!(all(&task, Kind::Size)[1..], ["CE 37.94..38.1, ISO 286 h11", "DF 38.002..38.018, ISO 286 k6"]);
    assert!(task.part_words.starts_with("block 1.5 h11 x 1.496063 k6 x 1.7"), "{}", task.part_words);
}

#[test]
fn classes_that_the_drawing_names_are_taken_and_its_own_limits_go_before_them() {
    let task = task_of(&block(&format!("{SIZES}general = 'fK'\nflat = 0.03\n")));
    assert_eq!(
        all(&task, Kind::Size),
        ["AB 43.85..44.15, ISO 2768-1 f", "CE 35.85..36.15, ISO 2768-1 f", "DF 35.85..36.15, ISO 2768-1 f"]
    );
    // The flatness of K at 44 mm is 0.2, the width between the limits 0.3.
    assert_eq!(all(&task, Kind::Parallel)[1], "E to C 0..0.3, ISO 2768-2 K");
    assert_eq!(all(&task, Kind::Square)[0], "C to A 0..0.4, ISO 2768-2 K");
    assert_eq!(all(&task, Kind::Flat)[0], "A 0..0.03, the drawing");
    assert!(of(&task, Kind::Angle).is_empty(), "right angles go by part 2");
    assert!(task.assumed.iter().all(|row| !row.what.contains("limits of sizes")), "nothing was assumed");
    assert_eq!(task.limits_from, ["other sizes by ISO 2768-1 f (table from memory)"]);
    let expected = [
        "each flat square to its neighbours within 0.4 mm, by ISO 2768-2 K",
        "opposite flats parallel within 0.3 mm, by ISO 2768-2 K",
        "flats flat within 0.03 mm",
    ];
    assert_eq!(task.requirements, expected);
    // Part 2 alone: sizes are assumed as ever.
    let task = task_of(&block(&format!("{SIZES}general = 'H'\n")));
    assert_eq!(all(&task, Kind::Size)[1], "CE 35.7..36.3, ISO 2768-1 m");
    assert_eq!(all(&task, Kind::Flat)[0], "A 0..0.1, ISO 2768-2 H");
    assert!(task.assumed.iter().any(|row| row.what.contains("limits of sizes")));
}

#[test]
fn part_1_alone_covers_right_angles_by_the_shorter_leg() {
    let task = task_of(&block(&format!("{SIZES}general = 'm'\n")));
    assert_eq!(of(&task, Kind::Angle).len(), 12);
    let first = of(&task, Kind::Angle)[0];
    // 30 minutes over 36 mm.
    assert!((first.upper_mm - 36.0 * 0.5_f64.to_radians().tan()).abs() < 1e-12 && first.lower_mm == -first.upper_mm);
    assert_eq!((first.nominal_mm, first.from.as_str()), (36.0, "ISO 2768-1 m"));
    assert_eq!(task.limits_from[1], "angles by ISO 2768-1 m (table from memory)");
    let task = task_of(&block(&format!("{SIZES}general = 'm'\nsquare = 0.05\n")));
    assert!(of(&task, Kind::Angle).is_empty() && of(&task, Kind::Square).len() == 12);
}

#[test]
fn a_hexagon_has_angles_between_its_sides() {
    let hexagon = "regular = { sides = 6, across_flats = '30 h11' }\nlength = 44\nsquare = 0.06\nparallel = 0.05\n";
    let task = task_of(&prism(hexagon));
    assert_eq!(
        all(&task, Kind::Size)[1..],
        ["CF 29.87..30, ISO 286 h11", "DG 29.87..30, ISO 286 h11", "EH 29.87..30, ISO 286 h11"]
    );
    let square = of(&task, Kind::Square);
    assert!(square.len() == 12 && square.iter().all(|one| one.datum.is_some_and(|datum| datum < 2)));
    let angles = all(&task, Kind::Angle);
    assert_eq!(angles.len(), 6);
    let half_degree = (29.935 / 3.0_f64.sqrt() * 0.5_f64.to_radians().tan() * 1e6).round() / 1e6;
    assert_eq!(angles[0], format!("D to C -{half_degree}..{half_degree}, ISO 2768-1 m"));
    assert!(angles[1].starts_with("H to C") && angles[5].starts_with("H to G"), "{angles:?}");
    assert!(
        task.assumed
            .iter()
            .any(|row| row.what.starts_with("limits of angles") && row.value == "plus and minus 0.5 deg")
    );
    let task = task_of(&prism(&format!("{hexagon}angles = '0.1 deg'\n")));
    assert!(all(&task, Kind::Angle).iter().all(|says| says.ends_with("the drawing")));
    assert_eq!(task.requirements[2], "angles between sides within 0.1 deg either way");
    assert!(task.assumed.iter().all(|row| !row.what.starts_with("limits of angles")));
}

#[test]
fn a_side_without_an_opposite_is_asked_for_its_distance() {
    let triangle = "sides = [{ angle = 0, distance = '10 h9' }, { angle = 120, distance = { size = 10, plus = 0.1, minus = 0 } }, \
                    { angle = 240, distance = 10 }]\nlength = 44\n";
    let task = task_of(&prism(triangle));
    assert_eq!(
        all(&task, Kind::Distance),
        ["C 9.964..10, ISO 286 h9", "D 10..10.1, the drawing", "E 9.8..10.2, ISO 2768-1 m"]
    );
    assert_eq!(of(&task, Kind::Size).len(), 1);
    let three = task_of(&prism("regular = { sides = 3, across_flats = '20 h9' }\nlength = 44\n"));
    assert_eq!(all(&three, Kind::Distance)[0], "C 9.974..10, ISO 286 h9");
    let why = resolved(&prism(&format!("{triangle}position = 0.2\n"))).expect_err("no middle");
    assert!(why.contains("part.position") && why.contains("no two sides"), "{why}");
}

#[test]
fn a_class_without_limits_for_a_size_is_refused_at_its_key() {
    let why = resolved(&block("width = 2\nheight = 36\nlength = 44\ngeneral = 'v'\n")).expect_err("v begins over 3 mm");
    assert!(why.contains("part.general") && why.contains("no limits for 2 mm"), "{why}");
}

#[test]
fn two_distances_that_make_a_size_name_both_sources() {
    let sides = "sides = [{ angle = 0, distance = '18 h9' }, { angle = 90, distance = 18 }, { angle = 180, distance = 18 }, \
                 { angle = 270, distance = 18 }]\nlength = 44\n";
    let task = task_of(&prism(sides));
    assert_eq!(all(&task, Kind::Size)[1], "CE 35.757..36.2, ISO 286 h9 and ISO 2768-1 m");
}
