//! Costs by hand, and what always holds of them.

use tenside::cost::{CostRequest, break_even, price_effects, price_from_margin, price_from_markup};
use tenside::formula::{Formula, Line};
use tenside::material::Form;
use tenside::measure::{Basis, Measure};
use tenside::number::{Exact, Ppm};

use super::{bar, formula, mass, pack, priced, prices, supplier};
use crate::support::{Random, exact};

/// 2 kg: 1200 g at 9, 100 g at 6.50, 700 g at 2.20 a kilogram.
#[test]
fn a_batch_by_hand() {
    let asked = CostRequest::new(mass("2 kg"))
        .unwrap()
        .with_bars(30)
        .unwrap()
        .with_washes(60)
        .unwrap()
        .with_process_loss(4)
        .unwrap();
    let asked = asked
        .per_bar("wrapper", "0.12")
        .unwrap()
        .per_batch("labour", 18)
        .unwrap()
        .percent_of_direct_costs("overhead", 10)
        .unwrap();
    let costing = priced(bar()).costing(&asked).unwrap();
    let costs: Vec<String> = costing.lines().iter().map(|line| line.cost.to_string()).collect();
    assert_eq!(costs, ["10.8", "0.65", "1.54"]);
    assert_eq!(costing.raw_materials(), &exact("12.99"));
    assert_eq!(costing.lost(), Some(exact("0.5196")), "4 % of it, told apart and not added");
    assert_eq!(costing.extras().iter().map(|extra| extra.cost.to_string()).collect::<Vec<_>>(), ["3.6", "18", "3.459"]);
    assert_eq!(costing.direct(), &exact("34.59"));
    assert_eq!(costing.total(), &exact("38.049"));
    assert_eq!(costing.per_kilogram(), exact("19.0245"));
    assert_eq!(costing.per_bar(), Some(exact("1.2683")));
    assert_eq!(costing.per_wash(), Some(exact("1.2683") / Exact::from(60)));
    let text = costing.page().text(100);
    for said in [
        "what 2000 g cost",
        "12.99",
        "each of 30 bars",
        "each of 60 washes",
        "0.0211",
        "overhead, 10 % of 34.59",
        "stays in bowl and press, 4 %",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
}

/// The costing and the measure `cost`, which is per 100 g, are one arithmetic; lines and phases sum to the whole.
#[test]
fn lines_and_phases_sum_to_what_the_measure_says() {
    let mut random = Random::new(20_261_130);
    let ids = ["sci-powder", "cetyl-alcohol", "kaolin", "panthenol", "rosemary-oil"];
    for _ in 0..200 {
        let shares = random.shares(ids.len(), 1_000_000, 1);
        let shares: Vec<String> =
            shares.iter().map(|parts| Ppm::from_parts(u32::try_from(*parts).unwrap()).unwrap().to_string()).collect();
        let lines: Vec<(&str, &str)> =
            ids.iter().copied().zip(shares.iter().map(|share| share.trim_end_matches(" %"))).collect();
        let cents: Vec<String> = ids.iter().map(|_| format!("{}.{:02}", random.below(90), random.below(100))).collect();
        let list = prices(&ids.iter().copied().zip(cents.iter().map(String::as_str)).collect::<Vec<_>>());
        let drawn = formula("Drawn", &lines).with_prices(Some(std::sync::Arc::new(list)));
        let grams = random.between(1, 5000);
        let costing = drawn.costing(&CostRequest::new(mass(&format!("{grams} g"))).unwrap()).unwrap();
        let measured = drawn.measure(&Measure::cost(), &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap();
        assert_eq!(costing.raw_materials(), &(measured * Exact::ratio(i64::try_from(grams).unwrap(), 1000)));
        assert_eq!(costing.phases().into_iter().map(|(_, cost)| cost).sum::<Exact>(), *costing.total());
        assert_eq!(
            costing.lines().iter().map(|line| line.mass.grams().clone()).sum::<Exact>(),
            *costing.charged().grams()
        );
        if costing.raw_materials().is_positive() {
            assert_eq!(costing.lines().iter().map(|line| line.percent.clone()).sum::<Exact>(), Exact::hundred());
        }
    }
}

#[test]
fn of_a_line_at_nothing_nothing_is_bought() {
    let zero = priced(formula("Bar", &[("kaolin", "100"), ("panthenol", "0")]));
    let costing = zero.costing(&CostRequest::new(mass("1 kg")).unwrap()).unwrap();
    assert_eq!(costing.lines().iter().map(|line| line.line.as_str()).collect::<Vec<_>>(), ["kaolin"]);
    let measured = zero.measure(&Measure::cost(), &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap();
    assert_eq!((costing.total(), &measured), (&exact("2.2"), &exact("2.2")));
    assert_eq!(price_effects(&[zero], [("kaolin", 3)]).unwrap()[0].difference, exact("0.8"));
}

#[test]
fn a_premix_costs_what_is_stated_or_its_parts() {
    let premix = formula("Wash powder", &[("sci-powder", "80"), ("kaolin", "20")])
        .to_material("wash-powder", Form::Powder)
        .unwrap();
    let whole = Formula::new("All premix", vec![Line::new("premix", premix.into(), Ppm::WHOLE).unwrap()]).unwrap();
    let asked = CostRequest::new(mass("1 kg")).unwrap();
    assert_eq!(priced(whole.clone()).costing(&asked).unwrap().total(), &exact("7.64"));
    let own = prices(&[("wash-powder", "8"), ("sci-powder", "9"), ("kaolin", "2.20")]);
    assert_eq!(whole.with_prices(Some(own.into())).costing(&asked).unwrap().total(), &exact("8"));
}

/// Common arithmetic of the trade: 1.00 at 35 % is 1.54 by margin and 1.35 by markup; either way round.
#[test]
fn margin_and_markup_are_two_things() {
    assert_eq!(price_from_margin(1, 35).unwrap(), Exact::ratio(20, 13));
    assert_eq!(price_from_markup(1, 35).unwrap(), exact("1.35"));
    for percent in [0, 1, 50, 99] {
        let price = price_from_margin("2.40", percent).unwrap();
        assert_eq!((&price - exact("2.40")) * Exact::hundred(), &price * Exact::from(percent));
    }
    let error = price_from_margin(1, 120).unwrap_err();
    assert!(error.is_out_of_range() && error.to_string().contains("price_from_markup"), "{error}");
    assert!(price_from_margin(-1, 10).unwrap_err().is_out_of_range());
    assert!(price_from_markup(1, -1).unwrap_err().is_out_of_range());
}

#[test]
fn break_even_is_the_least_number_that_pays() {
    for (fixed, price, cost) in
        [("500", "6.50", "1.20"), ("530", "6.50", "1.20"), ("0.01", "3", "1"), ("1000", "2.01", "2")]
    {
        let count = break_even(fixed, price, cost).unwrap();
        let earned = |count: &Exact| (exact(price) - exact(cost)) * count;
        assert!(
            count.is_whole() && earned(&count) >= exact(fixed) && earned(&(&count - Exact::ONE)) < exact(fixed),
            "{fixed} {price} {cost}: {count}"
        );
    }
    assert!(break_even(0, 1, 2).unwrap().is_zero());
    assert!(break_even(5, 2, 2).unwrap_err().is_contradiction());
}

#[test]
fn a_price_list_comes_from_the_cheapest_single_packs() {
    let far = supplier(
        "Far",
        vec![pack("kaolin", "300 g", "1.25"), pack("sci-powder", "1 kg", "9").with_break(2, "5").unwrap()],
    )
    .with_tax(20)
    .unwrap();
    let offers = super::offers(vec![far, supplier("Near", vec![pack("kaolin", "1 kg", "5.10")])]);
    let list = offers.price_list().unwrap();
    // 1.25 for 300 g with 20 % are exactly 5 a kilogram.
    assert_eq!(
        (list.get("kaolin").unwrap().to_string(), list.get("sci-powder").unwrap().to_string()),
        ("5".to_string(), "10.8".to_string())
    );
    let per_kilogram: Vec<Exact> = offers.packs().into_iter().map(|pack| pack.per_kilogram).collect();
    assert_eq!(per_kilogram, [exact("5"), exact("10.8"), exact("6"), exact("5.1")]);
    let third = super::offers(vec![supplier("Far", vec![pack("kaolin", "300 g", "1.25")])]);
    assert_eq!(third.packs()[0].per_kilogram, Exact::ratio(25, 6));
    assert_eq!(
        third.price_list().unwrap().get("kaolin").unwrap().to_string(),
        "4.166667",
        "rounded at the sixth place"
    );
}

#[test]
fn other_currencies_are_counted_at_their_rate_and_never_mixed() {
    use tenside::cost::{Offers, Supplier};
    let abroad = Supplier::new("Abroad", "USD").unwrap().with_pack(pack("kaolin", "1 kg", "5")).unwrap();
    let offers = Offers::new("EUR").unwrap().with_rate("USD", "0.9").unwrap().with_supplier(abroad).unwrap();
    assert_eq!(offers.packs()[0].price, exact("4.5"));
    assert_eq!(offers.price_list().unwrap().currency(), "EUR");
}

#[test]
fn changed_prices_by_hand() {
    let other = priced(formula("Clay", &[("kaolin", "100")]));
    let effects = price_effects(&[priced(bar()), other], [("sci-powder", 10)]).unwrap();
    assert_eq!(
        (&effects[0].before, &effects[0].after, &effects[0].difference),
        (&exact("6.495"), &exact("7.095"), &exact("0.6"))
    );
    assert_eq!(effects[0].percent, Some(exact("60") / exact("6.495")));
    assert!(effects[1].difference.is_zero());
    assert!(tenside::cost::price_effects_page(&effects).text(100).contains("9.2"));
}
