//! How much of the one-repetition maximum goes how often, and what is left in reserve.
//!
//! Table: NSCA, Essentials of Strength Training and Conditioning, 4th ed. 2016, ch. 17, "%1RM and repetitions
//! allowed". One to ten repetitions are undisputed. Above ten this is the book's table, from memory (11: 70,
//! 12: 67, 15: 65); the NSCA's one-page load chart prints 12 repetitions at 70 %, and another page 11 at 73 and
//! 12 at 70. Where the book has no row (13, 14) the next one with more repetitions stands, which is lighter.
//!
//! People differ widely: 6 to 26 repetitions at 70 % of a back squat (Zourdos et al. 2021, J Strength Cond Res
//! 35(S1):S158-S165). A table is a first guess; the next load comes from what was done.

use turnabout_protocol::next::PerMille;

/// Repetitions that every print of the table agrees about.
pub const UNDISPUTED: u8 = 10;
/// The most repetitions the table has.
pub const MOST_REPS: u8 = 15;
/// The most repetitions in reserve that a load is worked out for: above five, people are wrong about them by more
/// than they say (Hackett et al. 2017, J Strength Cond Res 31(8):2162-2168: an error of about one repetition at
/// 0 to 5 from failure, above two at 7 to 10).
pub const MOST_RESERVE: u8 = 5;

const UP_TO_TEN: [u16; 10] = [1_000, 950, 930, 900, 870, 850, 830, 800, 770, 750];
const ABOVE_TEN: [(u8, u16); 3] = [(11, 700), (12, 670), (15, 650)];

/// Which table a share comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// One to ten repetitions: every print agrees.
    Undisputed,
    /// Above ten: the book's table, from memory; other prints differ.
    BookFromMemory,
}

/// A share of the maximum, and which table it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Share {
    /// Of the one-repetition maximum.
    pub share: PerMille,
    /// From which table.
    pub basis: Basis,
}

/// The share of the maximum that goes so often, to failure; nothing for none and for more than the table has.
#[must_use]
pub fn share_for(reps: u8) -> Option<Share> {
    let share = |&share: &u16, basis| Share { share: PerMille(share), basis };
    if reps <= UNDISPUTED {
        let row = usize::from(reps).checked_sub(1)?;
        return UP_TO_TEN.get(row).map(|row| share(row, Basis::Undisputed));
    }
    let row = ABOVE_TEN.iter().find(|(row, _)| *row >= reps)?;
    Some(share(&row.1, Basis::BookFromMemory))
}

/// A share worked out for repetitions and reserve together. Derived: no paper prints such a grid; a set with two
/// in reserve is taken as one that would have failed two repetitions later.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Derived(pub Share);

/// The share for a set of so many repetitions that leaves so many in reserve: the table's row for both together.
/// Nothing where that is more than the table has, or more in reserve than [`MOST_RESERVE`].
#[must_use]
pub fn share_with_reserve(reps: u8, reserve: u8) -> Option<Derived> {
    if reps == 0 || reserve > MOST_RESERVE {
        return None;
    }
    share_for(reps.checked_add(reserve)?).map(Derived)
}

/// Repetitions in reserve for a rating of perceived exertion: ten less the rating, for whole ratings 7 to 10
/// (Zourdos et al. 2016, J Strength Cond Res 30(1):267-275; Helms et al. 2016, Strength Cond J 38(4):42-49).
/// Lower ratings stand for ranges (5 to 6: four to six in reserve) and say no number.
#[must_use]
pub const fn reserve_of(rating: u8) -> Option<u8> {
    match rating {
        7..=10 => Some(10 - rating),
        _ => None,
    }
}
