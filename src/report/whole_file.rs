//! Files that are written whole or not at all.

use std::fs::{self, OpenOptions, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;
use thiserror::Error;

/// Why a file could not be written.
#[derive(Debug, Error)]
pub enum FileError {
    /// There is something else than a file at the path.
    #[error("cannot create `{}`: it exists and is not a file", .path.display())]
    NotAFile {
        /// The path as given.
        path: PathBuf,
    },
    /// The file cannot be created.
    #[error("cannot create `{}`: {source}", .path.display())]
    NotCreatable {
        /// The path as given.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// Writing failed.
    #[error("cannot write `{}`: {source}", .path.display())]
    NotWritten {
        /// The path as given.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

/// A file beside its target, which takes the target's place only when it is whole.
#[derive(Debug)]
pub struct WholeFile {
    path: PathBuf,
    target: PathBuf,
    file: NamedTempFile,
}

impl WholeFile {
    /// Opens the file, so that a path that cannot be written is known before there is anything to write.
    ///
    /// # Errors
    /// [`FileError::NotAFile`] and [`FileError::NotCreatable`].
    pub fn create(path: &Path) -> Result<Self, FileError> {
        let not_creatable = |source| FileError::NotCreatable { path: path.to_owned(), source };
        let (target, permissions) = target(path)?;
        let mut builder = tempfile::Builder::new();
        if let Some(permissions) = permissions {
            builder.permissions(permissions);
        }
        let folder =
            target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let file = builder.prefix(".whole-").suffix(".part").tempfile_in(folder).map_err(not_creatable)?;
        Ok(Self { path: path.to_owned(), target, file })
    }

    /// The path as it was given.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes the text and puts the file in its place.
    ///
    /// # Errors
    /// [`FileError::NotWritten`]; then the target is as it was before.
    pub fn keep_with(mut self, text: &str) -> Result<(), FileError> {
        match self.file.write_all(text.as_bytes()) {
            Ok(()) => self.keep(),
            Err(source) => Err(FileError::NotWritten { path: self.path, source }),
        }
    }

    /// Puts the finished file in its place.
    ///
    /// # Errors
    /// [`FileError::NotWritten`]; then the target is as it was before.
    pub fn keep(self) -> Result<(), FileError> {
        let Self { path, target, file } = self;
        let not_written = |source| FileError::NotWritten { path: path.clone(), source };
        file.as_file().sync_all().map_err(not_written)?;
        file.persist(target).map_err(|error| not_written(error.error))?;
        Ok(())
    }
}

impl Write for WholeFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.file.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

/// The file that is replaced in the end, links followed, and the permissions that it shall have.
fn target(path: &Path) -> Result<(PathBuf, Option<Permissions>), FileError> {
    let not_creatable = |source| FileError::NotCreatable { path: path.to_owned(), source };
    match fs::metadata(path) {
        Ok(metadata) if !metadata.is_file() => Err(FileError::NotAFile { path: path.to_owned() }),
        Ok(metadata) => {
            // Replacing would get around a write protection that the household put there.
            OpenOptions::new().write(true).open(path).map_err(not_creatable)?;
            Ok((fs::canonicalize(path).map_err(not_creatable)?, Some(metadata.permissions())))
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            Ok((path.to_owned(), new_file_permissions()))
        }
        Err(error) => Err(not_creatable(error)),
    }
}

/// What a new file gets, before the user's mask is taken off.
#[cfg(unix)]
fn new_file_permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

/// What a new file gets: the system decides.
#[cfg(not(unix))]
fn new_file_permissions() -> Option<Permissions> {
    None
}
