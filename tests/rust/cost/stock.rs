//! What a stock is worth and good for, and the best mix from it against all there are.

use std::sync::Arc;

use tenside::brief::{Brief, BriefLine, Role};
use tenside::catalogue::Catalogue;
use tenside::cost::PlannedProduct;
use tenside::document::{Materials, Notation};
use tenside::formula::{Formula, Line};
use tenside::material::{Certificate, Lot, Material, StatedActive};
use tenside::measure::Measure;
use tenside::number::Exact;

use super::{bar, day, formula, lot, mass, stock};
use crate::support::{Random, exact, percent};

/// 66 g a bar: 39.6 g, 3.3 g and 23.1 g.
#[test]
fn bars_by_hand() {
    let shelf = stock(vec![
        lot("sci-powder", "1 kg"),
        lot("cetyl-alcohol", "66 g"),
        lot("kaolin", "500 g"),
        lot("kaolin", "100 g"),
    ]);
    let bars = bar().bars_from_stock(&shelf, &mass("66 g"), None).unwrap();
    assert_eq!(bars.materials().iter().map(|it| it.bars).collect::<Vec<_>>(), [25, 20, 25]);
    assert_eq!((bars.bars(), bars.runs_out_first()), (20, vec!["cetyl-alcohol"]));
    assert_eq!(bars.materials().iter().map(|it| it.left.to_string()).collect::<Vec<_>>(), ["208 g", "0 g", "138 g"]);
    let none = bar()
        .bars_from_stock(&stock(vec![lot("sci-powder", "1 kg"), lot("kaolin", "1 kg")]), &mass("66 g"), None)
        .unwrap();
    assert_eq!(
        (none.bars(), none.runs_out_first(), none.notes()),
        (0, vec!["cetyl-alcohol"], vec!["\"cetyl-alcohol\" is not in stock".to_string()])
    );
    assert!(bars.page().text(90).contains("enough for 20 bars; first to run out: cetyl-alcohol"));
}

#[test]
fn a_lot_counts_up_to_its_last_day() {
    let shelf = || stock(vec![lot("kaolin", "600 g").to_be_used_by(day("2026-12-10")), lot("kaolin", "60 g")]);
    let bars = |on| formula("Clay", &[("kaolin", "100")]).bars_from_stock(&shelf(), &mass("66 g"), on);
    assert_eq!(bars(Some(day("2026-12-10"))).unwrap().bars(), 10);
    let late = bars(Some(day("2026-12-11"))).unwrap();
    assert_eq!(
        (late.bars(), late.notes()),
        (0, vec!["a lot of \"kaolin\" is to be used by 2026-12-10 and is left out".to_string()])
    );
    assert!(bars(None).unwrap_err().is_missing());
}

#[test]
fn another_lot_than_the_formulas_is_said() {
    let active = StatedActive { percent: percent("80"), method: "titrated".to_string(), molar_mass: None };
    let certificate = Certificate { active: Some(active), ..Certificate::default() };
    let certified = Arc::new(Lot::new("s-1", "sci-powder", certificate).unwrap());
    let typical = Arc::clone(Catalogue::starter().material("sci-powder").unwrap());
    let of_lot = Arc::new(typical.with_lot(&certified).unwrap().0);
    let notes = |material: &Arc<Material>, named: &str| {
        let line = Line::new("sci", Arc::clone(material), percent("100")).unwrap();
        let shelf = stock(vec![lot("sci-powder", "1 kg").named(named).unwrap()]);
        Formula::new("Plain", vec![line]).unwrap().bars_from_stock(&shelf, &mass("66 g"), None).unwrap().notes()
    };
    let other = "\"Plain\" was worked out with lot \"s-1\", and lot \"s-2\" of \"sci-powder\" counts as well";
    assert_eq!(notes(&of_lot, "s-2"), [other]);
    assert_eq!((notes(&of_lot, "s-1").len(), notes(&typical, "s-2").len()), (0, 0));
}

#[test]
fn a_stock_is_worth_what_it_cost() {
    let shelf = stock(vec![
        lot("kaolin", "1 kg").at_cost(4).unwrap(),
        lot("kaolin", "2 kg").at_cost(5).unwrap(),
        lot("talc", "1 kg"),
    ]);
    assert_eq!((shelf.value(), shelf.without_cost().len()), (exact("14"), 1));
    let list = shelf.price_list().unwrap();
    assert_eq!((list.get("kaolin").unwrap().to_string(), list.get("talc")), ("4.666667".to_string(), None));
    assert!(shelf.page().text(90).contains("is not stated, so it is not in the sum"));
}

#[test]
fn no_mix_there_is_is_worth_more() {
    let mut random = Random::new(11);
    let ids = ["sci-powder", "kaolin", "corn-starch"];
    let mut positive = 0;
    for case in 0..120 {
        let amounts: Vec<u64> = ids.iter().map(|_| random.between(0, 900)).collect();
        let shelf = stock(ids.iter().zip(&amounts).map(|(id, grams)| lot(id, &format!("{grams} g"))).collect());
        let count = usize::try_from(random.between(1, 3)).unwrap();
        let drawn: Vec<(Vec<u64>, u64, u64, Option<u64>)> = (0..count)
            .map(|_| {
                (
                    random.shares(3, 100, 5),
                    random.between(40, 120),
                    random.between(0, 900),
                    random.chance(40).then(|| random.between(1, 6)),
                )
            })
            .collect();
        let products: Vec<PlannedProduct> = drawn
            .iter()
            .enumerate()
            .map(|(index, (shares, grams, cents, most))| {
                let shares: Vec<String> = shares.iter().map(u64::to_string).collect();
                let lines: Vec<(&str, &str)> = ids.iter().copied().zip(shares.iter().map(String::as_str)).collect();
                let title = format!("Product {index}");
                let product = PlannedProduct::new(
                    formula(&title, &lines),
                    mass(&format!("{grams} g")),
                    Exact::ratio(i64::try_from(*cents).unwrap(), 100),
                )
                .unwrap();
                most.map_or(product.clone(), |most| product.at_most(u32::try_from(most).unwrap()).unwrap())
            })
            .collect();
        let mix = shelf.best_mix(&products, None, 4000).unwrap();
        mix.verify().unwrap();
        assert!(mix.is_best());
        let mut best = 0;
        let mut counts = vec![0u64; count];
        'all: loop {
            let fits = (0..3).all(|id| {
                drawn.iter().zip(&counts).map(|((shares, grams, ..), count)| shares[id] * grams * count).sum::<u64>()
                    <= 100 * amounts[id]
            });
            if fits {
                best = best.max(drawn.iter().zip(&counts).map(|((_, _, cents, _), count)| cents * count).sum());
            }
            for index in 0..count {
                counts[index] += 1;
                if counts[index] <= drawn[index].3.unwrap_or(70).min(70) {
                    continue 'all;
                }
                counts[index] = 0;
            }
            break;
        }
        assert_eq!(mix.value(), &Exact::ratio(i64::try_from(best).unwrap(), 100), "case {case}");
        for material in mix.materials() {
            assert_eq!(material.used.grams() + material.left.grams(), *material.usable.grams());
        }
        positive += usize::from(best > 0);
    }
    assert!(positive > 60, "{positive}");
}

#[test]
fn a_mix_cut_off_says_how_far_it_may_be() {
    let shelf = stock(vec![lot("sci-powder", "997 g"), lot("kaolin", "991 g"), lot("corn-starch", "983 g")]);
    let product = |title: &str, shares: [&str; 3], grams: &str, value: &str| {
        let lines = [("sci-powder", shares[0]), ("kaolin", shares[1]), ("corn-starch", shares[2])];
        PlannedProduct::new(formula(title, &lines), mass(grams), value).unwrap()
    };
    let products = [
        product("A", ["50", "30", "20"], "67 g", "2.31"),
        product("B", ["20", "50", "30"], "71 g", "2.17"),
        product("C", ["30", "20", "50"], "59 g", "1.97"),
    ];
    let best = shelf.best_mix(&products, None, 4000).unwrap();
    assert!(best.is_best());
    let cut = shelf.best_mix(&products, None, 1).unwrap();
    cut.verify().unwrap();
    assert!(!cut.is_best() && cut.bound() >= best.value() && cut.value() <= best.value());
    assert!(cut.notes()[0].starts_with("not proved") && cut.page().text(80).contains("NOT PROVED"));
}

#[test]
fn a_brief_takes_no_more_than_there_is() {
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 10, 90)
        .unwrap()
        .between("kaolin", 0, 90)
        .unwrap();
    let brief = brief.between("corn-starch", 0, 90).unwrap().maximise(Measure::active_matter());
    let stocked =
        brief.clone().in_stock_of(&mass("2 kg"), &[("sci-powder", Some(mass("900 g"))), ("kaolin", None)]).unwrap();
    let answer = stocked.solve().unwrap();
    assert_eq!(answer.exact(), [exact("45"), exact("55"), exact("0")]);
    assert!(brief.clone().in_stock_of(&mass("0 g"), &[]).unwrap_err().is_out_of_range());
    let twice = [("sci-powder", Some(mass("1 g"))), ("SCI powder", Some(mass("2 g")))];
    assert!(brief.clone().in_stock_of(&mass("1 kg"), &twice).unwrap_err().is_duplicate());
    assert!(brief.in_stock_of(&mass("1 kg"), &[("unobtainium", None)]).unwrap_err().is_unknown_name());
}

#[test]
fn each_lot_serves_its_own_line() {
    let lot = |id: &str, active: &str| {
        let active = StatedActive { percent: percent(active), method: "titrated".to_string(), molar_mass: None };
        Arc::new(Lot::new(id, "sci-powder", Certificate { active: Some(active), ..Certificate::default() }).unwrap())
    };
    let (weak, strong) = (lot("W-70", "70"), lot("S-85", "85"));
    let catalogue = Catalogue::starter().with_lot(Arc::clone(&weak)).unwrap().with_lot(Arc::clone(&strong)).unwrap();
    let powder = |name: &str| BriefLine::new(name, Arc::clone(catalogue.material("sci-powder").unwrap()), Role::Free);
    let open = Brief::new("Bar", &catalogue).unwrap().line(powder("first").unwrap()).unwrap();
    let open = open.line(powder("second").unwrap()).unwrap().qs("kaolin").unwrap().maximise(Measure::active_matter());
    let brief = open.clone().use_lot("first", &weak).unwrap().use_lot("second", &strong).unwrap();
    let exact_of = |brief: &Brief| brief.solve().unwrap().exact().to_vec();
    let both = brief.clone().in_stock(&["W-70", "S-85", "kaolin"]).unwrap();
    assert!(both.requirements().is_empty());
    assert_eq!(exact_of(&both), [exact("0"), exact("100"), exact("0")]);
    // A line whose lot is not there is held at 0; a raw material serves every lot of it.
    let one = brief.clone().in_stock(&["W-70", "kaolin"]).unwrap();
    assert_eq!(one.requirements()[0].name(), "second is not in stock");
    assert_eq!(exact_of(&one), [exact("100"), exact("0"), exact("0")]);
    assert!(brief.clone().in_stock(&["sci-powder", "kaolin"]).unwrap().requirements().is_empty());
    // Lot by lot, so much of each.
    let amounts = [("W-70", Some(mass("300 g"))), ("S-85", Some(mass("500 g"))), ("kaolin", None)];
    let of_each = brief.clone().in_stock_of(&mass("1 kg"), &amounts).unwrap();
    assert_eq!(of_each.requirements()[1].name(), "S-85: 500 g in stock");
    assert_eq!(exact_of(&of_each), [exact("30"), exact("50"), exact("20")]);
    for twice in [["W-70", "W-70"], ["W-70", "sci-powder"]] {
        let twice = twice.map(|entry| (entry, Some(mass("100 g"))));
        assert!(brief.clone().in_stock_of(&mass("1 kg"), &twice).unwrap_err().is_duplicate());
    }
    // A line that names no lot takes the only one there is of its raw material.
    let taken = open.clone().in_stock(&["S-85", "S-85", "kaolin"]).unwrap();
    assert!(taken.lines()[..2].iter().all(|line| line.material().lot() == Some(&strong)));
    let error = open.use_lot("first", &weak).unwrap().in_stock(&["W-70", "S-85", "kaolin"]).unwrap_err();
    let said = error.to_string();
    assert!(error.is_contradiction() && said.contains("line \"second\"") && said.contains("use_lot"), "{said}");
}

/// Stock that came in since takes back what was said of it, and the brief is written and read back.
#[test]
fn what_is_in_stock_can_be_said_anew() {
    let brief = Brief::new("Plain", &Catalogue::starter())
        .and_then(|brief| brief.between("sci-powder", 0, 90)?.between("shea-butter", 0, 5)?.qs("kaolin"))
        .unwrap();
    let names = |brief: &Brief| brief.requirements().iter().map(|asked| asked.name()).collect::<Vec<_>>();
    let first = brief.in_stock(&["kaolin", "sci-powder"]).unwrap();
    assert_eq!(names(&first), ["shea-butter is not in stock"]);
    assert_eq!(
        names(&first.clone().in_stock(&["kaolin"]).unwrap()),
        ["sci-powder is not in stock", "shea-butter is not in stock"]
    );
    let all = first.clone().in_stock(&["kaolin", "shea-butter", "sci-powder"]).unwrap();
    assert_eq!(names(&all), Vec::<String>::new());
    let again = first.clone().in_stock(&["kaolin", "sci-powder"]).unwrap();
    let text = again.write(Notation::Json, Materials::Named).unwrap();
    assert_eq!(Brief::read(&text, Notation::Json, &Catalogue::starter()).unwrap(), first);
}
