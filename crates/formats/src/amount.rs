//! How much a file may hold: what nobody writes by hand is refused before reading it costs time.

/// Longest text that is read, bytes: many times what anybody writes by hand.
pub const MOST_BYTES: usize = 1 << 18;
/// Most lines of it.
pub const MOST_LINES: usize = 10_000;
/// Most things that it may hold: keys, tables, entries of lists.
const MOST_THINGS: usize = 20_000;

/// Why a text is more than a job or a shop can be, and what would be read; `None`: it may be read.
pub fn too_much(text: &str) -> Option<(String, String)> {
    if text.len() > MOST_BYTES {
        return Some((
            format!("the text has {} bytes; that is nothing written by hand", text.len()),
            format!("at most {MOST_BYTES} bytes"),
        ));
    }
    let lines = count(text, b"\n");
    if lines > MOST_LINES {
        return Some((
            format!("the text has {lines} lines; a job is a page of text, a shop a few"),
            format!("at most {MOST_LINES} lines"),
        ));
    }
    // Every key has its `=`, every table its bracket or its point, every further entry its comma: no fewer than there
    // are things.
    let things = count(text, b"=[{,.");
    (things > MOST_THINGS).then(|| {
        (
            format!("the text holds about {things} keys, tables and entries of lists; no job or shop has so many"),
            format!("at most {MOST_THINGS}"),
        )
    })
}

fn count(text: &str, these: &[u8]) -> usize {
    text.bytes().filter(|byte| these.contains(byte)).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_by_hand_is_read_and_what_is_not_is_counted() {
        for text in [crate::builtin::demo_job_text(), crate::builtin::shop_text(), &"#".repeat(MOST_BYTES)] {
            assert_eq!(too_much(text), None);
        }
        for (text, says) in [
            ("#".repeat(MOST_BYTES + 1), "262145 bytes"),
            ("a\n".repeat(MOST_LINES + 1), "10001 lines"),
            ("[a]".repeat(MOST_THINGS + 1), "20001 keys"),
            (format!("a = [{}]", "1, ".repeat(MOST_THINGS)), "20002 keys"),
        ] {
            let (told, accepts) = too_much(&text).unwrap();
            assert!(told.contains(says) && accepts.starts_with("at most "), "{told}; {accepts}");
        }
    }

    #[test]
    fn an_ordinary_text_has_room_to_spare() {
        // The built-in shop, the longest text that comes with the program, could be ten times as long.
        let shop = crate::builtin::shop_text();
        assert!(too_much(&shop.repeat(10)).is_none(), "{} bytes", shop.len());
    }
}
