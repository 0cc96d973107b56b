//! Results leave as documents and come back only as what comes of their question.

use serde_json::{Value, json};
use tenside::document::{Materials, Notation, ResultDocument, kind_of};
use tenside::error::FaultKind;
use tenside::exposure::Exposure;
use tenside::prelude::*;
use tenside::solve::{Choice, Rounded, Unmet};

fn shelf() -> Catalogue {
    Catalogue::starter()
}

fn brief() -> Brief {
    let brief = Brief::new("Wash", &shelf())
        .unwrap()
        .split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)])
        .unwrap();
    let brief = brief.between("cetyl-alcohol", 3, 6).unwrap().fix("lavender-oil", "0.6").unwrap().qs("kaolin").unwrap();
    brief.target(Measure::active_matter(), 50).unwrap().minimise(Measure::water())
}

fn formula() -> Formula {
    brief().solve().unwrap().formula().unwrap().clone()
}

/// It is written in both notations, with and without its raw materials, and read back as it was.
fn comes_back<T: ResultDocument + PartialEq + std::fmt::Debug>(
    result: &T,
    read: impl Fn(&str, Notation, &Catalogue) -> Result<T, tenside::Error>,
    said: &[&str],
) {
    for notation in [Notation::Json, Notation::Toml] {
        for (materials, shelf) in [(Materials::Named, shelf()), (Materials::Embedded, Catalogue::empty())] {
            let text = result.write(notation, materials).unwrap();
            assert_eq!(kind_of(&text).unwrap(), (T::KIND.to_string(), notation));
            assert_eq!(&read(&text, notation, &shelf).unwrap_or_else(|error| panic!("{error}\n{text}")), result);
        }
    }
    let plain: Value = serde_json::to_value(result).unwrap();
    assert_eq!(plain, serde_json::from_str::<Value>(&result.write(Notation::Json, Materials::Named).unwrap()).unwrap());
    for key in said {
        let mut forged = plain.clone();
        forged[*key] = json!("something else");
        let error = read(&forged.to_string(), Notation::Json, &shelf()).unwrap_err();
        assert!(
            error.faults().iter().all(|fault| fault.kind == FaultKind::Contradiction && fault.place == *key),
            "{key}: {error}"
        );
        let mut shorter = plain.clone();
        shorter.as_object_mut().unwrap().remove(*key);
        assert!(read(&shorter.to_string(), Notation::Json, &shelf()).is_err() || plain[*key].is_null(), "{key}");
    }
    let mut more = plain;
    more["note"] = json!("mine");
    assert_eq!(read(&more.to_string(), Notation::Json, &shelf()).unwrap_err().faults()[0].kind, FaultKind::UnknownKey);
}

#[test]
fn what_came_of_a_brief() {
    comes_back(
        &brief().solve().unwrap(),
        Answer::read,
        &["objective", "objective_unit", "exact", "formula", "departures", "binding"],
    );
    let strong = Brief::new("Too strong", &shelf()).unwrap().between("capb-30", 0, 50).unwrap().qs("water").unwrap();
    let Outcome::Conflict(conflict) = strong.at_least(Measure::active_matter(), 18).unwrap().try_solve().unwrap()
    else {
        panic!("15 % at most")
    };
    comes_back(conflict.as_ref(), Conflict::read, &["sentence", "members"]);
    let steps = Steps::of("0.5").unwrap().line("lavender-oil", "0.1").unwrap().line("kaolin", "0.1").unwrap();
    let steps =
        steps.within("active matter at 50 %", 1).unwrap().equation_within_half_a_step("wash").within_half_a_step();
    let RoundedOutcome::Found(rounded) = brief().try_solve_rounded(&steps).unwrap() else {
        panic!("half a step leaves room")
    };
    comes_back(
        rounded.as_ref(),
        Rounded::read,
        &["formula", "objective", "loosened", "bound", "gap", "is_best", "nodes", "departures"],
    );
    let RoundedOutcome::Unmet(unmet) = brief().try_solve_rounded(&Steps::of("0.5").unwrap()).unwrap() else {
        panic!("0.6 % is on no step")
    };
    comes_back(unmet.as_ref(), Unmet::read, &["requirements", "is_proved", "is_irreducible", "finer_step", "sentence"]);
    // Its steps say how long the search may be; a limit that says something else beside them is not believed.
    let mut forged = serde_json::to_value(unmet.as_ref()).unwrap();
    forged["node_limit"] = json!(7);
    let error = Unmet::read(&forged.to_string(), Notation::Json, &shelf()).unwrap_err();
    assert_eq!(error.faults()[0].place, "node_limit");
    let choices =
        Brief::new("Perhaps", &shelf()).unwrap().absent_or_between("capb-30", 10, 20).unwrap().qs("kaolin").unwrap();
    let choice = choices.clone().minimise(Measure::water()).choose().unwrap();
    comes_back(&choice, Choice::read, &["present", "absent", "objective", "exact", "formula", "bound", "is_best"]);
    let ChoiceOutcome::Unmet(unmet) = choices.at_least(Measure::active_matter(), 30).unwrap().try_choose(100).unwrap()
    else {
        panic!("6 % at most")
    };
    comes_back(unmet.as_ref(), Unmet::read, &["requirements", "is_proved", "sentence"]);
}

#[test]
fn what_was_made_of_a_formula() {
    let day = "2026-11-24".parse().unwrap();
    let reading = Reading::ph("5.6", "1+9".parse().unwrap()).unwrap().in_water("deionised").unwrap();
    let product =
        Product::new(Market::Eu, &[Use::ShampooBar], day).unwrap().with_reading(reading).with_moisture(2).unwrap();
    let product = product.with_scent_limit("0.5", "9").unwrap().with_placing(Placing::Placed);
    let review = formula().review(RuleBook::starter(), &product).unwrap();
    let read = |text: &str, notation, shelf: &Catalogue| Review::read(text, notation, shelf, RuleBook::starter());
    comes_back(
        &review,
        read,
        &["is_draft", "lists", "checks", "open_checks", "findings", "unchecked", "not_covered", "summary"],
    );
    let each = product.with_scent_limits([("lavender-oil", "0.8"), ("lemon-oil", "1/3")], "9").unwrap();
    let review = formula().review(RuleBook::starter(), &each).unwrap();
    comes_back(
        &review,
        read,
        &["is_draft", "lists", "checks", "open_checks", "findings", "unchecked", "not_covered", "summary"],
    );
    let both = |text: &str| text.replacen("\"each\":", "\"percent\": \"1\", \"each\":", 1);
    let text = review.write(Notation::Json, Materials::Named).unwrap();
    let error = Review::read(&both(&text), Notation::Json, &shelf(), RuleBook::starter()).unwrap_err();
    assert!(error.is_contradiction() && error.to_string().contains("one of percent, each"), "{error}");
    let declared =
        ScentDeclaration::new("lavender-oil", "supplier, 2026").unwrap().holding("LINALOOL", "30", "36").unwrap();
    let asked = LabelRequest::new(Market::Eu, day)
        .with_net("60 g".parse().unwrap())
        .unwrap()
        .with_declaration(declared)
        .unwrap();
    let label = formula().label(&asked.with_moisture(1).unwrap()).unwrap();
    comes_back(&label, Label::read, &["ingredients", "items", "scents", "net", "questions", "checks", "nameless"]);
    let scales = Scales::new("0.1 g".parse().unwrap())
        .unwrap()
        .for_phase("cool-down", "0.01 g".parse().unwrap())
        .unwrap()
        .shown_in(MassUnit::Kilogram);
    let size =
        BatchSize::of_mass("200 g".parse().unwrap()).unwrap().pressed_as(3).unwrap().with_process_loss(2).unwrap();
    let batch = formula().batch(size, scales).unwrap().numbered("B-7").unwrap().dated(day);
    comes_back(&batch, tenside::batch::Batch::read, &["asked", "weighed", "weighings", "bar_masses", "notes"]);
    let asked = ExposureRequest::of_amount(10, 1).unwrap().with_oral_dose_absorbed(500, 50).unwrap();
    let exposure =
        formula().exposure("LINALOOL", &asked.with_body_weight(60).unwrap(), &Basis::Finished(1.into())).unwrap();
    comes_back(&exposure, Exposure::read, &["percent", "dose", "margin", "notes", "usual_margin"]);
}

#[test]
fn what_it_costs_and_what_is_bought_for_it() {
    use tenside::cost::{
        CostRequest, Offers, Pack, PlannedBatch, PlannedProduct, PurchaseRequest, Stock, StockLot, Supplier,
    };
    let ids = ["sci-powder", "capb-30", "cetyl-alcohol", "lavender-oil", "kaolin"];
    let prices = PriceList::new("EUR", ids.map(|id| (id, "7.35"))).unwrap();
    let made = formula().with_prices(Some(prices.into()));
    let asked = CostRequest::new("2 kg".parse().unwrap())
        .unwrap()
        .with_bars(30)
        .unwrap()
        .with_washes("62.5")
        .unwrap()
        .with_process_loss(3)
        .unwrap();
    let asked = asked
        .per_bar("wrapper", "0.12")
        .unwrap()
        .per_batch("labour", 18)
        .unwrap()
        .percent_of_direct_costs("overhead", "1/3")
        .unwrap();
    let costing = made.costing(&asked).unwrap();
    comes_back(
        &costing,
        tenside::cost::Costing::read,
        &["lines", "phases", "raw_materials", "direct", "total", "per_bar", "per_wash", "lost"],
    );
    let pack = |id: &str, size: &str, price: &str| Pack::new(id, size.parse().unwrap(), price).unwrap();
    let near = ids
        .into_iter()
        .fold(Supplier::new("Near", "EUR").unwrap(), |near, id| near.with_pack(pack(id, "300 g", "2.75")).unwrap());
    let far = Supplier::new("Far", "USD")
        .unwrap()
        .with_pack(pack("kaolin", "1 lb", "1.05").with_break(3, "0.95").unwrap())
        .unwrap();
    let far = far.with_freight("4.90").unwrap().free_from(20).unwrap().with_tax(19).unwrap();
    let offers = Offers::new("EUR")
        .unwrap()
        .with_rate("USD", "0.92")
        .unwrap()
        .with_supplier(near)
        .unwrap()
        .with_supplier(far)
        .unwrap();
    for notation in [Notation::Json, Notation::Toml] {
        let text = offers.write(notation, Materials::Named).unwrap();
        assert_eq!(Offers::read(&text, notation, &shelf()).unwrap(), offers);
    }
    let lot = |id: &str, left: &str| StockLot::new(id, left.parse().unwrap()).unwrap();
    let clay = lot("kaolin", "600 g")
        .named("K-7")
        .unwrap()
        .at_cost("2.20")
        .unwrap()
        .to_be_used_by("2027-01-31".parse().unwrap());
    let stock = ids[..4]
        .iter()
        .fold(Stock::new("EUR").unwrap(), |stock, id| stock.with_lot(lot(id, "333 g")).unwrap())
        .with_lot(clay)
        .unwrap();
    for notation in [Notation::Json, Notation::Toml] {
        let text = stock.write(notation, Materials::Named).unwrap();
        assert_eq!(Stock::read(&text, notation, &shelf()).unwrap(), stock);
    }
    let day = "2026-12-01".parse().unwrap();
    let batch = PlannedBatch::new(formula(), "3 kg".parse().unwrap()).unwrap().on(day);
    let bought = PurchaseRequest::new(offers).with_stock(stock.clone()).with_batch(batch).unwrap().cheapest().unwrap();
    assert!(bought.is_cheapest() && !bought.orders().is_empty());
    comes_back(
        &bought,
        tenside::cost::Purchase::read,
        &["orders", "materials", "lots", "total", "bound", "is_cheapest", "steps", "notes"],
    );
    let bars = formula().bars_from_stock(&stock, &"66 g".parse().unwrap(), Some(day)).unwrap();
    comes_back(&bars, tenside::cost::BarsFromStock::read, &["bars", "runs_out_first", "materials"]);
    let product = PlannedProduct::new(formula(), "66 g".parse().unwrap(), "2.40").unwrap().at_most(9).unwrap();
    let mix = stock.best_mix(&[product], Some(day), 50).unwrap();
    comes_back(&mix, tenside::cost::ProductMix::read, &["rows", "materials", "value", "bound", "is_best", "nodes"]);
}

#[test]
fn a_result_of_another_kind_is_refused() {
    let text = brief().solve().unwrap().write(Notation::Json, Materials::Named).unwrap();
    let error = Conflict::read(&text.replace("answer/1", "conflict/1"), Notation::Json, &shelf()).unwrap_err();
    assert!(error.to_string().contains("answer/1"), "{error}");
    let error = Answer::read(&text.replace("brief/1", "brief/9"), Notation::Json, &shelf()).unwrap_err();
    assert!(error.is_syntax(), "{error}");
    let error = Answer::read(&text, Notation::Json, &Catalogue::empty()).unwrap_err();
    assert!(error.is_unknown_name(), "{error}");
}
