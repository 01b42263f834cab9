//! Everything that happened in one run, in order, as text: what two runs of a seed must agree on.

use std::cell::RefCell;
use std::rc::Rc;

/// The lines of a run.
#[derive(Clone, Debug, Default)]
pub(crate) struct History(Rc<RefCell<Vec<String>>>);

impl History {
    /// Takes down that something happened to somebody, now.
    pub(crate) fn say(&self, who: &str, what: &str) {
        let ms = turmoil::sim_elapsed().map_or(0, |elapsed| elapsed.as_millis());
        self.line(format!("{ms} {who} {what}"));
    }

    /// Takes down a line.
    pub(crate) fn line(&self, line: String) {
        self.0.borrow_mut().push(line);
    }

    /// All lines.
    pub(crate) fn lines(&self) -> Vec<String> {
        self.0.borrow().clone()
    }
}
