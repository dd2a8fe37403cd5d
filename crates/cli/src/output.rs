//! Where a plan goes: standard output, or a file that is whole or not there.

use std::io::{self, ErrorKind, Write};
use std::path::Path;

use crate::Refusal;

/// Writes the plan; a reader that has seen enough and closed the pipe is no fault.
pub fn write(text: &str, to: Option<&Path>) -> Result<(), Refusal> {
    match to {
        Some(path) => {
            file(text, path).map_err(|error| Refusal(format!("{}: cannot be written: {error}.", path.display())))
        }
        None => match standard(text) {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => {
                Err(Refusal(format!("standard output cannot be written: {error}.")))
            }
            _ => Ok(()),
        },
    }
}

/// Words for the person, on standard error.
pub fn words(text: &str) {
    // There is nowhere left to say that standard error is gone.
    let _ = writeln!(io::stderr(), "{}", text.trim_end());
}

fn standard(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()
}

/// Beside the file first, then in its place: a plan that is half written is never seen.
fn file(text: &str, path: &Path) -> io::Result<()> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut beside = ordinary(&mut tempfile::Builder::new()).tempfile_in(folder)?;
    beside.write_all(text.as_bytes())?;
    beside.as_file().sync_all()?;
    beside.persist(path).map_err(|error| error.error)?;
    Ok(())
}

/// With the permissions of an ordinary new file, which the person's own mask narrows.
fn ordinary<'a, 'b, 'c>(builder: &'a mut tempfile::Builder<'b, 'c>) -> &'a mut tempfile::Builder<'b, 'c> {
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_whole_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.txt");
        std::fs::write(&path, "old and longer").unwrap();
        write("new", Some(&path)).unwrap();
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_that_is_not_there_is_named() {
        let path = Path::new("no such folder").join("plan.txt");
        assert!(write("plan", Some(&path)).unwrap_err().0.contains("plan.txt: cannot be written"));
    }
}
