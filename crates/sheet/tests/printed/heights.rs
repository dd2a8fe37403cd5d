//! Heights of letters, measured in ink on the printed page.

use engine::plan::Pass;

use crate::bench::{Copy, Word, placed, poppler};

/// Dots an inch of the printed page.
const DPI: f64 = 600.0;

/// Height of the ink in a word's frame, mm.
fn ink_mm(copy: &Copy, word: &Word) -> f64 {
    let dots = |mm: f64| mm / 25.4 * DPI;
    let [left, top, right, bottom] = word.frame_mm.map(dots);
    let numbers =
        [left.floor(), top.floor(), (right - left).ceil(), (bottom - top).ceil()].map(|dots| dots.to_string());
    let [x, y, w, h] = numbers.each_ref().map(String::as_str);
    let (dpi, page) = (DPI.to_string(), word.page.to_string());
    let options = ["-r", &dpi, "-f", &page, "-l", &page, "-x", x, "-y", y, "-W", w, "-H", h, "-gray"];
    let picture = poppler("pdftoppm", &copy.sheet.pdf, &options, &[]);
    let rows = rows(&picture);
    // The rows with ink that hang together with the middle of the frame: lines of a table and other lines of the text
    // stand clear of it.
    let inked = |row: &&&[u8]| row.iter().any(|&dot| dot < 128);
    let middle = rows.len() / 2;
    let (above, below) = rows.split_at(middle);
    let high = above.iter().rev().take_while(inked).count() + below.iter().take_while(inked).count();
    high as f64 / DPI * 25.4
}

/// Rows of a PGM picture, 0 black.
fn rows(pgm: &[u8]) -> Vec<&[u8]> {
    let mut ends = pgm.iter().enumerate().filter(|(_, byte)| byte.is_ascii_whitespace()).map(|(at, _)| at);
    let head: Vec<usize> = ends.by_ref().take(4).collect();
    let number = |from: usize, to: usize| std::str::from_utf8(&pgm[from + 1..to]).unwrap().parse::<usize>().unwrap();
    assert_eq!(&pgm[..head[0]], b"P5");
    let width = number(head[0], head[1]);
    pgm[head[3] + 1..].chunks(width).collect()
}

/// Round figures stand a little over the line and under it: 2 % in this lettering, measured.
fn is_high(ink_mm: f64, capitals_mm: f64) -> bool {
    (capitals_mm - 0.05..=capitals_mm * 1.04 + 0.05).contains(&ink_mm)
}

pub fn dial_numbers_are_5_mm_high_and_the_largest_thing_on_the_page(copy: &Copy) {
    let page = copy.pages_of("Set-up 3 of")[0];
    let words: Vec<Word> = placed(&copy.sheet.pdf).into_iter().filter(|word| word.page == page).collect();
    let high = |word: &&Word| word.frame_mm[3] - word.frame_mm[1];
    let highest = words.iter().map(|word| high(&word)).fold(0.0, f64::max);
    let largest: Vec<&Word> = words.iter().filter(|word| high(word) > highest - 0.01).collect();
    let passes = &copy.plan.set_ups[2].passes;
    assert!(largest.len() >= passes.len(), "{largest:?}");
    for word in &largest {
        assert!(passes.iter().any(|pass| pass.dial.contains(&word.says)), "{word:?} is larger than a dial number");
        assert!(is_high(ink_mm(copy, word), 5.0), "{word:?} is {} mm high", ink_mm(copy, word));
    }
}

pub fn points_of_dial_numbers_stand_under_one_another(copy: &Copy) {
    let with_points = |passes: &[Pass]| passes.iter().filter(|pass| pass.dial.contains('.')).count();
    let most = copy.plan.set_ups.iter().max_by_key(|set_up| with_points(&set_up.passes)).unwrap();
    let page = copy.pages_of(&format!("Set-up {} of", most.number))[0];
    let words: Vec<Word> = placed(&copy.sheet.pdf).into_iter().filter(|word| word.page == page).collect();
    let highest = words.iter().map(|word| word.frame_mm[3] - word.frame_mm[1]).fold(0.0, f64::max);
    let ring =
        words.iter().filter(|word| word.frame_mm[3] - word.frame_mm[1] > highest - 0.01 && word.says.contains('.'));
    // All of a dial have as many places, so that points line up where the right ends do.
    let ends: Vec<f64> = ring.map(|word| word.frame_mm[2]).collect();
    assert!(ends.len() >= 2 && ends.iter().all(|end| (end - ends[0]).abs() < 0.05), "{ends:?}");
}

pub fn steps_are_3_5_mm_high_and_notes_2_5_mm_at_least(copy: &Copy) {
    let pages = copy.pages_of("Set-up 3 of");
    let words = placed(&copy.sheet.pdf);
    let on = |page: usize| words.iter().filter(move |word| word.page == page);
    let step = pages.iter().flat_map(|&page| on(page)).find(|word| word.says == "PASS").unwrap();
    assert!(is_high(ink_mm(copy, step), 3.5), "{}", ink_mm(copy, step));
    let page = pages[0].to_string();
    let block = words.iter().rev().find(|word| word.page == pages[0] && word.says == page).unwrap();
    assert!(ink_mm(copy, block) >= 2.45, "{}", ink_mm(copy, block));
}
