//! Random briefs and axes against solving rows alone: short numbers and long ones, limits on many measures, splits of
//! every basis.

use tenside::brief::{Brief, Requirement, Role, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::{Exact, Ppm};
use tenside::sweep::{Axis, Sweep, Values, Varied};

use super::support::{agrees, prices};

/// Numbers without pattern (Knuth's linear congruence modulo 2^64, high bits).
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end
    }

    fn tenths(&mut self, from: i64, to: i64) -> Exact {
        Exact::ratio(from * 10 + self.below(((to - from) * 10 + 1) as u64) as i64, 10)
    }
}

const SURFACTANTS: [&str; 4] = ["sci-powder", "scs-needles", "capb-30", "coco-glucoside-50"];

pub(crate) fn brief(numbers: &mut Numbers, determined: bool) -> Brief {
    let mut known: Vec<(String, rust_decimal::Decimal)> =
        prices().iter().map(|(id, price)| (id.to_string(), price)).collect();
    known.push(("coco-glucoside-50".to_string(), rust_decimal::Decimal::new(27, 1)));
    let prices = std::sync::Arc::new(tenside::catalogue::PriceList::new("EUR", known).unwrap());
    let brief = Brief::new("Random", &Catalogue::starter()).unwrap().with_prices(&prices).unwrap();
    let count = 2 + numbers.below(3) as usize;
    let members: Vec<(&str, i32)> =
        SURFACTANTS[..count].iter().map(|line| (*line, 1 + numbers.below(12) as i32)).collect();
    let basis = [SplitBasis::Weight, SplitBasis::Active, SplitBasis::Mole][numbers.below(3) as usize];
    let mut brief = brief.split("wash", basis, members.iter().cloned()).unwrap();
    brief = brief.fix("panthenol", numbers.tenths(0, 3)).unwrap();
    let cetyl = numbers.tenths(1, 4);
    brief = if determined {
        brief.fix("cetyl-alcohol", cetyl)
    } else {
        brief.between("cetyl-alcohol", &cetyl, &cetyl + Exact::from(3))
    }
    .unwrap();
    // With a q.s. line of clay or of water, or with two lines and one equation more.
    brief = match numbers.below(3) {
        0 => brief.qs("kaolin").unwrap(),
        1 => brief.qs("water").unwrap(),
        _ => {
            let water = Measure::water();
            let brief = brief.free("water").unwrap().qs("kaolin").unwrap();
            brief.require(Requirement::equal(water, numbers.tenths(12, 30)).unwrap().named("moist").unwrap()).unwrap()
        }
    };
    let target = numbers.tenths(15, 35);
    brief = match numbers.below(3) {
        0 => brief.target(Measure::active_matter(), target),
        1 => brief.target(Measure::as_supplied().contributed_by(Scope::group("wash").unwrap()), target),
        _ => brief.require(
            Requirement::equal(Measure::active_matter(), target).unwrap().on(Basis::finished(Exact::from(2)).unwrap()),
        ),
    }
    .unwrap();
    brief = brief.at_most(Measure::water(), numbers.tenths(20, 90)).unwrap();
    if numbers.below(2) == 0 {
        brief = brief.at_least(Measure::anionic_charge(), numbers.tenths(0, 1) / Exact::from(8)).unwrap();
    }
    if numbers.below(2) == 0 {
        let dear = Requirement::at_most(Measure::cost().per(&Measure::active_matter()), numbers.tenths(8, 40))
            .unwrap()
            .named("dear")
            .unwrap();
        brief = brief.require(dear).unwrap();
    }
    if numbers.below(2) == 0 {
        let sure =
            Requirement::at_least(Measure::active_matter(), numbers.tenths(5, 20)).unwrap().for_every_composition();
        brief = brief.require(sure).unwrap();
    }
    brief.minimise(Measure::cost())
}

pub(crate) fn axes(brief: &Brief, numbers: &mut Numbers) -> Vec<Axis> {
    let mut words = vec![
        "wash.scs-needles".to_string(),
        "fix.panthenol".to_string(),
        "price.kaolin".to_string(),
        "at-most.water".to_string(),
    ];
    if numbers.below(3) == 0 {
        words[0] = "share.wash.sci-powder".to_string();
    }
    if let Some(target) = brief.requirements().iter().find(|known| known.low() == known.high()) {
        words.push(format!("target.{}", target.name()));
    }
    let mut axes = Vec::new();
    if numbers.below(3) == 0 {
        axes.push(Axis::lattice(brief, "wash", 4).unwrap());
        words.remove(0);
    }
    for word in words {
        if numbers.below(2) == 0 {
            continue;
        }
        let count = 1 + numbers.below(4) as i64;
        let start = numbers.tenths(1, 30);
        // On the grid of percentages, as a script types them, or with seventeen digits, as it works them out.
        let long = numbers.below(2) == 0 && !word.starts_with("fix");
        let step = if long {
            Exact::ratio(1_234_567_890_123, 999_999_999_999)
                .rounded_to(&Exact::ratio(1, 10_000_000_000_000_000), tenside::number::HalfWay::ToEven)
        } else {
            Exact::ratio(7, 10)
        };
        let values = Values::new((0..count).map(|index| &start + &step * Exact::from(index))).unwrap();
        if let Ok(turned) = Varied::named(brief, &word) {
            axes.push(turned.over(values).unwrap());
        }
    }
    axes
}

#[test]
fn random_sweeps_agree_with_their_rows() {
    let (mut answered, mut refused) = (0, 0);
    for seed in 0..200 {
        let numbers = &mut Numbers(seed * 7919 + 3);
        let brief = brief(numbers, seed % 5 != 0);
        let axes = axes(&brief, numbers);
        let sweep = Sweep::new(&brief, axes).unwrap_or_else(|error| panic!("seed {seed}: {error}"));
        let table = sweep.table().unwrap_or_else(|error| panic!("seed {seed}: {error}"));
        let (met, not) = agrees(&sweep, &table, 1 + table.rows() / 24);
        answered += met;
        refused += not;
    }
    assert!(answered > 300 && refused > 100, "{answered} answered, {refused} refused");
}

#[test]
fn a_member_that_is_held_fixes_its_split() {
    let brief = brief(&mut Numbers(5), true);
    let held = brief.requirements().iter().find(|known| known.low() == known.high()).map(Requirement::name).unwrap();
    let brief = brief
        .drop_requirement(&held)
        .unwrap()
        .change_line("sci-powder", Role::Fixed(Ppm::from_percent("20").unwrap()))
        .unwrap();
    let values = Values::linspace(Exact::from(5), Exact::from(40), 15, Values::usual_grid()).unwrap();
    let sweep =
        Sweep::new(&brief, vec![Varied::named(&brief, "fix.sci-powder").unwrap().over(values).unwrap()]).unwrap();
    let table = sweep.table().unwrap();
    agrees(&sweep, &table, 1);
}
