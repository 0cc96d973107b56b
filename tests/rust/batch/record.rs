//! Records of batches, their methods, cards and doughs.

use tenside::batch::{
    Actual, BatchRecord, Decision, ProductTest, ReadingOutcome, Records, SheetFormat, Step, StepKind, dough_share,
    usual_steps,
};
use tenside::document::{Materials, Named, Notation, ResultDocument};
use tenside::material::{Composition, Constituent, Form, Material, StatedActive};
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::rule::ProductForm;
use tenside::substance::SubstanceTable;

use super::*;

fn dated_lot(id: &str, of: &str, retest: &str) -> Arc<Lot> {
    let certificate = Certificate { retest: Some(retest.parse().unwrap()), ..Certificate::default() };
    Arc::new(Lot::new(id, of, certificate).unwrap())
}

fn of_lot(id: &str, lot: &Arc<Lot>, share: &str) -> Line {
    let material = Catalogue::starter().material(id).unwrap().with_lot(lot).unwrap().0;
    Line::new(id, Arc::new(material), percent(share)).unwrap()
}

fn batch(number: &str) -> Batch {
    let clay = dated_lot("K-9", "kaolin", "2027-01-31");
    let formula = Formula::new(
        "Marsh bar",
        vec![line("sci-powder", "60"), line("cetyl-alcohol", "15"), of_lot("kaolin", &clay, "25")],
    )
    .unwrap();
    let batch = formula.batch(BatchSize::of_mass(mass("200 g")).unwrap(), Scales::new(mass("0.1 g")).unwrap()).unwrap();
    batch.numbered(number).unwrap().dated("2026-11-24".parse().unwrap())
}

/// Every line as planned, and written down.
fn all_weighed() -> Actual {
    [("sci-powder", "120 g"), ("cetyl-alcohol", "30 g"), ("kaolin", "50 g")]
        .into_iter()
        .fold(Actual::new(), |actual, (line, grams)| actual.weighed(line, mass(grams)).unwrap())
}

fn ph() -> ProductTest {
    ProductTest::new("pH of a 10 % dispersion", "").unwrap().at_least(5).unwrap().at_most(6).unwrap()
}

fn kinds(record: &BatchRecord) -> Vec<&'static str> {
    record.notes().iter().map(|note| note.kind.slug()).collect()
}

#[test]
fn what_was_not_written_down_is_blank_and_never_right() {
    let record = BatchRecord::new(&batch("7")).with_test(ph()).unwrap();
    assert_eq!(kinds(&record), ["test-not-measured", "not-weighed"]);
    assert_eq!(record.results()[0].outcome, ReadingOutcome::NotMeasured);
    let page = record.page().text(110);
    assert!(page.contains("________") && page.contains("\u{2610} released"), "{page}");
    let released = record.released(Decision::Released, "the maker", "2026-12-01".parse().unwrap()).unwrap();
    assert_eq!(kinds(&released).last(), Some(&"released-with-open-points"));
    assert!(released.notes().last().unwrap().sentence.contains("2 points are open"));
}

#[test]
fn lots_and_masses_that_changed_since_the_sheet_are_said() {
    let old = dated_lot("K-3", "kaolin", "2026-06-30");
    let actual = Actual::new()
        .from_lot("kaolin", &old)
        .unwrap()
        .weighed("sci-powder", mass("121.3 g"))
        .unwrap()
        .weighed("cetyl-alcohol", mass("30.2 g"))
        .unwrap();
    let record = BatchRecord::of(&batch("7").as_made(&actual).unwrap());
    assert_eq!(
        kinds(&record),
        ["lot-changed", "past-retest", "off-plan", "not-weighed"],
        "0.2 of 30 g is within a percent, 1.3 of 120 g is not"
    );
    assert!(record.notes()[0].sentence.contains("lot K-9 on the sheet, lot K-3 in the batch"));
    assert!(
        record.notes()[2].sentence.contains("1.08 % more than planned, 121.3 g instead of 120 g"),
        "{:?}",
        record.notes()[2]
    );
}

#[test]
fn mass_that_is_missing_is_an_open_point() {
    let of = |size: BatchSize, pressed: &str| {
        let batch = batch("7").formula().batch(size, on_scale("0.1 g")).unwrap();
        let made = batch.as_made(&Actual::new().pressed(mass(pressed))).unwrap();
        BatchRecord::of(&made).released(Decision::Released, "the maker", "2026-12-08".parse().unwrap()).unwrap()
    };
    let of_200_g = || BatchSize::of_mass(mass("200 g")).unwrap();
    let record = of(of_200_g(), "120 g");
    assert_eq!(kinds(&record), ["retest-not-compared", "unaccounted", "not-weighed", "released-with-open-points"]);
    let note = record.notes().into_iter().find(|note| note.kind.slug() == "unaccounted").unwrap();
    assert_eq!(
        note.sentence,
        "80.00 g, 40.00 % of what was in the bowl, are not accounted for; planned is a process loss of 0 %, and 1 % \
         beyond it are accepted."
    );
    // What is accepted of a line is accepted of the bowl, beyond the process loss planned.
    let is_noted = |size: BatchSize, pressed: &str| kinds(&of(size, pressed)).contains(&"unaccounted");
    assert!(is_noted(of_200_g(), "197.9 g") && !is_noted(of_200_g(), "198 g"));
    let with_loss = || of_200_g().with_process_loss(4).unwrap();
    assert!(is_noted(with_loss(), "189.9 g") && !is_noted(with_loss(), "190 g"));
}

#[test]
fn readings_are_held_against_limits() {
    let record = BatchRecord::of(&batch("7").as_made(&all_weighed()).unwrap()).with_test(ph()).unwrap();
    let read = |record: BatchRecord, tenths: i64| {
        record.with_reading("pH of a 10 % dispersion", Exact::ratio(tenths, 10)).unwrap()
    };
    let within = read(read(record.clone(), 50), 60);
    assert!(
        kinds(&within).is_empty() && within.results()[0].outcome == ReadingOutcome::Within,
        "both ends are allowed"
    );
    let outside = read(within, 61);
    assert_eq!((kinds(&outside), outside.results()[0].values.len()), (vec!["test-outside"], 3));
    assert!(record.clone().with_reading("pH", Exact::from(5)).unwrap_err().is_unknown_name());
    assert!(record.clone().with_test(ph()).unwrap_err().is_duplicate());
    assert!(
        record.released(Decision::Rejected, "the maker", "2026-11-23".parse().unwrap()).unwrap_err().is_contradiction()
    );
}

#[test]
fn a_test_without_a_limit_approves_of_nothing() {
    let viscosity = || ProductTest::new("viscosity", "mPa s").unwrap();
    let record = BatchRecord::of(&batch("7").as_made(&all_weighed()).unwrap()).with_test(viscosity()).unwrap();
    assert_eq!(record.results()[0].outcome, ReadingOutcome::NotMeasured);
    let read = record.with_reading("viscosity", 9).unwrap();
    assert_eq!(read.results()[0].outcome, ReadingOutcome::NoLimit);
    assert_eq!(kinds(&read), ["test-without-limit"]);
    assert!(read.page().text(110).contains("no limit"), "{}", read.page().text(110));
    let released = read.released(Decision::Released, "the maker", "2026-12-08".parse().unwrap()).unwrap();
    assert_eq!(kinds(&released).last(), Some(&"released-with-open-points"));
    for swallowed in ["5 to 6", "5-6", "<= 6", "(5 to 6)", "max. 6 g", "5"] {
        let error = ProductTest::new("pH", swallowed).unwrap_err();
        assert!(error.is_contradiction() && error.to_string().contains("at_least and at_most"), "{error}");
    }
    for unit in ["", "%", "g/100 ml", "g per 100 g", "mg / 100 g", "kg/m3", "cm2"] {
        assert_eq!(ProductTest::new("pH", unit).unwrap().unit(), unit);
    }
}

#[test]
fn what_nobody_wrote_down_is_an_open_point() {
    let date = || "2026-12-08".parse().unwrap();
    let released = |actual: Actual| {
        BatchRecord::of(&batch("7").as_made(&actual).unwrap()).released(Decision::Released, "maker B", date()).unwrap()
    };
    let nothing = released(Actual::new());
    assert_eq!(kinds(&nothing), ["not-weighed", "released-with-open-points"]);
    assert_eq!(
        nothing.notes()[0].sentence,
        "What was really weighed is not recorded of 3 of 3 lines, which count as planned: cetyl-alcohol; sci-powder; \
         kaolin."
    );
    // What was added later does not say what was weighed before.
    let added = Actual::new().weighed("sci-powder", mass("126 g")).unwrap().added("kaolin", mass("3 g")).unwrap();
    let added = released(added);
    assert_eq!(kinds(&added), ["off-plan", "off-plan", "not-weighed", "released-with-open-points"]);
    assert!(added.notes()[2].sentence.contains("2 of 3 lines"), "{}", added.notes()[2].sentence);
    // The points that are open are those above that are no mere plan left.
    assert_eq!(
        added.notes()[3].sentence,
        "maker B released it on 2026-12-08, and of the 3 points above 1 is open: all but the 2 of what was weighed off \
         its plan."
    );
    assert!(kinds(&released(all_weighed())).is_empty());
}

#[test]
fn a_certificate_outside_the_range_of_its_raw_material_is_said() {
    let weak = StatedActive { percent: percent("79"), method: "titrated".into(), molar_mass: None };
    let certificate = Certificate { active: Some(weak), ..Certificate::default() };
    let weak = Arc::new(Lot::new("S-79", "sci-powder", certificate).unwrap());
    let made = batch("7").as_made(&all_weighed().from_lot("sci-powder", &weak).unwrap()).unwrap();
    let record = BatchRecord::of(&made);
    assert_eq!(kinds(&record), ["lot-changed", "lot-outside-range"]);
    let sentence = record.notes()[1].sentence.clone();
    assert!(sentence.contains("S-79") && sentence.contains("79 %"), "{sentence}");
    assert!(made.page().text(400).contains(&sentence), "{}", made.page().text(400));
}

#[test]
fn the_usual_steps_are_those_of_its_phases() {
    let bar = salt_marsh();
    let solid = usual_steps(&bar, ProductForm::Solid);
    let of = |kind: StepKind| solid.iter().find(|step| step.kind() == kind);
    assert_eq!(of(StepKind::Melt).unwrap().temperature(), Some(decimal("75")));
    assert_eq!(of(StepKind::Wet).unwrap().temperature(), Some(decimal("60")), "its own temperature");
    assert_eq!(solid.iter().map(Step::kind).next_back(), Some(StepKind::WeighAgain));
    // Common practice, no source: a day to be usable, one to two weeks to harden.
    assert!(
        of(StepKind::Set).unwrap().sentence().contains("a day")
            && of(StepKind::Dry).unwrap().sentence().contains("7 days")
    );
    assert!(usual_steps(&bar, ProductForm::Liquid).iter().any(|step| step.kind() == StepKind::Fill));
    let record = BatchRecord::new(&batch("7"));
    assert!(record.clone().with_steps(&[]).unwrap_err().is_missing());
    assert!(
        record
            .with_steps(&[Step::new(StepKind::Melt, "Melt it.").unwrap().of_phase("meltd")])
            .unwrap_err()
            .to_string()
            .contains("did you mean \"melted\"?")
    );
}

/// A raw material of one's own, of which nobody stated a caution.
fn own_lye() -> Arc<Material> {
    let substance = SubstanceTable::starter().find("SODIUM HYDROXIDE").unwrap().clone();
    let composition = Composition::stated(vec![Constituent::typical(substance, Ppm::WHOLE)]).unwrap();
    Arc::new(Material::new("my-lye", "Own lye", Form::Granules, composition).unwrap())
}

#[test]
fn lye_goes_into_cold_water_and_nobody_is_told_to_warm_it() {
    let own = Line::new("my-lye", own_lye(), percent("3")).unwrap().in_phase("liquid").unwrap();
    for lye in [line("sodium-hydroxide-pellets", "3"), own] {
        let name = lye.material().name().to_string();
        let lines =
            vec![lye, line("stearic-acid", "20"), line("sci-powder", "60"), line("water", "10"), line("kaolin", "7")];
        let bar = Formula::new("Lye bar", lines).unwrap();
        let steps = usual_steps(&bar, ProductForm::Solid);
        let at = steps.iter().position(|step| step.words().contains("cold water")).unwrap();
        assert!(
            steps[at].words().contains("in portions") && steps[at].words().contains(&name),
            "{}",
            steps[at].words()
        );
        assert!(steps[at].caution().unwrap().contains("goggles and gloves"));
        assert_eq!(steps[at + 1].kind(), StepKind::Wet);
        assert!(steps[at + 1].words().contains("without warming") && !steps[at + 1].words().starts_with("Warm"));
        let batch = bar.batch(BatchSize::of_mass(mass("1 kg")).unwrap(), Scales::new(mass("0.1 g")).unwrap()).unwrap();
        let sheet = batch.sheet(SheetFormat::Text);
        let rows: Vec<&str> = sheet.lines().filter(|row| row.starts_with("[ ]")).collect();
        let place = |name: &str| rows.iter().position(|row| row.contains(name)).unwrap();
        assert!(place("Water") < place(&name), "{sheet}");
        assert!(sheet.contains("Corrosive: wear gloves"), "{sheet}");
    }
    let acid = Formula::new("Sour", vec![line("water", "90"), line("lactic-acid-80", "10")]).unwrap();
    let steps = usual_steps(&acid, ProductForm::Liquid);
    let cautioned = |kind: StepKind| steps.iter().find(|step| step.kind() == kind).unwrap().caution().unwrap();
    assert!(cautioned(StepKind::Add).contains("Corrosive, Lactic acid"), "{}", cautioned(StepKind::Add));
    assert!(cautioned(StepKind::SetPh).contains("goggles and gloves"));
}

#[test]
fn a_card_names_what_is_kept_and_what_comes_in_another_form() {
    let bar = Formula::new("Bar", vec![line("scs-needles", "50"), line("kaolin", "50").as_qs(true)]).unwrap();
    let batch = bar.batch(BatchSize::of_mass(mass("1 kg")).unwrap(), Scales::new(mass("0.1 g")).unwrap()).unwrap();
    let kept = [Measure::active_matter(), Measure::water()];
    let found = ["scs-needles", "kaolin"].map(|line| bar.candidates(line, &Catalogue::starter(), &kept).unwrap());
    let text = batch.recipe_card(&[], &found).unwrap().text(400);
    assert!(text.contains("keeps active matter and water; in another form there are, not worked out here: "), "{text}");
    assert!(text.contains("scs-powder"), "{text}");
    assert!(text.contains("kaolin, active matter and water kept: ") && text.contains("; and "), "{text}");
}

#[test]
fn a_recall_finds_every_batch_of_a_lot() {
    let clay = dated_lot("K-9", "kaolin", "2027-01-31");
    let base = Formula::new("Base", vec![line("sci-powder", "50"), of_lot("kaolin", &clay, "50")]).unwrap();
    let premix = Arc::new(base.to_material("base-powder", Form::Powder).unwrap());
    let formula =
        Formula::new("Moor bar", vec![Line::new("base", premix, percent("40")).unwrap(), line("corn-starch", "60")])
            .unwrap();
    let other = formula
        .batch(BatchSize::of_mass(mass("100 g")).unwrap(), Scales::new(mass("0.1 g")).unwrap())
        .unwrap()
        .numbered("8")
        .unwrap();
    let made = BatchRecord::of(&batch("7").as_made(&Actual::new().weighed("kaolin", mass("49.9 g")).unwrap()).unwrap());
    let changed = dated_lot("K-3", "kaolin", "2027-06-30");
    let without = BatchRecord::of(&batch("9").as_made(&Actual::new().from_lot("kaolin", &changed).unwrap()).unwrap());
    let records = Records::new(vec![made.clone(), BatchRecord::new(&other), without]).unwrap();
    let found: Vec<(String, String, bool)> = records
        .batches_using("K-9")
        .into_iter()
        .map(|found| (found.batch.unwrap(), found.mass.to_string(), found.is_made))
        .collect();
    assert_eq!(found, [("7".to_string(), "49.9 g".to_string(), true), ("8".to_string(), "20 g".to_string(), false)]);
    assert_eq!(records.lot_uses().len(), 3);
    assert!(records.batches_using("no such lot").is_empty());
    assert!(Records::new(vec![made.clone(), made]).unwrap_err().is_duplicate());
}

#[test]
fn a_card_begins_with_cautions_and_says_that_values_are_typical() {
    let bar = salt_marsh();
    let batch = bar.batch(two_dozen(), Scales::new(mass("0.1 g")).unwrap()).unwrap();
    let found = bar.candidates("cetyl-alcohol", &Catalogue::starter(), &[Measure::active_matter()]).unwrap();
    let card = batch.recipe_card(&usual_steps(&bar, ProductForm::Solid), &[found]).unwrap();
    let text = card.text(120);
    let place = |words: &str| text.find(words).unwrap_or_else(|| panic!("{words} in\n{text}"));
    assert!(place("BEFORE YOU START") < place("WHAT GOES IN") && place("WHAT GOES IN") < place("HOW IT IS MADE"));
    assert!(text.contains("typical values of the starter catalogue") && text.contains("typical values"));
    assert!(!text.to_lowercase().contains("safe to") && !text.contains("compliant"));
}

#[test]
fn shares_of_a_dough_sum_to_a_hundred() {
    let bar = salt_marsh();
    let shares = ["liquid", "oil", "meltable", "powder"].map(|name| {
        bar.measure(&dough_share(name).unwrap(), &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap()
    });
    assert_eq!(shares.iter().sum::<Exact>(), Exact::hundred());
    for form in Form::ALL {
        assert_eq!(
            ["liquid", "oil", "meltable", "powder"]
                .iter()
                .filter(|name| dough_share(name).unwrap().name().contains(&form.to_string()))
                .count(),
            1,
            "{form}"
        );
    }
    let dough = bar.dough(&[(&bar, "held well")]).unwrap();
    assert_eq!(dough.trials()[0].distance, Exact::ZERO);
    assert!(dough.hint().unwrap().contains("A hint and no verdict"));
    assert!(bar.dough(&[]).unwrap().hint().is_none());
    assert!(bar.dough(&[(&bar, " ")]).is_err());
}

#[test]
fn it_comes_back_from_its_document() {
    let old = dated_lot("K-3", "kaolin", "2026-06-30");
    let made = batch("7").as_made(&Actual::new().from_lot("kaolin", &old).unwrap().pressed(mass("199 g"))).unwrap();
    let full = BatchRecord::of(&made)
        .with_steps(&usual_steps(made.formula(), ProductForm::Solid))
        .unwrap()
        .with_equipment("press, 57 mm")
        .unwrap();
    let full = full
        .made_by("maker A")
        .unwrap()
        .with_test(ph())
        .unwrap()
        .with_reading("pH of a 10 % dispersion", Exact::ratio(56, 10))
        .unwrap();
    let full = full
        .with_deviation("The dough was left for a day.")
        .unwrap()
        .released(Decision::OnHold, "maker B", "2026-12-08".parse().unwrap())
        .unwrap();
    for record in [BatchRecord::new(&batch("8")), full.clone()] {
        for notation in [Notation::Json, Notation::Toml] {
            for (materials, shelf) in
                [(Materials::Named, Catalogue::starter()), (Materials::Embedded, Catalogue::empty())]
            {
                let text = record.write(notation, materials).unwrap();
                assert_eq!(
                    BatchRecord::read(&text, notation, &shelf).unwrap_or_else(|error| panic!("{error}\n{text}")),
                    record
                );
            }
        }
    }
    let text = full.write(Notation::Json, Materials::Named).unwrap();
    for (from, to) in [
        ("\"outcome\": \"within\"", "\"outcome\": \"outside\""),
        ("\"pressed\": 199", "\"pressed\": 198"),
        ("past-retest", "fine"),
    ] {
        let forged = text.replacen(from, to, 1);
        assert_ne!(forged, text, "{from}");
        assert!(BatchRecord::read(&forged, Notation::Json, &Catalogue::starter()).is_err(), "{from}");
    }
}
