//! What a stop asks for of whoever lifts.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{HaltKind, StationPart};

use crate::panels;
use crate::scenes::*;

#[test]
fn a_stop_says_what_fits_the_gear() {
    for (gear, english, german) in [
        (GearKind::Bar, "RACK THE BAR", "STANGE ABLEGEN"),
        (GearKind::Stack, "LET THE STACK DOWN", "STAPEL ABLASSEN"),
        (GearKind::Dumbbells, "PUT THEM DOWN", "HANTELN ABLEGEN"),
        (GearKind::Belt, "PUT IT DOWN", "GEWICHT ABLEGEN"),
        (GearKind::Plain, "PUT IT DOWN", "GEWICHT ABLEGEN"),
    ] {
        let part = StationPart { gear, ..halted(bench_1(under_way(-13)), HaltKind::Stop) };
        let sample = Sample::new("", view(vec![part]));
        let order = |language| panels(&sample.face(language))[0].order.clone();
        assert_eq!([order(Language::En), order(Language::De)], [english, german]);
    }
}
