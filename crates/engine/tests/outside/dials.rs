//! Dials: set-over, screws, paint, bands narrower than a mark, turns counted.
//!
//! `set_over` in our files is measured from along the bed, and the depth when facing is
//! travel × cos(set over). A top slide set at theta from the spindle axis moves travel × sin(theta)
//! across the bed. Each check says which of the two it uses.

use engine::dial::{Dial, Wanted, advance, split};
use engine::quantity::{Length, Plain, degrees, inch, mm, show};
use engine::shop::{DialUnit, Reads, Slide};

use crate::check::{Check, Near};

const CLOSED: &str = "closed form, worked by hand from the numbers in the first column";
const FINE: &str = "closed form; natural sines to four figures, from memory";
const ISO_286: &str = "limits of ISO 286-2, from memory; mark 0.001 in = 0.0254 mm; worked by hand";
const THREAD: &str =
    "ISO 68-1 external thread, depth 17/24 of the sharp V of sqrt(3)/2 P, from memory; depth / cos, worked by hand";
const INFEED: &str =
    "workshop table of thread infeed along a 30 degree slide (ww2.cgtk.co.uk/metalwork/data/threadinfeed), two places";
const NIST: &str = "NIST SP 811, appendix B.8, from memory";

pub fn checks() -> Vec<Check> {
    [turns(), bands(), paint(), set_over(), infeed(), screws(), units()].concat()
}

fn turns() -> Vec<Check> {
    let top = dial(&thousandths(0.125));
    let (cross, top_metric) = (dial(&on_diameter(metric(0.05, 5.0))), dial(&metric(0.02, 3.0)));
    let one = top.reading(0.125 * 25.4);
    let more = top.reading(0.175 * 25.4);
    vec![
        check(
            "D-01",
            "whole turns for 0.125 in deep, dial of 0.125 in a turn",
            CLOSED,
            (1.0, f64::from(one.turns)),
            "turn",
            0.0,
        ),
        check("D-02", "what the ring shows there: zero again", CLOSED, (0.0, one.reading), "in", 1e-12),
        check("D-03", "whole turns for 0.175 in on the same dial", CLOSED, (1.0, f64::from(more.turns)), "turn", 0.0),
        check("D-04", "what the ring shows there: 0.175 - 0.125", CLOSED, (0.05, more.reading), "in", 1e-9),
        check(
            "D-05",
            "3.5 mm deep on a dial that reads diameter, 5 mm a turn: 7 mm counted, ring after one turn",
            CLOSED,
            (2.0, cross.reading(3.5).reading),
            "mm",
            1e-9,
        ),
        check(
            "D-06",
            "3.5 mm deep on a dial that reads travel, 3 mm a turn: ring after one turn",
            CLOSED,
            (0.5, top_metric.reading(3.5).reading),
            "mm",
            1e-9,
        ),
        check(
            "D-07",
            "depth after 0.150 in counted on a collar that reads diameter",
            "textbook problem statement: 0.150 in on the collar is 0.075 in deep",
            (0.075, depth_of(&dial(&on_diameter(thousandths(0.2))), 150) / 25.4),
            "in",
            1e-9,
        ),
        check(
            "D-08",
            "0.125 in with 0.013 in to finish and 0.028 in at most: number of cuts",
            "closed form: 0.125 = 4 x 0.028 + 0.013",
            (5.0, cuts().len() as f64),
            "cuts",
            0.0,
        ),
        check(
            "D-09",
            "depth of the fourth of those cuts",
            "closed form: 0.125 = 4 x 0.028 + 0.013",
            (0.028, cuts().get(3).copied().unwrap_or(0.0)),
            "in",
            1e-9,
        ),
    ]
}

fn bands() -> Vec<Check> {
    let plain = dial(&thousandths(0.1));
    let fine = dial(&set_over_by(thousandths(0.1), 84.26));
    vec![
        check("D-10", "0.315 mm of travel in marks of 0.001 in", CLOSED, (12.4, plain.in_marks(0.315)), "marks", 0.05),
        check(
            "D-11",
            "band of 25 k6 (+15, +2 um on diameter) in marks of 0.001 in travel",
            ISO_286,
            (0.26, plain.in_marks(0.013 / 2.0)),
            "marks",
            0.005,
        ),
        check(
            "D-12",
            "band of 20 f7 (-20, -41 um on diameter) in marks of 0.001 in travel",
            ISO_286,
            (0.41, plain.in_marks(0.021 / 2.0)),
            "marks",
            0.005,
        ),
        check(
            "D-13",
            "a band of 0.0105 mm on a face, slide set over 84.26 degrees from along the bed (depth = travel x cos): marks",
            "closed form: 0.0105 / (0.0254 x 0.1), ten times what the slide gives square on",
            (4.13, fine.in_marks(0.0105)),
            "marks",
            0.005,
        ),
        check(
            "D-14",
            "0.920 mm deep, straight in, in marks of 0.001 in",
            CLOSED,
            (36.2, plain.in_marks(0.920)),
            "marks",
            0.05,
        ),
    ]
}

fn paint() -> Vec<Check> {
    let mut slide = thousandths(0.04);
    slide.screw = Some(mm(1.0));
    let dial = dial(&slide);
    vec![
        check(
            "D-15",
            "forty marks of 0.001 in on a screw of 1 mm: real travel",
            CLOSED,
            (0.0394, depth_of(&dial, 40) / 25.4),
            "in",
            5e-5,
        ),
        check(
            "D-16",
            "what its paint claims too much: 1.016 mm for 1 mm",
            CLOSED,
            (1.6, (dial.painted_travel_mm / dial.travel_per_turn_mm - 1.0) * 100.0),
            "%",
            1e-6,
        ),
        check(
            "D-17",
            "marks of 0.02 mm on the ring of a screw of 10 to the inch",
            "closed form: 2.54 / 0.02",
            (127.0, f64::from(self::dial(&metric(0.02, 2.54)).marks_per_turn)),
            "marks",
            0.0,
        ),
    ]
}

fn set_over() -> Vec<Check> {
    let facing = |angle: f64| dial(&set_over_by(metric(0.02, 1.0), angle)).turn_depth_mm;
    let turning = |angle: f64| advance::across_bed_mm(1.0, degrees(angle).plain());
    vec![
        check(
            "D-18",
            "depth per travel when turning, top slide 5.739 degrees from the axis (sin)",
            FINE,
            (0.1, turning(5.739)),
            "1",
            5e-5,
        ),
        check("D-19", "the same at 6 degrees", FINE, (0.1045, turning(6.0)), "1", 5e-5),
        check(
            "D-20",
            "the same at 30 degrees: the dial equals the change on diameter",
            FINE,
            (0.5, turning(30.0)),
            "1",
            1e-12,
        ),
        check("D-21", "the same at 0.573 degrees", FINE, (0.01, turning(0.573)), "1", 5e-6),
        check(
            "D-22",
            "the same at 0.6 degrees: not a hundred to one",
            "closed form theta - theta^3 / 6, theta = 0.6 degrees in rad",
            (0.010_472, turning(0.6)),
            "1",
            5e-7,
        ),
        check("D-23", "travel per depth at 6 degrees: not ten to one", FINE, (9.57, 1.0 / turning(6.0)), "1", 0.005),
        check(
            "D-24",
            "depth per travel when facing, set over 84.26 degrees from along the bed (cos)",
            FINE,
            (0.1, facing(84.26)),
            "1",
            5e-5,
        ),
        check("D-25", "the same at 60 degrees", FINE, (0.5, facing(60.0)), "1", 1e-12),
        check(
            "D-26",
            "set-over from along the bed for ten to one",
            "closed form: 90 degrees - arcsin(0.1)",
            (84.26, advance::set_over_for_depth_rad(0.1).map_or(f64::NAN, f64::to_degrees)),
            "degrees",
            0.005,
        ),
    ]
}

/// Travel along a slide at an angle from the cross-slide, for a depth across the bed.
fn along_slide_mm(depth_mm: f64, from_cross_slide: f64) -> f64 {
    depth_mm / advance::across_bed_mm(1.0, degrees(90.0 - from_cross_slide).plain())
}

fn infeed() -> Vec<Check> {
    let marks = dial(&thousandths(0.1)).in_marks(along_slide_mm(0.920, 29.5));
    let depth = 17.0 / 24.0 * 3.0_f64.sqrt() / 2.0;
    vec![
        check(
            "D-27",
            "0.920 mm deep along a slide 29.5 degrees from the cross-slide, in marks of 0.001 in",
            CLOSED,
            (41.6, marks),
            "marks",
            0.05,
        ),
        check("D-28", "infeed along 29 degrees, in pitches", THREAD, (0.7014, along_slide_mm(depth, 29.0)), "P", 5e-5),
        check(
            "D-29",
            "infeed along 29.5 degrees, in pitches",
            THREAD,
            (0.7048, along_slide_mm(depth, 29.5)),
            "P",
            5e-5,
        ),
        check("D-30", "infeed along 30 degrees, in pitches", THREAD, (0.7083, along_slide_mm(depth, 30.0)), "P", 5e-5),
        check(
            "D-31",
            "pitch 1.0 mm, depth as in D-28: infeed along 30 degrees",
            INFEED,
            (0.71, along_slide_mm(depth, 30.0)),
            "mm",
            0.005,
        ),
        check(
            "D-32",
            "pitch 1.5 mm, depth as in D-28: infeed along 30 degrees",
            INFEED,
            (1.06, along_slide_mm(1.5 * depth, 30.0)),
            "mm",
            0.005,
        ),
        check(
            "D-33",
            "pitch 2.0 mm, depth as in D-28: infeed along 30 degrees",
            INFEED,
            (1.42, along_slide_mm(2.0 * depth, 30.0)),
            "mm",
            0.005,
        ),
    ]
}

fn screws() -> Vec<Check> {
    // A jaw screw is read like a dial: 20 threads to the inch, quarter turns counted.
    let mut jaw = thousandths(0.05);
    jaw.screw = Some(inch(1.0 / 20.0));
    let metric_jaw = dial(&metric(0.5, 4.0));
    let turns = metric_jaw.reading(6.5).marks as f64 / f64::from(metric_jaw.marks_per_turn);
    vec![
        check(
            "D-34",
            "jaw screw of 20 to the inch: a turn",
            "closed form: 1 / 20",
            (0.05, dial(&jaw).turn_depth_mm / 25.4),
            "in",
            1e-12,
        ),
        check(
            "D-35",
            "jaw screw of 4 mm a turn: turns for 6.5 mm",
            "closed form: 6.5 / 4",
            (1.625, turns),
            "turns",
            1e-12,
        ),
    ]
}

fn units() -> Vec<Check> {
    vec![
        check(
            "D-36",
            "an inch",
            "international yard and pound agreement of 1959, exact",
            (25.4, inch(1.0).plain()),
            "mm",
            1e-12,
        ),
        check("D-37", "a pound-force", NIST, (4.448_222, show::NEWTONS_PER_LBF), "N", 5e-7),
        check("D-38", "a horsepower of 550 foot pound-force a second", NIST, (745.6999, show::WATTS_PER_HP), "W", 5e-5),
        check("D-39", "a pound", NIST, (0.453_592_4, show::KG_PER_LB), "kg", 5e-8),
    ]
}

fn check(
    id: &'static str,
    what: &'static str,
    source: &'static str,
    (theirs, ours): (f64, f64),
    unit: &'static str,
    within: f64,
) -> Check {
    Check { id, what, source, theirs, ours, unit, near: Near::Within(within) }
}

fn cuts() -> Vec<f64> {
    let thou = 0.0254;
    let wanted = Wanted {
        total_mm: 125.0 * thou,
        finish_mm: 13.0 * thou,
        least_finish_mm: 5.0 * thou,
        deepest_mm: 28.0 * thou,
        least_first_mm: 0.0,
        least_mm: 5.0 * thou,
    };
    let cuts = split(&wanted, &dial(&thousandths(0.125))).unwrap_or_default();
    cuts.iter().map(|cut| cut.depth_mm / 25.4).collect()
}

fn depth_of(dial: &Dial, marks: u64) -> f64 {
    dial.depth_of_mm(marks)
}

fn dial(slide: &Slide) -> Dial {
    Dial::new(slide).expect("the slides of these checks are sound")
}

fn thousandths(per_turn: f64) -> Slide {
    slide(inch(0.001), inch(per_turn), DialUnit::Inch)
}

fn metric(graduation: f64, per_turn: f64) -> Slide {
    slide(mm(graduation), mm(per_turn), DialUnit::Mm)
}

fn on_diameter(slide: Slide) -> Slide {
    Slide { reads: Reads::Diameter, ..slide }
}

fn set_over_by(slide: Slide, from_along_the_bed: f64) -> Slide {
    Slide { set_over: degrees(from_along_the_bed), ..slide }
}

fn slide(graduation: Length, per_turn: Length, unit: DialUnit) -> Slide {
    let (reads, set_over) = (Reads::Depth, degrees(0.0));
    Slide { graduation, per_turn, unit, reads, screw: None, travel: None, backlash: None, set_over }
}
