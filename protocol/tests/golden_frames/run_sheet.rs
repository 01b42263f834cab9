//! A coach's run sheet.

use turnabout_protocol::ids::StationId;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{CoachTask, PromisePart, RunRow, SetName};

use crate::cards::load;
use crate::to_server::turn;
use crate::views::press;

/// Who needs the coach next: a line for every reason, the first of them told.
pub(crate) fn run_sheet() -> Vec<RunRow> {
    let until = FloorMs(300_000);
    let reasons = [
        StartReason::Ready,
        StartReason::Way,
        StartReason::Rest,
        StartReason::PutOff,
        StartReason::StationInUse,
        StartReason::LoadChange { takes: Secs(16) },
        StartReason::SpotterBusy,
        StartReason::SpotterAway { until },
        StartReason::OtherUse { until },
        StartReason::Turns,
        StartReason::Later,
    ];
    let row = |(n, reason): (u8, StartReason)| RunRow {
        turn: turn(n, 0),
        client: "Bram".to_owned(),
        station: StationId(1),
        exercise: press(),
        set: if n == 0 { SetName::Technique } else { SetName::Working { n, of: 10 } },
        task: if n == 0 { CoachTask::Watch } else { CoachTask::Spot },
        start: FloorMs(150_000 + 60_000 * i64::from(n)),
        reason,
        told: n < 2,
        about: n > 0,
        load: (n == 0).then(|| load(42_500, None, false)),
    };
    (0..).zip(reasons).map(row).collect()
}

/// What is told of a set to the second, with who spots it.
pub(crate) fn promise() -> PromisePart {
    PromisePart {
        start: FloorMs(152_000),
        about: false,
        spotter: Some("Ayla".to_owned()),
        reason: StartReason::LoadChange { takes: Secs(16) },
    }
}
