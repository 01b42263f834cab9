//! A fixed piece of arithmetic, so that figures of two machines can be laid beside each other.

use std::hint::black_box;
use std::time::Instant;

const BYTES: usize = 1_024;
const TURNS: usize = 2_000;
const TRIES: usize = 25;

/// Microseconds that one unit takes: FNV-1a (Fowler, Noll and Vo) over 1 KiB, 1,024 multiplications of which each waits for
/// the one before. Nothing in a machine does that in another way than the plain one, as some do SHA-256. The quickest
/// of some tries, for others use the machine too.
pub(crate) fn unit() -> f64 {
    let bytes: Vec<u8> = (0..BYTES).map(|at| (at % 251) as u8).collect();
    let once = |_| {
        let started = Instant::now();
        for _ in 0..TURNS {
            black_box(hash(black_box(&bytes)));
        }
        started.elapsed().as_secs_f64() * 1e6 / TURNS as f64
    };
    (0..TRIES).map(once).fold(f64::INFINITY, f64::min)
}

fn hash(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}
