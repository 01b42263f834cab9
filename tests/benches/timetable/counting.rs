//! Counts what is allocated, for an inner loop that should allocate nothing.

use std::alloc::{GlobalAlloc, Layout, System};
use std::sync::atomic::{AtomicU64, Ordering};

static COUNT: AtomicU64 = AtomicU64::new(0);

/// The system's allocator, counted.
pub(crate) struct Counting;

/// How often anything was allocated or made larger since the program began, by all threads.
pub(crate) fn count() -> u64 {
    COUNT.load(Ordering::Relaxed)
}

fn one_more() {
    COUNT.fetch_add(1, Ordering::Relaxed);
}

#[allow(
    unsafe_code,
    reason = "an allocator is unsafe by its trait; every call goes to the system's unchanged"
)]
// SAFETY: what callers owe to these methods they owe to the system's in the same words.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        one_more();
        // SAFETY: passed on as it came.
        unsafe { System.alloc(layout) }
    }

    unsafe fn alloc_zeroed(&self, layout: Layout) -> *mut u8 {
        one_more();
        // SAFETY: passed on as it came.
        unsafe { System.alloc_zeroed(layout) }
    }

    unsafe fn realloc(&self, there: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        one_more();
        // SAFETY: passed on as it came.
        unsafe { System.realloc(there, layout, size) }
    }

    unsafe fn dealloc(&self, there: *mut u8, layout: Layout) {
        // SAFETY: passed on as it came.
        unsafe { System.dealloc(there, layout) }
    }
}
