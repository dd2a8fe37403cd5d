//! Limits, fits and general tolerances against published ones.

use engine::part::{Deviations, Fit, GeometryClass, SizeClass, grade_um};

use crate::check::{Check, Near, row};

const MEMORY: &str = "ISO 286-1 and 286-2, worked call-outs; from memory";
const SEEN_2: &str = "machine-design textbook, example 3.2 (20 H7/s6), from a public file of its worked examples; seen";
const SEEN_3: &str = "machine-design textbook, example 3.3 (50 H7/s6), from a public file of its worked examples; seen";
const SEEN_14: &str = "ISO 286-1 table 1, as a public lesson cites it; seen";
const B42: &str = "ANSI B4.2, preferred sizes at 25 mm; from memory";
const FACTOR: &str = "ISO 286-1 annex, i = 0.45 D^(1/3) + 0.001 D; from memory, worked out apart from the program";
const GENERAL: &str = "ISO 2768-1 and 2768-2, as public pages print them; seen, as far as memory agrees";
const GENERAL_MEMORY: &str = "ISO 2768-1 and 2768-2; from memory";

fn deviations(code: &str, size_mm: f64) -> Deviations {
    let nothing = Deviations { upper_mm: f64::NAN, lower_mm: f64::NAN };
    Fit::read(code).and_then(|fit| fit.limits(size_mm)).unwrap_or(nothing)
}

fn upper(code: &str, size_mm: f64) -> f64 {
    deviations(code, size_mm).upper_mm * 1000.0
}

fn lower(code: &str, size_mm: f64) -> f64 {
    deviations(code, size_mm).lower_mm * 1000.0
}

fn grade(name: &str, size_mm: f64) -> f64 {
    grade_um(name, size_mm).unwrap_or(f64::NAN)
}

fn linear(class: SizeClass, size_mm: f64) -> f64 {
    class.linear_mm(size_mm).unwrap_or(f64::NAN)
}

pub fn checks() -> Vec<Check> {
    [limits(), clearances(), general()].concat()
}

fn limits() -> Vec<Check> {
    vec![
        row("T-01", "25 H7, upper limit", MEMORY, (21.0, upper("H7", 25.0)), "µm", Near::Within(0.05)),
        row("T-02", "25 H7, lower limit", MEMORY, (0.0, lower("H7", 25.0)), "µm", Near::Within(0.05)),
        row("T-03", "25 g6, upper limit", MEMORY, (-7.0, upper("g6", 25.0)), "µm", Near::Within(0.05)),
        row("T-04", "25 g6, lower limit", MEMORY, (-20.0, lower("g6", 25.0)), "µm", Near::Within(0.05)),
        row("T-05", "25 h6, upper limit", MEMORY, (0.0, upper("h6", 25.0)), "µm", Near::Within(0.05)),
        row("T-06", "25 h6, lower limit", MEMORY, (-13.0, lower("h6", 25.0)), "µm", Near::Within(0.05)),
        row("T-07", "25 k6, upper limit", MEMORY, (15.0, upper("k6", 25.0)), "µm", Near::Within(0.05)),
        row("T-08", "25 k6, lower limit", MEMORY, (2.0, lower("k6", 25.0)), "µm", Near::Within(0.05)),
        row("T-09", "25 n6, upper limit", MEMORY, (28.0, upper("n6", 25.0)), "µm", Near::Within(0.05)),
        row("T-10", "25 n6, lower limit", MEMORY, (15.0, lower("n6", 25.0)), "µm", Near::Within(0.05)),
        row("T-11", "25 p6, upper limit", MEMORY, (35.0, upper("p6", 25.0)), "µm", Near::Within(0.05)),
        row("T-12", "25 p6, lower limit", MEMORY, (22.0, lower("p6", 25.0)), "µm", Near::Within(0.05)),
        row("T-13", "25 s6, upper limit", MEMORY, (48.0, upper("s6", 25.0)), "µm", Near::Within(0.05)),
        row("T-14", "25 s6, lower limit", MEMORY, (35.0, lower("s6", 25.0)), "µm", Near::Within(0.05)),
        row("T-15", "25 u6, upper limit", MEMORY, (61.0, upper("u6", 25.0)), "µm", Near::Within(0.05)),
        row("T-16", "25 u6, lower limit", MEMORY, (48.0, lower("u6", 25.0)), "µm", Near::Within(0.05)),
        row("T-17", "25 js6, upper limit", MEMORY, (6.5, upper("js6", 25.0)), "µm", Near::Within(0.01)),
        row("T-18", "25 js6, lower limit", MEMORY, (-6.5, lower("js6", 25.0)), "µm", Near::Within(0.01)),
        row("T-19", "25 f7, upper limit", MEMORY, (-20.0, upper("f7", 25.0)), "µm", Near::Within(0.05)),
        row("T-20", "25 f7, lower limit", MEMORY, (-41.0, lower("f7", 25.0)), "µm", Near::Within(0.05)),
        row("T-21", "25 d9, upper limit", MEMORY, (-65.0, upper("d9", 25.0)), "µm", Near::Within(0.05)),
        row("T-22", "25 d9, lower limit", MEMORY, (-117.0, lower("d9", 25.0)), "µm", Near::Within(0.05)),
        row("T-23", "25 c11, upper limit", MEMORY, (-110.0, upper("c11", 25.0)), "µm", Near::Within(0.05)),
        row("T-24", "25 c11, lower limit", MEMORY, (-240.0, lower("c11", 25.0)), "µm", Near::Within(0.05)),
        row("T-25", "25 K7, upper limit", MEMORY, (6.0, upper("K7", 25.0)), "µm", Near::Within(0.05)),
        row("T-26", "25 K7, lower limit", MEMORY, (-15.0, lower("K7", 25.0)), "µm", Near::Within(0.05)),
        row("T-27", "25 M7, upper limit", MEMORY, (0.0, upper("M7", 25.0)), "µm", Near::Within(0.05)),
        row("T-28", "25 M7, lower limit", MEMORY, (-21.0, lower("M7", 25.0)), "µm", Near::Within(0.05)),
        row("T-29", "25 N7, upper limit", MEMORY, (-7.0, upper("N7", 25.0)), "µm", Near::Within(0.05)),
        row("T-30", "25 N7, lower limit", MEMORY, (-28.0, lower("N7", 25.0)), "µm", Near::Within(0.05)),
        row("T-31", "25 P7, upper limit", MEMORY, (-14.0, upper("P7", 25.0)), "µm", Near::Within(0.05)),
        row("T-32", "25 P7, lower limit", MEMORY, (-35.0, lower("P7", 25.0)), "µm", Near::Within(0.05)),
        row("T-33", "25 JS7, upper limit", MEMORY, (10.5, upper("JS7", 25.0)), "µm", Near::Within(0.01)),
        row("T-34", "25 JS7, lower limit", MEMORY, (-10.5, lower("JS7", 25.0)), "µm", Near::Within(0.01)),
        row("T-35", "20 H7, upper limit", SEEN_2, (21.0, upper("H7", 20.0)), "µm", Near::Within(0.05)),
        row("T-36", "20 H7, lower limit", SEEN_2, (0.0, lower("H7", 20.0)), "µm", Near::Within(0.05)),
        row("T-37", "20 s6, upper limit", SEEN_2, (48.0, upper("s6", 20.0)), "µm", Near::Within(0.05)),
        row("T-38", "20 s6, lower limit", SEEN_2, (35.0, lower("s6", 20.0)), "µm", Near::Within(0.05)),
        row("T-39", "50 H7, upper limit", SEEN_3, (25.0, upper("H7", 50.0)), "µm", Near::Within(0.05)),
        row("T-40", "50 H7, lower limit", SEEN_3, (0.0, lower("H7", 50.0)), "µm", Near::Within(0.05)),
        row("T-41", "50 s6, upper limit", SEEN_3, (59.0, upper("s6", 50.0)), "µm", Near::Within(0.05)),
        row("T-42", "50 s6, lower limit", SEEN_3, (43.0, lower("s6", 50.0)), "µm", Near::Within(0.05)),
        row("T-43", "100 H6, upper limit", MEMORY, (22.0, upper("H6", 100.0)), "µm", Near::Within(0.05)),
        row("T-44", "100 H6, lower limit", MEMORY, (0.0, lower("H6", 100.0)), "µm", Near::Within(0.05)),
        row("T-45", "100 g5, upper limit", MEMORY, (-12.0, upper("g5", 100.0)), "µm", Near::Within(0.05)),
        row("T-46", "100 g5, lower limit", MEMORY, (-27.0, lower("g5", 100.0)), "µm", Near::Within(0.05)),
        row("T-47", "60 H8, upper limit", MEMORY, (46.0, upper("H8", 60.0)), "µm", Near::Within(0.05)),
        row("T-48", "60 H8, lower limit", MEMORY, (0.0, lower("H8", 60.0)), "µm", Near::Within(0.05)),
        row("T-49", "60 f7, upper limit", MEMORY, (-30.0, upper("f7", 60.0)), "µm", Near::Within(0.05)),
        row("T-50", "60 f7, lower limit", MEMORY, (-60.0, lower("f7", 60.0)), "µm", Near::Within(0.05)),
        row("T-51", "16 k6, upper limit", MEMORY, (12.0, upper("k6", 16.0)), "µm", Near::Within(0.05)),
        row("T-52", "16 k6, lower limit", MEMORY, (1.0, lower("k6", 16.0)), "µm", Near::Within(0.05)),
        row("T-53", "10 h6, upper limit", MEMORY, (0.0, upper("h6", 10.0)), "µm", Near::Within(0.05)),
        row("T-54", "10 h6, lower limit", MEMORY, (-9.0, lower("h6", 10.0)), "µm", Near::Within(0.05)),
    ]
}

fn clearances() -> Vec<Check> {
    vec![
        row(
            "T-55",
            "25 H7/g6, least clearance",
            MEMORY,
            (7.0, lower("H7", 25.0) - upper("g6", 25.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-56",
            "25 H7/g6, most clearance",
            MEMORY,
            (41.0, upper("H7", 25.0) - lower("g6", 25.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-57",
            "25 H8/f7, least clearance",
            MEMORY,
            (20.0, lower("H8", 25.0) - upper("f7", 25.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-58",
            "25 H8/f7, most clearance",
            MEMORY,
            (74.0, upper("H8", 25.0) - lower("f7", 25.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-59",
            "50 H7/g6, least clearance",
            MEMORY,
            (9.0, lower("H7", 50.0) - upper("g6", 50.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-60",
            "50 H7/g6, most clearance",
            MEMORY,
            (50.0, upper("H7", 50.0) - lower("g6", 50.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-61",
            "40 H7/p6, least clearance",
            MEMORY,
            (-42.0, lower("H7", 40.0) - upper("p6", 40.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-62",
            "40 H7/p6, most clearance",
            MEMORY,
            (-1.0, upper("H7", 40.0) - lower("p6", 40.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-63",
            "50 H7/s6, least clearance",
            SEEN_3,
            (-59.0, lower("H7", 50.0) - upper("s6", 50.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-64",
            "50 H7/s6, most clearance",
            SEEN_3,
            (-18.0, upper("H7", 50.0) - lower("s6", 50.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-65",
            "20 H7/s6, least clearance",
            SEEN_2,
            (-48.0, lower("H7", 20.0) - upper("s6", 20.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-66",
            "20 H7/s6, most clearance",
            SEEN_2,
            (-14.0, upper("H7", 20.0) - lower("s6", 20.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-67",
            "100 H6/g5, least clearance",
            MEMORY,
            (12.0, lower("H6", 100.0) - upper("g5", 100.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-68",
            "100 H6/g5, most clearance",
            MEMORY,
            (49.0, upper("H6", 100.0) - lower("g5", 100.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-69",
            "60 H8/f7, least clearance",
            MEMORY,
            (30.0, lower("H8", 60.0) - upper("f7", 60.0)),
            "µm",
            Near::Within(0.05),
        ),
        row(
            "T-70",
            "60 H8/f7, most clearance",
            MEMORY,
            (106.0, upper("H8", 60.0) - lower("f7", 60.0)),
            "µm",
            Near::Within(0.05),
        ),
        row("T-71", "120 H7 belongs to the range 80-120", MEMORY, (35.0, upper("H7", 120.0)), "µm", Near::Within(0.05)),
        row("T-72", "120.01 H7 to the next", MEMORY, (40.0, upper("H7", 120.01)), "µm", Near::Within(0.05)),
        row("T-73", "IT14 at 10 mm", SEEN_14, (360.0, grade("14", 10.0)), "µm", Near::Within(0.5)),
        row("T-74", "IT14 at 100 mm", SEEN_14, (870.0, grade("14", 100.0)), "µm", Near::Within(0.5)),
        row(
            "T-75",
            "25 H7 as a largest size",
            B42,
            (25.021, 25.0 + upper("H7", 25.0) / 1000.0),
            "mm",
            Near::Within(0.0005),
        ),
        row(
            "T-76",
            "25 g6 as a largest size",
            B42,
            (24.993, 25.0 + upper("g6", 25.0) / 1000.0),
            "mm",
            Near::Within(0.0005),
        ),
        row(
            "T-77",
            "25 f7 as a largest size",
            B42,
            (24.980, 25.0 + upper("f7", 25.0) / 1000.0),
            "mm",
            Near::Within(0.0005),
        ),
        row(
            "T-78",
            "25 d9 as a largest size",
            B42,
            (24.935, 25.0 + upper("d9", 25.0) / 1000.0),
            "mm",
            Near::Within(0.0005),
        ),
        row(
            "T-79",
            "25 c11 as a largest size",
            B42,
            (24.890, 25.0 + upper("c11", 25.0) / 1000.0),
            "mm",
            Near::Within(0.0005),
        ),
        row(
            "T-80",
            "25 H9 as a largest size",
            B42,
            (25.052, 25.0 + upper("H9", 25.0) / 1000.0),
            "mm",
            Near::Within(0.0005),
        ),
        row(
            "T-81",
            "25 H11 as a largest size",
            B42,
            (25.130, 25.0 + upper("H11", 25.0) / 1000.0),
            "mm",
            Near::Within(0.0005),
        ),
        row(
            "T-82",
            "tolerance factor i of the range 30-50",
            FACTOR,
            (1.56124, engine::part::tolerance_factor_um(30.0, 50.0)),
            "µm",
            Near::Within(5e-06),
        ),
        row(
            "T-83",
            "16 i of that range is not the table's IT7, which counts",
            FACTOR,
            (25.0, grade("7", 40.0)),
            "µm",
            Near::Within(0.05),
        ),
    ]
}

fn general() -> Vec<Check> {
    vec![
        row(
            "T-84",
            "ISO 2768-f, linear, at 50 mm",
            GENERAL,
            (0.15, linear(SizeClass::Fine, 50.0)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-85",
            "ISO 2768-m, linear, at 50 mm",
            GENERAL,
            (0.3, linear(SizeClass::Medium, 50.0)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-86",
            "ISO 2768-v, linear, at 50 mm",
            GENERAL,
            (1.5, linear(SizeClass::VeryCoarse, 50.0)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-87",
            "ISO 2768-m, linear, at 120 mm",
            GENERAL,
            (0.3, linear(SizeClass::Medium, 120.0)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-88",
            "ISO 2768-m, linear, at 120.5 mm",
            GENERAL,
            (0.5, linear(SizeClass::Medium, 120.5)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-89",
            "ISO 2768-f, linear, at 6 mm",
            GENERAL,
            (0.05, linear(SizeClass::Fine, 6.0)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-90",
            "ISO 2768-f, linear, at 6.5 mm",
            GENERAL,
            (0.1, linear(SizeClass::Fine, 6.5)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-91",
            "ISO 2768-c, linear, at 50 mm",
            GENERAL_MEMORY,
            (0.8, linear(SizeClass::Coarse, 50.0)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-92",
            "ISO 2768-m, angles, shorter leg 40 mm",
            GENERAL_MEMORY,
            (0.5, SizeClass::Medium.angular_deg(40.0).unwrap_or(f64::NAN)),
            "deg",
            Near::Within(1e-09),
        ),
        row(
            "T-93",
            "ISO 2768-c, angles, shorter leg 130 mm",
            GENERAL_MEMORY,
            (0.25, SizeClass::Coarse.angular_deg(130.0).unwrap_or(f64::NAN)),
            "deg",
            Near::Within(1e-09),
        ),
        row(
            "T-94",
            "ISO 2768-v, angles, shorter leg 9 mm",
            GENERAL_MEMORY,
            (3.0, SizeClass::VeryCoarse.angular_deg(9.0).unwrap_or(f64::NAN)),
            "deg",
            Near::Within(1e-09),
        ),
        row(
            "T-95",
            "ISO 2768-K, flatness, longer side 50 mm",
            GENERAL,
            (0.2, GeometryClass::K.flat_mm(50.0).unwrap_or(f64::NAN)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-96",
            "ISO 2768-H, flatness, longer side 50 mm",
            GENERAL,
            (0.1, GeometryClass::H.flat_mm(50.0).unwrap_or(f64::NAN)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-97",
            "ISO 2768-L, flatness, longer side 250 mm",
            GENERAL,
            (0.8, GeometryClass::L.flat_mm(250.0).unwrap_or(f64::NAN)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-98",
            "ISO 2768-K, perpendicularity, shorter leg 50 mm",
            GENERAL_MEMORY,
            (0.4, GeometryClass::K.square_mm(50.0).unwrap_or(f64::NAN)),
            "mm",
            Near::Within(1e-09),
        ),
        row(
            "T-99",
            "ISO 2768-H, perpendicularity, shorter leg 150 mm",
            GENERAL_MEMORY,
            (0.3, GeometryClass::H.square_mm(150.0).unwrap_or(f64::NAN)),
            "mm",
            Near::Within(1e-09),
        ),
    ]
}
