//! Masses and volumes become percentages exactly.

use proptest::prelude::*;
use tenside::catalogue::Catalogue;
use tenside::formula::{Draft, DraftLine, FigureUnit};
use tenside::number::Exact;

use super::{draft, percentages};

#[test]
fn masses_are_shares_of_their_sum() {
    assert_eq!(percentages(&draft(&["sci-powder | 1.5 kg", "kaolin | 300 g", "cetyl-alcohol | 200 g"]))[0].1, "75");
    // Sixteen ounces are a pound.
    assert_eq!(percentages(&draft(&["sci-powder | 1 lb", "kaolin | 16 oz"]))[0].1, "50");
    assert_eq!(percentages(&draft(&["sci-powder | 30", "kaolin | 90"]).with_figures_in(FigureUnit::Gram))[0].1, "25");
}

#[test]
fn volumes_weigh_what_their_density_says() {
    let density = Exact::from(Catalogue::starter().material("glycerin-99-5").unwrap().density().unwrap());
    let settled = draft(&["glycerin-99-5 | 2 fl oz", "kaolin | 100 g"]).settle(&Catalogue::starter()).unwrap();
    let grams = "59.147059125".parse::<Exact>().unwrap() * density;
    let expected = &grams * Exact::hundred() / (&grams + Exact::hundred());
    assert_eq!(settled.departures[0].exact, expected);
}

#[test]
fn a_stated_batch_is_what_masses_are_shares_of() {
    let filled = draft(&["sci-powder | 120 g", "rosemary-oil | 0.5 %", "water | q.s. to 200 g"]);
    assert_eq!(
        percentages(&filled).iter().map(|(_, percent)| percent.as_str()).collect::<Vec<_>>(),
        ["60", "0.5", "39.5"]
    );
    let stated = draft(&["sci-powder | 120 g", "water | q.s."]).with_batch("150 g".parse().unwrap()).unwrap();
    assert_eq!(percentages(&stated)[1].1, "20");
}

proptest! {
    // From 5 g on, no line is so small a part of forty times 200 kg that the grid would lose it, which is asked about.
    #[test]
    fn grams_sum_to_the_whole_and_each_line_is_within_one_ppm(grams in prop::collection::vec(50u32..2_000_000, 2..40), fill in any::<bool>()) {
        let catalogue = Catalogue::starter();
        let ids: Vec<String> = catalogue.materials().map(|material| material.id().to_string()).filter(|id| id != "water").take(grams.len()).collect();
        let tenths = |tenths: u32| format!("{}.{} g", tenths / 10, tenths % 10);
        let mut lines: Vec<DraftLine> = ids.iter().zip(&grams).map(|(id, grams)| DraftLine::new(id, &tenths(*grams))).collect();
        let mut total: u32 = grams.iter().sum();
        if fill {
            total += 1 + total / 7;
            lines.push(DraftLine::new("water", &format!("q.s. to {}", tenths(total))));
        }
        let settled = Draft::new("Weighed", lines).unwrap().settle(&catalogue);
        // Ounces are not among them and every name is an id, so nothing is asked.
        let settled = settled.map_err(|error| TestCaseError::fail(error.to_string()))?;
        let parts: u32 = settled.formula.lines().iter().map(|line| line.percent().parts()).sum();
        prop_assert_eq!(parts, 1_000_000);
        for (line, grams) in settled.formula.lines().iter().zip(&grams) {
            let exact = Exact::from(i64::from(*grams)) * Exact::from(1_000_000) / Exact::from(i64::from(total));
            let departure = (Exact::from(i64::from(line.percent().parts())) - &exact).abs();
            let reported = settled.departures.iter().find(|departure| departure.line == line.name());
            let absorber = reported.is_some_and(|departure| departure.absorber);
            prop_assert!(absorber || departure <= Exact::ratio(1, 2), "{} departs by {}", line.name(), departure);
            prop_assert_eq!(reported.is_some(), !departure.is_zero());
            if let Some(reported) = reported {
                prop_assert_eq!(&reported.exact, &(exact / Exact::from(10_000)));
            }
        }
        prop_assert!(settled.departures.iter().filter(|departure| departure.absorber).count() <= 1);
    }
}

#[test]
fn the_largest_line_takes_the_rest_where_the_usual_one_is_too_small() {
    let catalogue = Catalogue::starter();
    let careful = catalogue.materials().filter(|material| material.main_class().is_dosed_with_care());
    let mut lines: Vec<DraftLine> = careful.take(19).map(|material| DraftLine::new(material.id(), "1 g")).collect();
    assert_eq!(lines.len(), 19);
    // The only line that would usually take the rest has one ppm, and the others round up by 0.48 ppm each.
    lines.push(DraftLine::new("kaolin", "0.00002 g"));
    let settled = Draft::new("Scents", lines).unwrap().settle(&catalogue).unwrap();
    let parts: Vec<u32> = settled.formula.lines().iter().map(|line| line.percent().parts()).collect();
    assert_eq!((parts[0], parts[1], parts[19], parts.iter().sum::<u32>()), (52_623, 52_632, 1, 1_000_000));
    assert!(settled.departures[0].absorber && !settled.departures[19].absorber);
}
