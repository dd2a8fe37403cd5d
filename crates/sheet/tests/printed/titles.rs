//! Titles as people type them, and worse: nothing is executed, nothing is lost in silence.

use engine::plan::Plan;
use sheet::{Paper, Setting};

use crate::bench::{self, flat, text};

fn with_title(title: &str) -> Plan {
    Plan { title: title.to_string(), ..bench::short("greenhouse-latch") }
}

/// First page, read back, and what was remarked.
fn printed(title: &str) -> (String, Vec<String>) {
    let sheet = sheet::sheet(&[with_title(title)], &Setting::default()).unwrap();
    (flat(&text(&sheet.pdf, &[])[0]), sheet.remarks)
}

#[test]
fn markup_and_scripts_are_letters_like_any_other() {
    for title in [
        "#panic(\"x\") *bold* _lean_ $x^2$ @ref <label> [x] \\ `raw` = heading",
        "#{ while true {} } #import \"x.typ\" #set page(width: 1mm)",
        "<script>alert(1)</script> &amp; \"quoted\" 'single' </svg>",
        "// comment /* not */ ~ -- --- ... ' \" 1/2",
    ] {
        let (page, remarks) = printed(title);
        // A line may end anywhere in it.
        let close = |text: &str| text.split_whitespace().collect::<String>();
        assert!(close(&page).contains(&close(title)), "{title} in {page}");
        assert_eq!(remarks, Vec::<String>::new());
    }
}

#[test]
fn a_title_of_300_letters_takes_three_lines_of_the_overview_and_is_whole_in_the_document_s_title() {
    for title in
        ["Guide block for the lower sluice of a mill ".repeat(7), "x".repeat(300), "W".repeat(300), "ШЩЖЮ".repeat(75)]
    {
        let copy = bench::copy("long", with_title(&title), Paper::A4);
        let close = |text: &str| text.chars().filter(|letter| !letter.is_whitespace()).collect::<String>();
        let info = String::from_utf8(bench::poppler("pdfinfo", &copy.sheet.pdf, &[], &[])).unwrap();
        let line = info.lines().find_map(|line| line.strip_prefix("Title:")).unwrap();
        assert_eq!(close(&flat(line)), close(&flat(&title)));
        let head: Vec<&str> = copy.read[0].lines().take_while(|line| !line.starts_with("Possible")).collect();
        assert!(head.iter().filter(|line| !line.trim().is_empty()).count() <= 3, "{head:?}");
        let head = close(&flat(&head.join(" ")));
        let letters = head.trim_end_matches('…').chars().count();
        // A chosen least, also of the widest letter.
        assert!(letters >= 80 && close(&flat(&title)).starts_with(head.trim_end_matches('…')), "{head}");
        for word in bench::placed(&copy.sheet.pdf) {
            assert!(word.frame_mm[2] <= 190.05, "{word:?}");
        }
        // The job's field of the title block ends where that of the sheet begins, 94 mm before the margin.
        let cut = bench::placed(&copy.sheet.pdf);
        let cut = cut.into_iter().filter(|word| word.says.ends_with('…') && word.frame_mm[1] > 270.0);
        let ends: Vec<f64> = cut.map(|word| word.frame_mm[2]).collect();
        assert!(ends.len() >= 3 && ends.iter().all(|end| *end <= 190.0 - 94.0), "{ends:?}");
        assert!(copy.laid[1].contains('…'));
    }
}

#[test]
fn letters_that_the_fonts_lack_are_told_and_stand_as_question_marks() {
    let (page, remarks) = printed("導塊 for the sluice");
    assert!(page.contains("?? for the sluice"), "{page}");
    assert!(
        remarks.len() == 1 && remarks[0].contains("導 (U+5C0E)") && remarks[0].contains("塊 (U+584A)"),
        "{remarks:?}"
    );
}

#[test]
fn other_scripts_are_printed_or_told() {
    for title in ["Направляющая шлюза", "Οδηγός θυροφράγματος", "دليل بوابة السد", "מדריך לשער סכר", "सिर", "🔧 wrench"]
    {
        let sheet = sheet::sheet(&[with_title(title)], &Setting::default()).unwrap();
        let page = flat(&text(&sheet.pdf, &[])[0]);
        let letters: Vec<char> = title.chars().filter(|letter| letter.is_alphabetic()).collect();
        let printed = letters.iter().filter(|letter| page.contains(**letter)).count();
        // A script that is joined may come back in other forms of the same letters; then the remarks must say so.
        assert!(printed == letters.len() || !sheet.remarks.is_empty(), "{title}: {page}");
    }
}

#[test]
fn signs_that_steer_are_left_out() {
    let (page, _) = printed("Guide\u{202e} block\u{0}\u{7}\n for\ta \u{feff}gate");
    assert!(page.contains("Guide block for a gate"), "{page}");
}

#[test]
fn any_letters_at_all_give_a_sheet() {
    let all = [
        "\u{300}\u{301}a\u{302}\u{e001}\u{10ffff}",
        "\u{1f468}\u{200d}\u{1f469}",
        "ﷺ",
        "\u{fdd0}",
        "a\u{0301}\u{0316}",
    ];
    for title in all {
        sheet::sheet(&[with_title(title)], &Setting::default()).unwrap();
    }
}
