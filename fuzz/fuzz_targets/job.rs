//! Any text as a job file: a job, or faults that lie inside the text.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    match formats::job::read(text, "job") {
        Ok(read) => assert!(!read.job.part.names.is_empty()),
        Err(faults) => {
            assert!(!faults.is_empty(), "refused without a word");
            for span in faults.iter().filter_map(|fault| fault.span.clone()) {
                assert!(span.start <= span.end && span.end <= text.len());
                assert!(text.is_char_boundary(span.start) && text.is_char_boundary(span.end));
            }
        }
    }
});
