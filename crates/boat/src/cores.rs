//! Work that falls into parts, shared by the machine's cores. The answer is the same on one core as on many.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// More at once gain nothing: a boat has about as many planks, and each hand has to be called.
const MOST: usize = 8;

/// What `of` makes of each of `all`, in their order.
pub(crate) fn each<T: Sync, R: Send>(all: &[T], of: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    shared(all, cores.min(MOST), of)
}

/// The same with so many hands.
fn shared<T: Sync, R: Send>(all: &[T], hands: usize, of: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let hands = hands.min(all.len());
    if hands < 2 {
        return all.iter().map(of).collect();
    }
    let next = AtomicUsize::new(0);
    // Each hand takes the next part that nobody has.
    let work = || {
        let mut made = Vec::new();
        loop {
            let i = next.fetch_add(1, Ordering::Relaxed);
            let Some(part) = all.get(i) else { return made };
            made.push((i, of(part)));
        }
    };
    let mut made = thread::scope(|scope| {
        let others: Vec<_> = (1..hands).map(|_| scope.spawn(work)).collect();
        let mut made = work();
        for other in others {
            made.extend(other.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        made
    });
    made.sort_unstable_by_key(|(i, _)| *i);
    made.into_iter().map(|(_, part)| part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_part_is_made_once_and_stands_in_its_place() {
        for count in [0, 1, 2, 7, 500] {
            let all: Vec<u64> = (0..count).collect();
            let expected: Vec<u64> = all.iter().map(|n| n * n).collect();
            for hands in [0, 1, 2, 3, 8] {
                let calls = AtomicUsize::new(0);
                let made = shared(&all, hands, |n| {
                    calls.fetch_add(1, Ordering::Relaxed);
                    n * n
                });
                assert_eq!(made, expected, "{count} parts, {hands} hands");
                assert_eq!(calls.into_inner(), all.len());
            }
        }
    }

    #[test]
    fn the_first_trouble_is_the_first_in_order_whichever_hand_meets_it() {
        let all: Vec<u32> = (0..100).collect();
        let made = shared(&all, 4, |&n| if n % 30 == 29 { Err(n) } else { Ok(n) });
        assert_eq!(made.into_iter().collect::<Result<Vec<_>, _>>(), Err(29));
    }
}
