//! A programme as a page enters it: JSON of the very shape of a programme file.
//!
//! What a page sends is turned into the text of a file and read by the reader of files, so that both are checked by the
//! same rules; `super::on_page` has what a page is told. [`document_of`] writes what the floor has now in that shape. Reading
//! what was written gives the same programme: `server/tests/setup/entered.rs` holds that for programmes of every kind.

mod read;
mod write;
mod write_blocks;

pub use read::{check_entered, parse_entered};
pub use write::document_of;

/// The name of what a page sends, for messages.
const ENTERED: &str = "programme";
