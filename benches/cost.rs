//! The cheapest purchase of twelve raw materials in four packs each for three batches, from one supplier to four who
//! ask freight.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use tenside::cost::{Offers, Pack, PlannedBatch, PurchaseRequest, Supplier};
use tenside::prelude::*;

const MATERIALS: [&str; 12] = [
    "sci-powder",
    "scs-needles",
    "kaolin",
    "corn-starch",
    "cetyl-alcohol",
    "cocoa-butter",
    "panthenol",
    "glycerin-99-5",
    "talc",
    "citric-acid-50",
    "capb-30",
    "btms-50",
];

/// Four packs of a raw material; larger ones are cheaper by mass.
fn packs(place: i64) -> Vec<Pack> {
    let sizes = [100, 250, 1000, 2500];
    let pack = |(index, grams): (i64, i64)| {
        let price = Exact::ratio(grams * (9 + place - index) / 10 + 60 + 7 * place, 100);
        let size = Mass::new(Exact::from(grams), MassUnit::Gram).unwrap();
        let material = MATERIALS[usize::try_from(place).unwrap()];
        Pack::new(material, size, &price).unwrap().with_break(4, price * Exact::ratio(9, 10)).unwrap()
    };
    (0..).zip(sizes).map(pack).collect()
}

fn request(suppliers: i64) -> PurchaseRequest {
    let shelf = Catalogue::starter();
    let mut offers = Offers::new("EUR").unwrap();
    for index in 0..suppliers {
        let supplier = Supplier::new(&format!("Depot {index}"), "EUR")
            .unwrap()
            .with_freight(6 + 3 * index)
            .unwrap()
            .free_from(90 + 30 * index)
            .unwrap();
        let packs = (0..12)
            .flat_map(packs)
            .enumerate()
            .filter(|(place, _)| suppliers == 1 || i64::try_from(*place).unwrap() % suppliers == index);
        offers = offers
            .with_supplier(packs.fold(supplier, |supplier, (_, pack)| supplier.with_pack(pack).unwrap()))
            .unwrap();
    }
    let batch = |title: &str, shares: [u32; 12], size: &str| {
        let line = |(id, share): (&str, u32)| {
            Line::new(id, Arc::clone(shelf.material(id).unwrap()), Ppm::from_parts(share * 10_000).unwrap()).unwrap()
        };
        let formula = Formula::new(title, MATERIALS.into_iter().zip(shares).map(line).collect()).unwrap();
        PlannedBatch::new(formula, size.parse().unwrap()).unwrap()
    };
    let batches = [
        batch("First", [40, 10, 10, 8, 6, 6, 2, 4, 5, 2, 5, 2], "1950 g"),
        batch("Second", [35, 15, 9, 9, 7, 5, 1, 5, 4, 1, 6, 3], "2730 g"),
        batch("Third", [50, 5, 5, 5, 5, 5, 5, 5, 5, 2, 5, 3], "1210 g"),
    ];
    batches.into_iter().fold(PurchaseRequest::new(offers), |asked, batch| asked.with_batch(batch).unwrap())
}

fn purchases(criterion: &mut Criterion) {
    for suppliers in [1, 2, 3, 4] {
        let asked = request(suppliers);
        assert!(asked.cheapest().unwrap().is_cheapest());
        criterion.bench_function(
            &format!("cost/purchase of 12 raw materials for 3 batches, suppliers: {suppliers}"),
            |bench| bench.iter(|| black_box(&asked).cheapest().unwrap()),
        );
    }
}

criterion_group!(benches, purchases);
criterion_main!(benches);
