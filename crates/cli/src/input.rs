//! Files as people give them: every way in which one cannot be read gets its own sentence.

use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use crate::{Refusal, planning};

/// Largest file that is read: a job is a page of text.
pub const MOST_BYTES: u64 = 4 * 1024 * 1024;

/// A text and the name under which faults in it are shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// The path as it was given.
    pub name: String,
    /// What stands in it.
    pub text: String,
}

/// Reads one file; `-`: standard input.
pub fn read(path: &Path) -> Result<Named, Refusal> {
    if path.as_os_str() == "-" {
        return standard();
    }
    let name = path.display().to_string();
    let refuse = |why: String| Refusal(format!("{name}: {why}"));
    let about = fs::metadata(path).map_err(|error| refuse(cannot_open(&error)))?;
    if about.is_dir() {
        return Err(refuse("is a folder; a file is due here.".to_string()));
    }
    if about.len() > MOST_BYTES {
        return Err(refuse(too_large(about.len())));
    }
    let bytes = bytes(path).map_err(|error| refuse(cannot_open(&error)))?;
    let text = text(bytes).map_err(refuse)?;
    Ok(Named { name, text })
}

fn standard() -> Result<Named, Refusal> {
    const NAME: &str = "standard input";
    let refuse = |why: String| Refusal(format!("{NAME}: {why}"));
    let mut bytes = Vec::new();
    let read = std::io::stdin().lock().take(MOST_BYTES + 1).read_to_end(&mut bytes);
    read.map_err(|error| refuse(cannot_open(&error)))?;
    Ok(Named { name: NAME.to_string(), text: text(bytes).map_err(refuse)? })
}

/// The shop: a file, every `*.toml` of a folder in the order of their names, or the built-in one.
pub fn shop(path: Option<&Path>) -> Result<Vec<Named>, Refusal> {
    match path {
        None => Ok(vec![planning::built_in_shop()]),
        Some(path) if path.is_dir() => folder(path),
        Some(path) => Ok(vec![read(path)?]),
    }
}

fn folder(path: &Path) -> Result<Vec<Named>, Refusal> {
    let refuse = |error: std::io::Error| Refusal(format!("{}: {}", path.display(), cannot_open(&error)));
    let mut files: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(path).map_err(refuse)? {
        let file = entry.map_err(refuse)?.path();
        if file.extension().is_some_and(|ending| ending == "toml") && !file.is_dir() {
            files.push(file);
        }
    }
    if files.is_empty() {
        return Err(Refusal(format!("{}: holds no *.toml file; a shop is one or several.", path.display())));
    }
    files.sort();
    files.iter().map(|file| read(file)).collect()
}

/// Reads a byte more than is allowed at most: a pipe or a device has no length to ask for.
fn bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(path)?.take(MOST_BYTES + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn text(bytes: Vec<u8>) -> Result<String, String> {
    if bytes.len() as u64 > MOST_BYTES {
        return Err(too_large(bytes.len() as u64));
    }
    let text = String::from_utf8(bytes).map_err(|error| not_text(&error))?;
    if text.trim().is_empty() {
        return Err("is empty.".to_string());
    }
    Ok(text)
}

fn not_text(error: &std::string::FromUtf8Error) -> String {
    let at = error.utf8_error().valid_up_to();
    let line = error.as_bytes()[..at].iter().filter(|&&byte| byte == b'\n').count() + 1;
    format!("byte {at} (line {line}) is not UTF-8 text; save the file as UTF-8.")
}

fn too_large(bytes: u64) -> String {
    let megabytes = bytes.div_ceil(1024 * 1024);
    format!("is {megabytes} MB or more, {} MB at most are read; a job is a page of text.", MOST_BYTES / 1024 / 1024)
}

fn cannot_open(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file.".to_string(),
        ErrorKind::PermissionDenied => "may not be read by you.".to_string(),
        _ => format!("cannot be read: {error}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(bytes: &[u8]) -> String {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("job.toml");
        fs::write(&path, bytes).unwrap();
        read(&path).unwrap_err().0
    }

    #[test]
    fn a_missing_file_a_folder_and_an_empty_one_are_told_apart() {
        let folder = tempfile::tempdir().unwrap();
        assert!(read(&folder.path().join("none.toml")).unwrap_err().0.ends_with("there is no such file."));
        assert!(read(folder.path()).unwrap_err().0.contains("is a folder"));
        assert!(refused(b"").ends_with("is empty."));
        assert!(refused(b" \n\t\n").ends_with("is empty."));
    }

    #[test]
    fn what_is_not_utf8_is_pointed_at() {
        assert!(refused(b"title = \"a\"\nunits = \"\xff\"").contains("byte 21 (line 2)"));
    }

    #[test]
    fn four_megabytes_are_read_and_a_byte_more_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("job.toml");
        fs::write(&path, vec![b'#'; MOST_BYTES as usize]).unwrap();
        assert!(read(&path).is_ok());
        fs::write(&path, vec![b'#'; MOST_BYTES as usize + 1]).unwrap();
        assert!(read(&path).unwrap_err().0.contains("a job is a page of text"));
    }

    #[test]
    fn a_folder_is_read_in_the_order_of_names_and_only_its_toml() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["b.toml", "a.toml", "notes.txt"] {
            fs::write(folder.path().join(name), name).unwrap();
        }
        fs::create_dir(folder.path().join("old.toml")).unwrap();
        let texts: Vec<String> = shop(Some(folder.path())).unwrap().into_iter().map(|file| file.text).collect();
        assert_eq!(texts, ["a.toml", "b.toml"]);
    }

    #[test]
    fn a_folder_without_toml_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        assert!(shop(Some(folder.path())).unwrap_err().0.contains("holds no *.toml file"));
    }
}
