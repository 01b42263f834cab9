//! A link that is lost or never was, and taps that come to nothing.

use super::*;

/// Every scene of a link or a tap that is not in order.
pub(crate) fn troubles() -> Vec<Sample> {
    let working = || view(vec![bench_1(under_way(-13))]);
    let ready = || view(vec![bench_1(coming(rest(-17), -17, -17, &[]))]);
    let go = Act::Go { turn: turn_id(1, 2, 0) };
    let refused = |refusal| Notice::Answered { act: go.clone(), outcome: Outcome::Refused { refusal } };
    let busy = Refusal::StationBusy { station: StationId(1), turn: turn_id(2, 2, 0) };
    let lost = LinkState::Lost { since: at(-73) };
    let unknown = LinkState::Refused { fault: Fault::UnknownTopic };
    vec![
        Sample { link: lost.clone(), ..Sample::new("lost-working", working()) },
        Sample { link: lost, ..Sample::new("lost-ready", ready()) },
        Sample { notice: Some(refused(busy)), ..Sample::new("refused", ready()) },
        Sample { notice: Some(Notice::NotSent { act: go.clone() }), ..Sample::new("not-sent", ready()) },
        Sample { saving: true, pending: vec![go], ..Sample::new("saving", ready()) },
        Sample { view: None, link: LinkState::Connecting, ..Sample::new("connecting", working()) },
        Sample { view: None, link: unknown, ..Sample::new("unknown-topic", working()) },
        Sample { view: None, link: LinkState::NotLetIn, ..Sample::new("not-let-in", working()) },
    ]
}
