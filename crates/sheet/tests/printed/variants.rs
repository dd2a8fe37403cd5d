//! One job on several lathes in one file.

use engine::plan::Plan;
use sheet::Setting;

use crate::bench::{flat, short, text};

fn on_lathe(mut plan: Plan, lathe: &str) -> Plan {
    plan.asked.lathe = lathe.to_string();
    plan
}

#[test]
fn each_variant_says_lathe_n_of_m_counts_its_own_pages_and_begins_on_a_right_hand_page() {
    let plans = [
        on_lathe(short("greenhouse-latch"), "old lathe by the door"),
        on_lathe(short("bar-too-thin"), "small lathe"),
        on_lathe(short("greenhouse-latch"), "large lathe"),
    ];
    let pages = text(&sheet::pdf(&plans, &Setting::default()).unwrap(), &["-layout"]);
    let class = flat(&pages[0]);
    for words in ["One job, 3 lathes", "old lathe by the door", "small lathe", "not possible", "1 set-up"] {
        assert!(class.contains(words), "{words} in {class}");
    }
    for (number, lathe) in [(1, "old lathe by the door"), (2, "small lathe"), (3, "large lathe")] {
        let of = format!("Lathe {number} of 3");
        let is_own = |page: &str| page.contains(&of) && !page.contains("left empty on purpose");
        let own: Vec<usize> = (0..pages.len()).filter(|&at| is_own(&flat(&pages[at]))).collect();
        let count = own.len();
        assert_eq!(own[0] % 2, 0, "variant {number} begins on page {}", own[0] + 1);
        for (at, page) in own.iter().enumerate() {
            let words = flat(&pages[*page]);
            assert!(words.contains(&format!("{} of {count}", at + 1)), "{words}");
            assert!(words.contains(lathe), "{lathe} in {words}");
        }
        assert_eq!(count == 1, number == 2, "one page only for the lathe that cannot");
    }
    assert!(pages.iter().any(|page| flat(page).contains("Way out:")));
    // Every page has its title block, and an empty one says so.
    let written: Vec<String> = pages.iter().map(|page| flat(page)).collect();
    assert!(written.iter().all(|page| page.contains("Approved") && page.contains("Page")), "{written:?}");
    let empty = written.iter().filter(|page| page.contains("This page is left empty on purpose.")).count();
    assert!(empty >= 2, "{empty}: the backs of the class and of the lathe that cannot");
}
