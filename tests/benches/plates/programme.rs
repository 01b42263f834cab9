//! The plain dynamic programme: the fewest plates for every load of one side up to the wanted one, in steps of
//! 50 g, anew for every question. It knows nothing of what is on now, sleeves or full plates.

use turnabout_server::loading::bar::Inventory;

/// All plates of the benches are whole multiples of it.
const STEP: i64 = 50_000_000_000;
const NEVER: u16 = u16::MAX;

/// How many plates one side has, or nothing where they cannot make it.
pub(crate) fn fewest(inventory: &Inventory, side: i64) -> Option<usize> {
    if side < 0 || side % STEP != 0 {
        return None;
    }
    let wanted = usize::try_from(side / STEP).ok()?;
    let mut best = vec![NEVER; wanted + 1];
    best[0] = 0;
    // The last plate of each kind that was taken, to read the plates from in the end.
    let mut taken: Vec<Vec<u8>> = Vec::new();
    for kind in inventory.kinds() {
        let step = usize::try_from(kind.plate.mass.nanograms() / STEP).ok()?;
        let mut counts = vec![0; wanted + 1];
        for sum in (step..=wanted).rev() {
            for count in 1..=(kind.count / 2).min(u8::try_from(sum / step).unwrap_or(u8::MAX)) {
                let from = best[sum - usize::from(count) * step];
                if from != NEVER && from + u16::from(count) < best[sum] {
                    best[sum] = from + u16::from(count);
                    counts[sum] = count;
                }
            }
        }
        taken.push(counts);
    }
    if best[wanted] == NEVER {
        return None;
    }
    let (mut left, mut plates) = (wanted, 0);
    for (kind, counts) in inventory.kinds().iter().zip(&taken).rev() {
        let count = usize::from(counts[left]);
        left -= count * usize::try_from(kind.plate.mass.nanograms() / STEP).ok()?;
        plates += count;
    }
    Some(plates)
}
