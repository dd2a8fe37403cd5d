//! The fields of the form: which keys of a job can be filled in without writing its text.

/// How what is typed is written into the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// In quotes, whatever it is.
    Text,
    /// A bare number where it is one, else in quotes: `58`, `"2 1/4 in"`.
    Quantity,
    /// One of a few words, in quotes.
    Word,
    /// A whole number.
    Count,
    /// Names with commas between, as a list.
    Names,
    /// One name, as a list of one.
    OneName,
}

/// Every key that the form can set, with how it is written.
pub const FIELDS: [(&str, Kind); 47] = [
    ("title", Kind::Text),
    ("units", Kind::Word),
    ("stock.form", Kind::Word),
    ("stock.diameter", Kind::Quantity),
    ("stock.across", Kind::Quantity),
    ("stock.width", Kind::Quantity),
    ("stock.thickness", Kind::Quantity),
    ("stock.length", Kind::Quantity),
    ("stock.material", Kind::Word),
    ("stock.surface", Kind::Word),
    ("part.kind", Kind::Word),
    ("part.width.size", Kind::Quantity),
    ("part.width.plus", Kind::Quantity),
    ("part.width.minus", Kind::Quantity),
    ("part.height.size", Kind::Quantity),
    ("part.height.plus", Kind::Quantity),
    ("part.height.minus", Kind::Quantity),
    ("part.length.size", Kind::Quantity),
    ("part.length.plus", Kind::Quantity),
    ("part.length.minus", Kind::Quantity),
    ("part.regular.sides", Kind::Count),
    ("part.regular.across_flats.size", Kind::Quantity),
    ("part.regular.across_flats.plus", Kind::Quantity),
    ("part.regular.across_flats.minus", Kind::Quantity),
    ("part.sides", Kind::Text),
    ("part.square", Kind::Quantity),
    ("part.parallel", Kind::Quantity),
    ("part.flat", Kind::Quantity),
    ("part.angles", Kind::Quantity),
    ("part.position", Kind::Quantity),
    ("part.general", Kind::Text),
    ("part.roughness", Kind::Text),
    ("part.offset[0]", Kind::Quantity),
    ("part.offset[1]", Kind::Quantity),
    ("part.turn", Kind::Quantity),
    ("part.leave", Kind::Names),
    ("part.names", Kind::Names),
    ("use.lathe", Kind::Word),
    ("use.chuck", Kind::Word),
    ("use.tools", Kind::OneName),
    ("cutting.speed_share_interrupted", Kind::Quantity),
    ("cutting.finishing_cut", Kind::Quantity),
    ("cutting.clean_up", Kind::Quantity),
    ("cutting.deepest_cut", Kind::Quantity),
    ("order.seek", Kind::Word),
    ("order.first", Kind::Names),
    ("order.seated", Kind::Names),
];

/// How a field is written; `None`: the form has no such field.
pub fn kind(key: &str) -> Option<Kind> {
    FIELDS.iter().find(|(name, _)| *name == key).map(|(_, kind)| *kind)
}

/// The field of a key, of its size, or of the nearest key above it.
pub fn nearest(key: &str) -> Option<&'static str> {
    let mut key = key;
    loop {
        let own = |name: &&str| {
            *name == key || name.strip_suffix(".size") == Some(key) || name.strip_suffix("[0]") == Some(key)
        };
        if let Some(name) = FIELDS.iter().map(|(name, _)| *name).find(own) {
            return Some(name);
        }
        key = &key[..key.rfind(['.', '['])?];
    }
}

/// What the fields are called in a sentence, each as its label has it.
const CALLED: [(&str, &str); 37] = [
    ("title", "What it is called"),
    ("units", "Bare numbers are"),
    ("stock.form", "Form of the bar"),
    ("stock.diameter", "Diameter of the bar"),
    ("stock.across", "Across flats of the bar"),
    ("stock.width", "Width of the bar"),
    ("stock.thickness", "Thickness of the bar"),
    ("stock.length", "Length as sawn"),
    ("stock.material", "Material"),
    ("stock.surface", "Skin"),
    ("part.kind", "Form of the part"),
    ("part.width", "Width, C to E"),
    ("part.height", "Height, D to F"),
    ("part.length", "Length, A to B"),
    ("part.regular.sides", "Number of sides"),
    ("part.regular.across_flats", "Across flats of the part"),
    ("part.square", "Square within"),
    ("part.parallel", "Parallel within"),
    ("part.flat", "Flat within"),
    ("part.angles", "Angles within"),
    ("part.position", "Middle in its place within"),
    ("part.general", "General tolerances"),
    ("part.roughness", "Roughness"),
    ("part.offset[0]", "Off the middle, towards C"),
    ("part.offset[1]", "Off the middle, towards D"),
    ("part.turn", "Turned"),
    ("part.leave", "Faces left as the bar is"),
    ("use.lathe", "Lathe"),
    ("use.chuck", "Chuck"),
    ("use.tools", "Tool"),
    ("cutting.speed_share_interrupted", "Share of the table speed"),
    ("cutting.finishing_cut", "Finishing cut"),
    ("cutting.clean_up", "Taken off a sawn end"),
    ("cutting.deepest_cut", "Deepest cut"),
    ("order.seek", "Best order"),
    ("order.first", "Faces to be cut first"),
    ("order.seated", "Faces to be cut on a seat"),
];

/// What the field of a key is called; `None`: the form has none.
pub fn called(key: &str) -> Option<String> {
    let name = |key: &str| CALLED.iter().find(|(known, _)| *known == key).map(|(_, name)| *name);
    if let Some(name) = name(key) {
        return Some(name.to_string());
    }
    match key.rsplit_once('.')? {
        (whole, "size") => name(whole).map(str::to_string),
        (whole, limit @ ("plus" | "minus")) => name(whole).map(|name| format!("{name}, {limit}")),
        _ => None,
    }
}

/// The same key as a name that HTML allows in an id: `stock-diameter`.
pub fn id(key: &str) -> String {
    let plain: String = key.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    format!("field-{}", plain.trim_end_matches('-'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_lead_to_their_fields() {
        assert_eq!(nearest("stock.diameter"), Some("stock.diameter"));
        assert_eq!(nearest("part.width"), Some("part.width.size"));
        assert_eq!(nearest("part.width.plus"), Some("part.width.plus"));
        assert_eq!(nearest("part.offset"), Some("part.offset[0]"));
        assert_eq!(nearest("part.sides[3].angle"), Some("part.sides"));
        assert_eq!(nearest("use.tools[1]"), Some("use.tools"));
        assert_eq!(nearest("lathe[0].speeds"), None);
        assert_eq!(nearest(""), None);
    }

    #[test]
    fn every_field_of_the_form_is_called_something() {
        for (key, _) in FIELDS.iter().filter(|(key, _)| !["part.sides", "part.names"].contains(key)) {
            assert!(called(key).is_some(), "{key}");
        }
        assert_eq!(called("part.width.plus").as_deref(), Some("Width, C to E, plus"));
        assert_eq!(called("part.wide"), None);
    }

    #[test]
    fn ids_are_unique() {
        let ids: std::collections::BTreeSet<String> = FIELDS.iter().map(|(key, _)| id(key)).collect();
        assert_eq!(ids.len(), FIELDS.len());
        assert_eq!(id("part.offset[1]"), "field-part-offset-1");
    }
}
