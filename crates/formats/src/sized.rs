//! A size with its limits: plus and minus, or the code of a fit.

use engine::part::{Fit, FitFault, Sized};
use engine::quantity::{self, Kind, Length, Plain, mm};

use crate::bounds::{SIGNED_LENGTH, SIZE, hold, words};
use crate::reader::{Reader, brief};
use crate::table::{Item, Table};

/// What is read.
pub(crate) const SIZED: &str = "a length, `36 h8` in quotes, or `{ size = 36, plus = 0.05, minus = 0.05 }`";

/// A size: bare, as text, with a fit, or with its limits.
pub(crate) fn sized(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Sized> {
    if let Some((text, at)) = item.value.as_str().and_then(|text| Some((text, code_at(text)?))) {
        return with_code(reader, item, text, at);
    }
    if !item.value.is_table() {
        return size_of(reader, item).map(Sized::bare);
    }
    let table = reader.table(item, SIZED)?;
    reader.keys(&table, &["size", "plus", "minus", "fit"]);
    let coded = table.get("size").and_then(|size| Some((size.value.as_str()?.to_string(), size)));
    if let Some((text, size)) = coded
        && let Some(at) = code_at(&text)
    {
        reader.places.note(&size.path, size.span.clone());
        return if table.entries.len() > 1 { beside(reader, item) } else { with_code(reader, &size, &text, at) };
    }
    let size = reader.required(&table, "size", SIZED, size_of);
    if table.has("fit") {
        return with_fit(reader, item, &table, size);
    }
    if !table.has("plus") && !table.has("minus") {
        return size.map(Sized::bare);
    }
    let (plus, minus) = (limit(reader, &table, "plus"), limit(reader, &table, "minus"));
    let (size, plus, minus) = (size?, plus?, minus?);
    if plus + minus <= 0.0 {
        let says = format!("`{}` contradicts itself: its upper limit is not above its lower", item.path);
        return reader.fault(item.span.clone(), says, "size + plus more than size - minus");
    }
    something(reader, item, Sized { size, plus: Some(mm(plus)), minus: Some(mm(minus)), fit: None })
}

fn limit(reader: &mut Reader<'_>, table: &Table<'_>, key: &str) -> Option<f64> {
    reader.required(table, key, "the other limit too; 0 where the size itself is the limit", |r, item| {
        r.plain(item, Kind::Length, &SIGNED_LENGTH)
    })
}

/// Limits that leave something of the size.
fn something(reader: &mut Reader<'_>, item: &Item<'_>, sized: Sized) -> Option<Sized> {
    if sized.size <= sized.minus.unwrap_or_default() {
        let says = format!("`{}` allows a size of nothing", item.path);
        return reader.fault(item.span.clone(), says, "size - minus more than 0");
    }
    Some(sized)
}

/// Where the code of a fit begins at the end of a text: letters and digits behind a space, or behind the number itself.
fn code_at(text: &str) -> Option<usize> {
    let end = text.trim_end();
    let letters = end.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = letters.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let behind_number = number.ends_with(|c: char| c.is_whitespace() || c.is_ascii_digit() || c == '.');
    (letters.len() < end.len() && number.len() < letters.len() && behind_number).then_some(number.len())
}

/// `"36 h8"`, `"1.5 in h8"`.
fn with_code(reader: &mut Reader<'_>, item: &Item<'_>, text: &str, at: usize) -> Option<Sized> {
    match quantity::read(text[..at].trim_end(), Kind::Length, reader.units) {
        Ok(reading) if hold(&SIZE, reading.plain) => match limits(mm(reading.plain), text[at..].trim_end()) {
            Ok(sized) => something(reader, item, sized),
            Err(wrong) => {
                let place = reader.place_in(item, text, at + wrong.at);
                reader.fault(place, format!("`{}` says `{}`: {}", item.path, brief(text), wrong.says), wrong.accepts)
            }
        },
        Ok(_) => {
            let says = format!("`{}` says `{}`", item.path, brief(text));
            reader.fault(item.span.clone(), says, format!("a size of {} mm", words(&SIZE, 1.0)))
        }
        Err(misread) => {
            let place = reader.place_in(item, text, misread.at);
            reader.fault(place, format!("`{}` says `{}`: {}", item.path, brief(text), misread.says), SIZED)
        }
    }
}

fn beside<T>(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<T> {
    let says = format!("`{}` has a fit and limits beside it", item.path);
    reader.fault(item.span.clone(), says, "the fit alone, or plus and minus")
}

/// `{ size = 36, fit = "h8" }`.
fn with_fit(reader: &mut Reader<'_>, item: &Item<'_>, table: &Table<'_>, size: Option<Length>) -> Option<Sized> {
    if table.has("plus") || table.has("minus") {
        return beside(reader, item);
    }
    let sized = reader.optional(table, "fit", |reader, fit| {
        let Some(code) = fit.value.as_str() else { return reader.wrong_kind(fit, "the code of a fit, such as `h8`") };
        match limits(size?, code) {
            Ok(sized) => Some(sized),
            Err(wrong) => {
                let place = reader.place_in(fit, code, wrong.at);
                reader.fault(place, format!("`{}` says `{}`: {}", fit.path, brief(code), wrong.says), wrong.accepts)
            }
        }
    });
    something(reader, item, sized?)
}

/// An outside size with the limits of its fit.
fn limits(size: Length, code: &str) -> Result<Sized, FitFault> {
    let fit = Fit::read(code)?;
    if fit.is_hole() {
        let outside = fit.of_outside();
        let says = "capital letters are for holes and slots, and this is an outside size".to_string();
        let meant = outside.limits(size.plain()).map(|limits| {
            let shown = |deviation_mm: f64| format!("{:+.1} um", deviation_mm * 1000.0).replace(".0 um", " um");
            format!("`{outside}`, which here is {} and {}", shown(limits.upper_mm), shown(limits.lower_mm))
        });
        return Err(FitFault { at: 0, says, accepts: meant.unwrap_or_else(|_| "a small letter".to_string()) });
    }
    let limits = fit.limits(size.plain())?;
    let (plus, minus) = (Some(mm(limits.upper_mm)), Some(mm(0.0 - limits.lower_mm)));
    Ok(Sized { size, plus, minus, fit: Some(fit) })
}

fn size_of(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Length> {
    reader.plain(item, Kind::Length, &SIZE).map(mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_found_at_the_end_of_a_size_and_nowhere_else() {
        for (text, code) in
            [("36 h8", "h8"), ("36h8", "h8"), ("1.5 in h11", "h11"), ("36 mm js6 ", "js6 "), ("36.h8", "h8")]
        {
            assert_eq!(code_at(text).map(|at| &text[at..]), Some(code), "{text}");
        }
        for text in ["36", "36 mm", "1 3/8 in", "15 thou", "h8", "", "36 µm2", "36-h8", "8"] {
            assert_eq!(code_at(text), None, "{text}");
        }
    }
}
