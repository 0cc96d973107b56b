//! Sizes in bars, and bars as pressed.

use tenside::batch::{BarWeighIns, BatchSize, DryingCurve, Pressed, Scales, SheetFormat, UseUp, UsedBar, Weights};
use tenside::number::{Exact, Mass, MassUnit};
use tenside::rule::Market;

use super::{batch, decimal, mass, on_scale, salt_marsh, two_dozen};

#[test]
fn two_dozen_bars_need_1630_4_g() {
    let batch = salt_marsh().batch(two_dozen(), on_scale("0.1 g")).unwrap();
    assert_eq!(batch.asked().grams(), &(Exact::from(1440) / (Exact::ratio(92, 100) * Exact::ratio(96, 100))));
    assert_eq!(batch.weighed(), &mass("1630.4 g"));
    let bar = batch.bar_masses().unwrap();
    assert_eq!(
        (bar.charged.grams().rounded_text(2), bar.pressed.grams().rounded_text(2)),
        ("67.93".to_string(), "65.22".to_string())
    );
    assert_eq!(bar.dry.grams().rounded_text(2), "60.00");
    let words = batch.sheet(SheetFormat::Text).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("24 × 60 g / 0.92 / 0.96 = about 1630.43 g"), "{words}");
}

#[test]
fn a_size_in_any_unit_is_the_same_size() {
    let pounds = BatchSize::of_mass(mass("2 lb")).unwrap().charged().unwrap();
    assert_eq!(pounds, BatchSize::of_mass(mass("32 oz")).unwrap().charged().unwrap());
    assert_eq!(BatchSize::of_mass(mass("1.5 kg")).unwrap().charged().unwrap(), mass("1500 g"));
    let ounces = salt_marsh()
        .batch(BatchSize::of_mass(mass("2 lb")).unwrap(), on_scale("0.05 oz").shown_in(MassUnit::Ounce))
        .unwrap();
    assert_eq!(ounces.weighed().in_unit(MassUnit::Ounce), Exact::from(32));
    assert!(ounces.sheet(SheetFormat::Text).contains("32.00 oz in all"));
}

/// Common practice without a source: 200 g pressed as three even bars gives bars of about 66 to 68 g.
#[test]
fn three_bars_from_200_g() {
    let size =
        BatchSize::of_mass(mass("200 g")).unwrap().pressed_as(3).unwrap().with_process_loss(decimal("1")).unwrap();
    let batch = salt_marsh().batch(size, on_scale("0.01 g")).unwrap();
    let bar = batch.bar_masses().unwrap();
    assert!(bar.pressed >= mass("66 g") && bar.pressed <= mass("68 g"), "{}", bar.pressed);
    assert_eq!(bar.pressed.grams() * Exact::from(3), Exact::from(198));

    let pressed = Pressed::new(&batch, &[mass("66.4 g"), mass("66.9 g"), mass("65.9 g")]).unwrap();
    assert_eq!(pressed.sum(), &mass("199.2 g"));
    assert_eq!(pressed.mean(), &mass("66.4 g"));
    assert_eq!(
        (pressed.lowest(), pressed.highest(), pressed.range()),
        (&mass("65.9 g"), &mass("66.9 g"), &mass("1 g"))
    );
    assert_eq!(pressed.implied_process_loss(), Some(&Exact::ratio(4, 10)));
}

#[test]
fn bars_cannot_weigh_more_than_their_batch() {
    let batch = batch(&salt_marsh(), "200 g", on_scale("0.01 g"));
    assert!(Pressed::new(&batch, &[mass("100 g"), mass("100 g")]).is_ok());
    assert!(Pressed::new(&batch, &[mass("100 g"), mass("100.01 g")]).unwrap_err().is_contradiction());
    assert!(Pressed::new(&batch, &[]).unwrap_err().is_missing());
    let error = Pressed::new(&batch, &[mass("66 g"), mass("0 g")]).unwrap_err();
    assert!(error.is_out_of_range() && error.to_string().starts_with("bar 2"), "{error}");
}

#[test]
fn a_slip_among_weights_is_said_and_no_mass_is_below_nothing() {
    let weights = |grams: &[&str], of| Weights::new(&grams.iter().map(|grams| mass(grams)).collect::<Vec<Mass>>(), of);
    let slipped = weights(&["60 g", "600 g", "61 g"], Some(3)).unwrap();
    assert!(slipped.notes()[0].contains("bar 2 (600.00 g)"), "{:?}", slipped.notes());
    let test = slipped.test(&mass("60 g"), Market::Eu).unwrap();
    assert!(test.notes()[0].contains("bar 2"), "{:?}", test.notes());
    let sample = weights(&["60 g", "600 g", "61 g"], None).unwrap();
    assert_eq!(sample.mean_interval(95).unwrap().0, 0.0);
    let page = sample.page().text(200);
    assert!(!page.contains("-533") && page.contains("it would reach below 0 g"), "{page}");
    let even = weights(&["60 g", "61 g", "62 g"], None).unwrap();
    assert!(even.notes().is_empty() && even.mean_interval(95).unwrap().0 > 58.0);
    let bars = batch(&salt_marsh(), "200 g", on_scale("0.1 g"));
    let pressed = |grams: [&str; 3]| Pressed::new(&bars, &grams.map(mass)).unwrap().notes();
    assert!(pressed(["63.8 g", "6.38 g", "63 g"])[0].contains("bar 2 (6.38 g)"));
    assert!(pressed(["63.8 g", "63.1 g", "63 g"]).is_empty());
    let used = |name: &str, left: &str| UsedBar::new(name, vec![(0, mass("60 g")), (10, mass(left))]).unwrap();
    let used = UseUp::new(vec![used("one", "48 g"), used("other", "55 g")], mass("60 g")).unwrap();
    assert_eq!(used.interval(95).unwrap().unwrap().0, 0.0);
    assert!(used.page().text(200).contains("it would reach below 0 g"), "{}", used.page().text(200));
}

#[test]
fn refuses_unknown_phases_and_batches_below_a_division() {
    let scales = Scales::new(mass("1 g")).unwrap().for_phase("cooldown", mass("0.01 g")).unwrap();
    let error = salt_marsh().batch(two_dozen(), scales).unwrap_err();
    assert!(error.is_unknown_name() && error.to_string().contains("cool-down"), "{error}");
    let error = salt_marsh().batch(BatchSize::of_mass(mass("0.5 g")).unwrap(), on_scale("1 g")).unwrap_err();
    assert!(error.is_out_of_range(), "{error}");
}

#[test]
fn a_bar_that_was_ready_before_it_was_weighed_is_sure_by_the_first_day() {
    let weighed = [(0, "66.0 g"), (2, "64.3 g"), (4, "63.4 g"), (10, "62.2 g")].map(|(day, grams)| (day, mass(grams)));
    let drying = DryingCurve::new(vec![BarWeighIns::new("a", weighed).unwrap()], None).unwrap();
    let ready = |tolerance: &str| drying.ready(tolerance, "95").unwrap().remove(0);
    // It loses 6.2 % in all, so that the day of 10 and of 20 % lies before the first weigh-in, surely.
    for tolerance in ["10", "20"] {
        assert_eq!((ready(tolerance).day, ready(tolerance).sure_day), (0.0, 0.0), "{tolerance}");
    }
    // The error is that of the fit's own day: the wider the tolerance, the further that day is before the weigh-ins.
    assert!(ready("20").error > ready("10").error);
    // Just before the first day it need not have been so.
    assert!(ready("6.7").day == 0.0 && ready("6.7").sure_day > 0.0, "{:?}", ready("6.7"));
}
