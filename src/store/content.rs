//! Whether a file still holds what it held: by its bytes, never by its times.

use std::io;
use std::path::Path;

use siphasher::sip128::SipHasher13;

use super::disk::{Disk, Thing};
use super::document::Document;

/// What a file held, as a digest of 128 bits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Content(u128);

impl Content {
    pub fn of(bytes: &[u8]) -> Self {
        Self(SipHasher13::new().hash(bytes).as_u128())
    }
}

/// What a file holds now; `None` where none is there, or something that is no file.
///
/// # Errors
/// It could not be looked at: that says nothing about what is there.
pub fn content(disk: &dyn Disk, path: &Path) -> io::Result<Option<Content>> {
    // A pipe would never answer.
    if disk.what(path)? != Some(Thing::File) {
        return Ok(None);
    }
    match disk.read(path, Document::Season.most_bytes()) {
        Ok(bytes) => Ok(Some(Content::of(&bytes))),
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(why) => Err(why),
    }
}
