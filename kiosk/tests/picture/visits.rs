//! What a coach reads on a display of the floor is read from two metres, and nothing of it is cut.

use std::rc::Rc;

use slint::{ComponentHandle, Global, Model, ModelRc, VecModel};
use turnabout_kiosk::face::{Face, SheetFace, VisitFace};
use turnabout_kiosk::ui::{Kiosk, RowData};
use turnabout_protocol::text::Language;

use crate::ink::{self, MARGIN, filled};
use crate::scenes::{Sample, visits};
use crate::screens::{STATIONS, area, areas, picture, put_on, window};

fn sheets() -> impl Iterator<Item = (Sample, Face, SheetFace, Language)> {
    let all = Language::ALL.into_iter().flat_map(|language| visits().into_iter().map(move |s| (s, language)));
    all.filter_map(|(sample, language)| {
        let face = sample.face(language);
        let Some(VisitFace::Sheet { sheet }) = face.visit.clone() else { return None };
        Some((sample, face, sheet, language))
    })
}

#[test]
fn a_run_sheet_is_read_from_two_metres() {
    // 16 minutes of arc are the least, 22 preferred (ISO 9241-303).
    let window = window();
    let (mut names, mut lines) = (0, 0);
    for screen in STATIONS {
        put_on(&window, screen);
        for (sample, mut face, _, language) in sheets() {
            let Some(VisitFace::Sheet { sheet }) = &mut face.visit else { continue };
            // Capitals and digits alone are measured: no tail hangs below them.
            sheet.coach = "QUINN".into();
            sheet.stays = "H 0:42".into();
            if let Some(first) = sheet.needs.first_mut() {
                first.who = "HANA".into();
            }
            picture(&window, &face, &sample);
            let kiosk = Kiosk::get(&window);
            let rows: Vec<RowData> =
                kiosk.get_sheet_rows().iter().map(|row| RowData { text: "HH".into(), ..row }).collect();
            kiosk.set_sheet_rows(ModelRc::from(Rc::new(VecModel::from(rows))));
            let picture = window.window().take_snapshot().unwrap();
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            for (text, minutes) in [("QUINN", 16.0), ("H 0:42", 16.0), ("HANA", 22.0), ("HH", 16.0)] {
                let Some(area) = area(&window, &picture, text) else { continue };
                let (found, least) = (f64::from(ink::height(&area, &picture)), screen.pixels(minutes, 2.0));
                assert!(found >= least, "{place}: {text} is {found} px high, {least:.1} needed");
                names += usize::from(text == "HANA");
                lines += usize::from(text == "HH");
            }
        }
    }
    assert!(names >= 36 && lines >= 36, "{names} names, {lines} lines");
}

#[test]
fn nothing_of_a_run_sheet_is_cut_and_more_than_the_first_need_is_there() {
    let window = window();
    let mut shown = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for (sample, face, sheet, language) in sheets() {
            let picture = picture(&window, &face, &sample);
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            let rows: Vec<RowData> = Kiosk::get(&window).get_sheet_rows().iter().collect();
            let drawn = areas(&window, &picture);
            // Two rows may say the same: the one that matters more is drawn first.
            let is_there = |row: &RowData| {
                let before = rows.iter().filter(|other| other.text == row.text && other.ends < row.ends);
                before.count() < drawn.iter().filter(|area| area.label == row.text.as_str()).count()
            };
            let there: Vec<bool> = rows.iter().map(is_there).collect();
            // What is left out is what matters less than all that is there.
            let ends =
                |shown| rows.iter().zip(&there).filter(move |(_, t)| **t == shown).map(|(row, _)| row.ends);
            let (last, next) = (ends(true).max(), ends(false).min());
            assert!(next.is_none() || last < next, "{place}: {there:?} of {rows:?}");
            let count = there.iter().filter(|there| **there).count();
            assert!(
                sheet.needs.is_empty() || count >= rows.len().min(2),
                "{place}: {count} rows of {rows:?}"
            );
            let heads = [&sheet.coach, &sheet.stays, &sheet.nobody];
            let first = sheet.needs.first().map(|first| [&first.who, &first.count]);
            let heads = heads.into_iter().chain(first.into_iter().flatten()).cloned();
            let texts =
                heads.chain(rows.iter().zip(&there).filter(|(_, t)| **t).map(|(r, _)| r.text.to_string()));
            for text in texts.filter(|text| !text.is_empty()) {
                // A name may be in the strip, too.
                let all = drawn.iter().filter(|area| area.label == text);
                let widest = all.max_by_key(|area| area.bottom - area.y);
                let area = widest.unwrap_or_else(|| panic!("{place}: no {text}"));
                let filled = filled(area, &picture);
                assert!(filled <= MARGIN, "{place}: {filled:.3} of its box: {text}");
                shown += 1;
            }
        }
    }
    assert!(shown > 250, "{shown} texts");
}
