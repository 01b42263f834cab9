//! What a search is asked: a better order than the one in hand for the floor as it is.

use super::{Offer, Sight};
use crate::floor::outlook::flat;
use crate::floor::outlook::kept::KeptOrder;
use crate::timetable::plan::first_orders;
use crate::timetable::search::{Effort, improve};

/// A search to be made, complete in itself: whoever makes it knows nothing else of the floor.
#[derive(Clone, Debug)]
pub struct Quest {
    sight: Sight,
    kept: KeptOrder,
    /// Whether to begin from first orders too, and not only from the one in hand.
    loose: bool,
}

impl Quest {
    /// What is asked of an order in hand and the floor as it sees it. After something structural a search looks further
    /// around.
    #[must_use]
    pub const fn new(sight: Sight, kept: KeptOrder, loose: bool) -> Self {
        Self { sight, kept, loose }
    }

    /// Whether something structural lies behind it, so that it is worth a longer search.
    #[must_use]
    pub const fn is_loose(&self) -> bool {
        self.loose
    }

    /// Whether there is anything to put in order.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.sight.problem.slots.is_empty()
    }

    /// The best order that is met, from the one in hand and from what earlier searches found (`warm`).
    #[must_use]
    pub fn search(&self, warm: &[KeptOrder], effort: &Effort<'_>) -> KeptOrder {
        let Sight { outlook, problem, plan, .. } = &self.sight;
        let mut starts = vec![plan.order.clone()];
        starts.extend(warm.iter().map(|kept| flat::flat(outlook, problem, &kept.fitted(outlook))));
        if self.loose {
            starts.extend(first_orders(problem));
        }
        let found = improve(problem, &starts, effort);
        self.kept.keep(outlook, &flat::placed(outlook, problem, &found.order))
    }

    /// An order for the floor to look at; `last` where no better one will come.
    #[must_use]
    pub fn offer(&self, order: KeptOrder, last: bool) -> Offer {
        Offer { order, who: self.sight.outlook.who.clone(), last }
    }
}
