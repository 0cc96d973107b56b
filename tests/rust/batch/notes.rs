//! Notes: which there are, and whether the ways out they offer really are ones.

use std::collections::BTreeSet;
use std::sync::Arc;

use proptest::prelude::*;
use tenside::batch::{Batch, BatchSize, Fits, Mixing, Note, NoteKind, ScaleClass, SmallLine, VerifiedScale, Weighable};
use tenside::document::Named as _;
use tenside::document::{Materials, Notation, ResultDocument};
use tenside::formula::{Formula, Line, Phase};
use tenside::material::{Certificate, Lot};
use tenside::number::{Exact, Mass, MassUnit};

use super::{batch, decimal, line, mass, on_scale, salt_marsh, two_dozen};

fn small<'a>(batch: &'a Batch, line: &str) -> Option<&'a SmallLine> {
    batch.notes().iter().find_map(|note| match note {
        Note::TooSmall(small) | Note::RoundsToNothing(small) if small.line == line => Some(small),
        _ => None,
    })
}

/// Citric acid of a lot that is to be tested again by that day.
fn of_a_lot(retest: &str) -> Formula {
    let plain = line("citric-acid-50", "100");
    let certificate = Certificate { retest: Some(retest.parse().unwrap()), ..Certificate::default() };
    let lot = Arc::new(Lot::new("L1", "citric-acid-50", certificate).unwrap());
    let (material, _) = plain.material().with_lot(&lot).unwrap();
    Formula::new("Lot", vec![Line::new("citric-acid-50", Arc::new(material), plain.percent()).unwrap()]).unwrap()
}

#[test]
fn a_date_settles_whether_a_lot_is_past_its_retest_date() {
    let of = |date: Option<&str>| -> Vec<&'static str> {
        let batch = batch(&of_a_lot("2026-11-26"), "200 g", on_scale("0.1 g"));
        let batch = date.map_or(batch.clone(), |date| batch.dated(date.parse().unwrap()));
        batch.notes().iter().map(|note| note.kind().slug()).filter(|slug| slug.contains("retest")).collect()
    };
    assert_eq!(of(None), ["retest-not-compared"]);
    assert_eq!(of(Some("2026-11-27")), ["past-retest"]);
    assert!(of(Some("2026-11-26")).is_empty());
}

/// 200 g that lose so many percent on drying.
fn dried(loss: &str) -> BatchSize {
    BatchSize::of_mass(mass("200 g")).unwrap().with_drying_loss(decimal(loss)).unwrap()
}

#[test]
fn every_kind_of_note_is_met() {
    let hot = Phase::new("cool-down").unwrap().at(decimal("60")).unwrap();
    let with_heat = salt_marsh().with_phases(&[hot]).unwrap();
    let all_careful = Formula::new("scent", vec![line("rosemary-oil", "60"), line("citric-acid-50", "40")]).unwrap();
    let passed_on = on_scale("1 g").for_phase("liquid", mass("0.1 g")).unwrap();
    let batches = [
        with_heat.batch(two_dozen(), on_scale("1 g")).unwrap(),
        batch(&all_careful, "10 g", on_scale("0.1 g")),
        batch(&salt_marsh(), "1630.4 g", passed_on),
        batch(&salt_marsh(), "200 g", on_scale("1 g")),
        salt_marsh().batch(BatchSize::of_bars(2, mass("60 kg")).unwrap(), on_scale("0.1 g")).unwrap(),
        batch(&of_a_lot("2026-11-26"), "200 g", on_scale("0.1 g")),
        batch(&of_a_lot("2026-11-26"), "200 g", on_scale("0.1 g")).dated("2026-11-27".parse().unwrap()),
        of_a_lot("2026-11-26").batch(dried("50.5"), on_scale("0.1 g")).unwrap(),
    ];
    let met: BTreeSet<&str> = batches.iter().flat_map(Batch::notes).map(|note| note.kind().slug()).collect();
    let of_records = [
        NoteKind::LotChanged,
        NoteKind::OffPlan,
        NoteKind::TestOutside,
        NoteKind::TestNotMeasured,
        NoteKind::TestWithoutLimit,
        NoteKind::LotOutsideRange,
        NoteKind::Unaccounted,
        NoteKind::NotWeighed,
        NoteKind::ReleasedWithOpenPoints,
    ];
    assert_eq!(met, NoteKind::ALL.iter().filter(|kind| !of_records.contains(kind)).map(|kind| kind.slug()).collect());
}

#[test]
fn a_line_that_rounds_to_nothing_has_a_note_of_its_own() {
    let batch = batch(&salt_marsh(), "200 g", on_scale("1 g"));
    let note = batch.notes().iter().find(|note| note.line() == Some("iron-oxide-red")).unwrap();
    assert_eq!(note.kind(), NoteKind::RoundsToNothing);
    assert!(note.to_string().contains("its 0.1 g round to nothing on a scale of 1 g"), "{note}");
}

#[test]
fn the_scale_that_a_rest_comes_from_is_named() {
    let bar =
        Formula::new("x", vec![line("cetyl-alcohol", "30"), line("sci-powder", "30"), line("kaolin", "40")]).unwrap();
    let scales = on_scale("0.1 g").for_phase("melted", mass("5 g")).unwrap();
    let batch = batch(&bar, "123.5 g", scales);
    let small = small(&batch, "kaolin").unwrap();
    assert_eq!(
        (&small.finer_division, small.coarse_phases.as_slice()),
        (&Some(mass("0.1 g")), ["melted".to_string()].as_slice())
    );
    let note = batch.notes().iter().find(|note| note.line() == Some("kaolin")).unwrap().to_string();
    assert!(note.contains("Ways out: use a scale of 0.1 g for \"melted\", or make at least"), "{note}");
    // On that scale it holds.
    let finer = on_scale("0.1 g").for_phase("melted", mass("0.1 g")).unwrap();
    assert!(
        bar.batch(BatchSize::of_mass(mass("123.5 g")).unwrap(), finer)
            .unwrap()
            .notes()
            .iter()
            .all(|note| note.line() != Some("kaolin"))
    );
}

#[test]
fn a_dilution_needs_another_line_of_its_phase_that_is_large_enough() {
    let bench = [VerifiedScale::new("bench", ScaleClass::Two, mass("0.1 g"), mass("3 kg")).unwrap()];
    let dilution = |lines: Vec<Line>, size: &str| {
        let batch = batch(&Formula::new("Bar", lines).unwrap(), size, on_scale("0.1 g"));
        let weighable = batch.weighable(&bench, 2).unwrap();
        assert_eq!(
            Weighable::read(&weighable.write(Notation::Json, Materials::Named).unwrap(), Notation::Json).unwrap(),
            weighable
        );
        let row = weighable.rows().iter().find(|row| row.line == "panthenol").unwrap();
        assert_eq!(row.fits, Fits::TooSmall);
        row.dilution.clone()
    };
    let panthenol = || line("panthenol", "0.1");
    assert_eq!(panthenol().phase(), "cool-down");
    assert_eq!(
        dilution(vec![line("sci-powder", "60"), line("kaolin", "39.9"), panthenol()], "200 g"),
        None,
        "alone in its phase"
    );
    let beside = |glycerin: &str, kaolin: &str| {
        vec![line("glycerin-99-5", glycerin).in_phase("cool-down").unwrap(), line("kaolin", kaolin), panthenol()]
    };
    // 0.2 g take 1+49 of 5 g, and so 245 g of 140 g of carrier; 0.4 g take 1+19, and so 95 g of 280 g.
    assert_eq!(dilution(beside("70", "29.9"), "200 g"), None, "more than there is");
    let found = dilution(beside("70", "29.9"), "400 g").unwrap();
    assert!(found.carrier <= mass("280 g"), "{found:?}");
}

#[test]
fn a_chosen_tolerance_is_the_limit() {
    // 0.3 % of 1000 g is 3 g: half of 0.1 g is 1.67 % of it.
    let at =
        |tolerance: &str| batch(&salt_marsh(), "1000 g", on_scale("0.1 g").tolerating(decimal(tolerance)).unwrap());
    assert!(small(&at("1.66"), "citric-acid-50").is_some());
    assert!(small(&at("1.67"), "citric-acid-50").is_none());
}

#[test]
fn heat_above_a_material_s_limit_is_named() {
    let phases = [Phase::new("cool-down").unwrap().at(decimal("50.5")).unwrap()];
    let batch = batch(&salt_marsh().with_phases(&phases).unwrap(), "1000 g", on_scale("0.01 g"));
    let hot: Vec<&str> =
        batch.notes().iter().filter(|note| note.kind() == NoteKind::TooHot).filter_map(Note::line).collect();
    assert!(
        hot.contains(&"rosemary-oil") && hot.contains(&"benzyl-alcohol-dha-blend") && !hot.contains(&"citric-acid-50"),
        "{hot:?}"
    );
}

#[test]
fn the_rest_never_goes_to_what_is_dosed_with_care() {
    let formula = Formula::new(
        "acid to 100",
        vec![line("citric-acid-50", "60").as_qs(true), line("sorbitol-70", "30"), line("rosemary-oil", "10")],
    )
    .unwrap();
    let batch = batch(&formula, "33.3 g", on_scale("0.1 g"));
    let taker = batch.weighings().iter().find(|weighing| weighing.takes_rest()).unwrap();
    assert_eq!(taker.line().name(), "sorbitol-70");
    assert!(batch.notes().iter().any(|note| matches!(note, Note::RestElsewhere { instead: Some(_), .. })));
}

#[test]
fn the_last_bit_goes_to_a_fine_scale_only_within_the_tolerance() {
    // Powders on 1 g; the kaolin cannot take tenths, the 7 % of betaine can.
    let scales = on_scale("1 g").for_phase("liquid", mass("0.1 g")).unwrap();
    let fine = batch(&salt_marsh(), "1630.4 g", scales);
    assert_eq!(fine.weighed(), fine.asked());
    assert!(fine.notes().iter().any(|note| note.kind() == NoteKind::RestPassedOn));
    // Only preservative, acid, scent and a little panthenol on the fine scale: the batch moves rather than they.
    let scales = on_scale("5 g").for_phase("cool-down", mass("0.01 g")).unwrap();
    let coarse = batch(&salt_marsh(), "500 g", scales);
    assert!(coarse.notes().iter().all(|note| note.kind() != NoteKind::RestPassedOn));
    assert!(coarse.notes().iter().any(|note| note.kind() == NoteKind::TotalMoved));
}

#[test]
fn a_dilution_keeps_the_sum_and_every_weighing_within_the_tolerance() {
    let scales = on_scale("0.1 g");
    let batch = batch(&salt_marsh(), "1630.4 g", scales);
    let note = small(&batch, "iron-oxide-red").unwrap();
    let dilution = note.dilution.as_ref().unwrap();
    assert_eq!((dilution.mixing, dilution.parts), (Mixing::RubOut, 9));
    assert_eq!(dilution.carrier, "Kaolin (white clay)");
    let half = Exact::ratio(5, 100);
    for weighed in [&dilution.material_mass, &dilution.carrier_mass, &dilution.portion, &dilution.carrier_left] {
        assert!(weighed.grams() * Exact::ratio(1, 100) >= half, "{weighed}");
    }
    assert_eq!(dilution.carrier_mass.grams(), &(dilution.material_mass.grams() * Exact::from(9)));
    let before = |name: &str| {
        batch.weighings().iter().find(|weighing| weighing.line().name() == name).unwrap().rounded().grams().clone()
    };
    assert_eq!(dilution.portion.grams() + dilution.carrier_left.grams(), before("kaolin") + before("iron-oxide-red"));
}

#[test]
fn oils_are_not_diluted_with_water_nor_corrosives_with_anything_else() {
    let batch = batch(&salt_marsh(), "300 g", on_scale("0.1 g"));
    assert_eq!(small(&batch, "rosemary-oil").unwrap().dilution, None);
    for note in batch.notes() {
        if let Note::TooSmall(SmallLine { line, dilution: Some(dilution), .. }) = note {
            let corrosive =
                salt_marsh().line(line).unwrap().material().cautions().contains(&tenside::material::Caution::Corrosive);
            assert!(!corrosive || dilution.carrier == "Water", "{note}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn the_smallest_batch_passes_and_one_division_less_does_not(decigrams in 1_000i64..50_000, fine in 0usize..3, coarse in 0usize..3, tolerance in 1i64..50) {
        let scales = || {
            let coarse = mass(["1 g", "0.5 g", "0.1 oz"][coarse]);
            let fine = mass(["0.1 g", "0.02 oz", "0.5 g"][fine]);
            let scales = on_scale("1 g").for_phase("powder", coarse).unwrap().for_phase("cool-down", fine).unwrap();
            scales.tolerating(rust_decimal::Decimal::new(tolerance, 1)).unwrap()
        };
        let size = |mass: Mass| BatchSize::of_mass(mass).unwrap();
        let start = Mass::new(Exact::ratio(decigrams, 10), MassUnit::Gram).unwrap();
        let Ok(batch) = salt_marsh().batch(size(start), scales()) else { return Ok(()) };
        for note in batch.notes() {
            let (Note::TooSmall(found) | Note::RoundsToNothing(found)) = note else { continue };
            let smallest = found.smallest.as_ref().unwrap();
            let enough = salt_marsh().batch(size(smallest.mass.clone()), scales()).unwrap();
            prop_assert!(small(&enough, &found.line).is_none(), "{}", note);
            // For a line that takes a rest it is the batch from which it is sure to do; a smaller one may do by luck.
            if batch.weighings().iter().any(|weighing| weighing.line().name() == found.line && weighing.takes_rest()) {
                continue;
            }
            let less = Mass::new(&(smallest.mass.grams() - batch.finest_division().grams()), MassUnit::Gram).unwrap();
            if let Ok(less) = salt_marsh().batch(size(less), scales()) {
                prop_assert!(small(&less, &found.line).is_some(), "{}", note);
            }
        }
    }

    #[test]
    fn the_fewest_bars_pass_and_one_bar_less_does_not(net in 200i64..1500, bars in 1u32..40) {
        let net = Mass::new(Exact::ratio(net, 10), MassUnit::Gram).unwrap();
        let size = |bars: u32| BatchSize::of_bars(bars, net.clone()).unwrap().with_drying_loss(decimal("7")).unwrap();
        let batch = salt_marsh().batch(size(bars), on_scale("0.1 g")).unwrap();
        for note in batch.notes() {
            let (Note::TooSmall(found) | Note::RoundsToNothing(found)) = note else { continue };
            if found.line == "kaolin" {
                continue;
            }
            let fewest = u32::try_from(found.smallest.as_ref().unwrap().bars.unwrap()).unwrap();
            prop_assert!(fewest > bars);
            prop_assert!(small(&salt_marsh().batch(size(fewest), on_scale("0.1 g")).unwrap(), &found.line).is_none(), "{}", note);
            prop_assert!(small(&salt_marsh().batch(size(fewest - 1), on_scale("0.1 g")).unwrap(), &found.line).is_some(), "{}", note);
        }
    }
}
