//! What a search is asked: a better order than the one in hand for the floor as it is.

use super::{Offer, Sight};
use crate::floor::outlook::admission::{Admission, Errand};
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
    /// What is to be weighed for groups without stations.
    errand: Option<Errand>,
}

/// What comes of a quest.
#[derive(Clone, Debug)]
pub enum Found {
    /// An order.
    Order(Box<Offer>),
    /// What groups without stations could have, and at what price.
    Admissions(Vec<Admission>),
}

impl Quest {
    /// What is asked of an order in hand and the floor as it sees it. After something structural a search looks further
    /// around.
    #[must_use]
    pub const fn new(sight: Sight, kept: KeptOrder, loose: bool, errand: Option<Errand>) -> Self {
        Self { sight, kept, loose, errand }
    }

    /// Whether something structural lies behind it, so that it is worth a longer search.
    #[must_use]
    pub const fn is_loose(&self) -> bool {
        self.loose
    }

    /// Whether there is anything to put in order.
    #[must_use]
    pub const fn has_order(&self) -> bool {
        !self.sight.problem.slots.is_empty()
    }

    /// Whether there is nothing to do.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        !self.has_order() && self.errand.is_none()
    }

    /// What groups without stations could have: some milliseconds a group, whatever else is going on.
    #[must_use]
    pub fn admissions(&self) -> Option<Found> {
        let weighed = self.errand.as_ref()?.weigh();
        Some(Found::Admissions(weighed.into_iter().map(|weighed| weighed.admission).collect()))
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
