//! Work that does not depend on its neighbours, done on all cores at once.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// What `work` gives for each number below `n`, in their order whoever was faster.
pub(crate) fn each<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let workers = thread::available_parallelism().map_or(1, NonZero::get).min(n);
    let next = AtomicUsize::new(0);
    let share = || {
        let take = || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|&i| i < n);
        std::iter::from_fn(take).map(|i| (i, work(i))).collect::<Vec<_>>()
    };
    let mut all = thread::scope(|scope| {
        let others: Vec<_> = (1..workers).map(|_| scope.spawn(share)).collect();
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_the_order_of_their_numbers() {
        assert_eq!(each(0, |i| i), Vec::<usize>::new());
        let slow_first = each(40, |i| {
            thread::sleep(std::time::Duration::from_micros(if i % 2 == 0 { 300 } else { 0 }));
            i * i
        });
        assert_eq!(slow_first, (0..40).map(|i| i * i).collect::<Vec<_>>());
    }

    #[test]
    #[should_panic(expected = "seven")]
    fn a_panic_is_passed_on() {
        each(20, |i| assert_ne!(i, 7, "seven"));
    }
}
