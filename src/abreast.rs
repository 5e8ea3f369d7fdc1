//! Work that does not depend on its neighbours, done on several cores at once.

use std::cell::Cell;
use std::num::NonZero;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;

/// Stack of a thread that builds designs, bytes: cells may stand in cells as deep as a spec may nest, on every system alike,
/// however a program's first thread is set up there.
pub(crate) const STACK: usize = 64 << 20;

thread_local! {
    /// Whether this thread does its share of something already: what it is given to share out then, it does alone, since all
    /// cores are busy.
    static SHARES: Cell<bool> = const { Cell::new(false) };
}

/// How many threads keep this machine busy.
pub(crate) fn cores() -> usize {
    thread::available_parallelism().map_or(1, NonZero::get)
}

/// What `work` gives for each number below `n`, in their order whoever was faster.
pub(crate) fn each<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    until(&AtomicBool::new(false), cores(), n, work)
}

/// The same on so many threads, this one among them, and no further than to `stop`: what was begun by then is done, and is
/// what came of the first so many numbers. Each thread takes the next number that nobody has, so that all are busy to the
/// end; where the system gives fewer threads, those that there are do it.
pub(crate) fn until<T: Send>(
    stop: &AtomicBool,
    threads: usize,
    n: usize,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let threads = if SHARES.get() { 1 } else { threads };
    let share = || {
        let shared = SHARES.replace(true);
        let take = || {
            if stop.load(Ordering::Relaxed) {
                return None;
            }
            Some(next.fetch_add(1, Ordering::Relaxed)).filter(|&i| i < n)
        };
        let all = std::iter::from_fn(take).map(|i| (i, work(i))).collect::<Vec<_>>();
        SHARES.set(shared);
        all
    };
    let mut all = thread::scope(|scope| {
        let other = |_| thread::Builder::new().stack_size(STACK).spawn_scoped(scope, share).ok();
        let others: Vec<_> = (1..threads.min(n)).filter_map(other).collect();
        let mut all = share();
        for other in others {
            match other.join() {
                Ok(own) => all.extend(own),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        all
    });
    all.sort_by_key(|(i, _)| *i);
    all.into_iter().map(|(_, one)| one).collect()
}

/// Both, the first beside the second.
pub(crate) fn both<A: Send, B>(one: impl FnOnce() -> A + Send, other: impl FnOnce() -> B) -> (A, B) {
    if SHARES.get() {
        return (one(), other());
    }
    thread::scope(|scope| {
        let one = scope.spawn(one);
        let other = other();
        (one.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)), other)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_stand_in_the_order_of_their_numbers_with_any_number_of_threads() {
        let stop = AtomicBool::new(false);
        let slow_first = |i: usize| {
            thread::sleep(std::time::Duration::from_micros(if i.is_multiple_of(2) { 300 } else { 0 }));
            i * i
        };
        let wanted: Vec<usize> = (0..60).map(|i| i * i).collect();
        for threads in [0, 1, 2, 5, 300] {
            assert_eq!(until(&stop, threads, 60, slow_first), wanted, "{threads}");
        }
        assert_eq!(each(0, |i| i), Vec::<usize>::new());
    }

    #[test]
    fn what_is_done_when_it_is_stopped_is_kept() {
        for threads in [1, 3] {
            let stop = AtomicBool::new(false);
            let done = until(&stop, threads, 100_000, |i| {
                stop.fetch_or(i == 20, Ordering::Relaxed);
                i
            });
            assert!(done.len() > 20 && done.len() < 100_000, "{}", done.len());
            assert!(done.iter().enumerate().all(|(i, one)| i == *one));
        }
    }

    #[test]
    fn work_within_work_is_done_by_its_own_thread() {
        let threads = each(8, |_| {
            let own = thread::current().id();
            let inner = each(20, |_| thread::current().id());
            let (one, other) = both(|| thread::current().id(), || thread::current().id());
            inner.into_iter().chain([one, other]).all(|id| id == own)
        });
        assert_eq!(threads, [true; 8]);
        // Afterwards it is shared out again.
        let (one, other) = both(|| thread::current().id(), || thread::current().id());
        assert_ne!(one, other);
    }

    #[test]
    #[should_panic(expected = "seven")]
    fn a_panic_is_passed_on() {
        each(20, |i| assert_ne!(i, 7, "seven"));
    }
}
