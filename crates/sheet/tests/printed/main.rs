//! Sheets as they come from the printer: what poppler reads back from the PDF and what it draws.
//!
//! Each example on each paper is one test that prints once and holds every check against the copy.
#![allow(missing_docs, clippy::unwrap_used)] // a test may fall over where it stands

mod bench;
mod heights;
mod pages;
mod stock;
mod titles;
mod variants;
mod words;

use bench::{EXAMPLES, copy, example, folder};
use engine::plan::Outcome;
use sheet::Paper;

fn keeps_everything(name: &str, paper: Paper) {
    everything_is_kept(&copy(name, example(name), paper));
}

/// Everything that any sheet must keep.
fn everything_is_kept(copy: &bench::Copy) {
    pages::the_paper_is_what_was_asked_for(copy);
    pages::each_set_up_has_its_own_pages_and_two_of_them_face_one_another(copy);
    pages::a_table_of_passes_is_never_cut(copy);
    pages::nothing_stands_in_the_margin_of_a_binder(copy);
    pages::nothing_but_the_title_block_stands_at_the_foot(copy);
    pages::the_same_plan_and_setting_give_the_same_bytes(copy);
    pages::pdf_ua_1_is_kept_and_nothing_is_remarked(copy);
    words::title_date_and_page_m_of_n_stand_on_every_page(copy);
    words::no_promise_is_printed(copy);
    if copy.plan.outcome == Outcome::Planned {
        pages::pictures_of_all_set_ups_have_one_scale(copy);
        pages::no_page_has_only_a_few_lines(copy);
        pages::pieces_of_the_order_can_be_told_apart(copy);
        pages::frames_of_dial_numbers_keep_clear_of_other_steps(copy);
        words::the_forecast_stands_on_the_overview_and_in_one_table(copy);
        words::every_requirement_and_angle_has_its_line_in_the_report(copy);
        words::every_dial_reading_stands_in_the_table_and_at_its_step(copy);
        words::every_size_stands_in_the_report_with_its_limits_and_none_is_rounded_outwards(copy);
        words::every_measurement_and_step_stands_on_its_set_up_s_pages(copy);
        words::every_caution_is_read_back_and_a_step_carries_one_at_most(copy);
        words::a_stop_before_the_last_pass_says_what_is_near_and_has_no_box_to_tick(copy);
        words::minutes_are_the_same_on_the_overview_and_over_each_set_up(copy);
        pages::a_hand_finds_24_mm_to_write_its_reading(copy);
        words::lengths_of_an_inch_job_s_working_stand_in_inches_too(copy);
        words::formulas_stand_with_their_sources(copy);
        heights::dial_numbers_are_5_mm_high_and_the_largest_thing_on_the_page(copy);
        heights::points_of_dial_numbers_stand_under_one_another(copy);
        heights::steps_are_3_5_mm_high_and_notes_2_5_mm_at_least(copy);
    } else {
        words::an_impossible_job_is_one_page_with_reasons_limits_and_ways_out(copy);
    }
}

/// A module a paper, a test a job.
macro_rules! printed_on {
    ($paper:ident, $module:ident: $($test:ident $name:literal),*) => {
        mod $module {
            $(#[test]
            fn $test() {
                super::keeps_everything($name, sheet::Paper::$paper);
            })*
        }
    };
}

printed_on!(A4, on_a4: bar_too_thin "bar-too-thin", bell_frame_shoe "bell-frame-shoe",
    greenhouse_latch "greenhouse-latch", guide_block "guide-block", mast_lamp_clamp "mast-lamp-clamp",
    sundial_foot "sundial-foot", water_wheel_keep "water-wheel-keep", weather_vane_hub "weather-vane-hub");
printed_on!(Letter, on_letter: bar_too_thin "bar-too-thin", bell_frame_shoe "bell-frame-shoe",
    greenhouse_latch "greenhouse-latch", guide_block "guide-block", mast_lamp_clamp "mast-lamp-clamp",
    sundial_foot "sundial-foot", water_wheel_keep "water-wheel-keep", weather_vane_hub "weather-vane-hub");

#[test]
fn every_example_is_printed() {
    let mut found: Vec<String> = std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| path.file_stem().unwrap().to_str().unwrap().to_string())
        .collect();
    found.sort();
    assert_eq!(found, EXAMPLES);
}
