//! Where a plan goes: standard output, or a file that is whole or not there.

use std::fs::{self, Permissions};
use std::io::{self, ErrorKind, IsTerminal, Write};
use std::path::{Path, PathBuf};

use crate::Refusal;

/// Stands for standard output where a file is named.
const STANDARD: &str = "-";

/// Writes the plan, to standard output where no file is named or `-` is.
pub fn write(text: &str, to: Option<&Path>) -> Result<(), Refusal> {
    match to.filter(|path| !is_standard(path)) {
        Some(path) => write_file(text.as_bytes(), path),
        None => write_standard(text.as_bytes()),
    }
}

/// Writes a PDF: to a file that is whole or not there, or behind `-` to standard output, where no screen is.
pub fn write_pdf(bytes: &[u8], to: &Path) -> Result<(), Refusal> {
    if !is_standard(to) {
        return write_file(bytes, to);
    }
    if io::stdout().is_terminal() {
        return Err(Refusal(
            "-: standard output is this screen, and a PDF is not for reading there; name a file behind -o, or send \
             it on: turnwright sheet JOB -o - > FILE.pdf"
                .to_string(),
        ));
    }
    write_standard(bytes)
}

fn is_standard(path: &Path) -> bool {
    path.as_os_str() == STANDARD
}

/// A reader that has seen enough and closed the pipe is no fault.
fn write_standard(bytes: &[u8]) -> Result<(), Refusal> {
    match standard(bytes) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Refusal(format!("standard output cannot be written: {}.", in_words(&error))))
        }
        _ => Ok(()),
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

fn standard(bytes: &[u8]) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(bytes)?;
    out.flush()
}

/// Beside the file first, then in its place: a plan that is half written is never seen.
fn file(bytes: &[u8], path: &Path) -> Result<(), String> {
    let found = found(path)?;
    let at = found.as_ref().map_or(path, |found| &found.path);
    let folder = folder_of(at);
    replace(bytes, at, folder, found.as_ref().map(|found| &found.permissions))
        .map_err(|error| cannot_beside(&error, folder))
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

fn replace(bytes: &[u8], path: &Path, folder: &Path, keep: Option<&Permissions>) -> io::Result<()> {
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

/// The file itself cannot be looked at or opened.
fn cannot(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::PermissionDenied => "may not be written by you.".to_string(),
        _ => format!("cannot be written: {}.", in_words(error)),
    }
}

/// Nothing can be written beside the file, where it begins.
fn cannot_beside(error: &io::Error, folder: &Path) -> String {
    let here = folder == Path::new(".");
    let folder = if here { "this folder".to_string() } else { format!("the folder {}", folder.display()) };
    match error.kind() {
        ErrorKind::NotFound => format!("cannot be written: {folder} is not there; make it first, or name another."),
        ErrorKind::PermissionDenied => {
            format!("cannot be written: you may not put files into {folder}; name a folder of your own.")
        }
        ErrorKind::NotADirectory => format!("cannot be written: {folder} is a file, not a folder."),
        ErrorKind::ReadOnlyFilesystem => {
            format!("cannot be written: {folder} lies on a disk that may only be read; name another.")
        }
        _ => format!("cannot be written: {}.", in_words(error)),
    }
}

/// What the system says, without the name of what is written beside the file first; never its number alone.
fn in_words(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "a folder on the way to it is not there".to_string(),
        ErrorKind::NotADirectory => "what should be a folder on the way to it is a file".to_string(),
        ErrorKind::StorageFull => "the disk is full".to_string(),
        ErrorKind::QuotaExceeded => "your share of the disk is full".to_string(),
        ErrorKind::InvalidFilename => "its name is too long, or not one that the system takes".to_string(),
        ErrorKind::ReadOnlyFilesystem => "the disk may only be read".to_string(),
        ErrorKind::PermissionDenied => "the system does not allow it".to_string(),
        kind => format!("the system says \"{kind}\""),
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
        let says = write("plan", Some(&path)).unwrap_err().0;
        assert!(says.contains("plan.txt: cannot be written: the folder no such folder is not there"), "{says}");
    }

    #[test]
    fn what_the_system_says_is_said_in_words_with_the_path_that_was_given() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("file"), "x").unwrap();
        for (path, says) in
            [(folder.path().join("file").join("plan.txt"), "a file"), (folder.path().join("x".repeat(300)), "too long")]
        {
            let told = write("plan", Some(&path)).unwrap_err().0;
            let told = told.strip_prefix(&format!("{}: ", path.display())).expect("the path that was given");
            assert!(told.contains(says), "{told}");
            assert!(!told.contains("os error") && !told.contains(".tmp"), "{told}");
        }
        // The kinds that no test can bring about as it likes; numbers of Linux (errno.h).
        for (number, says) in [(28, "full"), (30, "only be read"), (122, "share"), (13, "may not put files")] {
            let told = cannot_beside(&io::Error::from_raw_os_error(number), folder.path());
            assert!(told.contains(says) && !told.contains("os error"), "{told}");
        }
        let wrapped = io::Error::other("no room for /tmp/.tmpA1b2C3 (os error 5)");
        assert!(!cannot_beside(&wrapped, folder.path()).contains("tmp"), "{wrapped}");
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
