//! Where a plan goes: standard output, or a file that is whole or not there.

use std::fs::{self, Permissions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::Refusal;

/// Writes the plan; a reader that has seen enough and closed the pipe is no fault.
pub fn write(text: &str, to: Option<&Path>) -> Result<(), Refusal> {
    match to {
        Some(path) => write_file(text.as_bytes(), path),
        None => match standard(text) {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => {
                Err(Refusal(format!("standard output cannot be written: {error}.")))
            }
            _ => Ok(()),
        },
    }
}

/// Writes a file that is whole or not there.
pub fn write_file(bytes: &[u8], path: &Path) -> Result<(), Refusal> {
    file(bytes, path).map_err(|why| Refusal(format!("{}: {why}", path.display())))
}

/// A slip of the keys must not put what is written where what was read stood.
pub fn apart<'a>(output: &Path, read: impl IntoIterator<Item = &'a PathBuf>, what: &str) -> Result<(), Refusal> {
    let at = |path: &Path| fs::canonicalize(path).ok();
    let Some(output_at) = at(output) else { return Ok(()) };
    if read.into_iter().filter_map(|path| at(path)).any(|read| read == output_at) {
        return Err(Refusal(format!("{}: was just read; name another file for the {what}.", output.display())));
    }
    Ok(())
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
fn file(bytes: &[u8], path: &Path) -> Result<(), String> {
    let found = found(path)?;
    let path = found.as_ref().map_or(path, |found| &found.path);
    replace(bytes, path, found.as_ref().map(|found| &found.permissions)).map_err(|error| cannot(&error))
}

fn replace(bytes: &[u8], path: &Path, keep: Option<&Permissions>) -> io::Result<()> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut beside = ordinary(&mut tempfile::Builder::new()).tempfile_in(folder)?;
    beside.write_all(bytes)?;
    if let Some(permissions) = keep {
        beside.as_file().set_permissions(permissions.clone())?;
    }
    beside.as_file().sync_all()?;
    beside.persist(path).map_err(|error| error.error)?;
    Ok(())
}

/// A file that is there already and may be replaced.
struct Found {
    /// Where it lies, links followed.
    path: PathBuf,
    /// What its owner allows.
    permissions: Permissions,
}

/// What a path names; only an ordinary file that may be written is one that a plan may take the place of.
fn found(path: &Path) -> Result<Option<Found>, String> {
    match fs::symlink_metadata(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(cannot(&error)),
        Ok(_) => {}
    }
    let path = fs::canonicalize(path).map_err(|error| match error.kind() {
        ErrorKind::NotFound => "is a link to a file that is not there; nothing was written.".to_string(),
        _ => cannot(&error),
    })?;
    let about = fs::metadata(&path).map_err(|error| cannot(&error))?;
    if about.is_dir() {
        return Err("is a folder; name a file in it.".to_string());
    }
    if !about.is_file() {
        return Err("is no ordinary file but a device, a pipe or a socket; nothing was written.".to_string());
    }
    if about.permissions().readonly() {
        return Err("is there and may only be read; nothing was written.".to_string());
    }
    // Opened and left as it is: whether this person may write it is for the system to say.
    fs::OpenOptions::new().write(true).open(&path).map_err(|error| cannot(&error))?;
    Ok(Some(Found { path, permissions: about.permissions() }))
}

fn cannot(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::PermissionDenied => "may not be written by you.".to_string(),
        _ => format!("cannot be written: {error}."),
    }
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

    #[test]
    fn a_folder_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        assert!(write("plan", Some(folder.path())).unwrap_err().0.contains("is a folder"));
    }

    #[cfg(unix)]
    mod on_unix {
        use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};

        use super::*;

        fn mode(path: &Path) -> u32 {
            fs::metadata(path).unwrap().permissions().mode() & 0o777
        }

        #[test]
        fn what_is_no_ordinary_file_stays_what_it_is() {
            let folder = tempfile::tempdir().unwrap();
            let pipe = folder.path().join("pipe");
            assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
            let link = folder.path().join("link");
            symlink(&pipe, &link).unwrap();
            for path in [&pipe, &link] {
                assert!(write("plan", Some(path)).unwrap_err().0.contains("no ordinary file"));
            }
            assert!(fs::symlink_metadata(&pipe).unwrap().file_type().is_fifo());
            assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
        }

        #[test]
        fn a_link_stays_and_its_target_is_replaced() {
            let (folder, elsewhere) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
            let (target, link) = (elsewhere.path().join("plan.txt"), folder.path().join("link"));
            fs::write(&target, "old").unwrap();
            symlink(&target, &link).unwrap();
            write("new", Some(&link)).unwrap();
            assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
            assert_eq!(fs::read_to_string(&target).unwrap(), "new");
            let counts = [&folder, &elsewhere].map(|folder| fs::read_dir(folder.path()).unwrap().count());
            assert_eq!(counts, [1, 1]);
        }

        #[test]
        fn a_link_to_nothing_is_refused() {
            let folder = tempfile::tempdir().unwrap();
            let link = folder.path().join("link");
            symlink(folder.path().join("gone"), &link).unwrap();
            assert!(write("plan", Some(&link)).unwrap_err().0.contains("a link to a file that is not there"));
            assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        }

        #[test]
        fn a_file_that_may_only_be_read_is_left_as_it_is() {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("plan.txt");
            fs::write(&path, "old").unwrap();
            fs::set_permissions(&path, Permissions::from_mode(0o444)).unwrap();
            assert!(write("new", Some(&path)).unwrap_err().0.contains("may only be read"));
            assert_eq!((fs::read_to_string(&path).unwrap().as_str(), mode(&path)), ("old", 0o444));
        }

        #[test]
        fn the_permissions_of_the_old_file_are_kept() {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("plan.txt");
            fs::write(&path, "old").unwrap();
            for kept in [0o600, 0o664, 0o640] {
                fs::set_permissions(&path, Permissions::from_mode(kept)).unwrap();
                write("new", Some(&path)).unwrap();
                assert_eq!(mode(&path), kept);
            }
        }
    }
}
