//! Work ends where its watch says so: with a fault of its own kind, or, of a search, with what it has.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use tenside::brief::{Brief, Requirement, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::error::Error;
use tenside::formula::{Formula, Line};
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::{Exact, Ppm};
use tenside::solve::{ChoiceOutcome, Outcome, RoundedOutcome, Steps};
use tenside::watch::Watch;

/// Says no from the so many-th question on.
struct After {
    most: u64,
    asked: AtomicU64,
    search: bool,
}

impl After {
    fn questions(most: u64) -> Arc<Self> {
        Arc::new(After { most, asked: AtomicU64::new(0), search: false })
    }

    /// Ends searches only.
    fn branches(most: u64) -> Arc<Self> {
        Arc::new(After { most, asked: AtomicU64::new(0), search: true })
    }

    fn ask(&self) -> bool {
        self.asked.fetch_add(1, Ordering::Relaxed) < self.most
    }
}

impl Watch for After {
    fn go_on(&self, _done: u64) -> bool {
        self.search || self.ask()
    }

    fn search_on(&self) -> bool {
        !self.search || self.ask()
    }
}

fn bar() -> Brief {
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 20, 60)
        .unwrap()
        .between("capb-30", 2, 20)
        .unwrap();
    let brief = brief
        .between("cetyl-alcohol", 2, 9)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .at_least(Measure::active_matter(), 31)
        .unwrap();
    brief.at_most(Measure::water(), 9).unwrap().minimise(Measure::water())
}

fn choices() -> Brief {
    let brief =
        bar().absent_or_between("coco-glucoside-50", 10, 20).unwrap().absent_or_between("scs-needles", 3, 30).unwrap();
    brief.group("some", &["coco-glucoside-50", "scs-needles"]).unwrap().at_most_of("some", 1).unwrap()
}

/// Stops the work at every question that it asks, one after the other; it ends with the fault of stopped work and
/// nothing else until it is no longer stopped, and then with what it gives unwatched.
#[track_caller]
fn stops_everywhere<T: PartialEq + std::fmt::Debug>(work: impl Fn(Arc<dyn Watch>) -> Result<T, Error>) {
    let never = After::questions(u64::MAX);
    let expected = work(never.clone()).unwrap();
    let questions = never.asked.load(Ordering::Relaxed);
    assert!(questions > 0, "nobody was asked");
    // Some of very many, and always the first and the last.
    for most in (0..questions).step_by(usize::try_from(questions / 40).unwrap().max(1)).chain([questions - 1]) {
        let error = work(After::questions(most)).unwrap_err();
        assert!(error.is_stopped() && error.faults().len() == 1, "after {most} of {questions}: {error}");
    }
    assert_eq!(work(After::questions(questions)).unwrap(), expected);
}

#[test]
fn every_question_of_a_brief_stops() {
    stops_everywhere(|watch| bar().watched_by(watch).solve());
    stops_everywhere(|watch| bar().with_objective(None).watched_by(watch).solve());
    stops_everywhere(|watch| bar().minimise(Measure::water().per(&Measure::solids())).watched_by(watch).solve());
    stops_everywhere(|watch| bar().watched_by(watch).reach(&Measure::active_matter(), &Basis::AsCharged));
    stops_everywhere(|watch| {
        bar().watched_by(watch).reach(&Measure::water().per(&Measure::active_matter()), &Basis::AsCharged)
    });
    stops_everywhere(|watch| bar().watched_by(watch).line_ranges_within(&Exact::ONE));
    stops_everywhere(|watch| choices().watched_by(watch).try_choose(5000));
    stops_everywhere(|watch| bar().watched_by(watch).try_solve_rounded(&Steps::of("0.5").unwrap()));
    let base = bar().solve().unwrap().formula().unwrap().clone();
    let away = bar().at_least(Measure::active_matter(), 40).unwrap();
    stops_everywhere(|watch| away.clone().least_squares_from(&base).watched_by(watch).solve());
    stops_everywhere(|watch| away.clone().least_change_from(&base).watched_by(watch).solve());
}

#[test]
fn purchases_and_mixes_stop() {
    use tenside::cost::{Offers, Pack, PlannedBatch, PlannedProduct, PurchaseRequest, Stock, StockLot, Supplier};
    let packs = |supplier: Supplier| {
        let sizes = [("70 g", "1.31"), ("110 g", "2.01"), ("230 g", "3.97"), ("610 g", "9.9")];
        let pack = |(size, price): (&str, &str)| Pack::new("kaolin", size.parse().unwrap(), price).unwrap();
        sizes.map(pack).into_iter().fold(supplier, |supplier, pack| supplier.with_pack(pack).unwrap())
    };
    let far = packs(Supplier::new("Far", "EUR").unwrap()).with_freight(20).unwrap().free_from(61).unwrap();
    let near = packs(Supplier::new("Near", "EUR").unwrap()).with_freight(21).unwrap().free_from(62).unwrap();
    let offers = Offers::new("EUR").unwrap().with_supplier(far).unwrap().with_supplier(near).unwrap();
    let clay = |title: &str| {
        Formula::new(
            title,
            vec![Line::new("kaolin", Catalogue::starter().material("kaolin").unwrap().clone(), Ppm::WHOLE).unwrap()],
        )
        .unwrap()
    };
    let asked = PurchaseRequest::new(offers)
        .with_batch(PlannedBatch::new(clay("Clay"), "3333 g".parse().unwrap()).unwrap())
        .unwrap();
    stops_everywhere(|watch| asked.clone().watched_by(watch).cheapest());
    let cut = asked.clone().watched_by(After::branches(0)).cheapest().unwrap();
    assert!(!cut.is_cheapest() && cut.bound() <= asked.cheapest().unwrap().total());
    let stock = Stock::new("EUR").unwrap().with_lot(StockLot::new("kaolin", "1 kg".parse().unwrap()).unwrap()).unwrap();
    let product = |title: &str, grams: &str, value: &str| {
        PlannedProduct::new(clay(title), grams.parse().unwrap(), value).unwrap()
    };
    let products = [product("A", "67 g", "2.31"), product("B", "71 g", "2.42"), product("C", "59 g", "2.03")];
    stops_everywhere(|watch| stock.best_mix_watched(&products, None, 4000, watch));
}

#[test]
fn every_question_of_what_came_of_it_stops() {
    let answer = bar().solve().unwrap();
    stops_everywhere(|watch| answer.clone().watched_by(watch).limit_ranges());
    let sure = bar().at_least(Measure::active_matter(), 30).unwrap();
    let sure = sure
        .require(Requirement::at_least(Measure::active_matter(), Exact::from(29)).unwrap().for_every_composition())
        .unwrap();
    let sure = sure.solve().unwrap();
    stops_everywhere(|watch| sure.clone().watched_by(watch).price_of_robustness());
    let split = bar().split("wash", SplitBasis::Active, [("sci-powder", 3), ("capb-30", 1)]).unwrap();
    let Outcome::Conflict(conflict) = split.at_least(Measure::active_matter(), 95).unwrap().try_solve().unwrap() else {
        panic!("95 % is too much")
    };
    stops_everywhere(|watch| conflict.clone().watched_by(watch).relaxations());
    let ChoiceOutcome::Made(choice) = choices().try_choose(5000).unwrap() else { panic!("there is a choice") };
    stops_everywhere(|watch| choice.clone().watched_by(watch).verify());
    let RoundedOutcome::Found(rounded) = bar().try_solve_rounded(&Steps::of("0.5").unwrap()).unwrap() else {
        panic!("there is a formula")
    };
    stops_everywhere(|watch| rounded.clone().watched_by(watch).verify());
    let catalogue = Catalogue::starter();
    let formula = answer.formula().unwrap();
    let keep = [Measure::active_matter()];
    stops_everywhere(|watch| {
        formula.substitute_watched("sci-powder", catalogue.material("sci-noodles").unwrap(), &keep, watch)
    });
    stops_everywhere(|watch| formula.candidates_watched("cetyl-alcohol", &catalogue, &keep, watch));
}

/// What comes back from a document is asked again, and that stops as asking does.
#[test]
fn reading_a_result_stops() {
    use tenside::document::{Materials, Notation, ResultDocument};
    use tenside::solve::{Answer, Choice, Conflict, Rounded, Unmet};
    macro_rules! stops {
        ($result:ident, $made:expr) => {
            let shelf = Catalogue::starter();
            for notation in [Notation::Json, Notation::Toml] {
                let text = $made.write(notation, Materials::Named).unwrap();
                stops_everywhere(|watch| $result::read_watched(&text, notation, &shelf, watch));
            }
        };
    }
    stops!(Answer, bar().solve().unwrap());
    let split = bar().split("wash", SplitBasis::Active, [("sci-powder", 3), ("capb-30", 1)]).unwrap();
    let Outcome::Conflict(conflict) = split.at_least(Measure::active_matter(), 95).unwrap().try_solve().unwrap() else {
        panic!("95 % is too much")
    };
    stops!(Conflict, conflict);
    stops!(Choice, choices().choose().unwrap());
    stops!(Rounded, bar().solve_rounded(&Steps::of("0.5").unwrap()).unwrap());
    let RoundedOutcome::Unmet(unmet) = bar().try_solve_rounded(&Steps::of(20).unwrap()).unwrap() else {
        panic!("no multiple of 20 % lies between 2 and 9 %")
    };
    stops!(Unmet, unmet);
}

/// What was read under a watch is asked further without it.
#[test]
fn what_was_read_is_not_watched() {
    use tenside::document::{Materials, Notation, ResultDocument};
    let conflict = match bar().at_least(Measure::active_matter(), 95).unwrap().try_solve().unwrap() {
        Outcome::Conflict(conflict) => conflict,
        Outcome::Answered(_) => panic!("95 % is too much"),
    };
    let text = conflict.write(Notation::Json, Materials::Named).unwrap();
    let never = After::questions(u64::MAX);
    let read = tenside::solve::Conflict::read_watched(&text, Notation::Json, &Catalogue::starter(), never.clone());
    let asked = never.asked.load(Ordering::Relaxed);
    read.unwrap().brief().try_solve().unwrap();
    assert_eq!(never.asked.load(Ordering::Relaxed), asked);
}

/// What is answered is asked further without the watch that the question had.
#[test]
fn an_answer_is_not_watched() {
    let never = After::questions(u64::MAX);
    let answer = bar().watched_by(never.clone()).solve().unwrap();
    let ChoiceOutcome::Made(choice) = choices().watched_by(never.clone()).try_choose(5000).unwrap() else {
        panic!("there is a choice")
    };
    let asked = never.asked.load(Ordering::Relaxed);
    answer.limit_ranges().unwrap();
    answer.brief().solve().unwrap();
    choice.chosen_brief().solve().unwrap();
    assert_eq!(never.asked.load(Ordering::Relaxed), asked);
}

/// Many lines that may be absent, and two targets that one choice of them is known to meet.
fn long_search() -> Brief {
    let starter = Catalogue::starter();
    let others = [
        "corn-starch",
        "cetyl-alcohol",
        "stearic-acid",
        "capb-30",
        "coco-glucoside-50",
        "sci-noodles",
        "glycerin-99-5",
        "sodium-chloride",
    ];
    let all = [
        ["sci-powder", "scs-needles", "kaolin"].as_slice(),
        &others,
        &["cocoa-butter", "water", "stearic-acid-90", "shea-butter"],
    ]
    .concat();
    let line =
        |id: &str| Line::new(id, starter.material(id).unwrap().clone(), Ppm::from_parts(100_000).unwrap()).unwrap();
    let known = Formula::new("Known", all[2..12].iter().map(|id| line(id)).collect()).unwrap();
    let value = |measure: &Measure| known.measure(measure, &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap();
    let mut brief = Brief::new("Long", &starter).unwrap();
    for id in &all {
        brief = brief.absent_or_between(id, 8, 12).unwrap();
    }
    for measure in [Measure::active_matter(), Measure::water()] {
        let reached = value(&measure);
        brief = brief.target(measure, &reached).unwrap();
    }
    brief.maximise(
        Measure::as_supplied().contributed_by(Scope::lines(["stearic-acid", "sci-noodles", "kaolin"]).unwrap()),
    )
}

#[test]
fn a_search_ended_early_says_what_it_proved() {
    let of = |brief: &Brief, watch: Arc<After>| brief.clone().watched_by(watch).try_choose(100_000).unwrap();
    let brief = long_search();
    let ChoiceOutcome::Made(whole) = of(&brief, After::branches(u64::MAX)) else { panic!("there is a choice") };
    assert!(whole.is_best() && whole.nodes() > 20, "{}", whole.nodes());
    let (mut better, mut none) = (0, 0);
    for most in 0..u64::try_from(whole.nodes()).unwrap() {
        match of(&brief, After::branches(most)) {
            ChoiceOutcome::Made(choice) => {
                choice.verify().unwrap();
                // The best is between what was found and what was proved.
                let (found, bound, best) =
                    (choice.objective().unwrap(), choice.bound().unwrap(), whole.objective().unwrap());
                assert!(found <= best && best <= bound && choice.gap() == &(bound - found), "{found} {best} {bound}");
                better += usize::from(!choice.is_best());
                assert!(choice.nodes() <= whole.nodes());
            }
            ChoiceOutcome::Unmet(unmet) => {
                assert!(!unmet.is_proved() && unmet.sentence().contains("there may be one"), "{unmet}");
                none += 1;
            }
        }
    }
    assert!(better > 0 && none > 0, "{better} {none}");
}

/// What a watch ended says after how many turns, and asked again it ends there too.
#[test]
fn what_a_watch_ended_comes_back() {
    use tenside::document::{Materials, Notation, ResultDocument};
    use tenside::solve::{Choice, Rounded, RoundedOutcome, Steps, Unmet};
    let written = |text: Result<String, Error>, ended: &mut usize| {
        let text = text.unwrap();
        *ended += usize::from(text.contains("\"ended_after\""));
        text
    };
    let (json, shelf) = (Notation::Json, Catalogue::starter());
    let (mut made, mut found, mut unmet) = (0, 0, 0);
    let active = |low: &str, high: &str| {
        let brief = Brief::new("Bar", &shelf).unwrap().between("sci-powder", 40, 46).unwrap().free("capb-30").unwrap();
        let brief = brief.qs("kaolin").unwrap().at_least(Measure::active_matter(), low).unwrap();
        brief.at_most(Measure::active_matter(), high).unwrap()
    };
    // Steps of half a percent meet the second, and a ratio is found by several searches.
    let narrow = active("40.03", "40.04");
    let ratio = active("40", "40.8").minimise(Measure::water().per(&Measure::active_matter()));
    for most in (0..30).chain([100, 1_000]) {
        match long_search().watched_by(After::branches(most)).try_choose(100_000).unwrap() {
            ChoiceOutcome::Made(choice) => {
                let text = written(choice.write(json, Materials::Named), &mut made);
                assert_eq!(Choice::read(&text, json, &shelf).unwrap(), *choice, "{most}");
            }
            ChoiceOutcome::Unmet(none) => {
                let text = written(none.write(json, Materials::Named), &mut unmet);
                assert_eq!(Unmet::read(&text, json, &shelf).unwrap(), *none, "{most}");
            }
        }
        for brief in [&narrow, &ratio] {
            let steps = Steps::of("0.5").unwrap();
            match brief.clone().watched_by(After::branches(most)).try_solve_rounded(&steps).unwrap() {
                RoundedOutcome::Found(rounded) => {
                    let text = written(rounded.write(json, Materials::Named), &mut found);
                    assert_eq!(Rounded::read(&text, json, &shelf).unwrap(), *rounded, "{most}");
                }
                RoundedOutcome::Unmet(none) => {
                    let text = written(none.write(json, Materials::Named), &mut unmet);
                    assert_eq!(Unmet::read(&text, json, &shelf).unwrap(), *none, "{most}");
                }
            }
        }
    }
    assert!(made > 0 && found > 0 && unmet > 20, "{made} {found} {unmet}");
}
