//! The files behind the pages: part of the program, and served under an address that names their content.
//!
//! One hash over all of them names the folder, so that a browser may keep every file for ever, and a new server
//! never mixes old modules with new ones. What a page asks for are its modules joined ([`super::joined`]).

use std::sync::LazyLock;

use sha2::{Digest, Sha256};

/// One file.
pub(super) struct Asset {
    /// Its name in the folder.
    pub(super) name: &'static str,
    /// Its media type.
    pub(super) media: &'static str,
    /// Its content.
    pub(super) body: &'static str,
}

/// The media type of a module.
pub(super) const SCRIPT: &str = "text/javascript; charset=utf-8";
const STYLE: &str = "text/css; charset=utf-8";

macro_rules! asset {
    ($name:literal, $media:expr) => {
        Asset { name: $name, media: $media, body: include_str!(concat!("../assets/", $name)) }
    };
}

/// Every file, in the order of names.
pub(super) const ALL: [Asset; 83] = [
    asset!("acts.js", SCRIPT),
    asset!("admission.js", SCRIPT),
    asset!("ask.js", SCRIPT),
    asset!("below.js", SCRIPT),
    asset!("board.css", STYLE),
    asset!("board.js", SCRIPT),
    asset!("briefing.js", SCRIPT),
    asset!("briefing_words.js", SCRIPT),
    asset!("act_button.js", SCRIPT),
    asset!("call_row.js", SCRIPT),
    asset!("need_hint.js", SCRIPT),
    asset!("card.js", SCRIPT),
    asset!("choose.js", SCRIPT),
    asset!("clock.js", SCRIPT),
    asset!("coach.css", STYLE),
    asset!("coach.js", SCRIPT),
    asset!("device.js", SCRIPT),
    asset!("dom.js", SCRIPT),
    asset!("doubts.js", SCRIPT),
    asset!("early.js", SCRIPT),
    asset!("focus.js", SCRIPT),
    asset!("foot.js", SCRIPT),
    asset!("form.js", SCRIPT),
    asset!("forms.js", SCRIPT),
    asset!("frame.js", SCRIPT),
    asset!("hello.js", SCRIPT),
    asset!("help.js", SCRIPT),
    asset!("icon.svg", "image/svg+xml"),
    asset!("incident.js", SCRIPT),
    asset!("index.css", STYLE),
    asset!("index.js", SCRIPT),
    asset!("light.css", STYLE),
    asset!("link.js", SCRIPT),
    asset!("load.js", SCRIPT),
    asset!("me.js", SCRIPT),
    asset!("more.js", SCRIPT),
    asset!("needs.js", SCRIPT),
    asset!("notes.js", SCRIPT),
    asset!("notices.js", SCRIPT),
    asset!("outbox.js", SCRIPT),
    asset!("papers.js", SCRIPT),
    asset!("phase.js", SCRIPT),
    asset!("plates.js", SCRIPT),
    asset!("programme.css", STYLE),
    asset!("programme.js", SCRIPT),
    asset!("programme_doc.js", SCRIPT),
    asset!("programme_fields.js", SCRIPT),
    asset!("programme_form.js", SCRIPT),
    asset!("programme_parts.js", SCRIPT),
    asset!("programme_place.js", SCRIPT),
    asset!("programme_table.js", SCRIPT),
    asset!("programme_told.js", SCRIPT),
    asset!("programme_wire.js", SCRIPT),
    asset!("programme_words.js", SCRIPT),
    asset!("promise.js", SCRIPT),
    asset!("proposals.js", SCRIPT),
    asset!("rest_cost.js", SCRIPT),
    asset!("ribbon.css", STYLE),
    asset!("ribbon.js", SCRIPT),
    asset!("ribbon_legend.js", SCRIPT),
    asset!("run_sheet.js", SCRIPT),
    asset!("senses.js", SCRIPT),
    asset!("session.js", SCRIPT),
    asset!("session_words.js", SCRIPT),
    asset!("sets.js", SCRIPT),
    asset!("shapes.js", SCRIPT),
    asset!("sheet.css", STYLE),
    asset!("sheet.js", SCRIPT),
    asset!("signals.js", SCRIPT),
    asset!("soft_needs.js", SCRIPT),
    asset!("stations.js", SCRIPT),
    asset!("summary.js", SCRIPT),
    asset!("summary_words.js", SCRIPT),
    asset!("sure.js", SCRIPT),
    asset!("tap_button.js", SCRIPT),
    asset!("technique.js", SCRIPT),
    asset!("text.js", SCRIPT),
    asset!("theme.css", STYLE),
    asset!("today.js", SCRIPT),
    asset!("turn_line.js", SCRIPT),
    asset!("undo.js", SCRIPT),
    asset!("unsent.js", SCRIPT),
    asset!("write_down.js", SCRIPT),
];

/// The name of the folder: the first 16 hex digits of the hash. Eight bytes tell apart more versions than there
/// will be, and this is no guard against anybody: the files come from the same place as the address.
static FOLDER: LazyLock<String> = LazyLock::new(|| {
    let mut hash = Sha256::new();
    for asset in &ALL {
        // Lengths between the parts, so that no two sets of files read the same.
        for part in [asset.name, asset.body] {
            hash.update((part.len() as u64).to_be_bytes());
            hash.update(part);
        }
    }
    hash.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect()
});

/// The address of a file.
pub(super) fn address(name: &str) -> String {
    format!("/assets/{}/{name}", *FOLDER)
}

/// Whether this is the name of the folder.
pub(super) fn is_folder(folder: &str) -> bool {
    folder == *FOLDER
}

/// The file at that address; nothing for another version's folder.
pub(super) fn find(folder: &str, name: &str) -> Option<&'static Asset> {
    is_folder(folder).then(|| named(name)).flatten()
}

/// The content of a file; empty where there is none of this name.
pub(super) fn body(name: &str) -> &'static str {
    named(name).map_or("", |asset| asset.body)
}

fn named(name: &str) -> Option<&'static Asset> {
    ALL.iter().find(|asset| asset.name == name)
}
