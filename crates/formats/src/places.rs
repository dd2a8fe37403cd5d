//! Where each value of a file stands, by its key path.

use std::collections::BTreeMap;
use std::ops::Range;

/// Key paths (`stock.diameter`, `lathe[0].speeds`) and the bytes on which their values stand.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Places {
    files: Vec<String>,
    by_path: BTreeMap<String, (usize, Range<usize>)>,
}

impl Places {
    /// No places yet, in a file of this name.
    pub(crate) fn new(file: &str) -> Self {
        Places { files: vec![file.to_string()], by_path: BTreeMap::new() }
    }

    /// The bytes of a value; of the nearest table round it where the path itself is not in the file.
    pub fn find(&self, path: &str) -> Option<Range<usize>> {
        self.nearest(path).map(|(_, span)| span.clone())
    }

    /// The file in which [`Places::find`] found it; the first file where it found nothing.
    pub fn file(&self, path: &str) -> Option<&str> {
        let index = self.nearest(path).map_or(0, |(index, _)| *index);
        self.files.get(index).map(String::as_str)
    }

    pub(crate) fn note(&mut self, path: &str, span: Range<usize>) {
        self.by_path.insert(path.to_string(), (0, span));
    }

    /// Takes in the places of another file, read after this one.
    pub(crate) fn absorb(&mut self, other: Places) {
        let before = self.files.len();
        self.files.extend(other.files);
        for (path, (file, span)) in other.by_path {
            self.by_path.entry(path).or_insert((before + file, span));
        }
    }

    fn nearest(&self, path: &str) -> Option<&(usize, Range<usize>)> {
        let mut path = path;
        loop {
            if let Some(place) = self.by_path.get(path) {
                return Some(place);
            }
            path = &path[..path.rfind(['.', '['])?];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_absent_path_leads_to_the_table_round_it() {
        let mut places = Places::new("job");
        places.note("lathe[0]", 3..9);
        places.note("lathe[0].speeds", 10..20);
        assert_eq!(places.find("lathe[0].speeds[4]"), Some(10..20));
        assert_eq!(places.find("lathe[0].motor"), Some(3..9));
        assert_eq!(places.find("chuck[0]"), None);
        assert_eq!(places.file("chuck[0]"), Some("job"));
    }

    #[test]
    fn places_of_a_second_file_name_that_file() {
        let mut places = Places::new("lathes");
        let mut others = Places::new("chucks");
        others.note("chuck[0]", 1..2);
        places.absorb(others);
        assert_eq!((places.find("chuck[0].bore"), places.file("chuck[0].bore")), (Some(1..2), Some("chucks")));
    }
}
