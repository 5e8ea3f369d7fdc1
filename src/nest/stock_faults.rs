//! What is wrong with a packing's use of the stock; part of the independent check.
//!
//! Takes stock and a packing, gives a sentence for each fault: more sheets than there are, costs that do not add up, a
//! bound above the cost. Shares nothing with the search.

use super::{CostBy, Nesting, Stock};

/// Everything wrong with how the stock is used.
pub(super) fn stock_faults(stock: &[Stock], nesting: &Nesting) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, kind) in stock.iter().enumerate() {
        let used = nesting.sheets.iter().filter(|sheet| sheet.stock == index).count();
        if let Some(quantity) = kind.quantity.filter(|&quantity| used > quantity) {
            faults.push(format!("{used} sheets of {} are used but there are {quantity}", kind.name));
        }
    }
    let (cost, tolerance) = (nesting.cost, nesting.cost.used.abs() * 1e-9 + same_cost(nesting));
    let by_price = stock.iter().any(|kind| kind.price.is_some())
        && stock.iter().all(|kind| kind.price.is_some() || kind.offcut);
    if by_price != (cost.by == CostBy::Price) {
        faults.push(format!("the stock is compared by {:?}", cost.by));
        return faults;
    }
    let price = |kind: &Stock| match (kind.price, kind.offcut) {
        (None, true) => 0.0,
        (Some(price), _) if by_price => price,
        _ => kind.length * kind.width,
    };
    let sum: f64 = nesting.sheets.iter().filter_map(|sheet| stock.get(sheet.stock)).map(price).sum();
    if (sum - cost.used).abs() > tolerance {
        faults.push(format!("the sheets cost {sum} but are said to cost {}", cost.used));
    }
    if cost.least > cost.used + tolerance {
        faults.push(format!("the least cost is {} but {} is the cost", cost.least, cost.used));
    }
    faults
}

/// By how much costs may differ: each price is rounded to thousandths, each sheet's sides to micrometres, which on a
/// sheet of ten metres each way is 20 mm2.
fn same_cost(nesting: &Nesting) -> f64 {
    let each = match nesting.cost.by {
        CostBy::Price => 0.001,
        CostBy::Area => 20.0,
    };
    each * nesting.sheets.len() as f64
}

#[cfg(test)]
mod tests {
    use super::super::{Cost, Sheet};
    use super::*;

    fn kind(name: &str, price: Option<f64>) -> Stock {
        Stock { name: name.to_owned(), length: 1000.0, width: 500.0, price, ..Stock::default() }
    }

    /// Two sheets at 40 and one offcut for nothing; at least 60 are needed.
    fn setting() -> (Vec<Stock>, Nesting) {
        let offcut = Stock { offcut: true, quantity: Some(1), ..kind("rest", None) };
        let sheet = |stock| Sheet { stock, placed: vec![] };
        let cost = Cost { by: CostBy::Price, used: 80.0, least: 60.0 };
        let nesting = Nesting { sheets: vec![sheet(0), sheet(0), sheet(1)], cost, ..Nesting::default() };
        (vec![kind("new", Some(40.0)), offcut], nesting)
    }

    fn assert_one(plant: impl Fn(&mut Vec<Stock>, &mut Nesting), words: &str) {
        let (mut stock, mut nesting) = setting();
        assert_eq!(stock_faults(&stock, &nesting), Vec::<String>::new());
        plant(&mut stock, &mut nesting);
        let found = stock_faults(&stock, &nesting);
        assert!(found.len() == 1 && found[0].contains(words), "looked for `{words}`: {found:?}");
    }

    #[test]
    fn quantities_costs_and_bounds() {
        assert_one(|stock, _| stock[0].quantity = Some(1), "2 sheets of new are used but there are 1");
        assert_one(|_, nesting| nesting.cost.used = 79.99, "cost 80 but are said to cost 79.99");
        assert_one(|_, nesting| nesting.cost.least = 80.01, "the least cost is 80.01 but 80 is the cost");
        assert_one(|stock, _| stock[0].price = None, "compared by Price");
    }
}
