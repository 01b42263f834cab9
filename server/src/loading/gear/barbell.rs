//! A choice of bars, their collars and the plates that belong to a station.

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::words::Words;

use super::sums::{Sum, with_pieces};
use super::{MOST_LOADS, NANOGRAM};
use crate::loading::bar::{
    self, BarNo, BarSet, Diameter, Inventory, Plate, PlateKind, Sleeves, Starts, Takes,
};

/// Bars, their collars and the plates that belong to them.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Bar {
    /// The unit everything here is stamped in.
    pub unit: MassUnit,
    /// The usual bar: the one that is meant where nobody asks for another.
    pub bar: OneBar,
    /// One collar; zero where light clips do not count. Fixed bars have none.
    pub collar: Mass,
    /// Plates, the heaviest first, no mass twice in the same diameter; of a tree all that hang there.
    pub plates: Vec<Plates>,
    /// The other bars of the choice, numbered after the usual one.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<OneBar>,
    /// The tree that its plates hang on, where it shares them with the bars of other stations.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tree: Option<Key>,
    /// Where the lifts begin for which its loads are asked. Part of a question and not of a floor, so nothing is
    /// written of it; see [`Gear::starting`](super::Gear::starting).
    #[serde(skip)]
    pub starts: Starts,
}

/// One bar of the choice. One of which nobody says more than its mass is kept as that alone, as all were before
/// there was a choice.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(from = "Written", into = "Written")]
pub struct OneBar {
    /// The bar alone; of a fixed bar all of it.
    pub mass: Mass,
    /// What people call it, where its mass does not tell it: a shaped bar.
    pub name: Option<Words>,
    /// What goes on it.
    pub ends: Ends,
}

/// The ends of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ends {
    /// Nothing goes on: its weights are fixed.
    Fixed,
    /// Plates, held by collars.
    Sleeves {
        /// Millimetres for plates on one side; absent where nobody has measured it.
        length_mm: Option<u16>,
        /// The most that the bar is rated for: itself, collars and plates.
        rated: Option<Mass>,
    },
}

impl Ends {
    /// Sleeves that nobody has measured, of a bar without a stated rating.
    pub const PLAIN: Self = Self::Sleeves { length_mm: None, rated: None };

    const fn is_plain(&self) -> bool {
        matches!(self, Self::Sleeves { length_mm: None, rated: None })
    }

    const fn plain() -> Self {
        Self::PLAIN
    }
}

/// A bar as journals keep it.
#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum Written {
    Plain(Mass),
    More {
        mass: Mass,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        name: Option<Words>,
        #[serde(default = "Ends::plain", skip_serializing_if = "Ends::is_plain")]
        ends: Ends,
    },
}

impl From<Written> for OneBar {
    fn from(written: Written) -> Self {
        match written {
            Written::Plain(mass) => Self::plain(mass),
            Written::More { mass, name, ends } => Self { mass, name, ends },
        }
    }
}

impl From<OneBar> for Written {
    fn from(bar: OneBar) -> Self {
        match bar {
            OneBar { mass, name: None, ends } if ends.is_plain() => Self::Plain(mass),
            OneBar { mass, name, ends } => Self::More { mass, name, ends },
        }
    }
}

impl OneBar {
    /// A bar with sleeves of which nothing but the mass is known.
    #[must_use]
    pub const fn plain(mass: Mass) -> Self {
        Self { mass, name: None, ends: Ends::PLAIN }
    }

    /// A bar whose weights are fixed.
    #[must_use]
    pub const fn fixed(mass: Mass) -> Self {
        Self { mass, name: None, ends: Ends::Fixed }
    }

    /// Whether nothing goes on it.
    #[must_use]
    pub const fn is_fixed(&self) -> bool {
        matches!(self.ends, Ends::Fixed)
    }
}

/// So many plates of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Plates {
    /// One plate.
    pub mass: Mass,
    /// How many there are; an odd one is left over, since both sides are equal.
    pub count: u8,
    /// Whether they are of full diameter, where the station says so; see [`Plates::diameter`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub full: Option<bool>,
    /// How much of a sleeve one takes, in millimetres; absent where nobody has measured it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<u16>,
}

impl Plates {
    /// Plates of the usual diameter that nobody has measured.
    #[must_use]
    pub const fn new(mass: Mass, count: u8) -> Self {
        Self { mass, count, full: None, thickness_mm: None }
    }

    /// How wide they are. Where the station does not say: discs of 10 kg and more are as wide as the rules for
    /// competition say (IWF Technical and Competition Rules and Regulations, section 3.3: 450 mm), the lighter
    /// ones smaller.
    #[must_use]
    pub fn diameter(&self) -> Diameter {
        const LIGHTEST_FULL: Mass = Mass::from_grams(10_000);
        if self.full.unwrap_or(self.mass >= LIGHTEST_FULL) { Diameter::Full } else { Diameter::Small }
    }

    /// One of them, as it is told apart from others.
    #[must_use]
    pub fn plate(&self) -> Plate {
        Plate { mass: self.mass, diameter: self.diameter() }
    }
}

impl Bar {
    /// The same without these plates, so many of each; where more are gone than there are, none are left.
    #[must_use]
    pub fn without(&self, gone: &[(Plate, u8)]) -> Self {
        let mut left = self.clone();
        for plates in &mut left.plates {
            let of_it = gone.iter().filter(|(plate, _)| *plate == plates.plate());
            plates.count = of_it.fold(plates.count, |left, (_, count)| left.saturating_sub(*count));
        }
        left
    }

    /// One bar with collars and plates, of which nothing but masses and counts is known. Plates the heaviest
    /// first, no mass twice.
    #[must_use]
    pub const fn one(unit: MassUnit, bar: Mass, collar: Mass, plates: Vec<Plates>) -> Self {
        Self {
            unit,
            bar: OneBar::plain(bar),
            collar,
            plates,
            others: Vec::new(),
            tree: None,
            starts: Starts::Racked,
        }
    }

    /// The bars of the choice in the order of their numbers, the usual one first.
    pub fn bars(&self) -> impl Iterator<Item = &OneBar> {
        std::iter::once(&self.bar).chain(&self.others)
    }

    /// The usual bar with its collars and no plates.
    #[must_use]
    pub fn empty(&self) -> Mass {
        self.empty_of(&self.bar)
    }

    /// A bar of the choice with its collars and no plates.
    #[must_use]
    pub fn empty_of(&self, bar: &OneBar) -> Mass {
        match bar.ends {
            Ends::Fixed => bar.mass,
            Ends::Sleeves { .. } => bar.mass + self.collar + self.collar,
        }
    }

    /// The lightest of the bars with its collars; from the floor with the lightest full plates, if any.
    pub(super) fn lightest(&self) -> Option<Mass> {
        match self.starts {
            Starts::Racked => self.bars().map(|bar| self.empty_of(bar)).min(),
            Starts::FromTheFloor => self.loads_for(BarNo(0), Mass::MAX).first().copied(),
        }
    }

    /// The bars and their plates, for questions about plates; the numbers are those of [`Bar::bars`]. Nothing
    /// where they are more than can be searched for, which no floor file may say.
    #[must_use]
    pub fn set(&self) -> Option<BarSet> {
        let kinds = self.plates.iter().map(|plates| PlateKind {
            plate: plates.plate(),
            count: plates.count,
            thickness_mm: plates.thickness_mm,
        });
        let inventory = Inventory::new(self.unit, kinds.collect()).ok()?;
        let takes = |ends| match ends {
            Ends::Fixed => Takes::Nothing,
            Ends::Sleeves { length_mm, rated } => {
                Takes::Plates(Sleeves { collar: self.collar, length_mm, rated })
            }
        };
        let bars = self.bars().map(|one| bar::Bar { mass: one.mass, takes: takes(one.ends) });
        BarSet::new(inventory, bars.collect()).ok()
    }

    /// Every load that is made when this bar of the choice is wanted, up to `most`, in ascending order, exactly
    /// as [`bar::Finder::find`] makes them for lifts that begin so: what is lighter than the wanted bar is made
    /// on lighter ones, and a fixed bar gives way to other fixed bars. Nothing where there is no such bar.
    #[must_use]
    pub fn loads_for(&self, wanted: BarNo, most: Mass) -> Vec<Mass> {
        let place = usize::from(wanted.0);
        let Some(bar) = self.bars().nth(place) else { return Vec::new() };
        let empty = self.empty_of(bar);
        let mut loads = self.loads_on(bar, most);
        for (_, other) in self.bars().enumerate().filter(|(at, _)| *at != place) {
            if bar.is_fixed() && other.is_fixed() {
                loads.extend(self.loads_on(other, most));
            } else if self.empty_of(other) < empty {
                loads.extend(self.loads_on(other, most.min(empty - NANOGRAM)));
            }
        }
        loads.sort_unstable();
        loads.dedup();
        loads.truncate(MOST_LOADS);
        loads
    }

    /// Every load of one bar.
    fn loads_on(&self, bar: &OneBar, most: Mass) -> Vec<Mass> {
        let empty = self.empty_of(bar);
        let Ends::Sleeves { length_mm, rated } = bar.ends else {
            // No fixed bar has plates of full diameter, as far as anybody can tell.
            let held = empty <= most && self.starts == Starts::Racked;
            return if held { vec![empty] } else { Vec::new() };
        };
        let room = most.min(rated.unwrap_or(Mass::MAX)) - empty;
        if room < Mass::ZERO {
            return Vec::new();
        }
        let most = Mass::from_nanograms(room.nanograms() / 2);
        let sides = match self.starts {
            Starts::Racked => self.sides_up_to(most),
            Starts::FromTheFloor => self.full_sides_up_to(most),
        };
        // What cannot be counted in millimetres any more does not fit on what nobody has measured.
        let length = length_mm.unwrap_or(u16::MAX - 1);
        let fits = sides.into_iter().filter(|side| side.cost <= length);
        fits.map(|side| empty + side.mass + side.mass).collect()
    }

    /// Every load that one side can carry, up to `most`, in ascending order, with the least sleeve it takes.
    /// Both sides are loaded alike, so of every kind of plate half may be used.
    fn sides_up_to(&self, most: Mass) -> Vec<Sum> {
        let nothing = vec![Sum { mass: Mass::ZERO, cost: 0 }];
        self.plates.iter().fold(nothing, |sides, plates| {
            let plate = Sum { mass: plates.mass, cost: plates.thickness_mm.unwrap_or(0) };
            with_pieces(sides, plate, plates.count / 2, most)
        })
    }

    /// The same with at least one plate of full diameter among them: for each full kind the sums that hold one of it
    /// and none of the full kinds before.
    fn full_sides_up_to(&self, most: Mass) -> Vec<Sum> {
        let (full, small): (Vec<&Plates>, Vec<&Plates>) =
            self.plates.iter().partition(|plates| plates.diameter() == Diameter::Full);
        let with = |sides, plates: &&Plates, count| {
            let plate = Sum { mass: plates.mass, cost: plates.thickness_mm.unwrap_or(0) };
            with_pieces(sides, plate, count, most)
        };
        let mut all: Vec<Sum> = Vec::new();
        for (at, first) in full.iter().enumerate().filter(|(_, kind)| kind.count >= 2 && kind.mass <= most) {
            let one = vec![Sum { mass: first.mass, cost: first.thickness_mm.unwrap_or(0) }];
            let more = with(one, first, first.count / 2 - 1);
            let others = full[at + 1..].iter().chain(&small);
            all.extend(others.fold(more, |sides, plates| with(sides, plates, plates.count / 2)));
        }
        all.sort_unstable_by_key(|side| (side.mass, side.cost));
        all.dedup_by_key(|side| side.mass);
        all.truncate(MOST_LOADS);
        all
    }
}
