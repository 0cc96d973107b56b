//! After warm-up the search allocates nothing: another program of the same width in the same memory, points inside known stretches of a dial.
//! A binary of its own, since counting takes the allocator of the whole process.

use allocation_counter::measure;
use rust_decimal::Decimal;
use tenside::brief::{Brief, Dial, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::Measure;
use tenside::number::Exact;
use tenside::solve::Outcome;
use tenside::solve::benchmark::Loaded;
use tenside::solve::linear::Program;

fn brief() -> Brief {
    let prices = [("sci-powder", 8), ("scs-needles", 5), ("capb-30", 3), ("cetyl-alcohol", 4), ("stearic-acid", 2), ("panthenol", 20), ("kaolin", 1)];
    let prices = PriceList::new("EUR", prices.map(|(id, price)| (id.to_string(), Decimal::from(price)))).unwrap();
    let brief = Brief::new("Counted", &Catalogue::starter()).unwrap().with_prices(&prices).unwrap();
    let brief = brief.split("wash", SplitBasis::Active, &[("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
    let brief = brief.fix("panthenol", "1.5").unwrap().between("cetyl-alcohol", 3, 6).unwrap().between("stearic-acid", 1, 20).unwrap().qs("kaolin").unwrap();
    brief.target(Measure::active_matter(), 56).unwrap().at_most(Measure::water(), 14).unwrap().minimise(Measure::cost())
}

/// The program with the split's last part and the water's limit at these values, and whether it can be answered.
fn program(part: i64, water: i64) -> (Program, bool) {
    let brief = brief().turned(&Dial::part("wash", "capb-30"), &Exact::ratio(part, 2)).unwrap();
    let name = brief.requirements()[1].name();
    match brief.turned(&Dial::AtMost(name), &Exact::from(water)).unwrap().try_solve().unwrap() {
        Outcome::Answered(answer) => (answer.proof().program().program().clone(), true),
        Outcome::Conflict(conflict) => (conflict.proof().program().program().clone(), false),
    }
}

#[test]
fn the_count_counts() {
    let counted = measure(|| drop(std::hint::black_box(vec![1u8; 100])));
    assert_eq!(counted.count_total, 1);
    let first = program(2, 14).0;
    assert!(measure(|| drop(std::hint::black_box(Loaded::new(&first, &[0, 1])))).count_total >= 1);
}

#[test]
fn a_second_program_is_loaded_searched_and_proved_in_the_same_memory() {
    let programs: Vec<(Program, bool)> = [(2, 14), (3, 12), (7, 20), (9, 9), (1, 1)].map(|(part, water)| program(part, water)).to_vec();
    let order: Vec<usize> = (0..programs[0].0.columns().len()).collect();
    let mut loaded = Loaded::new(&programs[0].0, &order).unwrap();
    loaded.search();
    let (mut optimal, mut proved) = (0, 0);
    for _ in 0..3 {
        for (program, answered) in &programs {
            let mut certain = None;
            let counted = measure(|| {
                loaded.load(program, &order).unwrap();
                certain = loaded.search();
            });
            assert_eq!(counted.count_total, 0);
            optimal += usize::from(*answered);
            proved += usize::from(certain == Some(true));
        }
    }
    assert!(optimal > 3 && optimal < 15 && proved > 3, "{optimal} answered, {proved} proved by the filter");
}

#[test]
fn points_inside_known_stretches_allocate_nothing() {
    let brief = brief();
    let (water, strength) = (brief.requirements()[1].name(), brief.requirements()[0].name());
    for (dial, from, to) in [
        (Dial::part("wash", "capb-30"), 1, 9),
        (Dial::AtMost(water), 4, 22),
        (Dial::Target(strength), 40, 60),
        (Dial::Price("stearic-acid".to_string()), 3, 12),
        (Dial::Fixed("panthenol".to_string()), 1, 30),
    ] {
        let values: Vec<Exact> = (0..60).map(|place| Exact::from(from) + Exact::from(to - from) * Exact::ratio(place * 7 % 60, 59)).collect();
        let values: Vec<Exact> = values.iter().map(|value| value.rounded_to(&Exact::ratio(1, 10_000), tenside::number::HalfWay::ToEven)).collect();
        let mut turning = brief.turning(&dial).unwrap();
        let mut first = 0;
        for value in &values {
            first += measure(|| assert!(turning.percents(value).is_ok())).count_total;
        }
        assert!(first > 0, "{dial}: nothing had to be remembered");
        let before = turning.ways();
        let (mut known, mut answered) = (0, 0);
        for value in &values {
            let counted = measure(|| answered += usize::from(turning.percents(value).unwrap().is_some()));
            // A point just where two structures meet is solved by itself each time.
            if turning.stretch().is_some() {
                known += 1;
                assert_eq!(counted.count_total, 0, "{dial} at {value}");
            }
        }
        let after = turning.ways();
        assert_eq!((before.filtered, before.exact), (after.filtered, after.exact), "{dial}");
        assert!(known >= 50 && answered > 10, "{dial}: {known} points in known stretches, {answered} answered");
    }
}
