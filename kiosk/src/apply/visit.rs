//! A coach who has come for the own run sheet, on the screen: the pad of digits, or the sheet.

use super::rows::data;
use super::{fill, key};
use crate::face::{SheetFace, VisitFace};
use crate::ui::{self, Kiosk};

/// Draws it, or that nobody has come. Where the sheet stands so many letters go into a row.
pub(super) fn apply(kiosk: &Kiosk<'_>, visit: Option<&VisitFace>, letters: usize) {
    kiosk.set_visit_shown(visit.is_some());
    match visit {
        None => {}
        Some(VisitFace::Digits { digits }) => {
            kiosk.set_sheet_shown(false);
            kiosk.set_pad(ui::PadData { title: (&digits.title).into(), said: (&digits.dots).into() });
            let keys = digits.digits.iter().map(key).collect();
            fill(&kiosk.get_pad_plates(), keys, |m| kiosk.set_pad_plates(m));
        }
        Some(VisitFace::Sheet { sheet: face }) => {
            kiosk.set_sheet_shown(true);
            kiosk.set_sheet(sheet(face));
            let rows = face.rows(letters).into_iter().map(data).collect();
            fill(&kiosk.get_sheet_rows(), rows, |m| kiosk.set_sheet_rows(m));
        }
    }
}

fn sheet(face: &SheetFace) -> ui::SheetData {
    let first = face.needs.first();
    ui::SheetData {
        coach: (&face.coach).into(),
        stays: (&face.stays).into(),
        who: first.map_or(&face.nobody, |first| &first.who).into(),
        count: first.map_or("", |first| &first.count).into(),
    }
}
