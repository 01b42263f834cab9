//! A page that was printed, as `tests/outside/read_paper.py` reads it back, and what is wrong with one.
//!
//! Sources: WCAG 2.2, 1.4.3 for how far ink and paper stand apart; ISO 216 for A4. The smallest print and the room that
//! a hand needs are common practice, no source.

use serde::Deserialize;

/// In points, of which there are 72 to the inch of 25.4 mm.
const fn points(millimetres: f64) -> f64 {
    millimetres * 72.0 / 25.4
}

/// What a hand writes in.
pub(super) const BOX: f64 = points(8.0);
const SMALLEST_PRINT: f64 = 8.0;
/// Of text on its ground, by WCAG.
const CONTRAST: f64 = 4.5;

const A4: (f64, f64) = (points(210.0), points(297.0));
const WHITE: [f64; 3] = [1.0; 3];

/// A text as it is printed, in points from the lower left corner.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Text {
    pub(super) text: String,
    x: f64,
    y: f64,
    right: f64,
    size: f64,
    colour: [f64; 3],
    at: u32,
}

/// Something filled.
#[derive(Clone, Debug, Deserialize)]
struct Fill {
    left: f64,
    bottom: f64,
    right: f64,
    top: f64,
    colour: [f64; 3],
    at: u32,
}

#[derive(Clone, Debug, Deserialize)]
pub(super) struct Page {
    width: f64,
    height: f64,
    texts: Vec<Text>,
    fills: Vec<Fill>,
}

/// One cell of a column that has a title.
#[derive(Debug)]
pub(super) struct Cell {
    pub(super) height: f64,
    pub(super) text: String,
}

/// Relative luminance by WCAG 2.2.
fn luminance(colour: [f64; 3]) -> f64 {
    let linear = |part: f64| if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) };
    let [red, green, blue] = colour.map(linear);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

impl Page {
    /// All that is read on it, in one line.
    pub(super) fn said(&self) -> String {
        let texts: Vec<&str> = self.texts.iter().flat_map(|text| text.text.split_whitespace()).collect();
        texts.join(" ")
    }

    /// What a text is printed on: the last that was filled there before it, or the paper.
    fn ground(&self, text: &Text) -> [f64; 3] {
        let (x, y) = (text.x + 1.0, text.y + text.size * 0.3);
        let there = |fill: &&Fill| {
            fill.at < text.at && (fill.left..fill.right).contains(&x) && (fill.bottom..fill.top).contains(&y)
        };
        self.fills.iter().rfind(there).map_or(WHITE, |fill| fill.colour)
    }

    /// The cells of every column under this title, or under one whose first word it is.
    pub(super) fn column(&self, title: &str) -> Vec<Cell> {
        let is_title = |text: &&Text| text.text.split(' ').next() == Some(title);
        let Some(head) = self.texts.iter().find(is_title) else { return Vec::new() };
        // Rules above and below its cells are as wide as the column.
        let rule = |fill: &&Fill| {
            fill.top - fill.bottom < 2.0
                && fill.left <= head.x
                && fill.right > head.x
                && fill.right - fill.left > 20.0
        };
        let rules: Vec<&Fill> = self.fills.iter().filter(rule).collect();
        let narrowest = rules.iter().map(|fill| fill.right - fill.left).fold(f64::MAX, f64::min);
        let mut own: Vec<&&Fill> =
            rules.iter().filter(|fill| fill.right - fill.left < narrowest + 3.0).collect();
        own.sort_by(|a, b| b.top.total_cmp(&a.top));
        let cells = own.windows(2).filter_map(|pair| {
            let (top, bottom) = (pair[0].bottom, pair[1].top);
            // Between two tables there are no upright rules.
            let beside = |fill: &&Fill| {
                fill.right - fill.left < 2.0
                    && (fill.left - pair[0].right).abs() < 2.0
                    && fill.bottom < bottom + 2.0
                    && fill.top > top - 2.0
            };
            self.fills.iter().find(beside)?;
            let inside = |text: &&Text| {
                (pair[0].left..pair[0].right).contains(&text.x) && (bottom..top).contains(&text.y)
            };
            let text: Vec<&str> = self.texts.iter().filter(inside).map(|text| text.text.as_str()).collect();
            let text = text.join(" ");
            (!text.starts_with(title)).then_some(Cell { height: top - bottom, text })
        });
        cells.collect()
    }

    /// What is wrong with it, unless everything stands on the sheet, is large enough, and is dark on white.
    pub(super) fn wrong(&self) -> Option<String> {
        if (self.width - A4.0).abs() > 1.0 || (self.height - A4.1).abs() > 1.0 {
            return Some(format!("{} by {} points is not A4", self.width, self.height));
        }
        let wrong = |text: &Text| {
            let beside = text.x < 0.0 || text.right > self.width;
            if beside || text.y < 0.0 || text.y + text.size > self.height {
                return Some(format!("{text:?} is not on the sheet"));
            }
            if text.size < SMALLEST_PRINT - 0.05 {
                return Some(format!("{text:?} is too small to read"));
            }
            let ground = self.ground(text);
            if ground.map(f64::to_bits) != WHITE.map(f64::to_bits) {
                return Some(format!("{text:?} is on {ground:?}"));
            }
            let contrast = 1.05 / (luminance(text.colour) + 0.05);
            (contrast < CONTRAST).then(|| format!("{text:?} is hardly to be seen"))
        };
        if self.texts.is_empty() {
            Some("nothing is on it".to_owned())
        } else {
            self.texts.iter().find_map(wrong)
        }
    }

    /// The lowest text.
    pub(super) fn last(&self) -> &Text {
        self.texts.iter().min_by(|a, b| a.y.total_cmp(&b.y)).unwrap()
    }
}

#[test]
fn what_nobody_can_read_is_found() {
    let text =
        Text { text: "x".to_owned(), x: 50.0, y: 50.0, right: 60.0, size: 9.0, colour: [0.3; 3], at: 5 };
    let page = |texts: Vec<Text>, fills: Vec<Fill>| Page { width: A4.0, height: A4.1, texts, fills };
    let fill = |colour, at| Fill { left: 40.0, bottom: 40.0, right: 70.0, top: 70.0, colour, at };
    let right =
        [page(vec![text.clone()], vec![]), page(vec![text.clone()], vec![fill([0.0; 3], 3), fill(WHITE, 4)])];
    assert!(right.iter().all(|page| page.wrong().is_none()), "{right:?}");
    let wrong = [
        page(vec![], vec![]),
        Page { width: A4.1, ..right[0].clone() },
        page(vec![text.clone()], vec![fill([0.2; 3], 3)]),
        page(vec![Text { colour: WHITE, ..text.clone() }], vec![]),
        page(vec![Text { colour: [0.6; 3], ..text.clone() }], vec![]),
        page(vec![Text { right: 596.0, ..text.clone() }], vec![]),
        page(vec![Text { y: -1.0, ..text.clone() }], vec![]),
        page(vec![Text { size: 7.0, ..text }], vec![]),
    ];
    assert!(wrong.iter().all(|page| page.wrong().is_some()), "{wrong:?}");
}
