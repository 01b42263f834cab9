//! Bars, collars and discs as two federations prescribe them. A floor's own plates may look otherwise.
//!
//! IWF: Technical and Competition Rules & Regulations, section 3.3, Sport equipment. IPF: Technical Rules
//! Book, "Bars and discs". **A colour says nothing by itself:** red is both 25 and 2.5 kg, and green is 10 kg
//! with the one and 50 kg with the other. So a disc gives its colour only together with its number.

use turnabout_protocol::units::Mass;

/// The colour of a disc.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Colour {
    /// Red.
    Red,
    /// Blue.
    Blue,
    /// Yellow.
    Yellow,
    /// Green.
    Green,
    /// White.
    White,
}

/// One disc of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Disc {
    mass: Mass,
    colour: Option<Colour>,
}

impl Disc {
    const fn new(grams: i64, colour: Option<Colour>) -> Self {
        Self { mass: Mass::from_grams(grams), colour }
    }

    /// What it weighs.
    #[must_use]
    pub const fn mass(&self) -> Mass {
        self.mass
    }

    /// Its number with its colour; no colour where any will do.
    #[must_use]
    pub const fn marked(&self) -> (Mass, Option<Colour>) {
        (self.mass, self.colour)
    }
}

/// One bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct StandardBar {
    /// The bar alone.
    pub mass: Mass,
    /// Millimetres for plates and collar on one side; absent where the rules do not say.
    pub sleeve_mm: Option<u16>,
}

/// What one federation prescribes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standard {
    /// Bars, the heaviest first.
    pub bars: &'static [StandardBar],
    /// One collar, which counts.
    pub collar: Mass,
    /// Discs, the heaviest first.
    pub discs: &'static [Disc],
    /// From this mass on all discs have the full diameter of 450 mm; absent where the rules used here do not
    /// say.
    pub full_from: Option<Mass>,
}

const fn kg(kg: i64) -> Mass {
    Mass::from_grams(1_000 * kg)
}

/// The IWF's, section 3.3: men's and women's bar, collars of 2.5 kg, discs with their colours, 450 mm from 10 kg.
pub const IWF: Standard = Standard {
    bars: &[
        StandardBar { mass: kg(20), sleeve_mm: Some(415) },
        StandardBar { mass: kg(15), sleeve_mm: Some(320) },
    ],
    collar: Mass::from_grams(2_500),
    discs: &[
        Disc::new(25_000, Some(Colour::Red)),
        Disc::new(20_000, Some(Colour::Blue)),
        Disc::new(15_000, Some(Colour::Yellow)),
        Disc::new(10_000, Some(Colour::Green)),
        Disc::new(5_000, Some(Colour::White)),
        Disc::new(2_500, Some(Colour::Red)),
        Disc::new(2_000, Some(Colour::Blue)),
        Disc::new(1_500, Some(Colour::Yellow)),
        Disc::new(1_000, Some(Colour::Green)),
        Disc::new(500, Some(Colour::White)),
    ],
    full_from: Some(kg(10)),
};

/// The IPF's, "Bars and discs": bar and collars are 25 kg. Discs of 10 kg and less may have any colour; the
/// colours above, and the smallest sizes, are from memory.
pub const IPF: Standard = Standard {
    bars: &[StandardBar { mass: kg(20), sleeve_mm: None }],
    collar: Mass::from_grams(2_500),
    discs: &[
        Disc::new(50_000, Some(Colour::Green)),
        Disc::new(25_000, Some(Colour::Red)),
        Disc::new(20_000, Some(Colour::Blue)),
        Disc::new(15_000, Some(Colour::Yellow)),
        Disc::new(10_000, None),
        Disc::new(5_000, None),
        Disc::new(2_500, None),
        Disc::new(2_000, None),
        Disc::new(1_500, None),
        Disc::new(1_250, None),
        Disc::new(1_000, None),
        Disc::new(500, None),
    ],
    full_from: None,
};
