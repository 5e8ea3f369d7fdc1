//! The order of the cuts of one stage: those at one setting of the fence together, as far as that goes.
//!
//! Takes, for each piece, its cuts in their order; gives all of them in one order that keeps each piece's own.

use super::Cut;
use std::cmp::Reverse;
use std::collections::{BTreeMap, VecDeque};

/// Cuts of one piece in a row at one setting.
type Run = Vec<Cut>;

/// All cuts of a stage. A setting is made when every piece that needs it has come to it; where there is none such,
/// the largest. Of several, the one with which the piece at hand is cut on.
pub(super) fn in_order(chains: &[Vec<Cut>]) -> Vec<Cut> {
    let mut chains: Vec<VecDeque<Run>> = chains.iter().map(|cuts| runs(cuts)).collect();
    // For each setting, the runs that still stand behind others.
    let mut waiting: BTreeMap<i64, usize> = BTreeMap::new();
    for run in chains.iter().flat_map(|chain| chain.iter().skip(1)) {
        *waiting.entry(run[0].fence).or_default() += 1;
    }
    let mut cuts = Vec::new();
    let mut at_hand = 0;
    while let Some((chain, fence)) = next(&chains, &waiting, at_hand) {
        at_hand = chain;
        // The piece at hand first, then the others that have come to this setting.
        for index in std::iter::once(chain).chain(0..chains.len()) {
            let Some(run) = chains[index].pop_front_if(|run| run[0].fence == fence) else { continue };
            cuts.extend(run);
            if let Some(number) = chains[index].front().and_then(|run| waiting.get_mut(&run[0].fence)) {
                *number -= 1;
            }
        }
    }
    cuts
}

fn runs(cuts: &[Cut]) -> VecDeque<Run> {
    cuts.chunk_by(|a, b| a.fence == b.fence).map(<[Cut]>::to_vec).collect()
}

/// The piece to cut next and the setting.
fn next(chains: &[VecDeque<Run>], waiting: &BTreeMap<i64, usize>, at_hand: usize) -> Option<(usize, i64)> {
    let fronts = chains.iter().enumerate().filter_map(|(chain, runs)| Some((chain, runs.front()?[0].fence)));
    fronts.min_by_key(|&(chain, fence)| {
        let early = waiting.get(&fence).is_some_and(|&number| number > 0);
        (early, Reverse(if early { fence } else { 0 }), chain != at_hand, chain)
    })
}
