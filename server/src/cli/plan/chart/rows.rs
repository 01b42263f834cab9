//! The rows of one strip.

use super::blocks::{Block, Blocks, What};
use super::labels::Labels;
use super::look;
use super::page::{EDGE, NAMES, Strip};
use super::svg::{Anchor, Letters, Rect, Svg};
use crate::timetable::instance::Instance;

/// Pixels of the axis.
const AXIS: f64 = 20.0;
/// Pixels of the word above rows of one kind.
const HEAD: f64 = 20.0;

/// Rows of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Station,
    Coach,
    Member,
}

impl Kind {
    /// Pixels of a row, with what keeps it from the next.
    const fn height(self) -> f64 {
        match self {
            Self::Station => 34.0,
            Self::Coach => 28.0,
            Self::Member => 15.0,
        }
    }

    /// Pixels between a row and the next.
    const fn gap(self) -> f64 {
        match self {
            Self::Station | Self::Coach => 4.0,
            Self::Member => 3.0,
        }
    }

    const fn head(self) -> &'static str {
        match self {
            Self::Station => "Stations",
            Self::Coach => "Coaches, while they spot",
            Self::Member => "Clients: sets, waits, and rests that are too long",
        }
    }
}

/// Pixels of a strip.
pub(super) fn height(instance: &Instance, labels: &Labels) -> f64 {
    let own = (0..).zip(&instance.groups).filter(|(group, _)| labels.row(*group) == *group);
    let members = own.map(|(_, group)| group.members.len()).sum::<usize>();
    let all = [
        (Kind::Station, instance.stations.len()),
        (Kind::Coach, instance.coaches.len()),
        (Kind::Member, members),
    ];
    AXIS + all.iter().map(|(kind, count)| HEAD + kind.height() * *count as f64).sum::<f64>()
}

/// Draws a strip.
pub(super) fn draw(svg: &mut Svg, strip: &Strip, instance: &Instance, blocks: &Blocks, labels: &Labels) {
    let bottom = strip.top + height(instance, labels);
    axis(svg, strip, bottom, labels);
    let mut pen = Pen { svg, strip, y: strip.top + AXIS };
    pen.head(Kind::Station);
    for (station, row) in blocks.stations.iter().enumerate() {
        pen.row(Kind::Station, Labels::name(&labels.stations, station), None, row);
    }
    pen.head(Kind::Coach);
    for (coach, row) in blocks.coaches.iter().enumerate() {
        pen.row(Kind::Coach, Labels::name(&labels.coaches, coach), None, row);
    }
    pen.head(Kind::Member);
    for (group, rows) in blocks.members.iter().enumerate().filter(|(group, _)| labels.row(*group) == *group) {
        let others = (group + 1..blocks.members.len()).filter(|other| labels.row(*other) == group);
        let others: Vec<usize> = others.collect();
        for (member, row) in rows.iter().enumerate() {
            let later = others.iter().filter_map(|other| blocks.members[*other].get(member)).flatten();
            let all: Vec<Block> = row.iter().chain(later).cloned().collect();
            pen.row(Kind::Member, labels.member(group, member), Some(group), &all);
        }
    }
}

/// Minutes, with a number at every fifth, or at each where there is room.
fn axis(svg: &mut Svg, strip: &Strip, bottom: f64, labels: &Labels) {
    let first = strip.from.div_euclid(60) + i64::from(strip.from.rem_euclid(60) > 0);
    for minute in first..=strip.to.div_euclid(60) {
        let second = minute * 60;
        let x = strip.x(second);
        let (colour, top) = if labels.is_numbered(second, strip.numbered()) {
            let anchor = if second == strip.to { Anchor::End } else { Anchor::Middle };
            svg.text((x, strip.top + 12.0), Letters::plain(11.0, anchor), &labels.minute(second));
            ("stroke=\"#bbb\"", strip.top + 16.0)
        } else {
            ("stroke=\"#ececec\"", strip.top + AXIS)
        };
        svg.stroke((x, top), (x, bottom), colour);
    }
}

/// What draws row after row.
struct Pen<'a> {
    svg: &'a mut Svg,
    strip: &'a Strip,
    /// Where the next row begins.
    y: f64,
}

impl Pen<'_> {
    fn head(&mut self, kind: Kind) {
        self.svg.text((EDGE, self.y + HEAD - 6.0), Letters::bold(11.0, Anchor::Start), kind.head());
        self.y += HEAD;
    }

    fn row(&mut self, kind: Kind, name: &str, group: Option<usize>, blocks: &[Block]) {
        let high = kind.height() - kind.gap();
        let (left, right) = (self.strip.x(self.strip.from), self.strip.x(self.strip.to));
        let line = self.y + kind.height() - kind.gap() / 2.0;
        self.svg.stroke((left, line), (right, line), "stroke=\"#ddd\"");
        let size = if kind == Kind::Member { 10.0 } else { 12.0 };
        let at = (left - 8.0, self.y + high / 2.0 + size * 0.35);
        self.svg.text(at, Letters::plain(size, Anchor::End), &fitting(name, NAMES - 24.0, size));
        if let Some(group) = group {
            let rect = Rect { x: EDGE, y: self.y + 2.0, width: 14.0, height: high - 3.0 };
            self.svg.rect(rect, look::set(group, 0), "");
        }
        // What cannot be used lies below, what hands do above.
        let (below, above): (Vec<&Block>, Vec<&Block>) =
            blocks.iter().partition(|block| block.what == What::Busy);
        for block in below.into_iter().chain(above) {
            self.block(kind, high, block);
        }
        self.y += kind.height();
    }

    fn block(&mut self, kind: Kind, high: f64, block: &Block) {
        let (from, to) = (block.from.max(self.strip.from), block.to.min(self.strip.to));
        if from >= to {
            return;
        }
        let (x, end) = (self.strip.x(from), self.strip.x(to));
        let inset = match block.what {
            What::Set { .. } | What::Busy => 0.0,
            What::Change => 5.0,
            What::Wait | What::Overrun => 1.0,
        };
        let rect = Rect { x, y: self.y + inset, width: end - x, height: high - 2.0 * inset };
        match block.what {
            What::Set { group, leg } => {
                self.svg.rect(rect, look::set(group, leg), &block.told);
                if kind != Kind::Member {
                    self.label(rect, &block.label);
                }
            }
            What::Change => self.svg.rect(rect, look::CHANGE, &block.told),
            What::Wait => self.svg.rect(rect, look::WAIT, &block.told),
            What::Busy => self.svg.rect(rect, look::BUSY, &block.told),
            What::Overrun => {
                self.svg.rect(rect, look::OVERRUN, &block.told);
                // A rest lies before it: there is room.
                let letters = Letters::bold(9.0, Anchor::End);
                self.svg.text((x - 2.0, self.y + high - 2.5), letters, &block.label[0]);
            }
        }
    }

    /// Two lines where they have room, one from the bottom to the top where not, and none in a sliver.
    fn label(&mut self, rect: Rect, label: &[String; 2]) {
        let Rect { x, y, width, height } = rect;
        let middle = x + width / 2.0;
        let [who, round] = label;
        if width >= width_of("0.0", 11.0) + 2.0 {
            let who = fitting(who, width - 1.0, 11.0);
            self.svg.text((middle, y + height / 2.0 - 1.5), Letters::bold(11.0, Anchor::Middle), &who);
            self.svg.text((middle, y + height / 2.0 + 10.0), Letters::plain(10.0, Anchor::Middle), round);
        } else if width >= 9.0 {
            let upward = Letters { upward: true, ..Letters::plain(9.0, Anchor::Middle) };
            let both = fitting(&format!("{who} {round}"), height, 9.0);
            self.svg.text((middle + 3.0, y + height / 2.0), upward, &both);
        }
    }
}

/// Pixels of a text, roughly: nobody knows the letters of the machine that shows it.
fn width_of(text: &str, size: f64) -> f64 {
    text.chars().count() as f64 * size * 0.58
}

/// As much of a text as fits.
fn fitting(text: &str, width: f64, size: f64) -> String {
    if width_of(text, size) <= width {
        return text.to_owned();
    }
    let most = (width / (size * 0.58)).max(2.0) as usize;
    text.chars().take(most - 1).chain(['…']).collect()
}
