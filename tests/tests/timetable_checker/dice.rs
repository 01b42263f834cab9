//! The same chances in every run.

/// SplitMix64, from Steele, Lea and Flood 2014, Fast splittable pseudorandom number generators (from memory).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `count`, which is above zero. That some come a little more often does no harm here.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(count).unwrap()).unwrap()
    }

    /// A number from `least` up to `most`.
    pub(crate) fn from(&mut self, least: u32, most: u32) -> u32 {
        least + u32::try_from(self.below(usize::try_from(most - least).unwrap() + 1)).unwrap()
    }

    /// Once in so many times.
    pub(crate) fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// One of them; there is one.
    pub(crate) fn one<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}
