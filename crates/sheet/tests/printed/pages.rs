//! Pages: paper, margins, each set-up whole on facing pages, the same bytes each time.

use engine::plan::Outcome;
use sheet::{Paper, Setting};

use crate::bench::{Copy, DATE, flat, placed, poppler};

pub fn the_paper_is_what_was_asked_for(copy: &Copy) {
    let info = String::from_utf8(poppler("pdfinfo", &copy.sheet.pdf, &["-l", "-1"], &[])).unwrap();
    let sizes: Vec<&str> = info.lines().filter(|line| line.contains("size:") && line.starts_with("Page ")).collect();
    assert!(sizes.len() >= copy.laid.len(), "{info}");
    // ISO 216 A4 in points of 1/72 in, to poppler's three places; US Letter 8.5 in by 11 in.
    let paper = if copy.paper == Paper::A4 { "595.276 x 841.89 pts (A4)" } else { "612 x 792 pts (letter)" };
    assert!(sizes.iter().all(|line| line.contains(paper)), "{}: {sizes:?}", copy.called());
}

pub fn each_set_up_has_its_own_pages_and_two_of_them_face_one_another(copy: &Copy) {
    let of = copy.plan.set_ups.len();
    let mut last = 1;
    for set_up in &copy.plan.set_ups {
        let pages = copy.pages_of(&format!("Set-up {} of {of}", set_up.number));
        // In a binder an even page lies left of the next odd one.
        // After the last one nothing has to face its own steps.
        let paired = matches!(pages.len(), 2 | 4) || set_up.number as usize == of && pages.len() == 3;
        assert!(paired, "{}: set-up {} on {pages:?}", copy.called(), set_up.number);
        assert!(pages[0].is_multiple_of(2), "{}: {pages:?}", copy.called());
        assert_eq!(pages[0], last + 1, "{}", copy.called());
        let heading = format!("Set-up {} of {of}: cut {}", set_up.number, set_up.cuts_faces.join(", "));
        assert!(copy.words_of(&pages[..1]).contains(&heading), "{}: {heading}", copy.called());
        last = pages[pages.len() - 1];
    }
    if copy.plan.outcome == Outcome::Planned {
        assert_eq!(copy.pages_of("Inspection report"), [copy.laid.len()], "{}", copy.called());
        let tables = copy.pages_of("Reading tables");
        assert!(tables.iter().copied().eq(last + 1..=last + tables.len()), "{}: {tables:?}", copy.called());
        assert_eq!(copy.pages_of("Working").first(), Some(&(last + tables.len() + 1)), "{}", copy.called());
    }
}

pub fn pictures_of_all_set_ups_have_one_scale(copy: &Copy) {
    let of = copy.plan.set_ups.len();
    let scales = |only: fn(&str) -> bool| -> std::collections::BTreeSet<String> {
        let pages = (1..=of).flat_map(|number| copy.pages_of(&format!("Set-up {number} of {of}")));
        let words: Vec<String> = pages.map(|page| flat(&copy.read[page - 1])).filter(|words| only(words)).collect();
        let after = |words: &String| -> Vec<String> {
            let cuts = words.split("scale ").skip(1);
            cuts.filter_map(|rest| rest.split(' ').next())
                .filter(|word| word.contains(':'))
                .map(str::to_string)
                .collect()
        };
        words.iter().flat_map(after).collect()
    };
    // The views of the chuck have one; the piece before and after the same or the next smaller one of ISO 5455, of which
    // none is less than 0.4 times the one before it.
    let all: Vec<f64> = scales(|words| words.contains("What the hands do") || words.contains("comes off"))
        .iter()
        .map(|scale| ratio(scale))
        .collect();
    assert!(matches!(all.len(), 1 | 2), "{}: {all:?}", copy.called());
    let [least, most] = [all.iter().copied().fold(f64::MAX, f64::min), all.iter().copied().fold(0.0, f64::max)];
    assert!(least / most >= 0.4 - 1e-9, "{}: {all:?}", copy.called());
    // Each set-up has as many mentions of the larger as every other: no view of the chuck falls out of line.
    for number in 1..=of {
        let first = copy.pages_of(&format!("Set-up {number} of {of}"))[0];
        let words = flat(&copy.read[first - 1]);
        let large = words.split("scale ").skip(1).filter(|rest| {
            rest.split(' ').next().is_some_and(|word| word.contains(':') && (ratio(word) - most).abs() < 1e-9)
        });
        assert!(large.count() >= 2, "{}: set-up {number} in {words}", copy.called());
    }
}

/// "1:2" as a number.
fn ratio(scale: &str) -> f64 {
    let (paper, real) = scale.split_once(':').unwrap();
    let number = |text: &str| text.trim_matches(|letter: char| !letter.is_ascii_digit()).parse::<f64>().unwrap();
    number(paper) / number(real)
}

/// Frames of dial numbers stand 1.1 mm out of their line above and below; letters of steps keep clear of them.
pub fn frames_of_dial_numbers_keep_clear_of_other_steps(copy: &Copy) {
    const FRAME_OUT_MM: f64 = 1.1;
    let words = placed(&copy.sheet.pdf);
    let frames = words.iter().filter(|word| word.says == "PASS");
    let mut seen = 0;
    for pass in frames {
        // A frame of a word reaches from the ascenders to the descenders: capitals of 3.5 mm in a size of 4.8 mm.
        let middle = (pass.frame_mm[1] + pass.frame_mm[3]) / 2.0;
        for other in words.iter().filter(|other| other.page == pass.page) {
            let off = (other.frame_mm[1] + other.frame_mm[3]) / 2.0 - middle;
            let inked = if other.frame_mm[3] - other.frame_mm[1] > 4.5 { 1.75 } else { 1.25 };
            let same_line = off.abs() < 1.5;
            assert!(
                same_line || off.abs() >= 1.75 + FRAME_OUT_MM + inked,
                "{}: {other:?} is {off:.2} mm from {pass:?}",
                copy.called()
            );
        }
        seen += 1;
    }
    assert!(seen >= copy.plan.set_ups.iter().map(|set_up| set_up.passes.len()).sum::<usize>());
}

/// As many as were reached when this was written, the forecast beside the inspection report where there is room; a page
/// more is a page too many.
#[test]
fn the_guide_block_takes_few_pages_and_its_first_set_up_two() {
    for (paper, most) in [(Paper::A4, 25), (Paper::Letter, 27)] {
        let copy = crate::bench::copy("guide-block", crate::bench::example("guide-block"), paper);
        assert!(copy.laid.len() <= most, "{}: {} pages", copy.called(), copy.laid.len());
        assert_eq!(copy.pages_of("Set-up 1 of 6").len(), 2, "{}", copy.called());
    }
}

/// A page of a few lines is a page wasted; only the last one of the working ends where it ends.
pub fn no_page_has_only_a_few_lines(copy: &Copy) {
    const FEW: usize = 14;
    let working = copy.pages_of("Working");
    for (at, page) in copy.laid.iter().enumerate().filter(|(at, _)| working.last() != Some(&(at + 1))) {
        let lines = page.lines().filter(|line| !line.trim().is_empty()).count();
        assert!(lines >= FEW, "{}: page {} has {lines} lines", copy.called(), at + 1);
    }
}

/// A picture of the order no wider than a thumbnail tells nothing: across the bar as it is bought, at the scale that is
/// written under the strip.
pub fn pieces_of_the_order_can_be_told_apart(copy: &Copy) {
    // Ten set-ups on Letter leave the hub so much.
    const TOLD_APART_MM: f64 = 8.5;
    let words = copy.words_of(&[1]);
    let scale = words.split("the face cut; scale ").nth(1).and_then(|rest| rest.split(' ').next()).unwrap();
    let wide_mm = copy.plan.stock.least_round_mm * ratio(scale);
    assert!(wide_mm >= TOLD_APART_MM, "{}: {wide_mm:.1} mm at {scale}", copy.called());
}

pub fn a_table_of_passes_is_never_cut(copy: &Copy) {
    for (at, set_up) in copy.plan.set_ups.iter().enumerate() {
        let first = copy.pages_of(&format!("Set-up {} of {}", at + 1, copy.plan.set_ups.len()))[0];
        let page = copy.words_of(&[first]);
        for pass in &set_up.passes {
            let dial = pass.dial.as_str();
            assert!(page.contains(dial), "{}: {dial} on page {first}", copy.called());
        }
    }
}

/// From the last letter of the column before to the first of the column after, which is 15 mm wide.
pub fn a_hand_finds_24_mm_to_write_its_reading(copy: &Copy) {
    let words = placed(&copy.sheet.pdf);
    for number in 1..=copy.plan.set_ups.len() {
        let page = copy.pages_of(&format!("Set-up {number} of {}", copy.plan.set_ups.len()))[0];
        let on: Vec<_> = words.iter().filter(|word| word.page == page).collect();
        let head = on.iter().find(|word| word.says == "Initials").unwrap();
        let kinds = ["clean-up", "rough", "finish"];
        let kinds = on.iter().filter(|word| kinds.contains(&word.says.as_str()) && word.frame_mm[1] > head.frame_mm[1]);
        let before = kinds.map(|word| word.frame_mm[2]).filter(|right| *right < head.frame_mm[0]).fold(0.0, f64::max);
        // Head and inset of the next column, and the inset of the one before.
        let off = (15.0 - (head.frame_mm[2] - head.frame_mm[0])) / 2.0 + 1.0;
        assert!(before > 0.0 && head.frame_mm[0] - before - off >= 24.0, "{}: set-up {number}", copy.called());
    }
}

pub fn nothing_stands_in_the_margin_of_a_binder(copy: &Copy) {
    let [width_mm, height_mm] = copy.paper.size_mm();
    for word in placed(&copy.sheet.pdf) {
        let [left, top, right, bottom] = word.frame_mm;
        assert!(left >= 20.0 - 0.05 && right <= width_mm - 20.0 + 0.05, "{}: {word:?}", copy.called());
        assert!(top >= 5.0 && bottom <= height_mm - 5.0, "{}: {word:?}", copy.called());
    }
}

/// The title block stands alone at the foot: no table and no picture runs into it.
pub fn nothing_but_the_title_block_stands_at_the_foot(copy: &Copy) {
    // The template's own foot: 16.5 mm, the block 2 mm below its upper edge.
    const FOOT_MM: f64 = 16.5;
    const BELOW_MM: f64 = 2.0 - 0.2;
    let [_, height_mm] = copy.paper.size_mm();
    let fields = format!(
        "Job Sheet Date Approved Page of Overview Set-up Reading tables Working Forecast Inspection report {DATE} {}",
        copy.plan.title
    );
    let is_number = |says: &str| says.parse::<usize>().is_ok_and(|number| number <= copy.laid.len());
    for word in placed(&copy.sheet.pdf).iter().filter(|word| word.frame_mm[3] > height_mm - FOOT_MM + BELOW_MM) {
        let says = word.says.trim_end_matches('…');
        assert!(fields.contains(says) || is_number(says), "{}: {word:?}", copy.called());
        assert!(word.frame_mm[1] > height_mm - FOOT_MM + BELOW_MM, "{}: {word:?}", copy.called());
    }
}

pub fn the_same_plan_and_setting_give_the_same_bytes(copy: &Copy) {
    let setting = Setting { paper: copy.paper, date: Some(DATE.to_string()), without_working: false };
    let again = sheet::pdf(std::slice::from_ref(&copy.plan), &setting).unwrap();
    assert!(again == copy.sheet.pdf, "{} differs", copy.called());
}

pub fn pdf_ua_1_is_kept_and_nothing_is_remarked(copy: &Copy) {
    assert!(copy.sheet.accessible, "{}: {:?}", copy.called(), copy.sheet.remarks);
    assert_eq!(copy.sheet.remarks, Vec::<String>::new(), "{}", copy.called());
    // ISO 14289-1, 5: the document's metadata carries the property pdfuaid:part with value 1.
    let text = String::from_utf8_lossy(&copy.sheet.pdf);
    assert!(text.contains("<pdfuaid:part>1</pdfuaid:part>"), "{}", copy.called());
    let info = String::from_utf8(poppler("pdfinfo", &copy.sheet.pdf, &[], &[])).unwrap();
    assert!(info.lines().any(|line| line.starts_with("Tagged:") && line.ends_with("yes")), "{info}");
}

#[test]
fn no_plan_is_refused() {
    assert_eq!(sheet::pdf(&[], &Setting::default()), Err(sheet::SheetError::NoPlan));
}

#[test]
fn without_the_working_all_else_is_there() {
    let plan = crate::bench::example("guide-block");
    let with = crate::bench::copy("guide-block", plan.clone(), Paper::A4);
    let setting = Setting { date: Some(DATE.to_string()), without_working: true, ..Setting::default() };
    let pages = crate::bench::text(&sheet::pdf(std::slice::from_ref(&plan), &setting).unwrap(), &["-layout"]);
    assert_eq!(pages.len(), with.laid.len() - with.pages_of("Working").len());
    assert!(pages.iter().any(|page| page.contains("Inspection report")));
    assert!(!pages.iter().any(|page| page.contains("Formulas, and the numbers")));
}
