//! Scenes of plates that are not as shown.

use turnabout_kiosk::face::Step;

use super::*;

/// A plate of so many kilograms.
pub(crate) fn plate(kg: &str) -> PlatePart {
    let mass = stamped(&format!("{kg} kg"));
    PlatePart { mass, full: mass >= stamped("10 kg") }
}

/// Plates of a station by kind, count, how many are missing and how many on each side: `20 4 0 1`.
pub(crate) fn rack(kinds: &[(&str, u8, u8, u8)]) -> StationPlates {
    let kind =
        |&(kg, count, missing, on): &(&str, u8, u8, u8)| PlateChoice { plate: plate(kg), count, missing, on };
    StationPlates {
        station: StationId(1),
        unit: MassUnit::Kg,
        tree: None,
        bars: Vec::new(),
        bar: 0,
        kinds: kinds.iter().map(kind).collect(),
    }
}

/// Five kinds; 10 on each side now, and 82.5 kg wanted.
pub(crate) fn bench_with_plates() -> StationPart {
    let mut part = bench_1(coming(rest(34), 34, 34, &[Need::ConfirmLoad]));
    let load = with_plates(&card("82.5 kg", Some("40 kg"), false), "20 10 1.25", "10", "20 10 1.25");
    part.turn.as_mut().unwrap().load = Some(load);
    let kinds = [("20", 4, 0, 0), ("10", 4, 0, 1), ("5", 2, 0, 0), ("2.5", 2, 2, 0), ("1.25", 4, 0, 0)];
    part.plates = Some(rack(&kinds));
    part
}

/// The pad after these steps, at the start of the display.
pub(crate) fn padded(steps: &[Step]) -> Option<Pad> {
    steps.iter().fold(None, |pad, step| Pad::after(pad, step, 0).0)
}

pub(crate) fn open_pad(side: &[&str]) -> Step {
    Step::Open { station: StationId(1), side: side.iter().map(|kg| plate(kg)).collect(), bar: 0 }
}

fn many_kinds() -> StationPart {
    let kinds =
        ["25", "20", "15", "10", "7.5", "5", "4", "3", "2.5", "2", "1.5", "1.25", "1", "0.75", "0.5", "0.25"];
    let kinds: Vec<_> = kinds.iter().map(|kg| (*kg, 4, 0, 0)).collect();
    StationPart { plates: Some(rack(&kinds)), ..bench_with_plates() }
}

/// The same at a station with a choice of bars.
pub(crate) fn bench_with_bars() -> StationPart {
    let mut part = bench_with_plates();
    let bar = |kg: &str, name| BarChoice { mass: stamped(&format!("{kg} kg")), name };
    let trap = Some(in_both("Trap bar", "Hexstange"));
    part.plates.as_mut().unwrap().bars = vec![bar("20", None), bar("25", trap), bar("15", None)];
    part
}

/// Everything at once that can be offered before a set.
fn crowded() -> StationPart {
    let partners = with_partners(&["Bram", "Chidi", "Wanja"], &[Need::ConfirmLoad, Need::Spotter]);
    let lapses = Some(LapsePart { group: GroupId(1), at: at(250) });
    StationPart { arms: true, lapses, plates: bench_with_plates().plates, ..partners }
}

/// Every scene of them.
pub(crate) fn pads() -> Vec<Sample> {
    let said = |name, stations: Vec<StationPart>, steps: &[Step]| Sample {
        pad: padded(steps),
        ..Sample::new(name, view(stations))
    };
    let put = |kg| Step::Put { plate: plate(kg), most: 2 };
    let side = ["25", "20", "15", "10", "5", "2.5", "1.25", "0.5"];
    let missing = [open_pad(&[]), Step::Missing, Step::Miss { plate: plate("20"), count: Some(2) }];
    let empty = [open_pad(&["10"]), Step::Empty];
    vec![
        Sample::new("not-as-shown", view(vec![bench_with_plates()])),
        Sample::new("not-as-shown-crowded", view(vec![crowded()])),
        said("pad", vec![bench_with_plates()], &[open_pad(&["20", "10"]), put("1.25")]),
        said("pad-bars", vec![bench_with_bars()], &[open_pad(&["10"]), Step::Bar { bar: 1 }]),
        said("pad-empty", vec![bench_with_plates()], &empty),
        said("pad-missing", vec![bench_with_plates()], &missing),
        said("pad-many", vec![many_kinds()], &[open_pad(&side)]),
        said("pad-two", vec![bench_with_plates(), row_1(under_way(-5))], &[open_pad(&["10"])]),
        said("pad-two-many", vec![many_kinds(), row_1(under_way(-5))], &[open_pad(&side)]),
        Sample { last: tapped(done_right()), ..said("pad-undo", vec![many_kinds()], &[open_pad(&["10"])]) },
        Sample {
            last: tapped(done_right()),
            ..said("pad-undo-two", vec![many_kinds(), row_1(under_way(-5))], &missing)
        },
    ]
}
