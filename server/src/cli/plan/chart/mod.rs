//! A timetable as a picture: a Gantt chart as SVG.
//!
//! Rows are stations, coaches and members; along them goes time, in strips below one another where it takes long. Pure: the
//! same timetable is the same text. What is drawn is worked out in [`blocks`], where it goes in [`page`].

mod blocks;
mod labels;
mod legend;
mod look;
mod page;
mod rows;
mod svg;

pub use labels::Labels;
pub(super) use labels::time;

use blocks::Blocks;
use page::Page;
use svg::Svg;

use crate::timetable::answer::Timetable;
use crate::timetable::check::Verdict;
use crate::timetable::instance::Instance;

/// Draws a timetable, which must be one of the instance, with what the checker says of it.
#[must_use]
pub fn draw(instance: &Instance, timetable: &Timetable, verdict: &Verdict, labels: &Labels) -> String {
    let blocks = Blocks::of(instance, timetable, labels);
    let (from, to) = blocks.ends(i64::from(instance.now.0));
    let page = Page::new(from, to, legend::height(labels), rows::height(instance, labels));
    let mut svg = Svg::new(page::WIDTH, page.height());
    look::patterns(&mut svg);
    legend::draw(&mut svg, verdict, labels);
    for strip in page.strips() {
        rows::draw(&mut svg, &strip, instance, &blocks, labels);
    }
    svg.end()
}
