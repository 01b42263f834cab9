//! Puts a face on the screen. Decides nothing: every text and every colour's phase is in the face.

mod board;
mod discs;
mod pace;
mod reads;
mod rows;
mod setup;

use std::rc::Rc;

use slint::{Global, Model, ModelRc, SharedString, VecModel};

use crate::face::{Ask, Body, Button, Face, Going, HelpPanel, Key, PadFace, Panel, PhaseKind, Tap, apart};
use crate::ui::{self, Kiosk, KioskWindow};

pub use rows::letters;
pub use setup::apply_setup;

/// Draws `face`, and lets move what moves as floor time goes by. What is the same as before is not drawn again.
pub fn apply(window: &KioskWindow, face: &Face, going: Option<Going>) {
    let kiosk = Kiosk::get(window);
    reads::apply(&kiosk, face.language);
    kiosk.set_link((&face.link).into());
    kiosk.set_saving((&face.saving).into());
    kiosk.set_notice((&face.notice).into());
    kiosk.set_undo_shown(face.undo.is_some());
    kiosk.set_undo(face.undo.as_ref().map_or_else(Default::default, button));
    kiosk.set_help_shown(face.help.is_some());
    kiosk.set_help(face.help.as_ref().map_or_else(Default::default, help));
    match &face.body {
        Body::Blank { text } => {
            kiosk.set_blank(text.into());
            kiosk.set_shows(ui::Shows::Blank);
        }
        Body::Stations { panels } => {
            if let [large, others @ ..] = panels.as_slice() {
                // Help covers the large station, which then stands in the strip like the others.
                let strip = if face.help.is_some() { panels.as_slice() } else { others };
                stations(&kiosk, large, strip, face.pad.as_ref(), letters(window));
                pace::pace(window, large, going);
            }
            kiosk.set_shows(ui::Shows::Stations);
        }
        Body::Board { board } => {
            board::board(window, board);
            kiosk.set_shows(ui::Shows::Board);
        }
    }
}

fn stations(kiosk: &Kiosk<'_>, large: &Panel, strip: &[Panel], open: Option<&PadFace>, letters: usize) {
    let done = ask(large.done.as_ref());
    // The answers belong to one set: they close when it is over or another takes its place.
    if done.turn != kiosk.get_done().turn || !large.done.as_ref().is_some_and(|ask| ask.enabled) {
        kiosk.set_asking(false);
    }
    kiosk.set_panel(panel(large));
    fill(&kiosk.get_rows(), rows::rows(&large.lines(), letters), |m| kiosk.set_rows(m));
    let (discs, width) = discs::discs(&large.load.sleeve);
    fill(&kiosk.get_discs(), discs, |m| kiosk.set_discs(m));
    kiosk.set_discs_width(width);
    let said = [large.load.how.as_str(), &large.load.on_now];
    kiosk.set_discs_said(said.join(" ").trim().into());
    fill(&kiosk.get_strip(), strip.iter().map(small).collect(), |m| kiosk.set_strip(m));
    kiosk.set_pad_shown(open.is_some());
    kiosk.set_pad(open.map_or_else(Default::default, pad));
    let plates = open.map_or_else(Vec::new, |open| open.plates.iter().map(key).collect());
    fill(&kiosk.get_pad_plates(), plates, |m| kiosk.set_pad_plates(m));
    fill(&kiosk.get_buttons(), controls(large, open), |m| kiosk.set_buttons(m));
    fill(&kiosk.get_done_answers(), answers(large.done.as_ref()), |m| kiosk.set_done_answers(m));
    let efforts = large.efforts.iter();
    let titles = efforts.clone().map(|ask| SharedString::from(&ask.title)).collect();
    fill(&kiosk.get_effort_titles(), titles, |m| kiosk.set_effort_titles(m));
    let answered = efforts.flat_map(|ask| answers(Some(ask))).collect();
    fill(&kiosk.get_effort_answers(), answered, |m| kiosk.set_effort_answers(m));
    kiosk.set_done(done);
    kiosk.set_effort(ask(large.efforts.first()));
}

/// The row of buttons: what the station offers, or the keys of what is being said. Calls are always there, last.
fn controls(large: &Panel, open: Option<&PadFace>) -> Vec<ui::ButtonData> {
    let is_call = |button: &&Button| matches!(button.tap, Tap::CoachPlease | Tap::HelpNow);
    let calls = large.buttons.iter().filter(is_call).map(button);
    if let Some(open) = open {
        // More time is always there.
        let not_yet = large.buttons.iter().filter(|button| button.tap == Tap::NotYet).map(button);
        return open.row.iter().map(key).chain(not_yet).chain(calls).collect();
    }
    let others = large.buttons.iter().filter(|button| !is_call(button)).map(button);
    let opener = large.done.iter().map(opener);
    let keys = large.not_as_shown.iter().chain(&large.pace_key).map(key);
    opener.chain(others).chain(keys).chain(calls).collect()
}

/// Changes only the rows that differ, so that only they are drawn again.
fn fill<T: Clone + PartialEq + 'static>(model: &ModelRc<T>, rows: Vec<T>, set: impl FnOnce(ModelRc<T>)) {
    let Some(kept) = model.as_any().downcast_ref::<VecModel<T>>() else {
        set(ModelRc::from(Rc::new(VecModel::from(rows))));
        return;
    };
    while kept.row_count() > rows.len() {
        kept.remove(rows.len());
    }
    for (n, row) in rows.into_iter().enumerate() {
        match kept.row_data(n) {
            Some(old) if old == row => {}
            Some(_) => kept.set_row_data(n, row),
            None => kept.push(row),
        }
    }
}

/// A station of the strip: what it says at once goes after its word where that alone is half a sentence.
fn small(station: &Panel) -> ui::PanelData {
    let data = panel(station);
    let half = matches!(station.phase, PhaseKind::Free | PhaseKind::Reserved | PhaseKind::OtherUse);
    if !half || station.order.is_empty() {
        return data;
    }
    let order = format!("{} {}", station.word, station.order);
    ui::PanelData { order: order.into(), ..data }
}

fn panel(panel: &Panel) -> ui::PanelData {
    let text = |text: &String| SharedString::from(text);
    let (sign, count) = apart(&panel.count);
    // Whoever leaves is told where to go in the place of the load.
    let to = if panel.to.is_empty() { String::new() } else { panel.order.clone() };
    let (load_sign, load) = if to.is_empty() { apart(&panel.load.number) } else { apart(&to) };
    ui::PanelData {
        key: text(&panel.key),
        station: text(&panel.station),
        phase: phase(panel.phase),
        word: text(&panel.word),
        pace: text(&panel.pace),
        who: text(&panel.who),
        load: load.into(),
        load_sign: load_sign.into(),
        unit: text(&panel.load.unit),
        count: count.into(),
        sign: sign.into(),
        why: text(&panel.why),
        order: text(&panel.order),
        spotter: text(&panel.spotter),
        next: text(&panel.next),
    }
}

fn button(button: &Button) -> ui::ButtonData {
    ui::ButtonData {
        tap: button.tap.name().into(),
        label: (&button.label).into(),
        note: (&button.note).into(),
        enabled: button.enabled,
        primary: button.primary,
        alarm: button.tap == Tap::HelpNow,
        weight: weight(button),
        opens: false,
        words: words(&button.label).into(),
        note_lines: two_lines(&button.note).into(),
    }
}

fn key(key: &Key) -> ui::ButtonData {
    ui::ButtonData {
        tap: (&key.name).into(),
        label: (&key.label).into(),
        note: (&key.note).into(),
        enabled: key.enabled,
        primary: key.primary,
        alarm: false,
        weight: if key.primary { 3.0 } else { 2.0 },
        opens: false,
        words: words(&key.label).into(),
        note_lines: two_lines(&key.note).into(),
    }
}

fn pad(pad: &PadFace) -> ui::PadData {
    ui::PadData { title: (&pad.title).into(), said: (&pad.said).into() }
}

/// Each word of a label in a line of its own: the widest of them has to fit.
fn words(label: &str) -> String {
    label.replace(' ', "\n")
}

/// A note broken in two lines where that is best.
fn two_lines(note: &str) -> String {
    let longer = |at: &usize| note[..*at].chars().count().max(note[*at..].chars().count());
    let best = note.match_indices(' ').map(|(at, _)| at).min_by_key(longer);
    best.map_or_else(|| note.to_owned(), |at| format!("{}\n{}", &note[..at], &note[at + 1..]))
}

/// The share of the row of the expected button.
const EXPECTED: f32 = 5.0;

/// How large a share of the row a button has: GO keeps room for its reason while something else comes first.
const fn weight(button: &Button) -> f32 {
    match button.tap {
        _ if button.primary => EXPECTED,
        Tap::Go | Tap::StillHere => 3.0,
        Tap::DoneLight
        | Tap::DoneRight
        | Tap::DoneHeavy
        | Tap::SecondLight
        | Tap::SecondRight
        | Tap::SecondHeavy
        | Tap::Lighter
        | Tap::NotYet
        | Tap::CoachPlease
        | Tap::HelpNow
        | Tap::ConfirmLoad
        | Tap::OtherUse
        | Tap::EndOtherUse
        | Tap::UseArms
        | Tap::SpotBy
        | Tap::SpotBySecond
        | Tap::SpotByThird
        | Tap::Undo
        | Tap::Free
        | Tap::FreeAsItIs => 2.0,
    }
}

/// The button that opens the answers to DONE.
fn opener(ask: &Ask) -> ui::ButtonData {
    ui::ButtonData {
        tap: SharedString::default(),
        label: (&ask.label).into(),
        note: (&ask.note).into(),
        enabled: ask.enabled,
        primary: true,
        alarm: false,
        weight: EXPECTED,
        opens: true,
        words: words(&ask.label).into(),
        note_lines: two_lines(&ask.note).into(),
    }
}

fn answers(ask: Option<&Ask>) -> Vec<ui::ButtonData> {
    ask.map_or_else(Vec::new, |ask| ask.answers.iter().map(button).collect())
}

fn ask(ask: Option<&Ask>) -> ui::AskData {
    ask.map_or_else(ui::AskData::default, |ask| ui::AskData {
        shown: true,
        turn: ask.turn.as_str().into(),
        question: (&ask.question).into(),
        unanswered: (&ask.unanswered).into(),
        back: (&ask.back).into(),
    })
}

fn help(help: &HelpPanel) -> ui::HelpData {
    ui::HelpData {
        title: (&help.title).into(),
        place: (&help.place).into(),
        since: (&help.since).into(),
        number: (&help.number).into(),
        address: (&help.address).into(),
        defibrillator: (&help.defibrillator).into(),
        first_aid: (&help.first_aid).into(),
    }
}

const fn phase(kind: PhaseKind) -> ui::Phase {
    match kind {
        PhaseKind::Free => ui::Phase::Free,
        PhaseKind::Reserved => ui::Phase::Reserved,
        PhaseKind::Held => ui::Phase::Held,
        PhaseKind::GetReady => ui::Phase::GetReady,
        PhaseKind::Coming => ui::Phase::Coming,
        PhaseKind::Rest => ui::Phase::Rest,
        PhaseKind::Changeover => ui::Phase::Changeover,
        PhaseKind::Leaving => ui::Phase::Leaving,
        PhaseKind::Ready => ui::Phase::Ready,
        PhaseKind::GetSet => ui::Phase::GetSet,
        PhaseKind::CountIn => ui::Phase::CountIn,
        PhaseKind::Working => ui::Phase::Working,
        PhaseKind::Assumed => ui::Phase::Assumed,
        PhaseKind::WipeDown => ui::Phase::WipeDown,
        PhaseKind::Paused => ui::Phase::Paused,
        PhaseKind::Stopped => ui::Phase::Stopped,
        PhaseKind::OtherUse => ui::Phase::OtherUse,
        PhaseKind::OutOfService => ui::Phase::OutOfService,
        PhaseKind::Gone => ui::Phase::Gone,
    }
}
