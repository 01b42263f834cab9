//! Puts a face on the screen. Decides nothing: every text and every colour's phase is in the face.

mod board;
mod discs;
mod hands;
mod pace;
mod reads;
mod rows;
mod setup;
mod visit;

use std::rc::Rc;

use slint::{Global, Model, ModelRc, SharedString, VecModel};
use turnabout_protocol::text::Language;

use crate::face::{Ask, Body, Button, Face, Going, HelpPanel, Key, PadFace, Panel, PhaseKind, Tap, apart};
use crate::input::{Choice, Control, Drawn, Row, row};
use crate::ui::{self, Kiosk, KioskWindow};

pub use hands::room;
pub use rows::letters;
pub use setup::{apply_setup, mark_setup};

/// Draws `face`, and lets move what moves as floor time goes by. What is the same as before is not drawn again.
pub fn apply(window: &KioskWindow, face: &Face, going: Option<Going>) {
    apply_with(window, face, going, &Drawn::default());
}

/// The same with what hands do on it.
pub fn apply_with(window: &KioskWindow, face: &Face, going: Option<Going>, drawn: &Drawn) {
    let kiosk = Kiosk::get(window);
    reads::apply(&kiosk, face.language);
    apply_hands(window, face, drawn);
    kiosk.set_link((&face.link).into());
    kiosk.set_saving((&face.saving).into());
    kiosk.set_notice((&face.notice).into());
    kiosk.set_undo_shown(face.undo.is_some());
    kiosk.set_undo(face.undo.as_ref().map_or_else(Default::default, button));
    visit::apply(&kiosk, face.visit.as_ref(), letters(window));
    kiosk.set_help_shown(face.help.is_some());
    kiosk.set_help(face.help.as_ref().map_or_else(Default::default, help));
    kiosk.set_help_since(face.help.as_ref().map_or_else(Default::default, |help| (&help.since).into()));
    match &face.body {
        Body::Blank { text } => {
            kiosk.set_blank(text.into());
            kiosk.set_shows(ui::Shows::Blank);
        }
        Body::Stations { panels } => {
            if let [large, others @ ..] = panels.as_slice() {
                // Help and whoever has come cover the large station, which then stands in the strip like the others.
                let covered = face.help.is_some() || face.visit.is_some();
                let strip = if covered { panels.as_slice() } else { others };
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

/// A text with a zero for each of its digits, which are all as wide: it stays as it is while it counts.
fn as_wide(text: &str) -> String {
    text.chars().map(|letter| if letter.is_ascii_digit() { '0' } else { letter }).collect()
}

/// Draws what hands do on `face`, which is drawn already.
pub fn apply_hands(window: &KioskWindow, face: &Face, drawn: &Drawn) {
    let kiosk = Kiosk::get(window);
    hands::hands(&kiosk, drawn, face);
    let mut page = told_off(row(face, room(window)), drawn.page, face.language);
    let notes = page.iter_mut().map(|button| std::mem::take(&mut button.note)).collect();
    fill_apart(&kiosk.get_notes(), notes, |m| kiosk.set_notes(m));
    fill(&kiosk.get_buttons(), page, |m| kiosk.set_buttons(m));
}

fn stations(kiosk: &Kiosk<'_>, large: &Panel, strip: &[Panel], open: Option<&PadFace>, letters: usize) {
    let done = ask(large.done.as_ref());
    // The answers belong to one set: they close when it is over or another takes its place.
    if done.turn != kiosk.get_done().turn || !large.done.as_ref().is_some_and(|ask| ask.enabled) {
        kiosk.set_asking(false);
    }
    let mut data = panel(large);
    kiosk.set_count_wide(as_wide(&data.count).into());
    kiosk.set_count(std::mem::take(&mut data.count));
    kiosk.set_count_sign(std::mem::take(&mut data.sign));
    kiosk.set_order(std::mem::take(&mut data.order));
    // The lines say it where it is large.
    data.why = SharedString::default();
    kiosk.set_panel(data);
    let rows = rows::rows(&large.lines(), letters);
    kiosk.set_first_row(rows.first().map_or(0, |row| row.ends + 1));
    fill(&kiosk.get_rows(), rows, |m| kiosk.set_rows(m));
    let (discs, width) = discs::discs(&large.load.sleeve);
    fill(&kiosk.get_discs(), discs, |m| kiosk.set_discs(m));
    kiosk.set_discs_width(width);
    let said = [large.load.how.as_str(), &large.load.on_now];
    kiosk.set_discs_said(said.join(" ").trim().into());
    fill(&kiosk.get_strip(), strip.iter().map(small).collect(), |m| kiosk.set_strip(m));
    kiosk.set_pad_shown(open.is_some());
    if let Some(open) = open {
        kiosk.set_pad(pad(open));
        fill(&kiosk.get_pad_plates(), open.plates.iter().map(key).collect(), |m| kiosk.set_pad_plates(m));
    }
    fill(&kiosk.get_done_answers(), answers(large.done.as_ref()), |m| kiosk.set_done_answers(m));
    let efforts = large.efforts.iter();
    let titles = efforts.clone().map(|ask| SharedString::from(&ask.title)).collect();
    fill(&kiosk.get_effort_titles(), titles, |m| kiosk.set_effort_titles(m));
    let answered = efforts.flat_map(|ask| answers(Some(ask))).collect();
    fill(&kiosk.get_effort_answers(), answered, |m| kiosk.set_effort_answers(m));
    kiosk.set_done(done);
    kiosk.set_effort(ask(large.efforts.first()));
}

/// A page of the row of buttons: some of what the station offers, or of the keys of what is being said, and the calls.
fn told_off(row: Row<'_>, page: usize, language: Language) -> Vec<ui::ButtonData> {
    let Row { others, calls } = row;
    let last = others.last().map_or(0, |(_, last)| *last);
    let page = if page > last { 0 } else { page };
    let others = others.into_iter().filter(|(_, of)| *of == page).map(|(one, _)| control(one));
    others.chain((last > 0).then(|| hands::more(language))).chain(calls.into_iter().map(button)).collect()
}

fn control(control: Control<'_>) -> ui::ButtonData {
    match control {
        Control::Opener(ask) => opener(ask),
        Control::Button(plain) => button(plain),
        Control::Beside(plain) => button(&Button { primary: false, ..plain.clone() }),
        Control::Key(plain) => key(plain),
    }
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

/// The same where each row has a model of its own: whoever looks at one row of a model hears of changes of all.
fn fill_apart<T: Clone + PartialEq + 'static>(
    model: &ModelRc<ModelRc<T>>,
    rows: Vec<T>,
    set: impl FnOnce(ModelRc<ModelRc<T>>),
) {
    let own = |(n, row)| {
        let mut own = model.row_data(n).unwrap_or_default();
        fill(&own.clone(), vec![row], |anew| own = anew);
        own
    };
    fill(model, rows.into_iter().enumerate().map(own).collect(), set);
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
    }
}

fn button(button: &Button) -> ui::ButtonData {
    ui::ButtonData {
        note: note(&button.note),
        enabled: button.enabled,
        primary: button.primary,
        alarm: button.tap == Tap::HelpNow,
        weight: weight(button),
        ..plain(button.tap.name(), &button.label)
    }
}

fn key(key: &Key) -> ui::ButtonData {
    ui::ButtonData {
        note: note(&key.note),
        enabled: key.enabled,
        primary: key.primary,
        weight: if key.primary { 3.0 } else { 2.0 },
        ..plain(&key.name, &key.label)
    }
}

/// A button of that name with its label.
fn plain(name: &str, label: &str) -> ui::ButtonData {
    ui::ButtonData {
        tap: name.into(),
        label: label.into(),
        weight: 2.0,
        words: words(label).into(),
        ..ui::ButtonData::default()
    }
}

fn pad(pad: &PadFace) -> ui::PadData {
    ui::PadData { title: (&pad.title).into(), said: (&pad.said).into() }
}

/// Each word of a label in a line of its own: the widest of them has to fit.
fn words(label: &str) -> String {
    label.replace(' ', "\n")
}

fn note(note: &str) -> ui::NoteData {
    ui::NoteData { text: note.into(), lines: two_lines(note).into() }
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
        note: note(&ask.note),
        enabled: ask.enabled,
        primary: true,
        weight: EXPECTED,
        ..plain(Choice::ASK, &ask.label)
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
