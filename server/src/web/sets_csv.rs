//! The sets of a group's evening as a file for spreadsheets and scripts: comma-separated values by RFC 4180, in UTF-8,
//! with a header row and a line break of CR and LF after every row.
//!
//! Words are those of the protocol and do not follow the reader's language; numbers have a point; times are RFC 3339
//! with the offset of clocks at the floor. What reads as a number stands without quotes and everything else in them;
//! what is not known is an empty text.
//!
//! A name may begin with `=`, `+`, `-` or `@`, which some spreadsheets take for a formula. RFC 4180 has no sign for
//! "this is text", and a sign of our own would be part of the name for whoever reads it back; so names stand as they
//! are. Whoever opens the file in a spreadsheet imports its quoted columns as text.

use csv::{QuoteStyle, Terminator, WriterBuilder};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::load::Load;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{ClientSummary, SetName, SummarySet, SummarySheet};
use turnabout_protocol::work::Work;

/// The media type with its parameters, by section 3 of RFC 4180.
pub(super) const MEDIA: &str = "text/csv; charset=utf-8; header=present";

/// The names of the columns, in order.
const COLUMNS: [&str; 25] = [
    "started",
    "ended",
    "group",
    "client_number",
    "client",
    "exercise",
    "station",
    "block",
    "kind",
    "set",
    "of",
    "load",
    "unit",
    "pin",
    "pair",
    "reps",
    "reps_with_help",
    "each_side",
    "asked_least",
    "asked_most",
    "hold_s",
    "ending",
    "effort",
    "reps_in_reserve",
    "rest_s",
];

/// What the file is called.
pub(super) fn name(sheet: &SummarySheet) -> String {
    format!("sets-group-{}.csv", sheet.group)
}

/// The file: one row a set, client after client, the earliest first.
pub(super) fn file(sheet: &SummarySheet) -> String {
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .quote_style(QuoteStyle::NonNumeric)
        .from_writer(Vec::new());
    let rows = sheet.clients.iter().flat_map(|client| client.sets.iter().map(move |set| row(client, set)));
    let head = COLUMNS.map(ToOwned::to_owned);
    for row in std::iter::once(head).chain(rows) {
        writer.write_record(row).expect("rows are all as long as the header, and memory takes them");
    }
    let bytes = writer.into_inner().expect("memory takes what is left");
    String::from_utf8(bytes).expect("texts are UTF-8, and so is what stands between them")
}

fn row(client: &ClientSummary, set: &SummarySet) -> [String; COLUMNS.len()] {
    let number = |number: Option<u8>| number.map(|n| n.to_string()).unwrap_or_default();
    let yes = |yes: bool| if yes { "yes" } else { "no" }.to_owned();
    let (kind, n, of) = match set.set {
        SetName::Technique => ("technique", None, None),
        SetName::Ramp => ("ramp", None, None),
        SetName::Working { n, of } => ("working", Some(n), Some(of)),
    };
    let (load, unit, pin) = match set.load {
        None => Default::default(),
        Some(Load::Mass(mass)) => (mass.in_unit(set.unit), set.unit.symbol().to_owned(), String::new()),
        Some(Load::Pin { pin }) => (String::new(), String::new(), pin.to_string()),
    };
    let (least, most, hold) = match set.work {
        Work::Reps { least, most } => (Some(least), Some(most), String::new()),
        Work::Hold { secs } => (None, None, secs.0.to_string()),
    };
    let (ending, helped) = ending(set.ending);
    let (effort, reserve) = effort(set.effort);
    [
        set.started.clone(),
        set.ended.clone(),
        set.turn.group.to_string(),
        client.client.to_string(),
        client.name.clone(),
        set.exercise.of(Language::En).to_owned(),
        set.station.clone().unwrap_or_default(),
        (u16::from(set.turn.block) + 1).to_string(),
        kind.to_owned(),
        number(n),
        number(of),
        load,
        unit,
        pin,
        yes(set.gear == GearKind::Dumbbells),
        set.reps.map(|reps| reps.to_string()).unwrap_or_default(),
        helped.to_string(),
        yes(set.per_side),
        number(least),
        number(most),
        hold,
        ending.to_owned(),
        effort.to_owned(),
        number(reserve),
        set.rest.map(|rest| rest.length.0.to_string()).unwrap_or_default(),
    ]
}

/// How a set ended, and with how many repetitions the spotter helped.
const fn ending(ending: Ending) -> (&'static str, u8) {
    match ending {
        Ending::Complete => ("complete", 0),
        Ending::Short => ("short", 0),
        Ending::Helped { reps } => ("helped", reps),
        Ending::Failed => ("failed", 0),
        Ending::FormBroken => ("form_broken", 0),
        Ending::EquipmentFault => ("equipment_fault", 0),
        Ending::Stopped => ("stopped", 0),
    }
}

/// How a set felt, in a word or in repetitions in reserve.
const fn effort(effort: Option<Effort>) -> (&'static str, Option<u8>) {
    match effort {
        None => ("", None),
        Some(Effort::Light) => ("light", None),
        Some(Effort::Right) => ("right", None),
        Some(Effort::Heavy) => ("heavy", None),
        Some(Effort::Rir { reps }) => ("reps_in_reserve", Some(reps)),
    }
}
