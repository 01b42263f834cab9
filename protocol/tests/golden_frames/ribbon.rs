//! A strip with one of everything.

use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{RestWindow, RibbonIs, RibbonSet};

pub(crate) fn ribbon() -> Vec<RibbonSet> {
    let set = |leg, round, is, from: i64, window: Option<(i64, i64)>| RibbonSet {
        leg,
        round,
        is,
        from: FloorMs(from * 1_000),
        until: FloorMs((from + 32) * 1_000),
        spotted: leg == 0,
        window: window
            .map(|(from, until)| RestWindow { from: FloorMs(from * 1_000), until: FloorMs(until * 1_000) }),
    };
    vec![
        set(0, 0, RibbonIs::Done, 20, None),
        set(1, 1, RibbonIs::UnderWay, 80, None),
        set(0, 2, RibbonIs::ToCome, 190, Some((172, 232))),
    ]
}
